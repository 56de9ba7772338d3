// Opening a store, and what stands in the way of it: on real folders.
import { createHash } from 'node:crypto';
import { closeSync, openSync, writeSync } from 'node:fs';
import { chmod, cp, mkdir, readdir, readFile, stat, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterEach, describe, expect, it } from 'vitest';
import { readColumn } from '../../src/logbook/columns.ts';
import { StoreError, storeErrorFrom } from '../../src/logbook/errors.ts';
import { newId } from '../../src/logbook/ids.ts';
import { SCHEMA_STEPS, SCHEMA_VERSION } from '../../src/logbook/migrations.ts';
import { openStore } from '../../src/logbook/store.ts';
import { RECORD_SCHEMAS } from '../../src/records/kinds.ts';
import { lotBody } from './bodies.ts';
import { integrityOf } from './integrity.ts';
import { addedSeries, change, clearStores, errorOf, newFolder, openedStore } from './opened-store.ts';

afterEach(clearStores);

const STORED = join(import.meta.dirname, '..', 'data', 'stores');

async function digestsIn(folder: string): Promise<Record<string, string>> {
  const digests: Record<string, string> = {};
  for (const name of (await readdir(folder)).sort()) {
    if ((await stat(join(folder, name))).isDirectory()) continue;
    digests[name] = createHash('sha256')
      .update(await readFile(join(folder, name)))
      .digest('hex');
  }
  return digests;
}

/** A closed store with one series, and a hand on its database. */
async function alteredStore(alter: (database: DatabaseSync) => void): Promise<string> {
  const folder = await newFolder();
  const store = await openStore({ folder, by: 'tester' });
  await addedSeries(store);
  await store.close();
  const database = new DatabaseSync(join(folder, 'logbook.sqlite'));
  alter(database);
  database.close();
  return folder;
}

describe('opening a store', () => {
  it('makes the folder and the ones above it, and finds everything again the next time', async () => {
    const folder = join(await newFolder(), 'deep', 'store');
    const first = await openStore({ folder, by: 'tester' });
    const seriesId = await addedSeries(first, 'kept');
    await first.close();
    const again = await openedStore({ folder });
    expect((await again.read.findOrThrow('series', seriesId)).body.label).toBe('kept');
    expect((await stat(folder)).mode & 0o777).toBe(0o700);
    expect((await errorOf(first.read.list('series'))).code).toBe('STORE_CLOSED');
  });

  it('writes with the full care of the engine: a log, synced at each commit', async () => {
    const folder = await newFolder();
    const store = await openedStore({ folder });
    await addedSeries(store);
    const database = new DatabaseSync(join(folder, 'logbook.sqlite'));
    expect(database.prepare('pragma journal_mode').get()).toEqual({ journal_mode: 'wal' });
    database.close();
    expect((await readdir(folder)).sort()).toEqual([
      'files',
      'logbook.sqlite',
      'logbook.sqlite-shm',
      'logbook.sqlite-wal',
    ]);
    for (const name of ['logbook.sqlite-shm', 'logbook.sqlite-wal']) {
      expect((await stat(join(folder, name))).mode & 0o777).toBe(0o600);
    }
  });

  it('closes a shared folder to others, but not a folder with other things in it', async () => {
    const [empty, used] = [await newFolder(), await newFolder()];
    await writeFile(join(used, 'thesis.txt'), 'other things');
    for (const folder of [empty, used]) await chmod(folder, 0o755);
    await openedStore({ folder: empty });
    await openedStore({ folder: used });
    expect((await stat(empty)).mode & 0o777).toBe(0o700);
    expect((await stat(used)).mode & 0o777).toBe(0o755);
  });

  it('refuses a store that a later release has written, and leaves it as it is', async () => {
    const folder = await alteredStore((database) => {
      database.exec(
        `insert into schema_steps values (${SCHEMA_VERSION + 1}, 'of a later release', '2031-01-01T00:00:00Z')`,
      );
    });
    const before = await digestsIn(folder);
    const error = await errorOf(openStore({ folder }));
    expect(error.code).toBe('STORE_IS_NEWER');
    expect(error.message).toContain(
      `has schema ${SCHEMA_VERSION + 1}; this release knows schemas up to ${SCHEMA_VERSION}. Open it with the release`,
    );
    const after = await digestsIn(folder);
    expect(after['logbook.sqlite']).toBe(before['logbook.sqlite']);
  });

  it('refuses the database of another program, and leaves it as it is', async () => {
    const folder = await newFolder();
    const database = new DatabaseSync(join(folder, 'logbook.sqlite'));
    database.exec('create table recipes (name text)');
    database.close();
    const before = await digestsIn(folder);
    expect((await errorOf(openStore({ folder }))).message).toMatch(
      /STORE_NOT_OURS: .*not a store of Peritect/,
    );
    expect(await digestsIn(folder)).toEqual(before);
  });

  it('says so where the file is damaged or no database', async () => {
    const text = await newFolder();
    await writeFile(
      join(text, 'logbook.sqlite'),
      'This is no database, however long one looks at it.'.repeat(100),
    );
    expect((await errorOf(openStore({ folder: text }))).code).toBe('STORE_DAMAGED');
    const cut = await alteredStore(() => {});
    await truncate(join(cut, 'logbook.sqlite'), 3 * 4096);
    expect((await errorOf(openStore({ folder: cut }))).code).toBe('STORE_DAMAGED');
  });

  it('says so where the folder cannot be made', async () => {
    const folder = await newFolder();
    await writeFile(join(folder, 'file'), '');
    const error = await errorOf(openStore({ folder: join(folder, 'file', 'store') }));
    expect(error.code).toBe('STORE_FOLDER');
    expect(error.message).toContain(join(folder, 'file', 'store'));
  });

  it('and writing wait for another writer, and give up in words when their patience is at its end', async () => {
    const folder = await newFolder();
    const store = await openedStore({ folder, patienceMs: 200 });
    const other = new DatabaseSync(join(folder, 'logbook.sqlite'));
    other.exec('begin immediate');
    const error = await errorOf(addedSeries(store));
    expect(error.message).toMatch(/STORE_BUSY: While writing the change "add a series": database is locked/);
    expect(await store.read.list('series')).toEqual([]); // reading goes on meanwhile
    const waiting = openedStore({ folder }).then((patient) => addedSeries(patient));
    setTimeout(() => other.exec('commit'), 300);
    await waiting;
    other.close();
    expect(await store.read.list('series')).toHaveLength(1);
  });
});

describe('a stored store of schema 1', () => {
  it('opens, reads, can be undone in, and every body fits the schemas of today', async () => {
    const folder = join(await newFolder(), 'store');
    await mkdir(folder);
    await cp(join(STORED, 'schema-1'), folder, { recursive: true });
    const store = await openedStore({ folder });
    const [series] = await store.read.list('series');
    const records = await store.read.seriesRecords(series!.id);
    expect(records.map(({ kind }) => kind).sort()).toEqual([
      'film',
      'lot',
      'measurement',
      'piece',
      'run',
      'series',
      'target',
      'treatment',
    ]);
    for (const { kind, body } of records) expect(RECORD_SCHEMAS[kind].safeParse(body).error).toBeUndefined();
    expect((await store.read.changes({ seriesId: series!.id })).map(({ what }) => what)).toEqual([
      'undo: rename the film',
      'rename the film',
      'import a measurement',
      'add a film',
      'add a series',
    ]);
    const [film] = await store.read.list('film');
    expect([film!.revision, film!.body.label]).toEqual([3, 'F1']);
    const [measurement] = await store.read.list('measurement');
    expect(await readColumn(store, measurement!.body.columns.blob, 1)).toEqual(
      Float64Array.of(1e-3, 0, Number.NaN),
    );
    expect(new TextDecoder().decode(await store.fileBytes(measurement!.body.fileSha256))).toMatch(
      /^temperature/,
    );
    expect(await store.verifyFiles()).toMatchObject({ checked: 2, missing: [], damaged: [], withoutRow: [] });

    const [undoing] = await store.read.changes({ limit: 1 });
    await store.undo({ changeId: newId(), ofChange: undoing!.id });
    expect((await store.read.findOrThrow('film', film!.id)).body.label).toBe('F1 renamed');
    await store.close();
    expect(integrityOf(folder).faults).toEqual([]);
  });

  it('exists for each schema that was released', async () => {
    const stored = (await readdir(STORED)).filter((name) => name.startsWith('schema-')).sort();
    expect(stored).toEqual(SCHEMA_STEPS.map(({ step }) => `schema-${step}`));
    expect(SCHEMA_STEPS.map(({ step }) => step)).toEqual(SCHEMA_STEPS.map((_, i) => i + 1));
  });
});

describe('an error from below', () => {
  it('of a full disk is said in words: in the database, and nothing of the change is kept', async () => {
    const folder = await newFolder();
    const database = new DatabaseSync(join(folder, 'full.sqlite'));
    database.exec('pragma max_page_count = 8; create table notes (note text)');
    const fill = () => {
      for (;;) database.prepare('insert into notes values (?)').run('x'.repeat(4000));
    };
    const error = storeErrorFrom(thrownBy(fill), 'writing the change "import"');
    database.close();
    expect(error).toBeInstanceOf(StoreError);
    expect((error as StoreError).code).toBe('STORE_DISK_FULL');
    expect((error as StoreError).message).toMatch(
      /While writing the change "import": database or disk is full.*Free some space/,
    );
  });

  it.runIf(process.platform === 'linux')('of a full disk is said in words: in the file system', () => {
    const full = openSync('/dev/full', 'w');
    const error = storeErrorFrom(
      thrownBy(() => writeSync(full, 'x')),
      'taking a file in',
    );
    closeSync(full);
    expect((error as StoreError).code).toBe('STORE_DISK_FULL');
  });

  it('of a folder that may only be read is told apart, and one that is not the store’s passes as it is', () => {
    const denied = Object.assign(new Error('EROFS: read-only file system, open'), {
      code: 'EROFS',
      syscall: 'open',
    });
    expect((storeErrorFrom(denied, 'opening') as StoreError).code).toBe('STORE_READ_ONLY');
    const readOnly = new DatabaseSync(':memory:', { readOnly: true });
    const error = storeErrorFrom(
      thrownBy(() => readOnly.exec('create table t (x text)')),
      'writing',
    );
    readOnly.close();
    expect((error as StoreError).code).toBe('STORE_READ_ONLY');
    const own = new RangeError('mine');
    expect(storeErrorFrom(own, 'writing')).toBe(own);
  });

  it('of PostgreSQL is told by its state', () => {
    const states = { '40001': 'STORE_BUSY', '53100': 'STORE_DISK_FULL', '23505': 'STORE_FAULT' };
    for (const [code, expected] of Object.entries(states)) {
      const error = Object.assign(new Error('from the server'), { code, severity: 'ERROR' });
      expect((storeErrorFrom(error, 'writing') as StoreError).code).toBe(expected);
    }
  });
});

function thrownBy(work: () => unknown): unknown {
  try {
    work();
  } catch (error) {
    return error;
  }
  throw new Error('Nothing was thrown.');
}

describe('a new identifier', () => {
  it('is of version 7, and later ones sort after earlier ones', async () => {
    const made = Array.from({ length: 500 }, newId);
    expect(
      made.every((id) => /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/.test(id)),
    ).toBe(true);
    expect([...made].sort()).toEqual(made);
    expect(new Set(made).size).toBe(500);
    const store = await openedStore();
    const upper = store.write({ ...change('upper'), changeId: newId().toUpperCase() }, async () => lotBody());
    expect((await errorOf(upper)).code).toBe('ID_INVALID');
  });
});
