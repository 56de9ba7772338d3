// The same behaviour on both engines: node:sqlite on a real folder, PostgreSQL's SQL in memory.
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { PGlite } from '@electric-sql/pglite';
import { PGliteDialect } from 'kysely';
import { afterAll, afterEach, beforeAll, describe } from 'vitest';
import type { Store } from '../../src/logbook/store.ts';
import { clearStores, newFolder, openedStore } from './opened-store.ts';
import { recordBehaviour } from './record-behaviour.ts';
import { writeBehaviour } from './write-behaviour.ts';

afterEach(clearStores);

function storeBehaviour(freshStore: () => Promise<Store>, runSql: (text: string) => Promise<unknown>): void {
  recordBehaviour(freshStore);
  writeBehaviour(freshStore, runSql);
}

describe('a store on node:sqlite', () => {
  let folder: string;

  storeBehaviour(
    async () => {
      folder = await newFolder();
      return openedStore({ folder });
    },
    async (text) => {
      const database = new DatabaseSync(join(folder, 'logbook.sqlite'));
      try {
        database.exec(text);
      } finally {
        database.close();
      }
    },
  );
});

describe('a store on PostgreSQL', () => {
  let postgres: PGlite;
  beforeAll(async () => {
    postgres = await PGlite.create();
  });
  afterAll(() => postgres.close());

  /** The one engine, emptied; closing a store leaves it open. */
  async function emptied(): Promise<PGliteDialect> {
    await postgres.exec('drop schema public cascade; create schema public');
    const kept = new Proxy(postgres, {
      get(engine, name) {
        if (name === 'close') return async () => {};
        const value = Reflect.get(engine, name, engine);
        return typeof value === 'function' ? value.bind(engine) : value;
      },
    });
    return new PGliteDialect({ pglite: kept });
  }

  storeBehaviour(
    async () => openedStore({ database: { dialectName: 'postgres', dialect: await emptied() } }),
    (text) => postgres.exec(text),
  );
});
