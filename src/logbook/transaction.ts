// What the code inside a write sees: the records as they stand in it, and the ways to alter them.
import type { Kysely } from 'kysely';
import type { RecordBodies, RecordKind, StoredRecord } from '../records/kinds.ts';
import { StoreError } from './errors.ts';
import type { FileClaim, FileStore } from './files.ts';
import { checkId } from './ids.ts';
import { jsonText } from './json-text.ts';
import { type AnyRecord, inPortions, Reader, type RecordRow, recordFrom } from './reader.ts';
import { checkRelations } from './relation-check.ts';
import {
  filesNamedIn,
  isRecordKind,
  labelOf,
  mentionsIn,
  parentIdOf,
  parsedBody,
  recordName,
  SHARED_KINDS,
  type TouchedRecord,
} from './relations.ts';
import type { Tables } from './tables.ts';

/** Who writes, when, and under which change. */
export interface Authorship {
  readonly changeId: string;
  readonly by: string;
  readonly at: string;
}

export class Transaction extends Reader {
  readonly #database: Kysely<Tables>;
  readonly #authorship: Authorship;
  readonly #fileStore: FileStore;
  readonly #touched = new Map<string, TouchedRecord>();
  readonly #claims: FileClaim[] = [];
  readonly #check: () => void;

  /** @param check throws once the write is over */
  constructor(database: Kysely<Tables>, authorship: Authorship, fileStore: FileStore, check: () => void) {
    super(database, check);
    this.#database = database;
    this.#authorship = authorship;
    this.#fileStore = fileStore;
    this.#check = check;
  }

  /**
   * Adds a record.
   *
   * @param seriesId the series it belongs to; for a series, its own id or null; null for what all series share
   * @throws StoreError ID_INVALID, RECORD_EXISTS, RECORD_BODY, RECORD_SERIES
   */
  async create<Kind extends RecordKind>(
    kind: Kind,
    id: string,
    seriesId: string | null,
    body: RecordBodies[Kind],
  ): Promise<StoredRecord<Kind>> {
    this.#check();
    checkId(id, 'record');
    if (!isRecordKind(kind))
      throw new StoreError('RECORD_UNKNOWN', `There is no kind of record named ${kind}.`);
    const series = kind === 'series' ? (seriesId ?? id) : seriesId;
    if (kind === 'series' && series !== id) {
      throw new StoreError('RECORD_SERIES', `Series ${id} is said to belong to series ${series}.`);
    }
    if (series === null && !SHARED_KINDS.includes(kind)) {
      throw new StoreError('RECORD_SERIES', `A ${kind} must belong to a series.`);
    }
    const parsed = parsedBody(kind, body);
    const { by, at } = this.#authorship;
    const row: RecordRow = {
      id,
      kind,
      series_id: series,
      parent_id: parentIdOf(kind, parsed),
      label: labelOf(parsed),
      revision: 1,
      body: jsonText(parsed, recordName(kind, id, labelOf(parsed))),
      created_at: at,
      updated_at: at,
      by,
      is_deleted: 0,
    };
    const added = await this.ask((db) =>
      db
        .insertInto('records')
        .values(row)
        .onConflict((conflict) => conflict.column('id').doNothing())
        .returning('id')
        .execute(),
    );
    if (added.length === 0) {
      const there = await this.find(id);
      throw new StoreError('RECORD_EXISTS', `There is already a ${there?.kind} with the identifier ${id}.`, {
        data: { id, kind: there?.kind, revision: there?.revision },
      });
    }
    await this.#keep(row, parsed);
    return recordFrom(row) as unknown as StoredRecord<Kind>;
  }

  /**
   * Gives a record a new body.
   *
   * @param seenRevision the revision that the new body was made from
   * @throws StoreError RECORD_UNKNOWN, RECORD_REMOVED, RECORD_BODY
   * @throws StoreError REVISION_IS_OLD if the record has moved on; data: `revision`, `body` and `by` as they are now
   */
  async revise<Kind extends RecordKind>(
    kind: Kind,
    id: string,
    seenRevision: number,
    body: RecordBodies[Kind],
  ): Promise<StoredRecord<Kind>> {
    const row = await this.#rowToAlter(id, seenRevision);
    if (row.kind !== kind)
      throw new StoreError('RECORD_UNKNOWN', `Record ${id} is a ${row.kind}, not a ${kind}.`);
    return (await this.#alter(row, parsedBody(kind, body), false)) as unknown as StoredRecord<Kind>;
  }

  /**
   * Marks a record as removed, and with it all that hangs on it: a film's pieces, their measurements and so on; for a
   * series, everything in it. Undoing the change brings all of it back.
   *
   * @returns the records marked, the one named first
   * @throws StoreError RECORD_UNKNOWN, RECORD_REMOVED, REVISION_IS_OLD
   */
  async remove(id: string, seenRevision: number): Promise<AnyRecord[]> {
    const row = await this.#rowToAlter(id, seenRevision);
    const doomed = [row];
    const live = (db: Kysely<Tables>) => db.selectFrom('records').selectAll().where('is_deleted', '=', 0);
    if (row.kind === 'series') {
      const all = await this.ask((db) =>
        live(db)
          .where('series_id', '=', id)
          .where('id', '<>', id)
          .orderBy('created_at')
          .orderBy('id')
          .execute(),
      );
      doomed.push(...all);
    } else {
      let above = [id];
      while (above.length > 0) {
        const below: RecordRow[] = [];
        for (const portion of inPortions(above)) {
          const found = await this.ask((db) =>
            live(db).where('parent_id', 'in', portion).orderBy('created_at').orderBy('id').execute(),
          );
          below.push(...found);
        }
        doomed.push(...below);
        above = below.map((child) => child.id);
      }
    }
    const removed: AnyRecord[] = [];
    for (const each of doomed) removed.push(await this.#alter(each, JSON.parse(each.body), true));
    return removed;
  }

  /**
   * Adds the row of a file that was put. The file stays claimed until the write is committed.
   *
   * @param claim what `files.put` answered
   * @throws StoreError FILE_MISSING if the file is gone: then nothing of the write is kept
   */
  async addFile(claim: FileClaim, about: { name: string; media: string }): Promise<void> {
    this.#check();
    await this.#fileStore.checkPresent(claim.sha256, claim.bytes);
    jsonText(about, 'the description of a file');
    await this.ask((db) =>
      db
        .insertInto('files')
        .values({
          sha256: claim.sha256,
          bytes: claim.bytes,
          first_name: about.name,
          media: about.media,
          at: this.#authorship.at,
        })
        .onConflict((conflict) => conflict.column('sha256').doNothing())
        .execute(),
    );
    this.#claims.push(claim);
  }

  /** Gives a record back a body it had, for undo. The body must still fit its schema. */
  async restore(row: RecordRow, bodyText: string, isDeleted: boolean): Promise<AnyRecord> {
    const body: object = JSON.parse(bodyText);
    return this.#alter(row, isDeleted ? body : parsedBody(row.kind as RecordKind, body), isDeleted);
  }

  /**
   * The rules that hold between records, checked once all is written. Part of the store, not of what a write may call.
   *
   * @returns what the write touched, and the claims it used
   */
  async finish(): Promise<{ touched: TouchedRecord[]; claims: FileClaim[] }> {
    const touched = [...this.#touched.values()];
    await checkRelations(this, this.#database, touched);
    return { touched, claims: this.#claims };
  }

  async #rowToAlter(id: string, seenRevision: number): Promise<RecordRow> {
    const row = await this.ask((db) =>
      db.selectFrom('records').selectAll().where('id', '=', id).executeTakeFirst(),
    );
    if (row === undefined) throw new StoreError('RECORD_UNKNOWN', `There is no record ${id}.`);
    const name = recordName(row.kind, id, row.label);
    const now = { id, kind: row.kind, revision: row.revision, by: row.by, at: row.updated_at };
    if (row.is_deleted === 1) {
      throw new StoreError('RECORD_REMOVED', `${name} was removed by ${row.by} at ${row.updated_at}.`, {
        data: now,
      });
    }
    if (row.revision !== seenRevision) {
      throw new StoreError(
        'REVISION_IS_OLD',
        `${name} is at revision ${row.revision}, saved by ${row.by} at ${row.updated_at}; revision ${seenRevision} was seen.`,
        { data: { ...now, seenRevision, body: JSON.parse(row.body) } },
      );
    }
    return row;
  }

  async #alter(row: RecordRow, body: object, isDeleted: boolean): Promise<AnyRecord> {
    const kind = row.kind as RecordKind;
    const altered: RecordRow = {
      ...row,
      parent_id: parentIdOf(kind, body),
      label: labelOf(body),
      revision: row.revision + 1,
      body: jsonText(body, recordName(kind, row.id, labelOf(body))),
      updated_at: this.#authorship.at,
      by: this.#authorship.by,
      is_deleted: isDeleted ? 1 : 0,
    };
    const { id, kind: _kind, series_id: _series, created_at: _created, ...columns } = altered;
    await this.ask((db) => db.updateTable('records').set(columns).where('id', '=', id).execute());
    await this.#keep(altered, body);
    return recordFrom(altered);
  }

  /** The row's revision and what it names, beside the row itself. */
  async #keep(row: RecordRow, body: object): Promise<void> {
    const kind = row.kind as RecordKind;
    const mentions = mentionsIn(kind, body);
    const { changeId, at, by } = this.#authorship;
    await this.ask(async (db) => {
      await db
        .insertInto('revisions')
        .values({
          record_id: row.id,
          revision: row.revision,
          change_id: changeId,
          at,
          by,
          body: row.body,
          is_deleted: row.is_deleted,
        })
        .execute();
      if (row.revision > 1) await db.deleteFrom('mentions').where('from_id', '=', row.id).execute();
      for (const { field, toId } of mentions) {
        await db.insertInto('mentions').values({ from_id: row.id, field, to_id: toId }).execute();
      }
    });
    this.#touched.set(row.id, {
      id: row.id,
      kind,
      seriesId: row.series_id,
      label: row.label,
      revision: row.revision,
      isDeleted: row.is_deleted === 1,
      mentions,
      files: filesNamedIn(body),
    });
  }
}
