// Errors of the logbook: what is wrong, in a sentence made from data, what to do next, and the data for a program.
import { WordedError } from '../science/worded-error.ts';

/** Every code of `logbook/`, with its general remedy. docs/errors.md is made from this list. */
export const STORE_CODES = {
  STORE_FOLDER: 'Name a folder that this account may make and write, or free the name it is to have.',
  STORE_READ_ONLY:
    'Give this account the right to write in the store folder, or copy the store to a disk that can be written.',
  STORE_DISK_FULL:
    'Free some space on the disk that holds the store, then do it again: nothing of it was kept.',
  STORE_DAMAGED: 'Keep a copy of the folder as it is, then go back to the newest copy that opens.',
  STORE_IS_NEWER:
    'Open it with the release of Peritect that wrote it, or with a later one. The store was left as it is.',
  STORE_NOT_OURS: 'Name another folder: the file there belongs to another program and was left as it is.',
  STORE_BUSY: 'Wait until the other program that writes to this store is done, then do it again.',
  STORE_CLOSED: 'Open the store again.',
  STORE_FAULT: 'Do it again; if it fails again, please report the sentence above.',
  WRITE_NESTED: 'Inside a write use only the transaction it was given.',
  WRITE_OVER: 'Use a transaction only inside the write it was given to, and wait for each of its answers.',
  NOT_JSON:
    'Give only null, true, false, finite numbers, strings, lists and plain objects; a missing number is null.',
  ID_INVALID: 'Make identifiers with newId(): a UUID of version 7 in small letters.',
  CHANGE_ID_TAKEN:
    'Make a new change identifier for a new change; repeat one only to ask for its first answer.',
  CHANGE_UNKNOWN: 'Take an identifier from the list of changes.',
  CHANGE_NOT_UNDOABLE: 'Undo the later changes first, or correct the records by hand.',
  RECORD_UNKNOWN: 'Check the identifier and the kind of the record.',
  RECORD_EXISTS: 'Make a new identifier for a new record, or revise the one that is there.',
  RECORD_BODY: 'Give every field that the kind of record has, in its range, and no other.',
  RECORD_REMOVED: 'Undo the change that removed it, then do this again.',
  RECORD_SERIES:
    'Keep a record and what it names in one series; only lots and remembered mappings may be shared.',
  RECORD_LINK: 'Name a record of the right kind, in the same series, that is not removed.',
  RECORD_IN_USE: 'Remove or correct the records that name it first.',
  REVISION_IS_OLD: 'Read the record again, carry your correction over to what it says now, then save.',
  FILE_UNKNOWN: 'Import the file first, and add it in the same write as the record that names it.',
  FILE_TOO_LARGE: 'Import a smaller file, or cut this one into parts.',
  FILE_MISSING: 'Import the file again from the original, or bring it back from a copy of the store.',
  FILE_DAMAGED:
    'Bring the file back from the original or from a copy of the store; do not trust what was made of it since.',
  COLUMN_TABLE: 'Store the table again from its raw file.',
  COLUMN_INDEX: 'Ask for a column that the table has.',
  BLOB_DOCUMENT: 'Name the stored file that holds the JSON document.',
} as const satisfies Record<string, string>;

export type StoreCode = keyof typeof STORE_CODES;

/** Something the store refuses or cannot do. The message is code, sentence and remedy together. */
export class StoreError extends WordedError<StoreCode> {
  readonly data: Readonly<Record<string, unknown>>;

  /**
   * @param code     machine-readable name of the fault
   * @param sentence what is wrong, with the value found and where
   * @param options  remedy: what to do next, the code's general one if left out; data: what a program needs to go on;
   *                 cause: the error below
   */
  constructor(
    code: StoreCode,
    sentence: string,
    options: { remedy?: string; data?: Readonly<Record<string, unknown>>; cause?: unknown } = {},
  ) {
    const { remedy = STORE_CODES[code], data = {} } = options;
    super(code, sentence, remedy, 'cause' in options ? { cause: options.cause } : undefined);
    this.data = data;
  }
}

// Primary result codes of SQLite [looked-up: sqlite.org, Result and Error Codes].
const SQLITE_RESULTS: Readonly<Record<number, StoreCode>> = {
  5: 'STORE_BUSY',
  6: 'STORE_BUSY',
  8: 'STORE_READ_ONLY',
  10: 'STORE_FAULT', // disk I/O error
  11: 'STORE_DAMAGED',
  13: 'STORE_DISK_FULL',
  14: 'STORE_FOLDER',
  23: 'STORE_READ_ONLY', // authorisation denied
  26: 'STORE_DAMAGED', // not a database
};

// SQLSTATE of PostgreSQL [looked-up: PostgreSQL manual, appendix A].
const POSTGRES_STATES: Readonly<Record<string, StoreCode>> = {
  '40001': 'STORE_BUSY', // serialization failure
  '40P01': 'STORE_BUSY', // deadlock detected
  '55P03': 'STORE_BUSY', // lock not available
  '53100': 'STORE_DISK_FULL',
  '25006': 'STORE_READ_ONLY',
  '42501': 'STORE_READ_ONLY',
  XX001: 'STORE_DAMAGED',
};

// Errors of the file system, by the name POSIX gives them.
const FILE_SYSTEM_ERRORS: Readonly<Record<string, StoreCode>> = {
  ENOSPC: 'STORE_DISK_FULL',
  EDQUOT: 'STORE_DISK_FULL',
  EFBIG: 'STORE_DISK_FULL',
  EROFS: 'STORE_READ_ONLY',
  EACCES: 'STORE_READ_ONLY',
  EPERM: 'STORE_READ_ONLY',
  ENOTDIR: 'STORE_FOLDER',
  EISDIR: 'STORE_FOLDER',
  ENAMETOOLONG: 'STORE_FOLDER',
  ELOOP: 'STORE_FOLDER',
  EIO: 'STORE_FAULT',
  EMFILE: 'STORE_BUSY',
  ENFILE: 'STORE_BUSY',
};

/**
 * What an error of the database or of the file system means for the store.
 *
 * @param error  anything thrown
 * @param doing  what was being done, as it continues "While ...": "writing change X"
 * @returns a StoreError where the cause is known; the error itself where it is not the store's
 */
export function storeErrorFrom(error: unknown, doing: string): unknown {
  if (error instanceof StoreError || !(error instanceof Error)) return error;
  const { code, errcode, syscall, severity } = error as unknown as Record<string, unknown>;
  let found: StoreCode | undefined;
  if (typeof errcode === 'number') found = SQLITE_RESULTS[errcode & 0xff] ?? 'STORE_FAULT';
  else if (typeof code === 'string' && typeof syscall === 'string')
    found = FILE_SYSTEM_ERRORS[code] ?? 'STORE_FAULT';
  else if (typeof code === 'string' && severity !== undefined) found = POSTGRES_STATES[code] ?? 'STORE_FAULT';
  if (found === undefined) return error;
  return new StoreError(found, `While ${doing}: ${error.message}.`, { cause: error });
}
