// What can be asked of the store. Every list states its order.
import type { Kysely, Selectable } from 'kysely';
import { withGrownFields } from '../records/grown-fields.ts';
import type { RecordBodies, RecordKind, StoredRecord } from '../records/kinds.ts';
import { StoreError, storeErrorFrom } from './errors.ts';
import { KINDS_OF_ALL, recordName } from './relations.ts';
import type { Tables } from './tables.ts';

/** A record of any kind; `kind` tells which body it has. */
export type AnyRecord = { [Kind in RecordKind]: StoredRecord<Kind> }[RecordKind];

export interface ListFilter {
  /** null: those that all series share */
  readonly seriesId?: string | null;
  readonly parentId?: string | null;
  readonly includeDeleted?: boolean;
}

export interface StoredRevision {
  readonly recordId: string;
  readonly revision: number;
  readonly changeId: string;
  /** what the change was for */
  readonly what: string;
  readonly at: string;
  readonly by: string;
  readonly body: RecordBodies[RecordKind];
  readonly isDeleted: boolean;
}

export interface StoredChange {
  /** 1, 2, 3 ... in the order of commit */
  readonly sequence: number;
  readonly id: string;
  readonly at: string;
  readonly by: string;
  readonly what: string;
  readonly seriesId: string | null;
  /** the change that this one undid */
  readonly undoes: string | null;
  /** the change that undid this one */
  readonly undoneBy: string | null;
}

export interface StoredFile {
  readonly sha256: string;
  readonly bytes: number;
  readonly firstName: string;
  readonly media: string;
  readonly at: string;
}

export type RecordRow = Selectable<Tables['records']>;

export function recordFrom(row: RecordRow): AnyRecord {
  return {
    id: row.id,
    kind: row.kind,
    seriesId: row.series_id,
    revision: row.revision,
    body: withGrownFields(row.kind, JSON.parse(row.body)),
    createdAt: row.created_at,
    updatedAt: row.updated_at,
    by: row.by,
    isDeleted: row.is_deleted === 1,
  } as AnyRecord;
}

/** Most values in one `in (...)`; SQLite and PostgreSQL take at least 32,766 parameters a statement. */
const VALUES_AT_ONCE = 1000;

export function inPortions<Value>(values: Iterable<Value>): Value[][] {
  const all = [...values];
  const portions: Value[][] = [];
  for (let i = 0; i < all.length; i += VALUES_AT_ONCE) portions.push(all.slice(i, i + VALUES_AT_ONCE));
  return portions;
}

export class Reader {
  readonly #database: Kysely<Tables>;
  readonly #check: () => void;

  /** @param check called before each question; throws where it may not be asked */
  constructor(database: Kysely<Tables>, check: () => void) {
    this.#database = database;
    this.#check = check;
  }

  /** Asks the database, and says in words why it did not answer. */
  protected async ask<Answer>(question: (database: Kysely<Tables>) => Promise<Answer>): Promise<Answer> {
    this.#check();
    try {
      return await question(this.#database);
    } catch (error) {
      throw storeErrorFrom(error, 'asking the store');
    }
  }

  /** The record, removed or not; undefined if there is none of that identifier. */
  async find(id: string): Promise<AnyRecord | undefined> {
    const row = await this.ask((db) =>
      db.selectFrom('records').selectAll().where('id', '=', id).executeTakeFirst(),
    );
    return row && recordFrom(row);
  }

  /**
   * @throws StoreError RECORD_UNKNOWN if there is none, or it is of another kind
   * @throws StoreError RECORD_REMOVED if it has been removed
   */
  async findOrThrow<Kind extends RecordKind>(kind: Kind, id: string): Promise<StoredRecord<Kind>> {
    const record = await this.find(id);
    if (record === undefined) throw new StoreError('RECORD_UNKNOWN', `There is no record ${id}.`);
    if (record.kind !== kind) {
      throw new StoreError('RECORD_UNKNOWN', `Record ${id} is a ${record.kind}, not a ${kind}.`);
    }
    if (record.isDeleted) {
      const label = 'label' in record.body ? record.body.label : null;
      throw new StoreError(
        'RECORD_REMOVED',
        `${recordName(kind, id, label)} was removed at ${record.updatedAt}.`,
        {
          data: { id, revision: record.revision },
        },
      );
    }
    return record as unknown as StoredRecord<Kind>;
  }

  /** Records of one kind, oldest first, then by identifier. Removed ones only if asked for. */
  async list<Kind extends RecordKind>(kind: Kind, filter: ListFilter = {}): Promise<StoredRecord<Kind>[]> {
    const rows = await this.ask((db) => {
      let query = db.selectFrom('records').selectAll().where('kind', '=', kind);
      const { seriesId, parentId } = filter;
      if (seriesId !== undefined) query = query.where('series_id', seriesId === null ? 'is' : '=', seriesId);
      if (parentId !== undefined) query = query.where('parent_id', parentId === null ? 'is' : '=', parentId);
      if (filter.includeDeleted !== true) query = query.where('is_deleted', '=', 0);
      return query.orderBy('created_at').orderBy('id').execute();
    });
    return rows.map((row) => recordFrom(row) as unknown as StoredRecord<Kind>);
  }

  /** Everything of a series that is not removed, the series itself included, in one question: oldest first, then by id. */
  async seriesRecords(seriesId: string): Promise<AnyRecord[]> {
    const rows = await this.ask((db) =>
      db
        .selectFrom('records')
        .selectAll()
        .where(({ eb, and, or }) =>
          or([
            eb('series_id', '=', seriesId),
            and([eb('series_id', 'is', null), eb('kind', 'in', [...KINDS_OF_ALL])]),
          ]),
        )
        .where('is_deleted', '=', 0)
        .orderBy('created_at')
        .orderBy('id')
        .execute(),
    );
    return rows.map(recordFrom);
  }

  /** All that a record has been, first revision first. */
  async revisions(recordId: string): Promise<StoredRevision[]> {
    const rows = await this.ask((db) =>
      db
        .selectFrom('revisions as r')
        .innerJoin('changes as c', 'c.id', 'r.change_id')
        .select([
          'r.record_id',
          'r.revision',
          'r.change_id',
          'r.at',
          'r.by',
          'r.body',
          'r.is_deleted',
          'c.what',
        ])
        .where('r.record_id', '=', recordId)
        .orderBy('r.revision')
        .execute(),
    );
    return rows.map((row) => ({
      recordId: row.record_id,
      revision: row.revision,
      changeId: row.change_id,
      what: row.what,
      at: row.at,
      by: row.by,
      body: JSON.parse(row.body),
      isDeleted: row.is_deleted === 1,
    }));
  }

  /**
   * Changes, newest first.
   *
   * @param filter seriesId: only those of one series, null for those of none; before: only those of a lower sequence
   *   number; limit: at most so many, 100 if left out
   */
  changes(
    filter: { seriesId?: string | null; before?: number; limit?: number } = {},
  ): Promise<StoredChange[]> {
    return this.#changes((query) => {
      let narrowed = query.orderBy('c.sequence', 'desc').limit(filter.limit ?? 100);
      const { seriesId, before } = filter;
      if (seriesId !== undefined)
        narrowed = narrowed.where('c.series_id', seriesId === null ? 'is' : '=', seriesId);
      if (before !== undefined) narrowed = narrowed.where('c.sequence', '<', before);
      return narrowed;
    });
  }

  /** Changes after a sequence number, oldest first: what another process has written meanwhile. */
  changesSince(sequence: number, limit = 1000): Promise<StoredChange[]> {
    return this.#changes((query) =>
      query.where('c.sequence', '>', sequence).orderBy('c.sequence').limit(limit),
    );
  }

  /** The change of that identifier; undefined if there is none. */
  async findChange(id: string): Promise<StoredChange | undefined> {
    return (await this.#changes((query) => query.where('c.id', '=', id)))[0];
  }

  /** The row of a stored file; undefined if no record has needed it yet. */
  async findFile(sha256: string): Promise<StoredFile | undefined> {
    return (await this.files([sha256]))[0];
  }

  /** The rows of stored files, by SHA-256; all of them if none are named. */
  async files(sha256s?: Iterable<string>): Promise<StoredFile[]> {
    const portions = sha256s === undefined ? [undefined] : inPortions(sha256s);
    const rows: StoredFile[] = [];
    for (const portion of portions) {
      const found = await this.ask((db) => {
        const query = db.selectFrom('files').selectAll().orderBy('sha256');
        return (portion === undefined ? query : query.where('sha256', 'in', portion)).execute();
      });
      for (const { sha256, bytes, first_name, media, at } of found) {
        rows.push({ sha256, bytes: Number(bytes), firstName: first_name, media, at });
      }
    }
    return rows;
  }

  async #changes(narrow: (query: ChangeQuery) => ChangeQuery): Promise<StoredChange[]> {
    const rows = await this.ask((db) => narrow(changeQuery(db)).execute());
    return rows.map(({ series_id, undone_by, ...row }) => ({
      ...row,
      seriesId: series_id,
      undoneBy: undone_by,
    }));
  }
}

function changeQuery(database: Kysely<Tables>) {
  return database
    .selectFrom('changes as c')
    .leftJoin('changes as u', 'u.undoes', 'c.id')
    .select(['c.sequence', 'c.id', 'c.at', 'c.by', 'c.what', 'c.series_id', 'c.undoes', 'u.id as undone_by']);
}
type ChangeQuery = ReturnType<typeof changeQuery>;
