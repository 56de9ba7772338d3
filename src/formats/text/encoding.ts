// Finds the encoding of a text file from its first bytes, and turns it into UTF-8 bytes piece by piece. Pure.
import type { ReadFailure } from '../errors.ts';
import { readFailure } from '../errors.ts';
import { binaryKind, isForeignControl } from './signature.ts';

export type Encoding = 'utf-8' | 'utf-16le' | 'utf-16be' | 'latin-1';

/** Bytes looked at before anything is read. */
const SNIFF_BYTES = 4096;

/** Encoding by byte order mark, or by where zero bytes stand when a UTF-16 file has no mark. */
function sniffEncoding(head: Uint8Array): { encoding: Encoding; markLength: number } {
  if (head[0] === 0xef && head[1] === 0xbb && head[2] === 0xbf) return { encoding: 'utf-8', markLength: 3 };
  if (head[0] === 0xff && head[1] === 0xfe) return { encoding: 'utf-16le', markLength: 2 };
  if (head[0] === 0xfe && head[1] === 0xff) return { encoding: 'utf-16be', markLength: 2 };
  const pairs = Math.floor(head.length / 2);
  const zeros = [0, 0];
  for (let i = 0; i < 2 * pairs; i++) if (head[i] === 0) zeros[i % 2]!++;
  // text of digits and Latin letters in UTF-16 has a zero in nearly every pair, always on the same side
  if (pairs >= 4 && zeros[1]! > 0.8 * pairs && zeros[0] === 0) return { encoding: 'utf-16le', markLength: 0 };
  if (pairs >= 4 && zeros[0]! > 0.8 * pairs && zeros[1] === 0) return { encoding: 'utf-16be', markLength: 0 };
  return { encoding: 'utf-8', markLength: 0 };
}

function binaryFailure(head: Uint8Array): ReadFailure | undefined {
  const kind = binaryKind(head);
  if (kind !== undefined) return readFailure('READ_BINARY', `This is ${kind}, not text.`, 1, 1);
  const { encoding } = sniffEncoding(head);
  if (encoding !== 'utf-8') return undefined;
  let controls = 0;
  for (let i = 0; i < head.length; i++) {
    const byte = head[i]!;
    if (byte === 0) return readFailure('READ_BINARY', `Byte ${i + 1} is zero: this is not text.`, 1, 1);
    if (isForeignControl(byte)) controls++;
  }
  if (controls > 4 && controls > 0.02 * head.length) {
    return readFailure(
      'READ_BINARY',
      `${controls} of the first ${head.length} bytes are control characters: this is not text.`,
      1,
      1,
    );
  }
  return undefined;
}

/**
 * Turns the bytes of a text file, pushed in any pieces, into UTF-8 bytes without a byte order mark; bytes of a file in
 * one byte a character pass unchanged, since their letters are only decoded where a text is wanted (`LineText`).
 */
export class TextBytes {
  encoding: Encoding = 'utf-8';
  failure: ReadFailure | null = null;
  readonly #sink: (bytes: Uint8Array) => void;
  #head: Uint8Array | null = new Uint8Array(SNIFF_BYTES);
  #headLength = 0;
  #decoder: TextDecoder | null = null;
  readonly #encoder = new TextEncoder();

  constructor(sink: (bytes: Uint8Array) => void) {
    this.#sink = sink;
  }

  push(bytes: Uint8Array): void {
    if (this.#head === null) {
      this.#pass(bytes);
      return;
    }
    const taken = bytes.subarray(0, SNIFF_BYTES - this.#headLength);
    this.#head.set(taken, this.#headLength);
    this.#headLength += taken.length;
    if (this.#headLength < SNIFF_BYTES) return;
    this.#begin();
    if (this.failure === null && taken.length < bytes.length) this.#pass(bytes.subarray(taken.length));
  }

  end(): void {
    if (this.#head !== null) this.#begin();
    if (this.#decoder === null || this.failure !== null) return;
    const rest = this.#decoder.decode();
    if (rest !== '') this.#sink(this.#encoder.encode(rest));
  }

  #begin(): void {
    const head = this.#head!.subarray(0, this.#headLength);
    this.#head = null;
    this.failure = binaryFailure(head) ?? null;
    if (this.failure !== null) return;
    const { encoding, markLength } = sniffEncoding(head);
    this.encoding = encoding;
    if (encoding !== 'utf-8') this.#decoder = new TextDecoder(encoding, { ignoreBOM: true });
    this.#pass(head.subarray(markLength));
  }

  #pass(bytes: Uint8Array): void {
    if (this.#decoder === null) {
      this.#sink(bytes);
      return;
    }
    const text = this.#decoder.decode(bytes, { stream: true });
    if (text !== '') this.#sink(this.#encoder.encode(text));
  }
}

/** Decodes single lines: UTF-8 where valid, else Latin-1 (windows-1252), and keeps which it was. */
export class LineText {
  /** a line that was not valid UTF-8 has been seen */
  sawLatin = false;
  /** a line with letters beyond ASCII that was valid UTF-8 has been seen */
  sawUtf8 = false;
  readonly #strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
  readonly #latin = new TextDecoder('windows-1252');

  decode(bytes: Uint8Array): string {
    try {
      const text = this.#strict.decode(bytes);
      if (text.length !== bytes.length) this.sawUtf8 = true;
      return text;
    } catch {
      this.sawLatin = true;
      return this.#latin.decode(bytes);
    }
  }
}
