// Masses of precursors for a wanted cation ratio, and the ratio that the weighed masses give. Pure; mg, moles.
import { DomainError } from '../errors.ts';
import { type Amounts, cationsOf, sumOf } from '../matter/cation-ratios.ts';
import { atomicWeight, isCation, isElement } from '../matter/elements.ts';
import { elementAmounts, OPEN_RARE_EARTH, parseFormula } from '../matter/formula.ts';
import { molarMass } from '../matter/molar-mass.ts';
import { inWords } from '../measured.ts';
import { solveLinearSystem } from '../numerics/linear-system.ts';
import { firedMassG } from './fired-mass.ts';
import { type Leaving, leavingOf } from './leaving.ts';

const FIELD = 'composition.cations';
/** Moles that count as none, as a share of the largest amount in the batch: rounding of the solver. */
const NEGLIGIBLE = 1e-9;

export interface Precursor {
  readonly formula: string;
  /** mass fraction of the named formula in the dried powder, above 0 and up to 1; this or assay */
  readonly purity?: number | undefined;
  /** mass fraction of one metal in the dried powder, whatever compounds hold it */
  readonly assay?: CationAssay | undefined;
  /** the purity counts foreign metals only, and says nothing of water or carbonate */
  readonly isMetalsBasis?: boolean | undefined;
  /** mass fraction that the powder as weighed loses on drying, 0 to below 1 */
  readonly lossOnDrying: number;
}

/** What an analysis says of the metal in a powder. */
export interface CationAssay {
  readonly cation: string;
  readonly massFraction: number;
  readonly standardUncertainty: number;
}

export interface BatchRequest {
  /** moles of each cation, any common factor */
  readonly cations: Amounts;
  /** mass of the fired target, g */
  readonly totalMassG: number;
  readonly oxygenPer123: number;
  readonly precursors: readonly Precursor[];
  readonly balanceStepMg: number;
  /** what the cations came from, for refusals; 'composition.cations' if left out */
  readonly field?: string;
}

interface ReadPrecursor extends Precursor {
  /** moles of each element per mole of formula */
  readonly elements: Amounts;
  readonly cations: Amounts;
  readonly molarMassGPerMol: number;
}

export interface WeighedPrecursor extends ReadPrecursor {
  readonly exactMassMg: number;
  /** rounded to the balance's step */
  readonly massMg: number;
}

export interface Batch {
  readonly weighed: readonly WeighedPrecursor[];
  readonly weighedTotalMg: number;
  /** fired mass that the rounded masses give at the oxygen asked for */
  readonly calcinedTotalMg: number;
  /** what is weighed and not in the fired mass, mg; with that mass it makes up all that is weighed */
  readonly leavingMg: Leaving;
  /** cations that the rounded masses give, with the same sum as the cations asked for */
  readonly targetRatio: Record<string, number>;
  /** standard uncertainty of each, from balance, purity and atomic weights */
  readonly ratioU: Record<string, number>;
}

/**
 * Masses to weigh: solves nu^T n = c for the moles n of precursors, nu their cations per formula, c the cations of a
 * target of the mass asked for; then m = n M / (purity (1 - lossOnDrying)), with an assay of
 * the metal in place of the purity (formulaShare), rounded to the balance's step.
 *
 * Assumes that what a powder holds beside the named formula brings no cation, and that nothing is lost on firing but
 * what makes the fired oxide.
 *
 * @returns masses in mg and the ratio that the rounded masses give
 * @throws DomainError BATCH_RANGE (a field outside its range, an element that is no cation), FORMULA_BAD,
 * ELEMENT_UNKNOWN, BATCH_CATION_MISSING (no precursor brings a wanted cation), BATCH_IMPOSSIBLE (no amounts give the
 * ratio), BATCH_AMBIGUOUS (many amounts do), BATCH_NEGATIVE
 *
 * Source: [derived: mass balance].
 */
export function planBatch(request: BatchRequest): Batch {
  checkRanges(request);
  const { cations, oxygenPer123, balanceStepMg } = request;
  const precursors = request.precursors.map(readPrecursor);
  const wanted = Object.fromEntries(Object.entries(cations).filter(([, amount]) => amount > 0));
  const perFormula = solveMoles(wanted, precursors, request.field ?? FIELD);
  const scale = request.totalMassG / firedMassG(wanted, oxygenPer123);
  const weighed = precursors.map((precursor, p): WeighedPrecursor => {
    const grams = (scale * perFormula[p]! * precursor.molarMassGPerMol) / usableShare(precursor);
    const exactMassMg = 1000 * grams;
    return { ...precursor, exactMassMg, massMg: roundToStep(exactMassMg, balanceStepMg) };
  });
  const moles = weighed.map((p) => ((p.massMg / 1000) * usableShare(p)) / p.molarMassGPerMol);
  const brought = broughtCations(wanted, weighed, moles);
  if (!(sumOf(brought) > 0)) {
    throw new DomainError(
      'BATCH_RANGE',
      `balanceStepMg is ${balanceStepMg}: every mass rounds to 0; allowed is a step below the masses, ${weighed.map((p) => p.exactMassMg.toPrecision(3)).join(', ')} mg.`,
    );
  }
  const norm = sumOf(wanted) / sumOf(brought);
  return {
    weighed,
    weighedTotalMg: tidy(weighed.reduce((sum, p) => sum + p.massMg, 0)),
    calcinedTotalMg: 1000 * firedMassG(brought, oxygenPer123),
    leavingMg: leavingOf(
      weighed.map((p, i) => ({ ...p, moles: moles[i]! })),
      brought,
      oxygenPer123,
    ),
    targetRatio: Object.fromEntries(
      Object.entries(brought).map(([symbol, amount]) => [symbol, norm * amount]),
    ),
    ratioU: ratioUncertainties(weighed, moles, brought, norm, balanceStepMg),
  };
}

/**
 * Cations that weighed masses bring, as shares of all of them.
 *
 * @param massesMg one a precursor
 * @throws DomainError BATCH_RANGE, FORMULA_BAD, ELEMENT_UNKNOWN
 */
export function ratioOfMasses(
  precursors: readonly Precursor[],
  massesMg: readonly number[],
): Record<string, number> {
  const read = precursors.map(readPrecursor);
  const moles = read.map((p, i) => ((massesMg[i]! / 1000) * usableShare(p)) / p.molarMassGPerMol);
  const brought = broughtCations({}, read, moles);
  const total = sumOf(brought);
  if (!(total > 0)) throw outside('masses', 'all 0', 'at least one mass above 0');
  return Object.fromEntries(Object.entries(brought).map(([symbol, amount]) => [symbol, amount / total]));
}

/**
 * Mass of the named formula that a mass of dried powder stands for: its purity; by an assay a of the metal E the mass that would hold
 * as much of it, a M/(nu_E A_E), which is above 1 where the powder holds more metal than the pure compound (BaO in BaO2).
 */
function formulaShare({ purity, assay, cations, molarMassGPerMol }: ReadPrecursor): number {
  if (assay === undefined) return purity!;
  return (
    (assay.massFraction * molarMassGPerMol) / (cations[assay.cation]! * atomicWeight(assay.cation).value)
  );
}

const usableShare = (precursor: ReadPrecursor): number =>
  formulaShare(precursor) * (1 - precursor.lossOnDrying);

/** Standard uncertainty of that share over the share: of the assay, or rectangular up to 1 for a purity. */
function relativeShareU({ purity, assay }: Precursor): number {
  return assay === undefined
    ? (1 - purity!) / Math.sqrt(3) / purity!
    : assay.standardUncertainty / assay.massFraction;
}

/** A multiple of a decimal step without the last bits that binary arithmetic adds: 0.1 x 3 is 0.3. */
const tidy = (value: number): number => Number(value.toPrecision(12));

function roundToStep(value: number, step: number): number {
  return tidy(Math.round(value / step) * step);
}

/** Moles of each cation that the powders bring; a wanted one that rounds to nothing stands with 0. */
function broughtCations(
  wanted: Amounts,
  precursors: readonly ReadPrecursor[],
  moles: readonly number[],
): Record<string, number> {
  const brought: Record<string, number> = Object.fromEntries(
    Object.keys(wanted).map((symbol) => [symbol, 0]),
  );
  precursors.forEach((precursor, p) => {
    for (const [symbol, count] of Object.entries(precursor.cations)) {
      const amount = count * moles[p]!;
      if (amount > 0) brought[symbol] = (brought[symbol] ?? 0) + amount;
    }
  });
  return brought;
}

function outside(field: string, value: number | string, allowed: string): DomainError {
  return new DomainError('BATCH_RANGE', `${field} is ${value}; allowed is ${allowed}.`);
}

function checkRanges(request: BatchRequest): void {
  const { cations, totalMassG, oxygenPer123, precursors, balanceStepMg } = request;
  for (const [symbol, amount] of Object.entries(cations)) {
    if (!isElement(symbol) || !isCation(symbol)) {
      throw outside(
        `composition.cations.${symbol}`,
        `'${symbol}'`,
        'the symbol of a cation; O and other anions are left out',
      );
    }
    if (!(amount >= 0 && amount <= 1e6)) throw outside(`composition.cations.${symbol}`, amount, '0 to 1e6');
  }
  if (!(sumOf(cations) > 0)) throw outside('composition.cations', 'all 0', 'at least one amount above 0');
  if (!(totalMassG > 0 && totalMassG <= 10_000))
    throw outside('totalMassG', totalMassG, 'above 0 and up to 10000');
  if (!(oxygenPer123 >= 6 && oxygenPer123 <= 7)) throw outside('oxygenPer123', oxygenPer123, '6 to 7');
  if (!(balanceStepMg > 0 && balanceStepMg <= 10_000))
    throw outside('balanceStepMg', balanceStepMg, 'above 0 and up to 10000');
  checkPowders(precursors);
}

/** Refuses powders whose purity, assay or loss cannot be. @throws DomainError BATCH_RANGE */
export function checkPowders(precursors: readonly Precursor[]): void {
  precursors.forEach(({ purity, assay, lossOnDrying }, p) => {
    if ((purity === undefined) === (assay === undefined))
      throw outside(
        `precursors[${p}]`,
        `with ${purity === undefined ? 'neither' : 'both'} purity and assay`,
        'one of them',
      );
    if (purity !== undefined && !(purity > 0 && purity <= 1))
      throw outside(`precursors[${p}].purity`, purity, 'above 0 and up to 1');
    if (assay !== undefined) {
      const { massFraction, standardUncertainty } = assay;
      if (!(massFraction > 0 && massFraction < 1))
        throw outside(`precursors[${p}].assay.massFraction`, massFraction, 'above 0 and below 1');
      if (!(standardUncertainty >= 0 && standardUncertainty < massFraction))
        throw outside(
          `precursors[${p}].assay.standardUncertainty`,
          standardUncertainty,
          '0 to below massFraction',
        );
    }
    if (!(lossOnDrying >= 0 && lossOnDrying < 1))
      throw outside(`precursors[${p}].lossOnDrying`, lossOnDrying, '0 to below 1');
  });
}

function readPrecursor(precursor: Precursor, p: number): ReadPrecursor {
  const elements = elementAmounts(parseFormula(precursor.formula));
  const cations = cationsOf(elements);
  if (OPEN_RARE_EARTH in elements) {
    throw outside(
      `precursors[${p}].formula`,
      `'${precursor.formula}'`,
      'a formula with its rare earth named, not RE',
    );
  }
  if (Object.keys(cations).length === 0) {
    throw outside(`precursors[${p}].formula`, `'${precursor.formula}'`, 'a formula that holds a cation');
  }
  const { assay } = precursor;
  if (assay !== undefined && !(assay.cation in cations))
    throw outside(
      `precursors[${p}].assay.cation`,
      `'${assay.cation}'`,
      `a cation of ${precursor.formula}: ${Object.keys(cations).join(', ')}`,
    );
  return { ...precursor, elements, cations, molarMassGPerMol: molarMass(elements).gramPerMol };
}

/** Moles of each precursor per `wanted` moles of cations. */
function solveMoles(wanted: Amounts, precursors: readonly ReadPrecursor[], field: string): number[] {
  const symbols = [
    ...new Set([...Object.keys(wanted), ...precursors.flatMap((p) => Object.keys(p.cations))]),
  ];
  for (const symbol of Object.keys(wanted)) {
    if (!precursors.some((p) => symbol in p.cations)) {
      throw new DomainError(
        'BATCH_CATION_MISSING',
        `${field}.${symbol} is ${inWords(wanted[symbol]!)}, but no precursor brings ${symbol}: precursors are ${listOf(precursors)}.`,
      );
    }
  }
  const { solution, brokenRows, freeColumns } = solveLinearSystem(
    symbols.map((symbol) => precursors.map((p) => p.cations[symbol] ?? 0)),
    symbols.map((symbol) => wanted[symbol] ?? 0),
  );
  if (brokenRows.length > 0) {
    throw new DomainError(
      'BATCH_IMPOSSIBLE',
      `No amounts of ${listOf(precursors)} give ${printAmounts(wanted)}: ${brokenRows.map((i) => symbols[i]).join(', ')} cannot be set apart from the other cations.`,
    );
  }
  if (!solution) {
    throw new DomainError(
      'BATCH_AMBIGUOUS',
      `precursors ${listOf(precursors)} give ${printAmounts(wanted)} in many ways: ${freeColumns.map((p) => `precursors[${p}] (${precursors[p]!.formula})`).join(', ')} could be any amount; allowed is a set with one solution.`,
    );
  }
  const largest = Math.max(...solution.map(Math.abs));
  return Array.from(solution, (amount, p) => {
    if (Math.abs(amount) <= NEGLIGIBLE * largest) return 0;
    if (amount < 0) {
      throw new DomainError(
        'BATCH_NEGATIVE',
        `precursors[${p}] (${precursors[p]!.formula}) would need ${amount.toPrecision(4)} mol for ${printAmounts(wanted)}; allowed is 0 or more${tooMuch(precursors, solution, p)}.`,
      );
    }
    return amount;
  });
}

/** Which other powders bring more of a powder's cations than is wanted. */
function tooMuch(precursors: readonly ReadPrecursor[], moles: ArrayLike<number>, p: number): string {
  const cations = Object.keys(precursors[p]!.cations);
  const others = precursors
    .map((other, i) => ({ other, i }))
    .filter(({ other, i }) => i !== p && moles[i]! > 0 && cations.some((symbol) => symbol in other.cations))
    .map(({ other, i }) => `precursors[${i}] (${other.formula})`);
  return others.length === 0 ? '' : `: ${others.join(', ')} brings more ${cations.join(', ')} than is wanted`;
}

const listOf = (precursors: readonly Precursor[]): string => precursors.map((p) => p.formula).join(', ');
const printAmounts = (amounts: Amounts): string =>
  Object.entries(amounts)
    .map(([symbol, amount]) => `${symbol} ${inWords(amount)}`)
    .join(', ');

/**
 * Standard uncertainty of each cation of the ratio r_E = S a_E / sum a (S the fixed sum). A source that changes the moles
 * of precursor p by dn_p changes a_E by da_E = sum_p nu_pE dn_p, and r_E by (S/A)(da_E - a_E dA/A), A = sum a.
 * Sources are independent and add in quadrature:
 * - balance, each weighing: half a step either way, rectangular, u = step/sqrt(12) [common practice: GUM type B];
 * - purity p of each lot: rectangular with half-width 1 - p, u = (1 - p)/sqrt(3) [common practice: GUM type B]; or of its assay;
 * - each element's atomic weight, through every molar mass that holds it (fully correlated).
 */
function ratioUncertainties(
  weighed: readonly WeighedPrecursor[],
  moles: readonly number[],
  brought: Amounts,
  norm: number,
  balanceStepMg: number,
): Record<string, number> {
  const total = sumOf(brought);
  const symbols = Object.keys(brought);
  const variances = new Float64Array(symbols.length);
  const addSource = (moleChanges: readonly number[]): void => {
    const changed = symbols.map((symbol) =>
      weighed.reduce((sum, p, i) => sum + (p.cations[symbol] ?? 0) * moleChanges[i]!, 0),
    );
    const totalChange = changed.reduce((sum, change) => sum + change, 0);
    symbols.forEach((symbol, e) => {
      variances[e] = variances[e]! + (norm * (changed[e]! - (brought[symbol]! * totalChange) / total)) ** 2;
    });
  };
  const only = (i: number, change: number): number[] => weighed.map((_, j) => (j === i ? change : 0));
  weighed.forEach((precursor, i) => {
    const isWeighed = precursor.exactMassMg > 0;
    const molesPerMg = usableShare(precursor) / precursor.molarMassGPerMol / 1000;
    addSource(only(i, isWeighed ? (molesPerMg * balanceStepMg) / Math.sqrt(12) : 0));
    addSource(only(i, moles[i]! * relativeShareU(precursor)));
  });
  for (const element of new Set(weighed.flatMap((p) => Object.keys(p.elements)))) {
    const { standardUncertainty } = atomicWeight(element);
    addSource(
      weighed.map(
        (p, i) => (-moles[i]! * (p.elements[element] ?? 0) * standardUncertainty) / p.molarMassGPerMol,
      ),
    );
  }
  return Object.fromEntries(symbols.map((symbol, e) => [symbol, Math.sqrt(variances[e]!)]));
}
