// What every reader is: an incremental pure parser, named and versioned like a computation.
import type { ReadFailure, ReadWarning } from './errors.ts';

export type ReadResult<Value> =
  | { readonly ok: true; readonly value: Value; readonly warnings: readonly ReadWarning[] }
  | ReadFailure;

/** A file being read. How the bytes are cut into pushes never changes the result. */
export interface OpenReader<Value> {
  readonly bytesRead: number;
  /** the first fault; further pushes are ignored, so the caller may stop early */
  readonly failure: ReadFailure | null;
  push(bytes: Uint8Array): void;
  /** the result; the same one when called again */
  end(): ReadResult<Value>;
}

export interface Reader<Value, Options> {
  readonly name: string;
  /** raised when the same bytes would give another result */
  readonly version: number;
  readonly maxBytes: number;
  open(options?: Options): OpenReader<Value>;
}
