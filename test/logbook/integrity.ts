// Is a store folder whole? Asked after kills, of the folder alone: the questions go past the store's own code where
// they can, straight to the database file and the files.
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { RECORD_SCHEMAS, type RecordKind } from '../../src/records/kinds.ts';

export interface Integrity {
  /** sentences; none: the folder is whole */
  readonly faults: string[];
  readonly records: number;
  readonly files: number;
  /** files on the disk that no row names: an import was cut between file and row */
  readonly filesWithoutRow: number;
  /** half-written files and those taken aside */
  readonly leftovers: number;
  /** claims of imports, living or dead */
  readonly claims: number;
}

interface Row {
  [column: string]: string | number | null;
}

function filesOnDisk(folder: string): Map<string, string> {
  const found = new Map<string, string>();
  for (const start of readdirSync(join(folder, 'files'))) {
    if (start.length !== 2) continue;
    for (const rest of readdirSync(join(folder, 'files', start))) {
      found.set(start + rest, join(folder, 'files', start, rest));
    }
  }
  return found;
}

function sha256sNamed(value: unknown, found: string[] = []): string[] {
  if (typeof value === 'string' && /^[0-9a-f]{64}$/.test(value)) found.push(value);
  else if (value !== null && typeof value === 'object')
    for (const part of Object.values(value)) sha256sNamed(part, found);
  return found;
}

/** Each row has its file, with the bytes its name says; each file that a record names has its row. */
function checkFiles(files: Row[], records: Row[], onDisk: Map<string, string>, faults: string[]): void {
  for (const { sha256, bytes } of files) {
    const path = onDisk.get(String(sha256));
    if (path === undefined) {
      faults.push(`The row of file ${sha256} has no file.`);
      continue;
    }
    const content = readFileSync(path);
    const found = createHash('sha256').update(content).digest('hex');
    if (found !== sha256 || content.length !== bytes)
      faults.push(`File ${sha256} holds ${content.length} bytes of ${found}.`);
  }
  const rows = new Set(files.map(({ sha256 }) => sha256));
  for (const { id, body } of records) {
    for (const sha256 of sha256sNamed(JSON.parse(String(body)))) {
      if (!rows.has(sha256)) faults.push(`Record ${id} names file ${sha256}, which has no row.`);
    }
  }
}

/** Each record is what its last revision says, revisions and changes are numbered without a gap, bodies fit. */
function checkRecords(records: Row[], revisions: Row[], changes: Row[], faults: string[]): void {
  const changeIds = new Set(changes.map(({ id }) => id));
  changes.forEach(({ sequence }, i) => {
    if (sequence !== i + 1) faults.push(`Change ${i + 1} has the sequence number ${sequence}.`);
  });
  const byRecord = Map.groupBy(revisions, ({ record_id }) => record_id);
  for (const record of records) {
    const all = byRecord.get(record.id!) ?? [];
    const last = all.at(-1);
    const isSame =
      last?.body === record.body &&
      last?.is_deleted === record.is_deleted &&
      last?.revision === record.revision;
    if (!isSame) faults.push(`Record ${record.id} differs from its last revision.`);
    if (all.some(({ revision }, i) => revision !== i + 1))
      faults.push(`Record ${record.id} lacks a revision.`);
    if (!RECORD_SCHEMAS[record.kind as RecordKind].safeParse(JSON.parse(String(record.body))).success) {
      faults.push(`The body of record ${record.id} does not fit its kind.`);
    }
  }
  const recordIds = new Set(records.map(({ id }) => id));
  for (const { record_id, change_id } of revisions) {
    if (!recordIds.has(record_id!)) faults.push(`A revision of ${record_id} has no record.`);
    if (!changeIds.has(change_id!)) faults.push(`A revision of ${record_id} has no change ${change_id}.`);
  }
}

/** Looks at every row and every byte of a store folder. No process may be writing to it. */
export function integrityOf(folder: string): Integrity {
  const faults: string[] = [];
  const database = new DatabaseSync(join(folder, 'logbook.sqlite'));
  const rows = (query: string) => database.prepare(query).all() as Row[];
  try {
    const answer = rows('pragma integrity_check')
      .map((row) => String(Object.values(row)[0]))
      .join('; ');
    if (answer !== 'ok') faults.push(`The database says: ${answer}.`);
    if (rows('pragma foreign_key_check').length > 0) faults.push('A row refers to a row that is not there.');
    if (rows("select name from sqlite_schema where name = 'files'").length === 0) {
      // killed before the first step of the schema: nothing is there yet
      return { faults, records: 0, files: 0, filesWithoutRow: 0, leftovers: 0, claims: 0 };
    }
    const files = rows('select * from files');
    const records = rows('select * from records');
    const isThere = readdirSync(folder).includes('files');
    const onDisk = isThere ? filesOnDisk(folder) : new Map<string, string>();
    checkFiles(files, records, onDisk, faults);
    const revisions = rows('select * from revisions order by record_id, revision');
    checkRecords(records, revisions, rows('select * from changes order by sequence'), faults);
    const inFolder = (name: string) => {
      return isThere && readdirSync(join(folder, 'files')).includes(name)
        ? readdirSync(join(folder, 'files', name))
        : [];
    };
    return {
      faults,
      records: records.length,
      files: files.length,
      filesWithoutRow: onDisk.size - files.length,
      leftovers: inFolder('incoming').length,
      claims: inFolder('claims').length,
    };
  } finally {
    database.close();
  }
}
