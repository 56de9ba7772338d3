// What leaves powders on firing, or is taken up. Pure; mg, moles.
import type { Amounts } from '../matter/cation-ratios.ts';
import { atomicWeight, isCation } from '../matter/elements.ts';
import { molarMass } from '../matter/molar-mass.ts';
import { oxygenPerCation } from './fired-mass.ts';

/** Masses that are weighed and not in the fired mass, mg. With it they add to what is weighed. */
export interface Leaving {
  readonly CO2: number;
  readonly H2O: number;
  readonly NO2: number;
  /** negative where more is taken up than given off */
  readonly O2: number;
  /** anions that no oxide keeps, such as F */
  readonly other: number;
  /** lost on drying */
  readonly moisture: number;
  /**
   * dried powder beside the named formula, counted as gone though it may stay; negative where an assay finds more metal than the pure
   * formula holds
   */
  readonly beside: number;
}

/** A powder on the pan. */
interface Fired {
  readonly massMg: number;
  readonly lossOnDrying: number;
  /** of the named formula */
  readonly moles: number;
  readonly elements: Amounts;
  readonly molarMassGPerMol: number;
}

const OF_GAS = ['C', 'H', 'N', 'O'];

/**
 * Gases and the rest that part the weighed mass from the fired one: all carbon as CO2, hydrogen as H2O, nitrogen as NO2; oxygen is
 * what the formulas hold less what these gases and the fired target hold, n(O) = sum nu_O n - 2 n(C) - n(H)/2 - 2 n(N) - n(fired). So a
 * metal, Cu2O or an acetate, which burns, takes oxygen up.
 *
 * @param cations moles of each in the fired target
 * @returns mg
 * @throws DomainError BATCH_RANGE for a cation without a tabulated valence
 *
 * Source: [derived: conservation of each element]. Nitrogen leaves a furnace as a mixture of oxides; with NO2 and O2 the sum is right.
 */
export function leavingOf(powders: readonly Fired[], cations: Amounts, oxygenPer123: number): Leaving {
  const total: Record<string, number> = {};
  let moisture = 0;
  let beside = 0;
  for (const { massMg, lossOnDrying, moles, elements, molarMassGPerMol } of powders) {
    for (const [symbol, count] of Object.entries(elements))
      if (!isCation(symbol)) total[symbol] = (total[symbol] ?? 0) + count * moles;
    moisture += massMg * lossOnDrying;
    beside += massMg * (1 - lossOnDrying) - 1000 * moles * molarMassGPerMol;
  }
  const { C: carbon = 0, H: hydrogen = 0, N: nitrogen = 0, O: oxygen = 0 } = total;
  const kept = Object.entries(cations).reduce(
    (sum, [symbol, amount]) => sum + (amount > 0 ? amount * oxygenPerCation(symbol, oxygenPer123) : 0),
    0,
  );
  const mg = (moles: number, formula: Amounts): number => 1000 * moles * molarMass(formula).gramPerMol;
  return {
    CO2: mg(carbon, { C: 1, O: 2 }),
    H2O: mg(hydrogen / 2, { H: 2, O: 1 }),
    NO2: mg(nitrogen, { N: 1, O: 2 }),
    O2: mg(oxygen - 2 * carbon - hydrogen / 2 - 2 * nitrogen - kept, { O: 1 }),
    other: Object.entries(total).reduce(
      (sum, [symbol, moles]) =>
        sum + (OF_GAS.includes(symbol) ? 0 : 1000 * moles * atomicWeight(symbol).value),
      0,
    ),
    moisture,
    beside,
  };
}
