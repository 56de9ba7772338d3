// Cuts bytes, pushed in any pieces, into lines ended by LF, CR, CRLF or the CRCRLF that bad transfers leave. Pure.
import { isForeignControl } from './signature.ts';

const LF = 10;
const CR = 13;

export interface LineSink {
  /** a line is bytes[start, end); `isEnded` is false for the last line of a file without a line end */
  line(bytes: Uint8Array, start: number, end: number, isEnded: boolean): void;
  /** a line grew over the limit */
  tooLong(): void;
}

export class Lines {
  /** control characters that text does not hold, so far */
  foreignControls = 0;
  readonly #sink: LineSink;
  readonly #maxLength: number;
  #carry = new Uint8Array(256);
  #carried = 0;
  /** 0: in a line; 1: a CR has ended a line; 2: a second CR came after it, an LF may still follow */
  #afterReturn = 0;
  #isStopped = false;

  constructor(sink: LineSink, maxLength: number) {
    this.#sink = sink;
    this.#maxLength = maxLength;
  }

  /** Takes no more lines. */
  stop(): void {
    this.#isStopped = true;
  }

  push(bytes: Uint8Array): void {
    let start = 0;
    for (let i = 0; i < bytes.length; i++) {
      const byte = bytes[i]!;
      if (this.#afterReturn !== 0) {
        const state: number = this.#afterReturn;
        if (byte === LF) {
          this.#afterReturn = 0;
          start = i + 1;
          continue;
        }
        if (state === 2) {
          this.#emit(bytes, i, i, true); // the second CR was an empty line of its own
          if (this.#isStopped) return;
        }
        if (byte === CR) {
          this.#afterReturn = 2;
          start = i + 1;
          continue;
        }
        this.#afterReturn = 0;
      }
      if (byte >= 32) continue;
      if (byte === LF || byte === CR) {
        this.#emit(bytes, start, i, true);
        if (this.#isStopped) return;
        start = i + 1;
        if (byte === CR) this.#afterReturn = 1;
      } else if (isForeignControl(byte)) {
        this.foreignControls++;
      }
    }
    if (start < bytes.length) this.#keep(bytes, start, bytes.length);
  }

  end(): void {
    if (this.#afterReturn === 2 && !this.#isStopped) this.#emit(this.#carry, 0, 0, true);
    if (this.#carried > 0 && !this.#isStopped) {
      this.#emit(this.#carry, 0, 0, false);
    }
  }

  #emit(bytes: Uint8Array, start: number, end: number, isEnded: boolean): void {
    if (this.#carried === 0) {
      if (end - start > this.#maxLength) this.#fail();
      else this.#sink.line(bytes, start, end, isEnded);
      return;
    }
    if (bytes !== this.#carry) this.#keep(bytes, start, end);
    if (this.#isStopped) return;
    const length = this.#carried;
    this.#carried = 0;
    this.#sink.line(this.#carry, 0, length, isEnded);
  }

  #keep(bytes: Uint8Array, start: number, end: number): void {
    const length = this.#carried + end - start;
    if (length > this.#maxLength) {
      this.#fail();
      return;
    }
    if (length > this.#carry.length) {
      const grown = new Uint8Array(Math.max(length, 2 * this.#carry.length));
      grown.set(this.#carry.subarray(0, this.#carried));
      this.#carry = grown;
    }
    this.#carry.set(bytes.subarray(start, end), this.#carried);
    this.#carried = length;
  }

  #fail(): void {
    this.#isStopped = true;
    this.#sink.tooLong();
  }
}
