// The composition that is wanted, as it is typed: a cation ratio, a formula, or a base with additions. Pure.
import type { CationRatio } from '../../records/common.ts';
import { DomainError } from '../../science/errors.ts';
import {
  type AdditionCations,
  type MolPercentMeaning,
  type ResolvedAddition,
  withAdditions,
} from '../../science/target/additions.ts';
import { readRatio } from '../compositions.ts';
import { inWords } from './target-words.ts';
import { type FieldReader, numberText } from './typed-numbers.ts';

export interface AdditionDraft {
  key: string;
  formula: string;
  percent: string;
}

export interface WantedDraft {
  wantedAs: 'ratio' | 'formula' | 'additions';
  ratio: string;
  formula: string;
  base: string;
  additions: AdditionDraft[];
  percentOf: 'mol' | 'vol';
  molPercentMeans: MolPercentMeaning;
  additionCations: AdditionCations;
}

/** What is wanted, as `target.batch` takes it. */
export interface Wanted {
  composition:
    | { cations: CationRatio }
    | { formula: string }
    | { base: string; additions: { formula: string; molPercent?: number; volPercent?: number }[] };
  molPercentMeans?: MolPercentMeaning;
  additionCations?: AdditionCations;
}

interface ReadWanted {
  /** null while something cannot be read */
  wanted: Wanted | null;
  cations: CationRatio | null;
  /** what each addition comes to per formula of the base */
  additions: readonly ResolvedAddition[];
}

export function emptyWanted(ratio: string, rareEarth: string): WantedDraft {
  return {
    wantedAs: 'ratio',
    ratio,
    formula: `${rareEarth}Ba2Cu3O7`,
    base: `${rareEarth}Ba2Cu3O7`,
    additions: [{ key: 'first', formula: 'BaZrO3', percent: '5' }],
    percentOf: 'mol',
    molPercentMeans: 'per100Matrix',
    additionCations: 'onTop',
  };
}

const NOTHING: ReadWanted = { wanted: null, cations: null, additions: [] };

/** Reads what is wanted; faults stand under `ratio`, `formula`, `base`, `addition.0.formula`, `addition.0.percent`. */
export function readWanted(draft: WantedDraft, rareEarth: string, read: FieldReader): ReadWanted {
  if (draft.wantedAs === 'ratio') {
    if (draft.ratio.trim() === '') {
      read.faults.ratio = `Found nothing; expected three amounts of ${rareEarth}, Ba, Cu such as 1:2:3.`;
      return NOTHING;
    }
    const ratio = readRatio(draft.ratio, rareEarth);
    if ('fault' in ratio) {
      read.faults.ratio = ratio.fault;
      return NOTHING;
    }
    return { wanted: { composition: { cations: ratio.cations } }, cations: ratio.cations, additions: [] };
  }
  if (draft.wantedAs === 'formula') {
    const formula = read.name('formula', draft.formula, `a formula such as ${rareEarth}Ba2Cu3O7`);
    return resolved(formula, 'formula', [], draft, read, () => ({ composition: { formula } }));
  }
  const base = read.name('base', draft.base, `the matrix, such as ${rareEarth}Ba2Cu3O7`);
  const isMol = draft.percentOf === 'mol';
  const max = isMol && draft.molPercentMeans === 'per100Matrix' ? 1000 : 99.99;
  const additions = draft.additions.map(({ formula, percent }, i) => {
    const value = read.number(`addition.${i}.percent`, percent, { min: 0, max, unit: `${draft.percentOf}%` });
    if (percent.trim() === '')
      read.faults[`addition.${i}.percent`] = `Found nothing; expected how much of it, ${draft.percentOf}%.`;
    return {
      formula: read.name(`addition.${i}.formula`, formula, 'a formula such as BaZrO3'),
      ...(isMol ? { molPercent: value ?? 0 } : { volPercent: value ?? 0 }),
    };
  });
  return resolved(base, 'base', additions, draft, read, () => ({
    composition: { base, additions },
    ...(isMol ? { molPercentMeans: draft.molPercentMeans } : {}),
    additionCations: draft.additionCations,
  }));
}

function resolved(
  base: string,
  field: 'formula' | 'base',
  additions: readonly { formula: string; molPercent?: number; volPercent?: number }[],
  { molPercentMeans, additionCations }: WantedDraft,
  read: FieldReader,
  wanted: () => Wanted,
): ReadWanted {
  const isRead = !Object.keys(read.faults).some((each) => each === field || each.startsWith('addition.'));
  if (!isRead) return NOTHING;
  try {
    const found = withAdditions(base, additions, molPercentMeans, additionCations);
    return { wanted: wanted(), cations: found.cations, additions: found.additions };
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    read.faults[fieldOfAddition(error.sentence, field, additions)] = inWords(
      `${error.sentence} ${error.remedy}`.trim(),
    );
    return NOTHING;
  }
}

/** The field that a refusal of a composition is about. */
function fieldOfAddition(
  sentence: string,
  field: 'formula' | 'base',
  additions: readonly { formula: string }[],
): string {
  const row = /^composition\.additions\[(\d+)\](?:\.(formula))?/.exec(sentence);
  if (row) return `addition.${row[1]}.${row[2] ? 'formula' : 'percent'}`;
  if (/^the sum of/.test(sentence)) return `addition.${Math.max(0, additions.length - 1)}.percent`;
  // a formula that cannot be read is quoted: whose is it?
  const quoted = additions.findIndex(({ formula }) => sentence.includes(formula));
  return quoted < 0 ? field : `addition.${quoted}.formula`;
}

/** The draft that asks for what was wanted. */
export function wantedDraftOf(wanted: Wanted, ratio: string, rareEarth: string): WantedDraft {
  const { composition } = wanted;
  const empty = emptyWanted(ratio, rareEarth);
  if ('cations' in composition) return empty;
  if ('formula' in composition) return { ...empty, wantedAs: 'formula', formula: composition.formula };
  const { base, additions } = composition;
  return {
    ...empty,
    wantedAs: 'additions',
    base,
    additions: additions.map(({ formula, molPercent, volPercent }, i) => ({
      key: `kept-${i}`,
      formula,
      percent: numberText(molPercent ?? volPercent),
    })),
    percentOf: additions.some(({ volPercent }) => volPercent !== undefined) ? 'vol' : 'mol',
    molPercentMeans: wanted.molPercentMeans ?? 'per100Matrix',
    additionCations: wanted.additionCations ?? 'onTop',
  };
}

/** The two conventions of additions in a sentence for the sheet; '' where there are none. */
export function conventionText({ composition, molPercentMeans, additionCations }: Wanted): string {
  if (!('base' in composition) || composition.additions.length === 0) return '';
  const byVolume = composition.additions.some(({ volPercent }) => volPercent !== undefined);
  const percent = byVolume
    ? 'vol% is the share of the volume of 123 and all additions'
    : molPercentMeans === 'ofTotal'
      ? 'mol% is the share of all formulas'
      : 'mol% is moles per 100 moles of the matrix';
  return `${percent}; additions ${additionCations === 'outOfMatrix' ? 'take their cations out of the matrix' : 'come on top of the matrix'}.`;
}

/** What is wanted, in words. */
export function wantedText({ composition }: Wanted, ratioText: (cations: CationRatio) => string): string {
  if ('cations' in composition) return ratioText(composition.cations);
  if ('formula' in composition) return composition.formula;
  const { base, additions } = composition;
  return [
    base,
    ...additions.map(({ formula, molPercent, volPercent }) =>
      molPercent === undefined ? `${volPercent} vol% ${formula}` : `${molPercent} mol% ${formula}`,
    ),
  ].join(' + ');
}
