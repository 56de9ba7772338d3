// Reads columnar text of any delimiter, decimal mark and encoding into blocks of numbers; refuses what it cannot tell.
// An incremental pure parser: how the bytes are cut into pushes does not change the result.
import { type FormatCode, type ReadFailure, readFailure } from '../errors.ts';
import type { OpenReader, Reader, ReadResult } from '../reader.ts';
import { TextBytes } from '../text/encoding.ts';
import { Lines } from '../text/lines.ts';
import { LineReader } from './line-reader.ts';
import { type Columnar, type ColumnarOptions, MAX_BYTES, MAX_LINE_BYTES } from './schema.ts';

/** Control characters a file may hold before it counts as binary. */
const FOREIGN_CONTROLS = 16;
const FOREIGN_CONTROL_SHARE = 0.02;

class ColumnarReading implements OpenReader<Columnar> {
  bytesRead = 0;
  #failure: ReadFailure | null = null;
  #result: ReadResult<Columnar> | null = null;
  /** bytes in lines so far, for the share of control characters */
  #lineBytes = 0;
  readonly #text: TextBytes;
  readonly #lines: Lines;
  readonly #reader: LineReader;

  constructor(options: ColumnarOptions) {
    this.#reader = new LineReader(options);
    this.#lines = new Lines(
      {
        line: (bytes, start, end, isEnded) => this.#line(bytes, start, end, isEnded),
        tooLong: () =>
          this.#fail(
            'READ_LINE_TOO_LONG',
            `Line ${this.#reader.lineNumber + 1} is longer than ${MAX_LINE_BYTES} bytes.`,
            this.#reader.lineNumber + 1,
            MAX_LINE_BYTES,
          ),
      },
      MAX_LINE_BYTES,
    );
    this.#text = new TextBytes((bytes) => {
      if (this.#failure === null) this.#lines.push(bytes);
    });
  }

  get failure(): ReadFailure | null {
    return this.#failure;
  }

  push(bytes: Uint8Array): void {
    if (this.#failure !== null || this.#result !== null) return;
    const room = MAX_BYTES - this.bytesRead;
    this.bytesRead += bytes.length;
    this.#text.push(bytes.length > room ? bytes.subarray(0, Math.max(room, 0)) : bytes);
    this.#failure ??= this.#text.failure;
    if (bytes.length > room) {
      this.#fail('READ_TOO_LARGE', `The file is larger than ${MAX_BYTES / 1e6} MB, the most that is read.`);
    }
  }

  end(): ReadResult<Columnar> {
    this.#result ??= this.#finish();
    return this.#result;
  }

  #finish(): ReadResult<Columnar> {
    if (this.#failure !== null) return this.#failure;
    if (this.bytesRead === 0) return readFailure('READ_EMPTY', 'The file is empty: it has 0 bytes.');
    this.#text.end();
    this.#failure ??= this.#text.failure;
    if (this.#failure === null) this.#lines.end();
    if (this.#failure !== null) return this.#failure;
    const result = this.#reader.end(this.#text.encoding);
    if (!result.ok) this.#failure = result;
    return result;
  }

  #line(bytes: Uint8Array, start: number, end: number, isEnded: boolean): void {
    this.#lineBytes += end - start + 1;
    const line = this.#reader.lineNumber + 1;
    const zero = bytes.subarray(start, end).indexOf(0);
    if (zero >= 0) {
      this.#fail(
        'READ_BINARY',
        `Line ${line} holds a zero byte at column ${zero + 1}: this is not text.`,
        line,
        zero + 1,
      );
      return;
    }
    const controls = this.#lines.foreignControls;
    if (controls > FOREIGN_CONTROLS && controls > FOREIGN_CONTROL_SHARE * this.#lineBytes) {
      this.#fail(
        'READ_BINARY',
        `${controls} control characters up to line ${line}: this is not text.`,
        line,
        1,
      );
      return;
    }
    const failure = this.#reader.read(bytes, start, end, isEnded);
    if (failure !== null) {
      this.#failure ??= failure;
      this.#lines.stop();
    }
  }

  #fail(code: FormatCode, sentence: string, line = 0, column = 0): void {
    this.#failure ??= readFailure(code, sentence, line, column);
    this.#lines.stop();
  }
}

/** The reader of measured columns: bytes in, blocks of numbers out. See docs/guide/files.md. */
export const columnarReader: Reader<Columnar, ColumnarOptions> = {
  name: 'columnar',
  version: 2,
  maxBytes: MAX_BYTES,
  open: (options = {}) => new ColumnarReading(options),
};
