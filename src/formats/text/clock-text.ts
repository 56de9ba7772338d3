// Reads one clock stamp from its characters: a date, a time of day or both, to the nanosecond. Pure.

/** What a field says. A date alone and a time alone may stand in two columns of one clock. */
export type ClockForm = 'none' | 'date' | 'time' | 'date and time';

const MONTHS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'];
const DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const LONGEST_STAMP = 40;
/** hours of a counted time; above 24 it is no time of day */
const MOST_HOURS = 9999;
export const SECONDS_A_DAY = 86_400;

function daysIn(month: number, year: number): number {
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  return month === 2 && isLeap ? 29 : (DAYS[month - 1] ?? 0);
}

/**
 * Days since 1970-01-01 of the Gregorian calendar; NaN where there is no such day.
 *
 * Source: [derived: years counted from March, so that the leap day ends them].
 */
export function dayNumber(year: number, month: number, day: number): number {
  if (month < 1 || month > 12 || day < 1 || day > daysIn(month, year)) return Number.NaN;
  const years = month <= 2 ? year - 1 : year;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  const leapDays = Math.floor(years / 4) - Math.floor(years / 100) + Math.floor(years / 400);
  return years * 365 + leapDays + dayOfYear - 719_468;
}

/** Reads fields one after another; what the last one says stays in its properties. */
export class ClockText {
  /** day number with the day written first, and with the month first; NaN where that is no day */
  dayFirst = Number.NaN;
  monthFirst = Number.NaN;
  /** whole seconds since midnight, less the offset of a stated zone */
  seconds = 0;
  nanoseconds = 0;
  /** 24 hours or more: counted from a start, not a time of day */
  isCounted = false;
  #bytes: Uint8Array = new Uint8Array();
  #at = 0;
  #end = 0;
  /** digits of the last number read */
  #digits = 0;

  /** @returns what the field is; 'none' leaves the properties without meaning */
  read(bytes: Uint8Array, start: number, end: number): ClockForm {
    this.#bytes = bytes;
    this.#at = start;
    this.#end = end;
    this.isCounted = false;
    this.#skipBlanks();
    while (this.#end > this.#at && bytes[this.#end - 1]! <= 32) this.#end--;
    if (this.#end - this.#at < 5 || this.#end - this.#at > LONGEST_STAMP) return 'none';
    const from = this.#at;
    const hasDate = this.#date();
    if (hasDate && this.#at === this.#end) return 'date';
    if (!hasDate) this.#at = from;
    else if (!this.#between()) return 'none';
    if (!this.#time(hasDate) || this.#at !== this.#end) return 'none';
    return hasDate ? 'date and time' : 'time';
  }

  get #byte(): number {
    return this.#at < this.#end ? this.#bytes[this.#at]! : -1;
  }

  #skipBlanks(): void {
    while (this.#at < this.#end && this.#bytes[this.#at]! <= 32) this.#at++;
  }

  /** A run of digits, at most nine; -1 if there is none. */
  #number(): number {
    let value = 0;
    const from = this.#at;
    while (this.#byte >= 48 && this.#byte <= 57 && this.#at - from < 9) {
      value = value * 10 + this.#byte - 48;
      this.#at++;
    }
    this.#digits = this.#at - from;
    return this.#digits === 0 ? -1 : value;
  }

  #takes(code: number): boolean {
    if (this.#byte !== code) return false;
    this.#at++;
    return true;
  }

  #word(): string {
    const from = this.#at;
    while ((this.#byte | 32) >= 97 && (this.#byte | 32) <= 122 && this.#at - from < 9) this.#at++;
    return String.fromCharCode(...this.#bytes.subarray(from, this.#at)).toLowerCase();
  }

  /** `2026-03-01`, `01/03/2026`, `1.3.2026`, `01-Mar-2026`: the same mark twice, and a year of four digits. */
  #date(): boolean {
    const first = this.#number();
    const firstDigits = this.#digits;
    const mark = this.#byte;
    if (first < 0 || (mark !== 45 && mark !== 46 && mark !== 47)) return false;
    this.#at++;
    const letters = this.#byte | 32;
    const named = letters >= 97 && letters <= 122 ? MONTHS.indexOf(this.#word().slice(0, 3)) + 1 : -1;
    const second = named >= 0 ? named : this.#number();
    if (second <= 0 || (named < 0 && this.#digits > 2) || !this.#takes(mark)) return false;
    const third = this.#number();
    if (firstDigits === 4 && this.#digits >= 1 && this.#digits <= 2) {
      this.dayFirst = dayNumber(first, second, third);
      this.monthFirst = this.dayFirst;
    } else if (firstDigits <= 2 && this.#digits === 4) {
      this.dayFirst = dayNumber(third, second, first);
      this.monthFirst = named >= 0 ? this.dayFirst : dayNumber(third, first, second);
    } else return false;
    return !(Number.isNaN(this.dayFirst) && Number.isNaN(this.monthFirst));
  }

  /** `T`, a comma or blanks between date and time. */
  #between(): boolean {
    const from = this.#at;
    if (this.#byte === 84 || this.#byte === 116) this.#at++;
    else {
      this.#takes(44);
      this.#skipBlanks();
    }
    return this.#at > from;
  }

  /** `14:05:10`, `14:05:10.25`, `2:05:10 PM`; without seconds only after a date or with AM or PM, as it may be min:s. */
  #time(hasDate: boolean): boolean {
    let hours = this.#number();
    if (hours < 0 || this.#digits > 4 || !this.#takes(58)) return false;
    const minutes = this.#number();
    if (this.#digits !== 2 || minutes > 59) return false;
    let seconds = 0;
    this.nanoseconds = 0;
    const hasSeconds = this.#takes(58);
    if (hasSeconds) {
      seconds = this.#number();
      if (this.#digits !== 2 || seconds > 59) return false;
      if ((this.#byte === 46 || this.#byte === 44) && !this.#fraction()) return false;
    }
    const half = this.#half();
    if (half === 'wrong' || (half !== '' && (hours < 1 || hours > 12))) return false;
    if (half !== '') hours = (hours % 12) + (half === 'pm' ? 12 : 0);
    if (!hasSeconds && !hasDate && half === '') return false;
    this.isCounted = hours >= 24;
    if (hours > (hasDate ? 23 : MOST_HOURS)) return false;
    this.seconds = 3600 * hours + 60 * minutes + seconds;
    return hasDate ? this.#zone() : true;
  }

  #fraction(): boolean {
    this.#at++;
    const value = this.#number();
    if (this.#digits === 0) return false;
    this.nanoseconds = Math.round(value * 10 ** (9 - this.#digits));
    while (this.#byte >= 48 && this.#byte <= 57) this.#at++; // below a nanosecond
    return true;
  }

  #half(): '' | 'am' | 'pm' | 'wrong' {
    const from = this.#at;
    this.#skipBlanks();
    const letter = this.#byte | 32;
    if (letter !== 97 && letter !== 112) {
      this.#at = from;
      return '';
    }
    const word = this.#word();
    return word === 'am' || word === 'pm' ? word : 'wrong';
  }

  /** `Z`, `+01:00`, `-0500`: taken off, so that a jump of summer time is none. */
  #zone(): boolean {
    if (this.#at === this.#end || this.#takes(90) || this.#takes(122)) return true;
    const sign = this.#byte === 43 ? 1 : this.#byte === 45 ? -1 : 0;
    if (sign === 0) return false;
    this.#at++;
    let hours = this.#number();
    let minutes = 0;
    if (this.#digits === 4) {
      minutes = hours % 100;
      hours = Math.floor(hours / 100);
    } else if (this.#digits === 2 && this.#takes(58)) minutes = this.#number();
    if (hours < 0 || hours > 14 || minutes < 0 || minutes > 59) return false;
    this.seconds -= sign * (3600 * hours + 60 * minutes);
    return true;
  }
}
