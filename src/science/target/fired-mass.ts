// Mass of a fired target for its cations, with the oxygen that goes with them. Pure; g/mol, moles.
import { DomainError } from '../errors.ts';
import type { Amounts } from '../matter/cation-ratios.ts';
import { atomicWeight } from '../matter/elements.ts';
import { CATION_VALENCES } from '../tables/cation-valences.ts';

/** Oxygen per YBa2Cu3 of a target annealed in oxygen; usual range 6.90 to 6.97 [common practice]. */
export const DEFAULT_OXYGEN_PER_123 = 6.93;

const VALENCES: ReadonlyMap<string, number> = new Map(
  CATION_VALENCES.records.map((row): [string, number] => [row.symbol, row.valence]),
);
const BARIUM_VALENCE = VALENCES.get('Ba')!;
const RARE_EARTH_VALENCE = VALENCES.get('Y')!;

/**
 * Oxygen that one mole of a cation holds in the fired target: half its valence. Copper's valence v is the one that gives
 * RE Ba2 Cu3 the oxygen asked for, O = (3 + 2 x 2 + 3 v)/2, so v = 2 (O - 3.5)/3: 2.29 at 6.93. The same v is used for
 * all copper of any other ratio. In truth copper beyond 123 is CuO with v = 2; the mass counted for a mole of such copper is
 * then 2.9 % too high at 6.93. That changes the size of the batch by at most this share, never its cation ratio.
 *
 * @param symbol       cation
 * @param oxygenPer123 oxygen per REBa2Cu3, 6 to 7
 * @throws DomainError BATCH_RANGE for a cation without a tabulated valence
 *
 * Source: [derived: charge balance], valences [common practice].
 */
export function oxygenPerCation(symbol: string, oxygenPer123: number): number {
  if (symbol === 'Cu') return (oxygenPer123 - RARE_EARTH_VALENCE / 2 - BARIUM_VALENCE) / 3;
  const valence = VALENCES.get(symbol);
  if (valence === undefined) {
    throw new DomainError(
      'BATCH_RANGE',
      `composition.cations.${symbol}: ${symbol} has no valence in the table; allowed are Cu, ${[...VALENCES.keys()].join(', ')}.`,
      'Leave it out of the composition, or give it as one of these.',
    );
  }
  return valence / 2;
}

/**
 * Mass of the fired target, g, that holds these moles of cations.
 *
 * @param cations      moles of each cation
 * @param oxygenPer123 oxygen per REBa2Cu3, 6 to 7
 * @throws DomainError BATCH_RANGE, ELEMENT_UNKNOWN
 */
export function firedMassG(cations: Amounts, oxygenPer123: number): number {
  const oxygen = atomicWeight('O').value;
  let mass = 0;
  for (const [symbol, amount] of Object.entries(cations)) {
    if (amount > 0)
      mass += amount * (atomicWeight(symbol).value + oxygenPerCation(symbol, oxygenPer123) * oxygen);
  }
  return mass;
}
