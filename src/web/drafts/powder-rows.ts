// The powders of a batch as they are typed, and as `target.batch` and the record of a lot take them. Pure.
import type { CationRatio } from '../../records/common.ts';
import type { Lot, Powder } from '../../records/kinds.ts';
import { DomainError } from '../../science/errors.ts';
import { isCation } from '../../science/matter/elements.ts';
import { elementAmounts, parseFormula } from '../../science/matter/formula.ts';
import { molarMass } from '../../science/matter/molar-mass.ts';
import { PRECURSORS } from '../../science/tables/precursors.ts';
import { sameSubstance } from '../../science/target/cautions.ts';
import { type FieldReader, numberText, statedText } from './typed-numbers.ts';

export interface PrecursorDraft {
  key: string;
  /** a lot that is recorded; `''`: typed here */
  lotId: string;
  formula: string;
  /** what is known of the dried powder: purity of the compound, or assay of its metal */
  knownBy: 'purity' | 'assay';
  purityPercent: string;
  /** with its uncertainty: 65.2 ± 0.3 */
  assayPercent: string;
  /** `''`: its first cation */
  assayCation: string;
  isMetalsBasis: '' | 'yes' | 'no';
  lossPercent: string;
  dryingC: string;
  lotNumber: string;
}

/** A powder as a request to `target.batch` and `target.slip` names it. */
export interface PrecursorAsk {
  formula: string;
  purity?: number;
  assay?: { cation: string; massFraction: number; standardUncertainty: number };
  isMetalsBasis?: boolean;
  lot?: string;
  lossOnDrying: number;
}

export interface KnownLot {
  readonly id: string;
  readonly body: Lot;
}

const NOTHING_KNOWN = {
  lotId: '',
  knownBy: 'purity',
  purityPercent: '',
  assayPercent: '',
  assayCation: '',
  isMetalsBasis: '',
  lossPercent: '0',
  dryingC: '',
  lotNumber: '',
} as const;

/** A share as percent text, without the noise of the product. */
const percentText = (share: number): string => numberText(Number((share * 100).toPrecision(8)));
const shareOf = (percent: number | null): number => Number(((percent ?? 0) / 100).toPrecision(12));

export function precursorFromLot(key: string, { id, body }: KnownLot): PrecursorDraft {
  return {
    ...precursorFromAsk(key, {
      formula: body.formula,
      ...(body.purity === null ? {} : { purity: body.purity }),
      ...(body.assay === null ? {} : { assay: body.assay }),
      ...(body.isMetalsBasis === null ? {} : { isMetalsBasis: body.isMetalsBasis }),
      lossOnDrying: body.lossOnDrying,
      lot: body.lotNumber,
    }),
    lotId: id,
    dryingC: numberText(body.dryingC),
  };
}

/** The row that makes such a request. */
export function precursorFromAsk(key: string, ask: PrecursorAsk): PrecursorDraft {
  const { formula, purity, assay, isMetalsBasis, lossOnDrying, lot } = ask;
  return {
    ...NOTHING_KNOWN,
    key,
    formula,
    knownBy: assay ? 'assay' : 'purity',
    purityPercent: purity === undefined ? '' : percentText(purity),
    assayPercent: assay
      ? statedText({
          value: Number((assay.massFraction * 100).toPrecision(8)),
          standardUncertainty: Number((assay.standardUncertainty * 100).toPrecision(8)),
        })
      : '',
    assayCation: assay?.cation ?? '',
    isMetalsBasis: isMetalsBasis === undefined ? '' : isMetalsBasis ? 'yes' : 'no',
    lossPercent: percentText(lossOnDrying),
    lotNumber: lot ?? '',
  };
}

export function precursorFromLibrary(key: string, formula: string): PrecursorDraft {
  const row = PRECURSORS.records.find((each) => each.formula === formula);
  return { ...NOTHING_KNOWN, key, formula, purityPercent: row ? percentText(row.purityLow) : '' };
}

/** The row with another formula: what the library knows of it fills the row only where nothing was typed in it. */
export function withFormula(row: PrecursorDraft, formula: string): PrecursorDraft {
  const isUntouched = isSameRow(row, precursorFromLibrary(row.key, row.formula));
  return isUntouched ? precursorFromLibrary(row.key, formula) : { ...row, lotId: '', formula };
}

const isSameRow = (one: PrecursorDraft, other: PrecursorDraft): boolean =>
  Object.entries(one).every(([field, value]) => other[field as keyof PrecursorDraft] === value);

/** Cations of a formula; empty where it cannot be read. */
export function cationsOfFormula(formula: string): string[] {
  try {
    return Object.keys(elementAmounts(parseFormula(formula))).filter(isCation);
  } catch {
    return []; // still being typed
  }
}

/** The library's usual compound of one cation: a carbonate for Ba, an oxide otherwise. */
function usualFormula(cation: string): string | undefined {
  const held = PRECURSORS.records.filter(({ formula }) => cationsOfFormula(formula).join() === cation);
  return (held.find(({ formula }) => cation === 'Ba' && formula === 'BaCO3') ?? held[0])?.formula;
}

/** What a ratio asks for: for each cation the newest recorded lot that brings it alone, else the library's compound. */
export function proposedPrecursors(cations: CationRatio, lots: readonly KnownLot[]): PrecursorDraft[] {
  return Object.entries(cations)
    .filter(([, amount]) => amount > 0)
    .map(([cation]) => {
      const lot = [...lots].reverse().find(({ body }) => cationsOfFormula(body.formula).join() === cation);
      return lot ? precursorFromLot(cation, lot) : precursorFromLibrary(cation, usualFormula(cation) ?? '');
    });
}

/** Wanted cations that no row brings. */
export function missingCations(cations: CationRatio, rows: readonly PrecursorDraft[]): string[] {
  const brought = new Set(rows.flatMap(({ formula }) => cationsOfFormula(formula)));
  return Object.entries(cations).flatMap(([cation, amount]) =>
    amount > 0 && !brought.has(cation) ? [cation] : [],
  );
}

/** Powders of the user's own that are this substance, however its formula is written. */
export function ownPowdersOf<Own extends { readonly body: Powder }>(
  formula: string,
  powders: readonly Own[],
): Own[] {
  try {
    const elements = elementAmounts(parseFormula(formula));
    return powders.filter(({ body }) => sameSubstance(elementAmounts(parseFormula(body.formula)), elements));
  } catch {
    return []; // still being typed
  }
}

/** How a powder is dried before weighing: what the user entered, and what the library says beside it; null where neither says it. */
export function dryingOf(formula: string, powders: readonly { readonly body: Powder }[]): string | null {
  const own = ownPowdersOf(formula, powders).find(({ body }) => body.drying !== '')?.body.drying;
  const tabled = PRECURSORS.records.find((each) => each.formula === formula)?.drying.replaceAll('degC', '°C');
  if (own === undefined) return tabled ?? null;
  return tabled === undefined ? own : `${own} (entered here); library: ${tabled}`;
}

/** Reads the rows; a fault stands under `0.formula` and so on. */
export function readPowderRows(rows: readonly PrecursorDraft[], read: FieldReader): PrecursorAsk[] {
  return rows.map((row, i): PrecursorAsk => {
    const required = (field: keyof PrecursorDraft, what: string): void => {
      if (row[field].trim() === '') read.faults[`${i}.${field}`] = `Found nothing; expected ${what}.`;
    };
    const formula = row.formula.trim();
    required('formula', 'a formula such as BaCO3');
    const fault = formula === '' ? undefined : formulaFault(formula);
    if (fault) read.faults[`${i}.formula`] = fault;
    const loss = read.number(`${i}.lossPercent`, row.lossPercent, { min: 0, max: 99.99, unit: '%' });
    read.number(`${i}.dryingC`, row.dryingC, { min: 0, max: 1500, unit: '°C' });
    const ask: PrecursorAsk = { formula, lossOnDrying: shareOf(loss) };
    if (row.lotNumber.trim() !== '') ask.lot = row.lotNumber.trim();
    if (row.knownBy === 'assay') {
      required('assayPercent', 'how much of the metal the dried powder holds, such as 69.4 ± 0.2 %');
      const assay = read.stated(`${i}.assayPercent`, row.assayPercent, { above: 0, max: 99.99, unit: '%' });
      if (assay && assay.standardUncertainty === null)
        read.faults[`${i}.assayPercent`] =
          `Found '${row.assayPercent.trim()}' without its uncertainty; expected both, such as 69.4 ± 0.2.`;
      ask.assay = {
        cation: row.assayCation || (cationsOfFormula(formula)[0] ?? ''),
        massFraction: shareOf(assay?.value ?? null),
        standardUncertainty: shareOf(assay?.standardUncertainty ?? null),
      };
      return ask;
    }
    required('purityPercent', 'the share of the named formula, %');
    const purity = read.number(`${i}.purityPercent`, row.purityPercent, { above: 0, max: 100, unit: '%' });
    ask.purity = shareOf(purity);
    if (row.isMetalsBasis !== '') ask.isMetalsBasis = row.isMetalsBasis === 'yes';
    return ask;
  });
}

/** What a row is kept as, so that it stands among the recorded lots. */
export function lotOf(row: PrecursorDraft, ask: PrecursorAsk, targetLabel: string): Lot {
  return {
    label: `${ask.formula} ${ask.lot ?? `for ${targetLabel}`}`,
    formula: ask.formula,
    lotNumber: ask.lot ?? '',
    purity: ask.purity ?? null,
    assay: ask.assay ?? null,
    isMetalsBasis: ask.isMetalsBasis ?? null,
    lossOnDrying: ask.lossOnDrying,
    dryingC: row.dryingC.trim() === '' ? null : Number(row.dryingC.replace(',', '.')),
    note: '',
  };
}

/** What is wrong with a formula, in the words of the science; undefined where it can be weighed. */
export function formulaFault(formula: string): string | undefined {
  try {
    molarMass(elementAmounts(parseFormula(formula)));
    return undefined;
  } catch (error) {
    if (error instanceof DomainError) return `${error.sentence} ${error.remedy}`.trim();
    throw error;
  }
}
