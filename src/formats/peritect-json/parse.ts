// Parses JSON (RFC 8259) with a bound on depth and the place of the first fault, alike in every engine. Pure.
import type { JsonValue } from './schema.ts';

/** Where a text stops being JSON. */
export class JsonFault {
  readonly at: number;
  readonly reason: 'syntax' | 'depth' | 'size';
  readonly expected: string;

  constructor(at: number, expected: string, reason: 'syntax' | 'depth' | 'size' = 'syntax') {
    this.at = at;
    this.expected = expected;
    this.reason = reason;
  }
}

const NUMBER = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][-+]?\d+)?/y;
const BLANKS = /[ \t\r\n]*/y;
// biome-ignore lint/suspicious/noControlCharactersInRegex: JSON forbids them inside texts
const PLAIN_TEXT = /[^"\\\u0000-\u001f]*/y;
const ESCAPES: Record<string, string> = {
  '"': '"',
  '\\': '\\',
  '/': '/',
  b: '\b',
  f: '\f',
  n: '\n',
  r: '\r',
  t: '\t',
};

class JsonText {
  readonly #text: string;
  readonly #maxDepth: number;
  readonly #maxValues: number;
  #at = 0;
  #values = 0;

  constructor(text: string, maxDepth: number, maxValues: number) {
    this.#text = text;
    this.#maxDepth = maxDepth;
    this.#maxValues = maxValues;
  }

  whole(): JsonValue | JsonFault {
    const value = this.#value(0);
    if (value instanceof JsonFault) return value;
    this.#skip(BLANKS);
    return this.#at === this.#text.length ? value : this.#fault('the end of the document');
  }

  #fault(expected: string, reason: 'syntax' | 'depth' | 'size' = 'syntax'): JsonFault {
    return new JsonFault(this.#at, expected, reason);
  }

  #skip(pattern: RegExp): string {
    pattern.lastIndex = this.#at;
    const found = pattern.exec(this.#text)?.[0] ?? '';
    this.#at += found.length;
    return found;
  }

  #takes(mark: string): boolean {
    this.#skip(BLANKS);
    if (!this.#text.startsWith(mark, this.#at)) return false;
    this.#at += mark.length;
    return true;
  }

  #value(depth: number): JsonValue | JsonFault {
    if (depth > this.#maxDepth) return this.#fault(`at most ${this.#maxDepth} levels`, 'depth');
    if (++this.#values > this.#maxValues) return this.#fault(`at most ${this.#maxValues} values`, 'size');
    if (this.#takes('{')) return this.#object(depth);
    if (this.#takes('[')) return this.#array(depth);
    if (this.#text[this.#at] === '"') return this.#string();
    if (this.#takes('true')) return true;
    if (this.#takes('false')) return false;
    if (this.#takes('null')) return null;
    const start = this.#at;
    const digits = this.#skip(NUMBER);
    if (digits === '') return this.#fault('a value');
    const value = Number(digits);
    if (Number.isFinite(value)) return value;
    this.#at = start;
    return this.#fault('a number in the range of doubles');
  }

  #array(depth: number): JsonValue[] | JsonFault {
    const values: JsonValue[] = [];
    if (this.#takes(']')) return values;
    for (;;) {
      const value = this.#value(depth + 1);
      if (value instanceof JsonFault) return value;
      values.push(value);
      if (this.#takes(']')) return values;
      if (!this.#takes(',')) return this.#fault("',' or ']'");
    }
  }

  #object(depth: number): { [key: string]: JsonValue } | JsonFault {
    const pairs = new Map<string, JsonValue>();
    if (this.#takes('}')) return {};
    for (;;) {
      this.#skip(BLANKS);
      const start = this.#at;
      if (this.#text[start] !== '"') return this.#fault('a key in quotation marks');
      const key = this.#string();
      if (key instanceof JsonFault) return key;
      if (pairs.has(key)) return new JsonFault(start, 'each key once');
      if (!this.#takes(':')) return this.#fault("':'");
      const value = this.#value(depth + 1);
      if (value instanceof JsonFault) return value;
      pairs.set(key, value);
      // fromEntries makes own properties, also of a key named __proto__
      if (this.#takes('}')) return Object.fromEntries(pairs);
      if (!this.#takes(',')) return this.#fault("',' or '}'");
    }
  }

  #string(): string | JsonFault {
    this.#at++;
    let text = '';
    for (;;) {
      text += this.#skip(PLAIN_TEXT);
      const mark = this.#text[this.#at];
      if (mark === '"') {
        this.#at++;
        return text;
      }
      if (mark !== '\\') return this.#fault('a closing quotation mark');
      const letter = this.#text[this.#at + 1] ?? '';
      if (letter === 'u') {
        const digits = this.#text.slice(this.#at + 2, this.#at + 6);
        if (!/^[0-9a-fA-F]{4}$/.test(digits)) return this.#fault('four hexadecimal digits after \\u');
        text += String.fromCharCode(Number.parseInt(digits, 16));
        this.#at += 6;
      } else if (Object.hasOwn(ESCAPES, letter)) {
        text += ESCAPES[letter];
        this.#at += 2;
      } else {
        return this.#fault('a known escape after \\');
      }
    }
  }
}

/** The value of a JSON text, or where and why it is none; a key given twice is a fault, since one value would be lost. */
export function parseJson(text: string, maxDepth: number, maxValues: number): JsonValue | JsonFault {
  return new JsonText(text, maxDepth, maxValues).whole();
}
