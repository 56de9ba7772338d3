// The schema of the store, one step a migration, for both dialects. A released step is never edited: a change is a step.
import { type Kysely, sql } from 'kysely';
import { StoreError } from './errors.ts';
import type { DialectName, Tables } from './tables.ts';

interface SchemaStep {
  readonly step: number;
  readonly name: string;
  /** SQL statements, in order */
  statements(dialect: DialectName): string[];
}

const KEPT_TABLES = ['revisions', 'changes', 'files'] as const;

/** Rows of these tables are added and never altered; the database itself refuses. */
function keepRows(dialect: DialectName): string[] {
  if (dialect === 'sqlite') {
    return KEPT_TABLES.flatMap((table) =>
      ['update', 'delete'].map(
        (act) =>
          `create trigger ${table}_keep_${act} before ${act} on ${table}
           begin select raise(abort, 'rows of ${table} are never altered'); end`,
      ),
    );
  }
  return [
    `create function refuse_alteration() returns trigger language plpgsql as
     $$ begin raise exception 'rows of % are never altered', tg_table_name; end $$`,
    ...KEPT_TABLES.flatMap((table) => [
      `create trigger ${table}_keep before update or delete on ${table}
       for each row execute function refuse_alteration()`,
      `create trigger ${table}_keep_all before truncate on ${table}
       for each statement execute function refuse_alteration()`,
    ]),
  ];
}

export const SCHEMA_STEPS: readonly SchemaStep[] = [
  {
    step: 1,
    name: 'records, their revisions, changes and files',
    statements(dialect) {
      const end = dialect === 'sqlite' ? 'strict' : '';
      const long = dialect === 'sqlite' ? 'integer' : 'bigint';
      return [
        `create table changes (
           sequence integer not null unique,
           id text primary key not null,
           at text not null,
           "by" text not null,
           what text not null,
           series_id text,
           result text not null,
           undoes text references changes (id)
         ) ${end}`,
        `create table records (
           id text primary key not null,
           kind text not null,
           series_id text references records (id) deferrable initially deferred,
           parent_id text references records (id) deferrable initially deferred,
           label text,
           revision integer not null check (revision >= 1),
           body text not null,
           created_at text not null,
           updated_at text not null,
           "by" text not null,
           is_deleted integer not null check (is_deleted in (0, 1))
         ) ${end}`,
        `create table revisions (
           record_id text not null references records (id),
           revision integer not null check (revision >= 1),
           change_id text not null references changes (id) deferrable initially deferred,
           at text not null,
           "by" text not null,
           body text not null,
           is_deleted integer not null check (is_deleted in (0, 1)),
           primary key (record_id, revision)
         ) ${end}`,
        `create table mentions (
           from_id text not null references records (id),
           field text not null,
           to_id text not null references records (id) deferrable initially deferred,
           primary key (from_id, field, to_id)
         ) ${end}`,
        `create table files (
           sha256 text primary key not null check (length(sha256) = 64),
           bytes ${long} not null check (bytes >= 0),
           first_name text not null,
           media text not null,
           at text not null
         ) ${end}`,
        'create index records_of_series on records (series_id, created_at, id)',
        'create index records_of_kind on records (kind, created_at, id)',
        'create index records_of_parent on records (parent_id)',
        'create index revisions_of_change on revisions (change_id)',
        'create index mentions_of_record on mentions (to_id)',
        'create index changes_of_series on changes (series_id, sequence)',
        'create index changes_undoing on changes (undoes)',
        ...keepRows(dialect),
      ];
    },
  },
];

/** The newest step this release knows. */
export const SCHEMA_VERSION = SCHEMA_STEPS.at(-1)!.step;

/** @throws StoreError STORE_IS_NEWER if a later release of Peritect has written the store */
export function refuseNewer(step: number, where: string): void {
  if (step <= SCHEMA_VERSION) return;
  throw new StoreError(
    'STORE_IS_NEWER',
    `${where} has schema ${step}; this release knows schemas up to ${SCHEMA_VERSION}.`,
    { data: { schema: step, known: SCHEMA_VERSION } },
  );
}

/**
 * Brings the schema up to date. Run inside one transaction that holds the write lock, so that two processes that open
 * a store at once do each step once, and a step that fails leaves nothing behind.
 *
 * @param steps the schema's steps; another list in tests only
 */
export async function migrate(
  transaction: Kysely<Tables>,
  dialect: DialectName,
  at: string,
  steps: readonly SchemaStep[] = SCHEMA_STEPS,
): Promise<void> {
  await sql
    .raw(
      `create table if not exists schema_steps (
         step integer primary key not null, name text not null, at text not null
       ) ${dialect === 'sqlite' ? 'strict' : ''}`,
    )
    .execute(transaction);
  const done = await transaction.selectFrom('schema_steps').select('step').orderBy('step', 'desc').execute();
  const newest = done[0]?.step ?? 0;
  refuseNewer(newest, 'The store');
  for (const { step, name, statements } of steps) {
    if (step <= newest) continue;
    for (const statement of statements(dialect)) await sql.raw(statement).execute(transaction);
    await transaction.insertInto('schema_steps').values({ step, name, at }).execute();
  }
}
