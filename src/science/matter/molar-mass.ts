// Molar mass of amounts of elements and what of it a powder loses on firing. Pure; g/mol and moles.
import { atomicWeight } from './elements.ts';

interface MolarMass {
  readonly gramPerMol: number;
  readonly standardUncertaintyGramPerMol: number;
}

/**
 * Molar mass M = sum n_X A_X, with u(M)^2 = sum (n_X u(A_X))^2: weights of different elements are independent, those of
 * one element are the same number, so its amounts add before they are squared.
 *
 * @param amounts moles of each element per mole of substance
 * @throws DomainError ELEMENT_UNKNOWN
 *
 * Source: [derived: GUM, law of propagation].
 */
export function molarMass(amounts: Readonly<Record<string, number>>): MolarMass {
  let gramPerMol = 0;
  let variance = 0;
  for (const [symbol, amount] of Object.entries(amounts)) {
    const weight = atomicWeight(symbol);
    gramPerMol += amount * weight.value;
    variance += (amount * weight.standardUncertainty) ** 2;
  }
  return { gramPerMol, standardUncertaintyGramPerMol: Math.sqrt(variance) };
}

/**
 * Mass fraction that leaves as CO2, H2O and N2O5 when a substance is fired to its oxide: every C takes two O with it,
 * every two H one, every two N five, as far as the formula's oxygen goes.
 *
 * @param amounts moles of each element per mole of substance
 * @returns 0 to 1; 0.223 for BaCO3
 *
 * Source: [derived: stoichiometry]. Range: carbonates, hydroxides, hydrates and nitrates; an oxalate or an acetate burns
 * with oxygen of the air, and then loses what its formula holds beyond the oxide, which this does not give.
 */
export function volatileFraction(amounts: Readonly<Record<string, number>>): number {
  const carbon = amounts.C ?? 0;
  const hydrogen = amounts.H ?? 0;
  const nitrogen = amounts.N ?? 0;
  const oxygen = Math.min(amounts.O ?? 0, 2 * carbon + 0.5 * hydrogen + 2.5 * nitrogen);
  const lost = molarMass({ C: carbon, H: hydrogen, N: nitrogen, O: oxygen });
  return lost.gramPerMol / molarMass(amounts).gramPerMol;
}
