// A column of clock stamps, or a date and a time column together, as seconds since the first reading. Incremental; two
// numbers a row are kept at most. Pure.
import { type ReadFailure, readFailure, shown } from '../errors.ts';
import { type ClockForm, ClockText, SECONDS_A_DAY } from '../text/clock-text.ts';
import type { Fields } from '../text/fields.ts';
import { MISSING, NumberText } from '../text/number-text.ts';
import type { DateOrder } from './schema.ts';

/** A step back in the time of day by more than this is a new day; by less, a clock that goes back. */
const PASSES_MIDNIGHT_S = SECONDS_A_DAY / 2;
/** whole seconds that, with nanoseconds added, are still exact */
const EXACT_S = 9e6;

/** Where a block's clock stands: one column, or a column of dates beside one of times. */
export interface ClockPlace {
  readonly time: number;
  /** -1: the time column holds the date too, or there is none */
  readonly date: number;
}

/** The clocks that text columns hold, by the form that each has in all rows looked at. */
export function clockPlaces(forms: ReadonlyMap<number, ClockForm>): ClockPlace[] {
  const dates = [...forms].flatMap(([column, form]) => (form === 'date' ? [column] : []));
  return [...forms].flatMap(([time, form]): ClockPlace[] => {
    if (form === 'date and time') return [{ time, date: -1 }];
    if (form !== 'time') return [];
    return [{ time, date: dates.find((date) => Math.abs(date - time) === 1) ?? -1 }];
  });
}

/** The form that a column of stamps has in every row; 'none' if it holds anything else. */
export function commonForm(before: ClockForm | undefined, form: ClockForm): ClockForm {
  return before === undefined || before === form ? form : 'none';
}

/** Seconds under one order of day and month. */
class Elapsed {
  readonly order: DateOrder;
  /** the stamps are no dates in this order */
  isOut = false;
  back: ReadFailure | null = null;
  #first: { seconds: number; nanoseconds: number; text: string } | null = null;
  #last = 0;
  #values = new Float64Array(64);
  #rows = 0;

  constructor(order: DateOrder) {
    this.order = order;
  }

  addMissing(): void {
    this.#push(Number.NaN);
  }

  add(
    seconds: number,
    nanoseconds: number,
    text: () => string,
    textBefore: () => string,
    line: number,
  ): void {
    if (Number.isNaN(seconds)) {
      this.isOut = true;
      return;
    }
    this.#first ??= { seconds, nanoseconds, text: text() };
    const whole = seconds - this.#first.seconds;
    const part = nanoseconds - this.#first.nanoseconds;
    const value = Math.abs(whole) < EXACT_S ? (whole * 1e9 + part) / 1e9 : whole + part / 1e9;
    if (value < this.#last && this.back === null) {
      const before = textBefore();
      const sentence = `Line ${line}: the clock goes back from "${before}" to "${text()}"; "${before}" or later was expected.`;
      this.back = readFailure('READ_CLOCK_BACK', sentence, line, 1);
    }
    this.#last = value;
    this.#push(value);
  }

  get firstText(): string {
    return this.#first?.text ?? '';
  }

  get values(): Float64Array {
    return this.#values.slice(0, this.#rows);
  }

  isLike(other: Elapsed): boolean {
    if (this.back !== null || other.back !== null || this.#rows !== other.#rows) return false;
    for (let i = 0; i < this.#rows; i++) if (!Object.is(this.#values[i], other.#values[i])) return false;
    return true;
  }

  #push(value: number): void {
    if (this.#rows === this.#values.length) {
      const grown = new Float64Array(2 * this.#rows);
      grown.set(this.#values);
      this.#values = grown;
    }
    this.#values[this.#rows++] = value;
  }
}

/** What a clock column came to: seconds, or why it cannot be read; then the column is text. */
export interface FinishedClock {
  readonly place: ClockPlace;
  readonly values: Float64Array | null;
  readonly fault: ReadFailure | null;
  readonly firstText: string;
  /** lines on which a time without a date passes midnight */
  readonly midnights: readonly number[];
}

const MOST_MIDNIGHTS = 1000;
const LONGEST_KEPT = 60;

/** One clock of a block while its rows come. */
export class ClockColumn {
  readonly place: ClockPlace;
  readonly #orders: Elapsed[];
  readonly #columns: readonly number[];
  readonly #clock = new ClockText();
  readonly #number = new NumberText();
  /** characters of the stamp before */
  readonly #before = new Uint8Array(2 * LONGEST_KEPT + 1);
  #beforeLength = 0;
  readonly #firstLine: number;
  #fault: ReadFailure | null = null;
  #days = 0;
  #lastOfDay = Number.NEGATIVE_INFINITY;
  #isCounted = false;
  readonly #midnights: number[] = [];

  constructor(place: ClockPlace, firstLine: number, order: DateOrder | undefined) {
    this.place = place;
    this.#columns = place.date < 0 ? [place.time] : [place.date, place.time];
    this.#firstLine = firstLine;
    this.#orders = (order === undefined ? (['day first', 'month first'] as const) : [order]).map(
      (each) => new Elapsed(each),
    );
  }

  /** Takes the fields of the next row of the block. */
  add(bytes: Uint8Array, fields: Fields, line: number): void {
    if (this.#fault !== null) return;
    const { time, date } = this.place;
    const text = (): string => this.#text(bytes, fields);
    if (time >= fields.count) {
      this.#addMissing();
      return;
    }
    const clock = this.#clock;
    const dateForm = date < 0 ? 'none' : clock.read(bytes, fields.starts[date]!, fields.ends[date]!);
    const form = clock.read(bytes, fields.starts[time]!, fields.ends[time]!);
    if (
      form === 'none' &&
      this.#number.read(bytes, fields.starts[time]!, fields.ends[time]!, '.', false) === MISSING
    ) {
      this.#addMissing();
      return;
    }
    if (form === 'none' || form === 'date' || (date >= 0 && dateForm !== 'date')) {
      const found = text();
      const sentence = `Line ${line}: "${found}" stands in the clock column ${time + 1}; a time such as 14:05:10 was expected, written like those before it.`;
      this.#fault = readFailure('READ_CLOCK', sentence, line, 1);
      return;
    }
    const hasDate = date >= 0 || form === 'date and time';
    if (!hasDate) this.#passMidnight(clock, line);
    const textBefore = (): string => decoded(this.#before.subarray(0, this.#beforeLength));
    let added = 0;
    for (const each of this.#orders) {
      if (each.isOut) continue;
      const day = hasDate ? (each.order === 'day first' ? clock.dayFirst : clock.monthFirst) : this.#days;
      each.add(day * SECONDS_A_DAY + clock.seconds, clock.nanoseconds, text, textBefore, line);
      if (!each.isOut) added++;
    }
    if (added > 0) {
      this.#keep(bytes, fields);
      return;
    }
    const orders = this.#orders.map(({ order }) => order).join(' or ');
    const sentence = `Line ${line}: "${text()}" is no date with the ${orders}, as the rows before it need; a day of the calendar was expected.`;
    this.#fault = readFailure('READ_CLOCK', sentence, line, 1);
  }

  finish(): FinishedClock {
    const alive = this.#orders.filter(({ isOut }) => !isOut);
    const [one, other] = alive;
    const fault =
      this.#fault ??
      (one && other && !one.isLike(other) && !(one.back && other.back)
        ? readFailure(
            'READ_DATE_DOUBT',
            `From line ${this.#firstLine} on, dates such as "${one.firstText}" may state the day or the month first, and the times between the rows depend on it.`,
            this.#firstLine,
            1,
          )
        : (one?.back ?? null));
    return {
      place: this.place,
      values: fault === null && one ? one.values : null,
      fault,
      firstText: one?.firstText ?? '',
      midnights: this.#midnights,
    };
  }

  /** A step back of more than half a day is the next day; a counted time has no midnight. */
  #passMidnight(clock: ClockText, line: number): void {
    const ofDay = clock.seconds + clock.nanoseconds / 1e9;
    if (clock.isCounted) this.#isCounted = true;
    if (!this.#isCounted && this.#lastOfDay - ofDay > PASSES_MIDNIGHT_S) {
      this.#days++;
      if (this.#midnights.length < MOST_MIDNIGHTS) this.#midnights.push(line);
    }
    this.#lastOfDay = ofDay;
  }

  #addMissing(): void {
    for (const each of this.#orders) each.addMissing();
  }

  #text(bytes: Uint8Array, fields: Fields): string {
    return this.#columns
      .map((column) => decoded(bytes.subarray(fields.starts[column], fields.ends[column])))
      .join(' ');
  }

  /** Keeps the stamp's characters, for the message if the next one goes back. */
  #keep(bytes: Uint8Array, fields: Fields): void {
    let length = 0;
    for (const column of this.#columns) {
      if (length > 0) this.#before[length++] = 32;
      const end = Math.min(fields.ends[column]!, fields.starts[column]! + LONGEST_KEPT);
      for (let at = fields.starts[column]!; at < end; at++) this.#before[length++] = bytes[at]!;
    }
    this.#beforeLength = length;
  }
}

function decoded(bytes: Uint8Array): string {
  return shown(new TextDecoder().decode(bytes).trim(), LONGEST_KEPT);
}
