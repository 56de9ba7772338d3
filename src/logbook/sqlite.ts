// node:sqlite behind Kysely: one connection that writes, one that reads, both to one file in the store folder.
import { closeSync, openSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync, type SQLInputValue, type StatementSync } from 'node:sqlite';
import {
  CompiledQuery,
  type DatabaseConnection,
  type Dialect,
  Kysely,
  SqliteAdapter,
  type SqliteDatabase,
  SqliteDriver,
  SqliteIntrospector,
  SqliteQueryCompiler,
  type SqliteStatement,
} from 'kysely';
import { StoreError, storeErrorFrom } from './errors.ts';
import { refuseNewer } from './migrations.ts';
import type { Tables } from './tables.ts';

export const DATABASE_NAME = 'logbook.sqlite';

/** Marks the file as a Peritect store: "Peri" in the header's application id. */
const APPLICATION_ID = 0x50657269;

/** How long SQLite itself waits for a lock. It blocks the process, so it is short; the store waits between tries. */
const LOCK_WAIT_MS = 20;
const READ_WAIT_MS = 5000;
const KEPT_STATEMENTS = 200;

/** Gives node:sqlite the few methods Kysely asks for, and keeps prepared statements. */
class PreparedDatabase implements SqliteDatabase {
  readonly #database: DatabaseSync;
  readonly #statements = new Map<string, SqliteStatement>();

  constructor(database: DatabaseSync) {
    this.#database = database;
  }

  get isInTransaction(): boolean {
    return this.#database.isTransaction;
  }

  prepare(text: string): SqliteStatement {
    const kept = this.#statements.get(text);
    if (kept !== undefined) return kept;
    const statement = asKyselyStatement(this.#database.prepare(text));
    if (this.#statements.size >= KEPT_STATEMENTS) this.#statements.clear();
    this.#statements.set(text, statement);
    return statement;
  }

  close(): void {
    this.#statements.clear();
    this.#database.close();
  }
}

function asKyselyStatement(statement: StatementSync): SqliteStatement {
  const values = (parameters: readonly unknown[]) => parameters as SQLInputValue[];
  return {
    reader: statement.columns().length > 0,
    all: (parameters) => statement.all(...values(parameters)),
    run: (parameters) => statement.run(...values(parameters)),
    iterate: (parameters) => statement.iterate(...values(parameters)),
  };
}

/** Takes the write lock at the beginning, so that a write never finds out at its end that another came first. */
class ImmediateDriver extends SqliteDriver {
  readonly #database: PreparedDatabase;

  constructor(database: PreparedDatabase) {
    super({ database });
    this.#database = database;
  }

  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'));
  }

  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    // a full disk has rolled back already
    if (this.#database.isInTransaction) await super.rollbackTransaction(connection);
  }
}

function sqliteDialect(database: DatabaseSync): Dialect {
  const prepared = new PreparedDatabase(database);
  return {
    createAdapter: () => new SqliteAdapter(),
    createDriver: () => new ImmediateDriver(prepared),
    createIntrospector: (kysely) => new SqliteIntrospector(kysely),
    createQueryCompiler: () => new SqliteQueryCompiler(),
  };
}

function applicationId(database: DatabaseSync): unknown {
  return database.prepare('pragma application_id').get()?.application_id;
}

/** Looks at the file without altering it: is it ours, and does this release know its schema? */
function inspect(path: string): void {
  const database = new DatabaseSync(path, { readOnly: true, timeout: READ_WAIT_MS });
  try {
    const tables = database.prepare("select name from sqlite_schema where type = 'table'").all();
    if (tables.length === 0) return; // another process is about to make it
    if (applicationId(database) !== APPLICATION_ID) {
      throw new StoreError('STORE_NOT_OURS', `${path} is a database, but not a store of Peritect.`);
    }
    if (!tables.some(({ name }) => name === 'schema_steps')) return;
    const newest = database.prepare('select max(step) as step from schema_steps').get()?.step;
    refuseNewer(typeof newest === 'number' ? newest : 0, path);
  } finally {
    database.close();
  }
}

/**
 * Opens the file of a store folder, or makes it, for its user alone.
 *
 * @throws StoreError STORE_IS_NEWER, STORE_NOT_OURS: and the file is as it was; STORE_DAMAGED, STORE_READ_ONLY,
 *   STORE_FOLDER, STORE_BUSY
 */
export function openWriter(folder: string): DatabaseSync {
  const path = join(folder, DATABASE_NAME);
  let database: DatabaseSync | undefined;
  try {
    closeSync(openSync(path, 'a', 0o600)); // SQLite gives its log files the same mode
    if (statSync(path).size > 0) inspect(path);
    database = new DatabaseSync(path, { timeout: LOCK_WAIT_MS });
    database.exec('pragma journal_mode = wal');
    database.exec('pragma synchronous = full');
    database.exec('pragma foreign_keys = on');
    database.exec('pragma recursive_triggers = on'); // else "or replace" would pass the keeping triggers by
    if (applicationId(database) !== APPLICATION_ID)
      database.exec(`pragma application_id = ${APPLICATION_ID}`);
    return database;
  } catch (error) {
    database?.close();
    throw storeErrorFrom(error, `opening ${path}`);
  }
}

/** A connection that reads, whatever is being written meanwhile. Open it when the schema is up to date. */
export function openReader(folder: string): DatabaseSync {
  const path = join(folder, DATABASE_NAME);
  try {
    return new DatabaseSync(path, { readOnly: true, timeout: READ_WAIT_MS });
  } catch (error) {
    throw storeErrorFrom(error, `opening ${path} to read`);
  }
}

export function kyselyOn(database: DatabaseSync): Kysely<Tables> {
  return new Kysely<Tables>({ dialect: sqliteDialect(database) });
}
