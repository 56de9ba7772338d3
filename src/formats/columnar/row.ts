// Sorts one line of a block whose grammar is known: a row, a damaged row, or text. Pure.
import type { Fields } from '../text/fields.ts';
import { DOUBT, MISSING, NUMBER, type NumberText, TEXT } from '../text/number-text.ts';
import type { Grammar } from './grammar.ts';
import { MAX_COLUMNS } from './schema.ts';

const SPACE = 32;

/** Blank, or only delimiters, as spreadsheets pad blank lines. */
export function isBlankLine(bytes: Uint8Array, start: number, end: number): boolean {
  for (let i = start; i < end; i++) {
    const byte = bytes[i]!;
    if (byte > SPACE && byte !== 44 && byte !== 59) return false;
  }
  return true;
}

/** A line that begins with # % ! // or ', or with ; where that can be no empty first field. */
export function isCommentLine(
  bytes: Uint8Array,
  start: number,
  end: number,
  mayBeEmptyField: boolean,
): boolean {
  let i = start;
  while (i < end && bytes[i]! <= SPACE) i++;
  const first = bytes[i];
  if (i >= end) return false;
  if (first === 0x23 || first === 0x25 || first === 0x21 || first === 0x27) return true;
  if (first === 0x2f) return i + 1 < end && bytes[i + 1] === 0x2f;
  return first === 0x3b && !mayBeEmptyField;
}

function isLetter(byte: number): boolean {
  return (byte >= 65 && byte <= 90) || (byte >= 97 && byte <= 122) || byte >= 128;
}

/** What the first character that is not blank or a quotation mark says: a number begins, a word begins, or neither. */
export function beginning(bytes: Uint8Array, start: number, end: number): 'number' | 'word' | 'other' {
  let i = start;
  while (i < end && (bytes[i]! <= SPACE || bytes[i] === 34)) i++;
  if (i >= end) return 'other';
  const byte = bytes[i]!;
  if ((byte >= 48 && byte <= 57) || byte === 43 || byte === 45 || byte === 46) return 'number';
  return isLetter(byte) ? 'word' : 'other';
}

/** The last line read: what its fields are. `values` holds the numbers of a row, NaN for missing and text columns. */
export class Row {
  readonly values = new Float64Array(MAX_COLUMNS);
  numbers = 0;
  texts = 0;
  /** the row has the block's number of columns, but for empty fields at its end */
  hasAllColumns = false;
  /** fields that the line has, empty ones at its end left out if there are more than columns */
  fieldCount = 0;
  /** field that is no number, and field that could be two numbers; -1 if none */
  firstText = -1;
  firstDoubt = -1;

  read(
    bytes: Uint8Array,
    start: number,
    end: number,
    grammar: Grammar,
    columns: number,
    textColumns: ReadonlySet<number>,
    fields: Fields,
    number: NumberText,
  ): void {
    fields.split(bytes, start, end, grammar.delimiter);
    this.numbers = 0;
    this.texts = 0;
    this.firstText = -1;
    this.firstDoubt = -1;
    const count = fields.count;
    this.fieldCount = count > columns ? Math.max(columns, fields.filled(bytes)) : count;
    this.hasAllColumns = this.fieldCount === columns;
    for (let i = 0; i < this.fieldCount; i++) {
      if (i < columns) this.values[i] = Number.NaN;
      if (textColumns.has(i)) continue;
      const from = fields.starts[i]!;
      const to = fields.ends[i]!;
      let kind = number.read(bytes, from, to, grammar.decimalMark, grammar.allowsGroups);
      if (!grammar.isMarkKnown) kind = this.#findMark(bytes, from, to, kind, grammar, number);
      if (kind === NUMBER) {
        this.numbers++;
        if (i < columns) this.values[i] = number.value;
      } else if (kind === TEXT) {
        this.texts++;
        if (this.firstText < 0) this.firstText = i;
      } else if (kind === DOUBT && this.firstDoubt < 0) {
        this.firstDoubt = i;
      }
    }
  }

  /** The first number with a decimal mark says which it is; `1,234` alone does not. */
  #findMark(bytes: Uint8Array, from: number, to: number, kind: number, grammar: Grammar, number: NumberText) {
    if (kind === MISSING) return MISSING;
    if (kind === NUMBER) {
      if (number.sawMark) grammar.isMarkKnown = true;
      return NUMBER;
    }
    if (kind === DOUBT) return DOUBT;
    const other = number.read(bytes, from, to, ',', false);
    if (other !== NUMBER) return other === DOUBT ? DOUBT : TEXT;
    if (number.couldBeGrouped) return DOUBT;
    grammar.decimalMark = ',';
    grammar.isMarkKnown = true;
    return NUMBER;
  }
}
