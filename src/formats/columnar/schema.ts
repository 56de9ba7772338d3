// What the columnar reader is asked and what it answers: blocks of numbers with their headings. No values are guessed.
import type { ReadFailure } from '../errors.ts';
import type { Encoding } from '../text/encoding.ts';
import type { Delimiter } from '../text/fields.ts';
import type { DecimalMark } from '../text/number-text.ts';

export const MAX_BYTES = 20_000_000;
export const MAX_LINE_BYTES = 1_000_000;
export const MAX_COLUMNS = 500;
export const MAX_BLOCKS = 1000;
/** lines without a row of numbers after which the reader gives up */
export const MAX_HEADER_LINES = 20_000;
/** rows looked at before delimiter and decimal mark are fixed */
export const DECISION_ROWS = 64;

export interface ColumnarOptions {
  /** a person has said which; found by consistency if left out */
  readonly delimiter?: Delimiter;
  readonly decimalMark?: DecimalMark;
  /** leave out rows with too few or too many columns, with a warning, instead of refusing the file */
  readonly wholeRows?: boolean;
  /** whether dates such as 01/03/2026 state the day or the month first */
  readonly dateOrder?: DateOrder;
}

export type DateOrder = 'day first' | 'month first';

/** A column of clock stamps: read as seconds since its first reading, or the reason why it is left as text. */
export interface BlockClock {
  readonly column: number;
  readonly fault: ReadFailure | null;
}

/** Rows of numbers with one number of columns. Lines count from 1. */
export interface ColumnarBlock {
  readonly firstLine: number;
  readonly lastLine: number;
  /** one a column, '' where the file gives none */
  readonly headings: readonly string[];
  /** as the file writes them, '' where it gives none */
  readonly units: readonly string[];
  /** NaN: missing, or text where the column is listed in `textColumns` */
  readonly columns: readonly Float64Array[];
  readonly rows: number;
  /** columns that hold text in every row, clock stamps that were read left out */
  readonly textColumns: readonly number[];
  /** columns that hold the clock; in seconds, with the unit s, where there is no fault */
  readonly clocks: readonly BlockClock[];
  /** lines above the block, at most 100, each at most 300 characters */
  readonly headerLines: readonly string[];
  /** headings and units were taken over from the block before */
  readonly hasInheritedHeadings: boolean;
  /**
   * The same for two blocks with the same headings, units and number of columns, whatever their numbers. It ends in
   * `-unnamed` if the block has no headings: a mapping remembered for it should be confirmed each time.
   */
  readonly shape: string;
}

export interface Columnar {
  readonly blocks: readonly ColumnarBlock[];
  readonly encoding: Encoding;
  readonly delimiter: Delimiter;
  /** null: no number in the file has one */
  readonly decimalMark: DecimalMark | null;
  /** `key: value` pairs of the header lines, at most 200; a key stated with different values is left out */
  readonly comments: Readonly<Record<string, string>>;
}
