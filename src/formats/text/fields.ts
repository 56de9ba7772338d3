// Cuts one line of bytes into fields at a delimiter; double quotes keep a delimiter inside a field. Pure.

/** `blanks`: any run of blanks and tabs; `none`: the line is one field */
export type Delimiter = 'tab' | 'semicolon' | 'comma' | 'blanks' | 'none';

const DELIMITER_BYTES = { tab: 9, semicolon: 59, comma: 44, blanks: 32, none: -1 } as const;
const QUOTE = 34;

/** The fields of the last line split: places in its bytes, quotation marks left out. */
export class Fields {
  /** fields in the line, at most the capacity */
  count = 0;
  /** the line held more fields than fit */
  isOverfull = false;
  /** a quotation mark was opened and not closed */
  isUnclosed = false;
  readonly starts: Int32Array;
  readonly ends: Int32Array;

  constructor(capacity: number) {
    this.starts = new Int32Array(capacity);
    this.ends = new Int32Array(capacity);
  }

  split(bytes: Uint8Array, start: number, end: number, delimiter: Delimiter): void {
    this.count = 0;
    this.isOverfull = false;
    this.isUnclosed = false;
    if (delimiter === 'blanks') this.#splitAtBlanks(bytes, start, end);
    else this.#splitAt(bytes, start, end, DELIMITER_BYTES[delimiter]);
  }

  /** Fields up to the last one that is not empty. */
  filled(bytes: Uint8Array): number {
    for (let i = this.count - 1; i >= 0; i--) {
      for (let at = this.starts[i]!; at < this.ends[i]!; at++) if (bytes[at]! > 32) return i + 1;
    }
    return 0;
  }

  #add(start: number, end: number): void {
    if (this.count === this.starts.length) {
      this.isOverfull = true;
      return;
    }
    this.starts[this.count] = start;
    this.ends[this.count] = end;
    this.count++;
  }

  /** Place after the closing quotation mark; a doubled mark stays inside the field. */
  #quotedEnd(bytes: Uint8Array, start: number, end: number): number {
    for (let i = start + 1; i < end; i++) {
      if (bytes[i] !== QUOTE) continue;
      if (bytes[i + 1] === QUOTE && i + 1 < end) i++;
      else return i + 1;
    }
    this.isUnclosed = true;
    return end;
  }

  #splitAt(bytes: Uint8Array, start: number, end: number, delimiter: number): void {
    let from = start;
    let i = start;
    while (!this.isOverfull) {
      let first = from;
      while (first < end && bytes[first] === 32 && delimiter !== 32) first++;
      if (bytes[first] === QUOTE && first < end) {
        const after = this.#quotedEnd(bytes, first, end);
        i = after;
        while (i < end && bytes[i] !== delimiter) i++;
        let blank = after;
        while (blank < i && bytes[blank] === 32) blank++;
        if (blank === i && !this.isUnclosed) this.#add(first + 1, after - 1);
        else this.#add(from, i); // something follows the closing mark: kept as written
      } else {
        while (i < end && bytes[i] !== delimiter) i++;
        this.#add(from, i);
      }
      if (i >= end) return;
      i++;
      from = i;
    }
  }

  #splitAtBlanks(bytes: Uint8Array, start: number, end: number): void {
    let i = start;
    while (!this.isOverfull) {
      while (i < end && bytes[i]! <= 32) i++;
      if (i >= end) return;
      const from = i;
      if (bytes[i] === QUOTE) {
        i = this.#quotedEnd(bytes, i, end);
        if (!this.isUnclosed && (i === end || bytes[i]! <= 32)) {
          this.#add(from + 1, i - 1);
          continue;
        }
      }
      while (i < end && bytes[i]! > 32) i++;
      this.#add(from, i);
    }
  }
}

/** A field of a decoded line as text: blanks around it and quotation marks taken off. */
export function splitText(line: string, delimiter: Delimiter): string[] {
  const bytes = new TextEncoder().encode(line);
  const fields = new Fields(MAX_TEXT_FIELDS);
  fields.split(bytes, 0, bytes.length, delimiter);
  const decoder = new TextDecoder();
  return Array.from({ length: fields.count }, (_, i) =>
    decoder.decode(bytes.subarray(fields.starts[i]!, fields.ends[i]!)).replaceAll('""', '"').trim(),
  );
}
const MAX_TEXT_FIELDS = 1001;
