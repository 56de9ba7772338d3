import { DatabaseSync } from 'node:sqlite';
import type { Kysely } from 'kysely';
import { describe, expect, it } from 'vitest';
import { migrate, SCHEMA_STEPS } from '../../src/logbook/migrations.ts';
import { kyselyOn } from '../../src/logbook/sqlite.ts';
import type { Tables } from '../../src/logbook/tables.ts';
import { errorOf } from './opened-store.ts';

const AT = '2026-01-01T00:00:00.000Z';
const next = (statements: string[]) => ({
  step: SCHEMA_STEPS.length + 1,
  name: 'a step of a later release',
  statements: () => statements,
});

async function withDatabase(
  work: (kysely: Kysely<Tables>, database: DatabaseSync) => Promise<void>,
): Promise<void> {
  const database = new DatabaseSync(':memory:');
  const kysely = kyselyOn(database);
  try {
    await work(kysely, database);
  } finally {
    await kysely.destroy();
  }
}

const run = (kysely: Kysely<Tables>, steps = SCHEMA_STEPS) =>
  kysely.transaction().execute((db) => migrate(db, 'sqlite', AT, steps));
const stepsDone = (database: DatabaseSync) =>
  database
    .prepare('select step from schema_steps order by step')
    .all()
    .map(({ step }) => step);

describe('a step of the schema', () => {
  it('is done once, and the next one only on top of it', async () => {
    await withDatabase(async (kysely, database) => {
      await run(kysely);
      await run(kysely);
      expect(stepsDone(database)).toEqual(SCHEMA_STEPS.map(({ step }) => step));
      await run(kysely, [...SCHEMA_STEPS, next(['alter table files add column origin text'])]);
      expect(stepsDone(database)).toHaveLength(SCHEMA_STEPS.length + 1);
      const columns = database.prepare("select name from pragma_table_info('files')").all();
      expect(columns.map(({ name }) => name)).toContain('origin');
      expect((await errorOf(run(kysely))).message).toContain('STORE_IS_NEWER');
    });
  });

  it('that fails in its middle leaves nothing behind', async () => {
    await withDatabase(async (kysely, database) => {
      await run(kysely);
      await errorOf(
        run(kysely, [...SCHEMA_STEPS, next(['create table halves (x text) strict', 'no such statement'])]),
      );
      expect(stepsDone(database)).toHaveLength(SCHEMA_STEPS.length);
      expect(database.prepare("select name from sqlite_schema where name = 'halves'").all()).toEqual([]);
    });
  });
});
