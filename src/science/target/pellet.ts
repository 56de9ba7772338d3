// Mass of a pressed and sintered pellet from its size. Pure; mm, g, g/cm3.
import { DomainError } from '../errors.ts';
import { type Amounts, rareEarthRadius } from '../matter/cation-ratios.ts';
import { elementAmounts, parseFormula } from '../matter/formula.ts';
import { molarMass } from '../matter/molar-mass.ts';
import { ADDITION_PHASES } from '../tables/addition-phases.ts';
import { IONIC_RADII } from '../tables/ionic-radii.ts';

/** Avogadro's number times 1e-24 cm3 in a cubic angstrom: mol/cm3 per formula/angstrom^3, exact in the SI of 2019. */
const PER_ANGSTROM3 = 0.602214076;

export interface Pellet {
  readonly diameterMm: number;
  readonly thicknessMm: number;
  /** share of the density without pores, above 0 and up to 1 */
  readonly relativeDensity: number;
}

/**
 * Density without pores of 123 with these rare earths, M/(N_A V), V by the mean radius.
 *
 * @param cations whose rare earths are taken; Y without any
 * @returns g/cm3: 6.36 for YBa2Cu3O6.93
 */
export function density123GPerCm3(cations: Amounts, oxygenPer123: number): number {
  const elements: Record<string, number> = { ...elementAmounts(parseFormula('Ba2Cu3')), O: oxygenPer123 };
  const radius = rareEarthRadius(cations);
  const rareEarths = Object.entries(cations).filter(
    ([symbol, n]) => n > 0 && rareEarthRadius({ [symbol]: 1 }),
  );
  const sum = rareEarths.reduce((total, [, n]) => total + n, 0);
  if (sum > 0) for (const [symbol, n] of rareEarths) elements[symbol] = n / sum;
  else elements.Y = 1;
  const ofY = IONIC_RADII.records.find(
    ({ symbol, coordination }) => symbol === 'Y' && coordination === 'VIII',
  )!;
  const beyond = radius ? radius.meanAngstrom - ofY.radiusAngstrom : 0;
  const volume = ADDITION_PHASES.volume123Angstrom3 + ADDITION_PHASES.perAngstromAngstrom3 * beyond;
  return molarMass(elements).gramPerMol / (PER_ANGSTROM3 * volume);
}

/**
 * Mass of a pellet, all of it taken as dense as 123.
 *
 * @throws DomainError BATCH_RANGE
 */
export function pelletMassG(pellet: Pellet, cations: Amounts, oxygenPer123: number): number {
  const { diameterMm, thicknessMm, relativeDensity } = pellet;
  for (const [field, value, most] of [
    ['diameterMm', diameterMm, 500],
    ['thicknessMm', thicknessMm, 200],
    ['relativeDensity', relativeDensity, 1],
  ] as const) {
    if (value > 0 && value <= most) continue;
    throw new DomainError(
      'BATCH_RANGE',
      `pellet.${field} is ${value}; allowed is above 0 and up to ${most}.`,
    );
  }
  const volumeCm3 = (Math.PI * diameterMm ** 2 * thicknessMm) / 4000;
  return relativeDensity * density123GPerCm3(cations, oxygenPer123) * volumeCm3;
}
