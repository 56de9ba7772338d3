// Reads text with the columnar reader in the tests, whole or cut into pieces.

import { columnarReader } from '../../../src/formats/columnar/read.ts';
import type { Columnar, ColumnarOptions } from '../../../src/formats/columnar/schema.ts';
import type { ReadFailure, ReadWarning } from '../../../src/formats/errors.ts';
import type { ReadResult } from '../../../src/formats/reader.ts';

export function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

/** Reads bytes or text, cut into pieces of `piece` bytes. */
export function readColumnar(
  content: string | Uint8Array,
  options: ColumnarOptions = {},
  piece = Number.POSITIVE_INFINITY,
): ReadResult<Columnar> {
  const bytes = typeof content === 'string' ? bytesOf(content) : content;
  const reader = columnarReader.open(options);
  if (piece >= bytes.length) reader.push(bytes);
  else for (let at = 0; at < bytes.length; at += piece) reader.push(bytes.slice(at, at + piece));
  return reader.end();
}

/** The value of a content that must be readable, with its warnings. */
export function readWhole(
  content: string | Uint8Array,
  options: ColumnarOptions = {},
): Columnar & { warnings: readonly ReadWarning[] } {
  const result = readColumnar(content, options);
  if (!result.ok) throw new Error(`unexpected refusal: ${result.message}`);
  return { ...result.value, warnings: result.warnings };
}

/** The refusal of a content that must be refused. */
export function refusal(content: string | Uint8Array, options: ColumnarOptions = {}): ReadFailure {
  const result = readColumnar(content, options);
  if (result.ok) throw new Error('unexpectedly read');
  return result;
}

/** Numbers of the blocks as plain arrays. */
export function numbersOf({ blocks }: Columnar): number[][][] {
  return blocks.map(({ columns }) => columns.map((column) => [...column]));
}
