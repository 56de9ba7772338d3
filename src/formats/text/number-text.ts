// Reads one number from its characters, exactly rounded, and says when it could mean two numbers. Pure.

export type DecimalMark = '.' | ',';

/** What one field of a row is. */
export const MISSING = 0;
export const NUMBER = 1;
export const TEXT = 2;
/** a number with a mark that may part thousands or decimals: refused, never guessed */
export const DOUBT = 3;
export type FieldKind = typeof MISSING | typeof NUMBER | typeof TEXT | typeof DOUBT;

const POINT = 46;
const COMMA = 44;
const PLUS = 43;
const MINUS = 45;
const ZERO = 48;
const NINE = 57;

const MISSING_WORDS = new Set(['-', '--', '---', 'nan', 'na', 'n/a', 'n.a.', 'null', 'none', '*', '?']);
const LONGEST_NUMBER = 400;
const GROUPED = {
  '.': /^[-+]?[1-9]\d{0,2}(?:,\d{3})+(?:\.\d*)?(?:[eEdD][-+]?\d{1,5})?$/,
  ',': /^[-+]?[1-9]\d{0,2}(?:\.\d{3})+(?:,\d*)?(?:[eEdD][-+]?\d{1,5})?$/,
} as const;

const POWERS_OF_TEN = Array.from({ length: 23 }, (_, i) => Number(`1e${i}`));
const utf8 = new TextDecoder('utf-8');

/** Reads fields one after another; the last one's value and marks stay in its properties. */
export class NumberText {
  value = Number.NaN;
  /** the number held a decimal mark */
  sawMark = false;
  /** its decimal mark could as well part thousands: `1,234` but not `0,234`, `12,34` or `1,234e-3` */
  couldBeGrouped = false;

  /**
   * @param bytes  characters of a line
   * @param start  first byte of the field
   * @param end    byte after the field
   * @param mark   the decimal mark
   * @param allowsGroups a person has named the decimal mark, so the other one can only part thousands
   * @returns what the field is; `value` holds the number, NaN unless NUMBER
   */
  read(bytes: Uint8Array, start: number, end: number, mark: DecimalMark, allowsGroups: boolean): FieldKind {
    this.value = Number.NaN;
    this.sawMark = false;
    this.couldBeGrouped = false;
    let s = start;
    let e = end;
    while (s < e && bytes[s]! <= 32) s++;
    while (e > s && bytes[e - 1]! <= 32) e--;
    if (s === e) return MISSING;
    const markByte = mark === '.' ? POINT : COMMA;
    let i = s;
    const isNegative = bytes[i] === MINUS;
    if (isNegative || bytes[i] === PLUS) i++;
    const firstDigit = bytes[i];
    let mantissa = 0;
    let digits = 0;
    while (i < e && isDigit(bytes[i]!)) {
      mantissa = mantissa * 10 + (bytes[i]! - ZERO);
      digits++;
      i++;
    }
    const wholeDigits = digits;
    if (i < e && bytes[i] === markByte) {
      this.sawMark = true;
      i++;
      while (i < e && isDigit(bytes[i]!)) {
        mantissa = mantissa * 10 + (bytes[i]! - ZERO);
        digits++;
        i++;
      }
      // a comma that ends a number is a separator, not a decimal mark
      if (mark === ',' && digits === wholeDigits) return this.#unusual(bytes, s, e, mark, allowsGroups);
    }
    if (digits === 0) return this.#unusual(bytes, s, e, mark, allowsGroups);
    let exponent = wholeDigits - digits;
    let hasExponent = false;
    if (i < e && isExponentMark(bytes[i]!)) {
      i++;
      const isExponentNegative = bytes[i] === MINUS;
      if (i < e && (isExponentNegative || bytes[i] === PLUS)) i++;
      const firstOfExponent = i;
      let stated = 0;
      while (i < e && isDigit(bytes[i]!)) {
        stated = Math.min(stated * 10 + (bytes[i]! - ZERO), 99_999);
        i++;
      }
      if (i === firstOfExponent) return this.#unusual(bytes, s, e, mark, allowsGroups);
      exponent += isExponentNegative ? -stated : stated;
      hasExponent = true;
    }
    if (i !== e) return this.#unusual(bytes, s, e, mark, allowsGroups);
    // both factors exact below 2^53 and 10^22: one rounding, so the quotient is the nearest number
    // [memory: Clinger 1990, How to read floating point numbers accurately]
    if (digits <= 15 && exponent >= -22 && exponent <= 22) {
      const size = exponent < 0 ? mantissa / POWERS_OF_TEN[-exponent]! : mantissa * POWERS_OF_TEN[exponent]!;
      this.value = isNegative ? -size : size;
    } else if (
      !this.#setFromText(mark === '.' ? asciiOf(bytes, s, e) : asciiOf(bytes, s, e).replace(',', '.'))
    ) {
      return TEXT;
    }
    this.couldBeGrouped =
      this.sawMark &&
      !hasExponent &&
      digits - wholeDigits === 3 &&
      wholeDigits >= 1 &&
      wholeDigits <= 3 &&
      firstDigit !== ZERO;
    return NUMBER;
  }

  /** Missing marks, thousands groups, signs and blanks beyond ASCII; anything else is text. */
  #unusual(bytes: Uint8Array, s: number, e: number, mark: DecimalMark, allowsGroups: boolean): FieldKind {
    this.sawMark = false;
    if (e - s > LONGEST_NUMBER) return TEXT;
    const text = asciiOf(bytes, s, e);
    if (MISSING_WORDS.has(text.toLowerCase())) return MISSING;
    if (GROUPED[mark].test(text)) {
      if (!allowsGroups) return DOUBT;
      const plain = mark === '.' ? text.replaceAll(',', '') : text.replaceAll('.', '').replace(',', '.');
      return this.#setFromText(plain) ? NUMBER : TEXT;
    }
    if (!bytes.subarray(s, e).some((byte) => byte >= 128)) return TEXT;
    // a printed minus sign (U+2212) and blanks that do not break a line (U+00A0, U+202F; 0xA0 in Latin-1)
    const plain = utf8
      .decode(bytes.subarray(s, e))
      .replace(/^[\s\u00a0\u202f\ufffd]+|[\s\u00a0\u202f\ufffd]+$/g, '')
      .replace(/[\u2212]/g, '-');
    const plainBytes = new TextEncoder().encode(plain);
    if (plainBytes.some((byte) => byte >= 128)) return TEXT;
    return this.read(plainBytes, 0, plainBytes.length, mark, allowsGroups);
  }

  /** Keeps the value unless it leaves the range of numbers: overflow and a vanished digit are unreadable. */
  #setFromText(plain: string): boolean {
    let value = Number(plain);
    if (Number.isNaN(value)) value = Number(plain.replace(/[dD]/, 'e'));
    if (!Number.isFinite(value)) return false;
    if (value === 0 && /[1-9]/.test(plain.split(/[eEdD]/)[0]!)) return false;
    this.value = value;
    return true;
  }
}

function isDigit(byte: number): boolean {
  return byte >= ZERO && byte <= NINE;
}

function isExponentMark(byte: number): boolean {
  return byte === 69 || byte === 101 || byte === 68 || byte === 100;
}

/** Characters of a short field; joining them is faster than a decoder's call for each number. */
function asciiOf(bytes: Uint8Array, start: number, end: number): string {
  let text = '';
  for (let i = start; i < end; i++) text += String.fromCharCode(bytes[i]!);
  return text;
}
