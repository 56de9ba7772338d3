// A target's batch as it is typed, and the request it makes to `target.batch`. Pure.
import type { CationRatio } from '../../records/common.ts';
import type { Lot } from '../../records/kinds.ts';
import { DomainError } from '../../science/errors.ts';
import { isCation } from '../../science/matter/elements.ts';
import { elementAmounts, parseFormula } from '../../science/matter/formula.ts';
import { molarMass } from '../../science/matter/molar-mass.ts';
import { PRECURSORS } from '../../science/tables/precursors.ts';
import { readRatio } from '../compositions.ts';
import { type Faults, FieldReader, numberText } from './typed-numbers.ts';

export interface PrecursorDraft {
  key: string;
  /** a lot that is recorded; `''`: typed here */
  lotId: string;
  formula: string;
  purityPercent: string;
  lossPercent: string;
  lotNumber: string;
}

export interface TargetDraft {
  label: string;
  ratio: string;
  totalMassG: string;
  balanceStepMg: string;
  oxygenPer123: string;
  /** null: what the ratio asks for, from the recorded lots and the library */
  precursors: PrecursorDraft[] | null;
  sinterGas: string;
  note: string;
}

export function emptyTarget(ratio: string): TargetDraft {
  return {
    label: '',
    ratio,
    totalMassG: '20',
    balanceStepMg: '0.1',
    oxygenPer123: '',
    precursors: null,
    sinterGas: 'O2',
    note: '',
  };
}

interface KnownLot {
  readonly id: string;
  readonly body: Lot;
}

/** A share as percent text, without the noise of the product. */
const percentText = (share: number): string => numberText(Number((share * 100).toPrecision(8)));

export function precursorFromLot(key: string, { id, body }: KnownLot): PrecursorDraft {
  return {
    key,
    lotId: id,
    formula: body.formula,
    purityPercent: body.purity === null ? '' : percentText(body.purity),
    lossPercent: percentText(body.lossOnDrying),
    lotNumber: body.lotNumber,
  };
}

export function precursorFromLibrary(key: string, formula: string): PrecursorDraft {
  const row = PRECURSORS.records.find((each) => each.formula === formula);
  return {
    key,
    lotId: '',
    formula,
    purityPercent: row ? percentText(row.purityLow) : '',
    lossPercent: '0',
    lotNumber: '',
  };
}

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
  const held = PRECURSORS.records.filter(({ formula }) => {
    const cations = cationsOfFormula(formula);
    return cations.length === 1 && cations[0] === cation;
  });
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

export interface BatchAsk {
  composition: { cations: CationRatio };
  totalMassG: number;
  oxygenPer123?: number;
  precursors: { formula: string; purity: number; lossOnDrying: number }[];
  balanceStepMg: number;
}

interface ReadTarget {
  cations: CationRatio | null;
  rows: PrecursorDraft[];
  /** null while something cannot be read */
  request: BatchAsk | null;
  /** `ratio`, or `0.formula` for the field of a row; the name is no part of the batch and is checked when it is kept */
  faults: Faults;
}

export function readTarget(draft: TargetDraft, rareEarth: string, lots: readonly KnownLot[]): ReadTarget {
  const read = new FieldReader();
  let cations: CationRatio | null = null;
  if (draft.ratio.trim() === '') {
    read.faults.ratio = `Found nothing; expected three amounts of ${rareEarth}, Ba, Cu such as 1:2:3.`;
  } else {
    const ratio = readRatio(draft.ratio, rareEarth);
    if ('fault' in ratio) read.faults.ratio = ratio.fault;
    else cations = ratio.cations;
  }
  const rows = draft.precursors ?? (cations ? proposedPrecursors(cations, lots) : []);
  const required = (field: string, text: string, what: string): void => {
    if (text.trim() === '') read.faults[field] = `Found nothing; expected ${what}.`;
  };
  const totalMassG = read.number('totalMassG', draft.totalMassG, { above: 0, max: 10_000, unit: 'g' });
  const balanceStepMg = read.number('balanceStepMg', draft.balanceStepMg, {
    above: 0,
    max: 10_000,
    unit: 'mg',
  });
  required('totalMassG', draft.totalMassG, 'the mass of the fired target, g');
  required('balanceStepMg', draft.balanceStepMg, 'the step of the balance, mg');
  const oxygenPer123 = read.number('oxygenPer123', draft.oxygenPer123, { min: 6, max: 7 });
  const precursors = rows.map((row, i) => {
    required(`${i}.formula`, row.formula, 'a formula such as BaCO3');
    const fault = row.formula.trim() === '' ? undefined : formulaFault(row.formula.trim());
    if (fault) read.faults[`${i}.formula`] = fault;
    required(`${i}.purityPercent`, row.purityPercent, 'the share of the named formula, %');
    const purity = read.number(`${i}.purityPercent`, row.purityPercent, { above: 0, max: 100, unit: '%' });
    const loss = read.number(`${i}.lossPercent`, row.lossPercent, { min: 0, max: 99.99, unit: '%' });
    return {
      formula: row.formula.trim(),
      purity: shareOf(purity),
      lossOnDrying: shareOf(loss),
    };
  });
  if (cations && precursors.length === 0) read.faults.precursors = 'Found no powder; expected at least one.';
  const isRead = cations && totalMassG !== null && balanceStepMg !== null;
  return {
    cations,
    rows,
    request:
      isRead && Object.keys(read.faults).length === 0
        ? {
            composition: { cations: cations! },
            totalMassG,
            ...(oxygenPer123 === null ? {} : { oxygenPer123 }),
            precursors,
            balanceStepMg,
          }
        : null,
    faults: read.faults,
  };
}

const shareOf = (percent: number | null): number => Number(((percent ?? 0) / 100).toPrecision(12));

/** The field that a refusal of `target.batch` is about: `ratio`, `0.formula`, or `precursors` for the table as a whole. */
export function fieldOfRefusal(sentence: string): string {
  const row = /^precursors\[(\d+)\]/.exec(sentence);
  if (row) {
    const part = /^precursors\[\d+\]\.(purity|lossOnDrying)/.exec(sentence)?.[1];
    return `${row[1]}.${part === 'purity' ? 'purityPercent' : part ? 'lossPercent' : 'formula'}`;
  }
  const field = /^(?:composition\.)?(totalMassG|balanceStepMg|oxygenPer123)\b/.exec(sentence);
  if (field) return field[1]!;
  return /^composition\.cations/.test(sentence) && !sentence.includes('no precursor')
    ? 'ratio'
    : 'precursors';
}

/** What is wrong with a formula, in the words of the science; undefined where it can be weighed. */
function formulaFault(formula: string): string | undefined {
  try {
    molarMass(elementAmounts(parseFormula(formula)));
    return undefined;
  } catch (error) {
    if (error instanceof DomainError) return `${error.sentence} ${error.remedy}`;
    throw error;
  }
}
