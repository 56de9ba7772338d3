// What leaves a batch of powders on drying and firing, gas by gas. Pure; mg.
import { atomicWeight } from '../matter/elements.ts';
import { elementAmounts, parseFormula } from '../matter/formula.ts';
import { molarMass } from '../matter/molar-mass.ts';
import type { Precursor } from './batch.ts';

/** Masses that leave, mg. */
export interface Leaving {
  /** lost on drying, before anything reacts */
  readonly dryingMg: number;
  readonly carbonDioxideMg: number;
  readonly waterMg: number;
  /** oxides of nitrogen, counted as N2O5 */
  readonly nitrogenOxidesMg: number;
  /** weighed, less all above and the fired mass: what is in the powders beside their formula, and oxygen; below 0 where oxygen is taken up */
  readonly restMg: number;
}

/**
 * What leaves between the balance and the fired target: moisture m l, then as CO2, H2O and N2O5 what the formulas hold of C, H and N,
 * with n = m (1 - l) w / M moles of the formula, w its purity or, by an assay a of the metal E, a M/(nu_E A_E). The rest is what
 * mass balance leaves.
 *
 * Assumes that C, H and N leave in full: residual carbonate is not in it.
 *
 * @param massesMg   weighed, one a powder
 * @param firedMg    fired mass, as the batch answers it
 * @throws DomainError FORMULA_BAD, ELEMENT_UNKNOWN
 *
 * Source: [derived: stoichiometry]. Range: carbonates, hydroxides, hydrates, nitrates, oxides, metals.
 */
export function leavingOf(
  precursors: readonly Precursor[],
  massesMg: readonly number[],
  firedMg: number,
): Leaving {
  const gas = { dryingMg: 0, carbonDioxideMg: 0, waterMg: 0, nitrogenOxidesMg: 0 };
  let weighedMg = 0;
  precursors.forEach(({ formula, purity, assay, lossOnDrying }, i) => {
    const massMg = massesMg[i] ?? 0;
    weighedMg += massMg;
    gas.dryingMg += massMg * lossOnDrying;
    const elements = elementAmounts(parseFormula(formula));
    const driedMg = massMg * (1 - lossOnDrying);
    const millimoles = assay
      ? (driedMg * assay.massFraction) / ((elements[assay.cation] ?? 1) * atomicWeight(assay.cation).value)
      : (driedMg * (purity ?? 1)) / molarMass(elements).gramPerMol;
    const of = (symbol: string, amounts: Record<string, number>): number =>
      millimoles * (elements[symbol] ?? 0) * molarMass(amounts).gramPerMol;
    gas.carbonDioxideMg += of('C', { C: 1, O: 2 });
    gas.waterMg += of('H', { H: 1, O: 0.5 });
    gas.nitrogenOxidesMg += of('N', { N: 1, O: 2.5 });
  });
  const named = gas.dryingMg + gas.carbonDioxideMg + gas.waterMg + gas.nitrogenOxidesMg;
  return { ...gas, restMg: weighedMg - named - firedMg };
}
