// The rules that hold between records at the end of every write, an undo included: nothing names what is not there.
import type { Kysely } from 'kysely';
import { StoreError } from './errors.ts';
import { inPortions, type Reader } from './reader.ts';
import { recordName, SHARED_KINDS, type TouchedRecord } from './relations.ts';
import type { Tables } from './tables.ts';

/** How many records a sentence names before it says "and so many more". */
const NAMED_AT_MOST = 5;

/**
 * @param touched the records a write altered, as they are now
 * @throws StoreError RECORD_LINK, RECORD_SERIES, FILE_UNKNOWN: a live record names what it may not
 * @throws StoreError RECORD_IN_USE: a live record names one that was removed
 */
export async function checkRelations(
  reader: Reader,
  database: Kysely<Tables>,
  touched: readonly TouchedRecord[],
): Promise<void> {
  const live = touched.filter(({ isDeleted }) => !isDeleted);
  await checkNamed(database, live);
  await checkFiles(reader, live);
  await checkNotInUse(
    database,
    touched.filter(({ isDeleted }) => isDeleted),
  );
}

async function checkNamed(database: Kysely<Tables>, live: readonly TouchedRecord[]): Promise<void> {
  const wanted = new Set(
    live.flatMap(({ mentions, seriesId }) => [...mentions.map(({ toId }) => toId), seriesId ?? '']),
  );
  wanted.delete('');
  const found = new Map<
    string,
    { kind: string; series_id: string | null; label: string | null; is_deleted: number }
  >();
  for (const portion of inPortions(wanted)) {
    const rows = await database
      .selectFrom('records')
      .select(['id', 'kind', 'series_id', 'label', 'is_deleted'])
      .where('id', 'in', portion)
      .execute();
    for (const row of rows) found.set(row.id, row);
  }
  for (const record of live) {
    const name = recordName(record.kind, record.id, record.label);
    const asked = [...record.mentions];
    if (record.seriesId !== null) asked.push({ field: 'series', toId: record.seriesId, kind: 'series' });
    for (const { field, toId, kind } of asked) {
      const named = found.get(toId);
      const data = { id: record.id, field, names: toId };
      if (named === undefined) {
        throw new StoreError(
          'RECORD_LINK',
          `${name} names ${toId} as ${field}, and there is no such record.`,
          { data },
        );
      }
      const other = recordName(named.kind, toId, named.label);
      if (named.kind !== kind) {
        throw new StoreError('RECORD_LINK', `${name} names ${other} as ${field}, which must be a ${kind}.`, {
          data,
        });
      }
      if (named.is_deleted === 1) {
        throw new StoreError('RECORD_LINK', `${name} names ${other} as ${field}, which is removed.`, {
          data,
        });
      }
      const isShared = named.series_id === null && SHARED_KINDS.includes(kind);
      if (named.series_id !== record.seriesId && !isShared) {
        throw new StoreError(
          'RECORD_SERIES',
          `${name} names ${other} as ${field}, which is in another series.`,
          { data },
        );
      }
    }
  }
}

async function checkFiles(reader: Reader, live: readonly TouchedRecord[]): Promise<void> {
  const wanted = new Set(live.flatMap(({ files }) => [...files]));
  const known = new Set((await reader.files(wanted)).map(({ sha256 }) => sha256));
  for (const record of live) {
    for (const sha256 of record.files) {
      if (known.has(sha256)) continue;
      const name = recordName(record.kind, record.id, record.label);
      throw new StoreError(
        'FILE_UNKNOWN',
        `${name} names the file ${sha256}, which the store does not have.`,
        {
          data: { id: record.id, sha256 },
        },
      );
    }
  }
}

async function checkNotInUse(database: Kysely<Tables>, removed: readonly TouchedRecord[]): Promise<void> {
  const byId = new Map(removed.map((record) => [record.id, record]));
  const series = new Set(removed.filter(({ kind }) => kind === 'series').map(({ id }) => id));
  const users: { id: string; kind: string; label: string | null; field: string; to_id: string }[] = [];
  for (const portion of inPortions(byId.keys())) {
    const rows = await database
      .selectFrom('mentions as m')
      .innerJoin('records as r', 'r.id', 'm.from_id')
      .select(['r.id', 'r.kind', 'r.label', 'm.field', 'm.to_id'])
      .where('m.to_id', 'in', portion)
      .where('r.is_deleted', '=', 0)
      .orderBy('r.created_at')
      .orderBy('r.id')
      .execute();
    users.push(...rows);
  }
  for (const portion of inPortions(series)) {
    const rows = await database
      .selectFrom('records')
      .select(['id', 'kind', 'label', 'series_id as to_id'])
      .where('series_id', 'in', portion)
      .where('is_deleted', '=', 0)
      .orderBy('created_at')
      .orderBy('id')
      .execute();
    for (const row of rows) users.push({ ...row, field: 'series', to_id: row.to_id! });
  }
  if (users.length === 0) return;
  const clauses = users.slice(0, NAMED_AT_MOST).map(({ id, kind, label, field, to_id }) => {
    const target = byId.get(to_id)!;
    return `${recordName(kind, id, label)} names ${recordName(target.kind, target.id, target.label)} as ${field}`;
  });
  const more = users.length > NAMED_AT_MOST ? `, and ${users.length - NAMED_AT_MOST} more` : '';
  throw new StoreError(
    'RECORD_IN_USE',
    `What is to be removed is still named: ${clauses.join('; ')}${more}.`,
    {
      data: { users: users.map(({ id, kind, field, to_id }) => ({ id, kind, field, names: to_id })) },
    },
  );
}
