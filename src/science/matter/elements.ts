// Standard atomic weights (g/mol) and which elements are rare earths, cations and anions. Pure.
import { DomainError } from '../errors.ts';
import { ATOMIC_WEIGHTS } from '../tables/atomic-weights.ts';

interface AtomicWeightRow {
  readonly symbol: string;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

const ROWS: ReadonlyMap<string, AtomicWeightRow> = new Map(
  ATOMIC_WEIGHTS.records.map((row): [string, AtomicWeightRow] => [row.symbol, row]),
);

/** Trivalent ions that take the RE site of 123: yttrium and the lanthanides with a standard atomic weight. */
export const RARE_EARTHS = [
  'Y',
  'La',
  'Ce',
  'Pr',
  'Nd',
  'Sm',
  'Eu',
  'Gd',
  'Tb',
  'Dy',
  'Ho',
  'Er',
  'Tm',
  'Yb',
  'Lu',
] as const;
const RARE_EARTH_SET: ReadonlySet<string> = new Set(RARE_EARTHS);

/** Elements that a fired oxide loses or holds as an anion, so that they are no part of a cation ratio. */
const NOT_CATIONS: ReadonlySet<string> = new Set([
  'H',
  'C',
  'N',
  'O',
  'F',
  'S',
  'Cl',
  'Br',
  'I',
  'He',
  'Ne',
  'Ar',
  'Kr',
  'Xe',
]);

interface AtomicWeight {
  readonly value: number;
  /** see `atomicWeight` */
  readonly standardUncertainty: number;
}

/** True for the symbol of an element that the table lists, with or without a standard atomic weight. */
export const isElement = (symbol: string): boolean => ROWS.has(symbol);

export const isRareEarth = (symbol: string): boolean => RARE_EARTH_SET.has(symbol);

export const isCation = (symbol: string): boolean => !NOT_CATIONS.has(symbol);

/**
 * Standard atomic weight, dimensionless; read as g/mol it is the molar mass of the element.
 *
 * The standard states an interval, or a value with a decision uncertainty. Either is a range in which any normal
 * material lies, with no place in it preferred: so a rectangular distribution, whose standard uncertainty is the
 * half-width over sqrt(3). The value kept for an interval is the conventional one, which need not be its middle (that of
 * O lies just outside); the half-width is then the distance to the further end.
 *
 * @param symbol element, for instance `Ba`
 * @throws DomainError ELEMENT_UNKNOWN for a symbol that is no element, or one that has no standard atomic weight
 *
 * Source: [looked-up and memory, row by row in data/atomic-weights.json: standard atomic weights 2021 and changes of
 * 2024]; rectangular reading [memory: Possolo, van der Veen, Meija, Hibbert 2018, Pure Appl. Chem. 90, 395].
 */
export function atomicWeight(symbol: string): AtomicWeight {
  const row = ROWS.get(symbol);
  if (!row) {
    throw new DomainError('ELEMENT_UNKNOWN', `'${symbol}' is not the symbol of an element up to uranium.`);
  }
  if (row.value === null || row.low === null || row.high === null) {
    throw new DomainError(
      'ELEMENT_UNKNOWN',
      `${symbol} has no standard atomic weight: no isotope of it is stable.`,
    );
  }
  const halfWidth = Math.max(row.value - row.low, row.high - row.value);
  return { value: row.value, standardUncertainty: halfWidth / Math.sqrt(3) };
}
