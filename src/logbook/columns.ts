// Stored numeric tables: the columns of a measurement in SI, as one file. Little-endian float64 throughout:
// [number of columns, number of rows, column 0 ..., column 1 ...]. NaN marks a missing number.

import { StoreError } from './errors.ts';
import type { FileClaim } from './files.ts';
import type { Store } from './store.ts';

/** Most columns and rows of a stored table; 8 bytes a number. */
export const MAX_TABLE_COLUMNS = 1000;
export const MAX_TABLE_ROWS = 50_000_000;

const BYTES_PER_NUMBER = 8;
const HEAD_NUMBERS = 2;

/** A table of equally long columns. */
export type Columns = readonly ArrayLike<number>[];

/**
 * The bytes of a table; the same numbers give the same bytes on every machine.
 *
 * @throws StoreError COLUMN_TABLE if there is no column, too many, or they differ in length
 */
export function tableBytes(columns: Columns): Uint8Array {
  const rows = columns[0]?.length ?? 0;
  if (columns.length < 1 || columns.length > MAX_TABLE_COLUMNS || rows > MAX_TABLE_ROWS) {
    throw new StoreError(
      'COLUMN_TABLE',
      `A table of ${columns.length} columns and ${rows} rows cannot be kept: 1 to ${MAX_TABLE_COLUMNS} columns of at most ${MAX_TABLE_ROWS} rows can.`,
      { remedy: 'Keep fewer columns or rows.' },
    );
  }
  const uneven = columns.findIndex((column) => column.length !== rows);
  if (uneven !== -1) {
    throw new StoreError(
      'COLUMN_TABLE',
      `Column ${uneven} has ${columns[uneven]!.length} rows and column 0 has ${rows}.`,
      { remedy: 'Give every column as many rows; mark a missing number with NaN.' },
    );
  }
  const bytes = new Uint8Array((HEAD_NUMBERS + columns.length * rows) * BYTES_PER_NUMBER);
  const view = new DataView(bytes.buffer);
  let at = 0;
  const put = (number: number) => {
    // one NaN only: its many bit patterns would give one table many names
    view.setFloat64(at, Number.isNaN(number) ? Number.NaN : number, true);
    at += BYTES_PER_NUMBER;
  };
  put(columns.length);
  put(rows);
  for (const column of columns) for (let i = 0; i < rows; i++) put(column[i]!);
  return bytes;
}

/**
 * The columns of a table.
 *
 * @param bytes as `tableBytes` made them
 * @throws StoreError COLUMN_TABLE if they are no table, or not a whole one
 */
export function columnsFrom(bytes: Uint8Array, sha256: string): Float64Array[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const numbers = bytes.byteLength / BYTES_PER_NUMBER;
  const columns = numbers >= HEAD_NUMBERS ? view.getFloat64(0, true) : Number.NaN;
  const rows = numbers >= HEAD_NUMBERS ? view.getFloat64(BYTES_PER_NUMBER, true) : Number.NaN;
  const isTable =
    Number.isInteger(columns) &&
    columns >= 1 &&
    columns <= MAX_TABLE_COLUMNS &&
    Number.isInteger(rows) &&
    rows >= 0;
  if (!isTable || numbers !== HEAD_NUMBERS + columns * rows) {
    const head = isTable ? `says ${columns} columns of ${rows} rows` : 'has no head of a table';
    throw new StoreError('COLUMN_TABLE', `The file ${sha256} of ${bytes.byteLength} bytes ${head}.`, {
      data: { sha256 },
    });
  }
  return Array.from({ length: columns }, (_, column) => {
    const values = new Float64Array(rows);
    const start = (HEAD_NUMBERS + column * rows) * BYTES_PER_NUMBER;
    for (let i = 0; i < rows; i++) values[i] = view.getFloat64(start + i * BYTES_PER_NUMBER, true);
    return values;
  });
}

/** Puts a table into the store; add the claim in the write of the record that names it as its blob. */
export function putTable(store: Store, columns: Columns): Promise<FileClaim> {
  return store.putFile(tableBytes(columns));
}

/** All columns of a stored table. */
export async function readColumns(store: Store, sha256: string): Promise<Float64Array[]> {
  return columnsFrom(await store.fileBytes(sha256), sha256);
}

/**
 * One column of a stored table.
 *
 * @param column counted from 0
 * @throws StoreError COLUMN_INDEX if the table has no such column; FILE_UNKNOWN, FILE_MISSING, FILE_DAMAGED,
 *   COLUMN_TABLE
 */
export async function readColumn(store: Store, sha256: string, column: number): Promise<Float64Array> {
  const columns = await readColumns(store, sha256);
  const found = columns[column];
  if (found === undefined) {
    throw new StoreError(
      'COLUMN_INDEX',
      `Column ${column} was asked of the table ${sha256}, which has columns 0 to ${columns.length - 1}.`,
      { data: { sha256, column, columns: columns.length } },
    );
  }
  return found;
}
