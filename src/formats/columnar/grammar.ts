// Finds delimiter and decimal mark by consistency over the first rows of a block of numbers. Pure.
import { type ClockForm, ClockText } from '../text/clock-text.ts';
import { type Delimiter, Fields } from '../text/fields.ts';
import { type DecimalMark, DOUBT, MISSING, NUMBER, NumberText, TEXT } from '../text/number-text.ts';
import { commonForm } from './clock-column.ts';
import { type ColumnarOptions, MAX_COLUMNS } from './schema.ts';

/** Order of preference where two delimiters part the rows alike. */
const DELIMITERS: readonly Delimiter[] = ['tab', 'semicolon', 'comma', 'blanks', 'none'];
/** Field capacity of a row; spreadsheets pad short lines with many empty fields. */
export const FIELD_CAPACITY = 2 * MAX_COLUMNS + 1;
const MAX_TEXT_COLUMNS = 6;

/** Rows that make a block: two rows of two numbers, more where a row says less. */
const ROWS_OF_NUMBERS = 2;
const ROWS_OF_ONE_NUMBER = 4;
const ROWS_WITH_TEXT = 5;

/** How rows are read, once found. */
export interface Grammar {
  readonly delimiter: Delimiter;
  decimalMark: DecimalMark;
  /** a number with a decimal mark has been seen, or a person has named the mark: it can no longer change */
  isMarkKnown: boolean;
  readonly allowsGroups: boolean;
}

/** One delimiter and decimal mark tried on consecutive rows. */
class Candidate {
  readonly grammar: Grammar;
  isAlive = false;
  /** most fields that a row fills, fewest that a row has: the number of columns lies between */
  #maxFilled = 0;
  #minFields = Number.POSITIVE_INFINITY;
  #kinds: number[] = [];
  /** form of each text column that has held clock stamps alone */
  #forms = new Map<number, ClockForm>();
  #numbers = 0;
  /** numbers with a decimal mark, and those of them in which it can only be one */
  marks = 0;
  sureMarks = 0;
  firstDoubt: { line: number; text: string } | null = null;
  readonly #fields: Fields;
  readonly #number: NumberText;
  readonly #clock = new ClockText();

  constructor(grammar: Grammar, fields: Fields, number: NumberText) {
    this.grammar = grammar;
    this.#fields = fields;
    this.#number = number;
  }

  reset(): void {
    this.isAlive = true;
    this.#maxFilled = 0;
    this.#minFields = Number.POSITIVE_INFINITY;
    this.#kinds = [];
    this.#forms = new Map();
    this.#numbers = 0;
    this.marks = 0;
    this.sureMarks = 0;
    this.firstDoubt = null;
  }

  /** Whether the row fits the rows before it; the candidate changes only if it does. */
  takes(bytes: Uint8Array, line: number): boolean {
    const { delimiter, decimalMark, allowsGroups } = this.grammar;
    const fields = this.#fields;
    fields.split(bytes, 0, bytes.length, delimiter);
    const filled = fields.filled(bytes);
    const maxFilled = Math.max(filled, this.#maxFilled);
    if (filled === 0 || Math.min(fields.count, this.#minFields) < maxFilled) return false;
    const kinds = this.#kinds.slice();
    const forms = new Map(this.#forms);
    let clocks = 0;
    let numbers = 0;
    let texts = 0;
    let marks = 0;
    let sureMarks = 0;
    let doubtAt = -1;
    for (let i = 0; i < fields.count; i++) {
      const read = this.#number.read(bytes, fields.starts[i]!, fields.ends[i]!, decimalMark, allowsGroups);
      if (read === MISSING) continue;
      const kind = read === TEXT ? TEXT : NUMBER;
      if ((kinds[i] ?? MISSING) !== MISSING && kinds[i] !== kind) return false;
      kinds[i] = kind;
      if (kind === TEXT) {
        texts++;
        const form = this.#clock.read(bytes, fields.starts[i]!, fields.ends[i]!);
        if (form !== 'none') clocks++;
        forms.set(i, commonForm(forms.get(i), form));
      } else numbers++;
      if (read === DOUBT && doubtAt < 0) doubtAt = i;
      if (this.#number.sawMark) marks++;
      if (this.#number.sawMark && !this.#number.couldBeGrouped) sureMarks++;
    }
    // beside a clock one number is enough
    const leastNumbers = texts > 0 && clocks < texts ? 2 : 1;
    if (numbers < leastNumbers || texts > MAX_TEXT_COLUMNS) return false;
    this.#maxFilled = maxFilled;
    this.#minFields = Math.min(fields.count, this.#minFields);
    this.#kinds = kinds;
    this.#forms = forms;
    this.#numbers = kinds.filter((kind) => kind === NUMBER).length;
    this.marks += marks;
    this.sureMarks += sureMarks;
    if (doubtAt >= 0 && this.firstDoubt === null) {
      const text = new TextDecoder('windows-1252').decode(
        bytes.subarray(fields.starts[doubtAt]!, fields.ends[doubtAt]!),
      );
      this.firstDoubt = { line, text };
    }
    return true;
  }

  get columns(): number {
    return this.#minFields > MAX_COLUMNS ? this.#maxFilled : this.#minFields;
  }

  get numberColumns(): number {
    return this.#numbers;
  }

  get textColumns(): number[] {
    return this.#kinds.flatMap((kind, i) => (kind === TEXT ? [i] : []));
  }

  /** Text columns that hold clock stamps of one form in every row. */
  get clockForms(): ReadonlyMap<number, ClockForm> {
    return new Map([...this.#forms].filter(([, form]) => form !== 'none'));
  }

  isEnough(rows: number): boolean {
    if (this.textColumns.length > 0) return rows >= ROWS_WITH_TEXT;
    return rows >= (this.columns === 1 ? ROWS_OF_ONE_NUMBER : ROWS_OF_NUMBERS);
  }
}

export type { Candidate };

/** Every way of reading rows that the options leave open, tried side by side on a run of lines. */
export class Candidates {
  readonly fields = new Fields(FIELD_CAPACITY);
  readonly number = new NumberText();
  readonly #all: Candidate[];

  constructor(options: ColumnarOptions) {
    const marks: DecimalMark[] = options.decimalMark === undefined ? ['.', ','] : [options.decimalMark];
    const delimiters = options.delimiter === undefined ? DELIMITERS : [options.delimiter];
    const isStated = options.decimalMark !== undefined;
    this.#all = delimiters.flatMap((delimiter) =>
      marks.map(
        (decimalMark) =>
          new Candidate(
            { delimiter, decimalMark, isMarkKnown: isStated, allowsGroups: isStated },
            this.fields,
            this.number,
          ),
      ),
    );
  }

  /**
   * Keeps what a block has shown: one way only, or, after a single column of numbers, which shows no delimiter, every
   * delimiter with the decimal mark found.
   */
  fix(grammar: Grammar): void {
    const kept =
      grammar.delimiter !== 'none'
        ? [new Candidate(grammar, this.fields, this.number)]
        : this.#all.filter(
            (candidate) => !grammar.isMarkKnown || candidate.grammar.decimalMark === grammar.decimalMark,
          );
    this.#all.splice(0, this.#all.length, ...kept);
  }

  reset(): void {
    for (const candidate of this.#all) candidate.reset();
  }

  /** Whether at least one way reads the row like those before; ways that do not are dropped until the next reset. */
  take(bytes: Uint8Array, line: number): boolean {
    const fitting = this.#all.filter((candidate) => candidate.isAlive && candidate.takes(bytes, line));
    if (fitting.length === 0) return false;
    for (const candidate of this.#all) candidate.isAlive = fitting.includes(candidate);
    return true;
  }

  /** The way with the fewest text columns, then the most columns of numbers, then the fewest doubts, then by order. */
  best(): Candidate | undefined {
    const alive = this.#all.filter((candidate) => candidate.isAlive);
    const rank = (candidate: Candidate): number[] => [
      candidate.textColumns.length,
      -candidate.numberColumns,
      candidate.firstDoubt === null ? 0 : 1,
      candidate.columns === 1 && candidate.grammar.delimiter !== 'none' ? 1 : 0,
    ];
    return alive.reduce<Candidate | undefined>((best, candidate) => {
      if (best === undefined) return candidate;
      const a = rank(best);
      const b = rank(candidate);
      const at = a.findIndex((value, i) => value !== b[i]);
      return at >= 0 && b[at]! < a[at]! ? candidate : best;
    }, undefined);
  }
}
