// Keeps the lines of text above a block, bounded, and the pairs of key and value found in them. Pure.
import { LineText } from '../text/encoding.ts';
import { type HeaderLine, headerLine, pairOf } from './headings.ts';

const MAX_PAIRS = 200;
const MAX_KEPT = 100;
const MAX_SHOWN = 300;
/** longest line kept whole, so that headings of many columns are found */
const MAX_TEXT = 50_000;
/** lines next to the block that stay when lines further up are left out */
const NEAREST = 10;

export class Header {
  readonly text = new LineText();
  readonly #pairs = new Map<string, { value: string; line: number }>();
  /** keys stated with different values, as for two scans in one file: they hold for neither */
  readonly #changing = new Set<string>();
  #lines: HeaderLine[] = [];

  /** Keeps a line, and its pair unless the key is stated with another value elsewhere. */
  add(bytes: Uint8Array, line: number): void {
    const added = headerLine(this.text.decode(bytes).slice(0, MAX_TEXT), line);
    const pair = pairOf(added.text);
    if (pair !== undefined) this.#addPair(pair, line);
    if (this.#lines.length >= MAX_KEPT) this.#lines.splice(MAX_KEPT - NEAREST, 1);
    this.#lines.push(added);
  }

  #addPair({ key, value }: { key: string; value: string }, line: number): void {
    const known = this.#pairs.get(key);
    if (known !== undefined && known.value !== value) {
      this.#pairs.delete(key);
      this.#changing.add(key);
    } else if (
      known === undefined &&
      this.#pairs.size + this.#changing.size < MAX_PAIRS &&
      !this.#changing.has(key)
    ) {
      this.#pairs.set(key, { value, line });
    }
  }

  get lines(): readonly HeaderLine[] {
    return this.#lines;
  }

  /** Pairs by key. */
  comments(): Record<string, string> {
    return Object.fromEntries([...this.#pairs].map(([key, { value }]) => [key, value]));
  }

  /** Drops the pairs of lines that proved to be headings. */
  dropPairs(lines: readonly number[]): void {
    for (const [key, { line }] of this.#pairs) if (lines.includes(line)) this.#pairs.delete(key);
  }

  /** The lines as a block keeps them. */
  shown(): string[] {
    return this.#lines.map(({ text }) => text.trimEnd().slice(0, MAX_SHOWN));
  }

  /** Begins anew below a block; the pairs stay. */
  clear(): void {
    this.#lines = [];
  }

  restore(lines: readonly HeaderLine[]): void {
    this.#lines = [...lines];
  }
}
