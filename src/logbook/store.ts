// The store: records with their history, and raw files. Everything that is kept goes through `write`.
import { AsyncLocalStorage } from 'node:async_hooks';
import { chmod, readdir } from 'node:fs/promises';
import { setImmediate as nextTurn, setTimeout as sleep } from 'node:timers/promises';
import { Kysely, sql } from 'kysely';
import type { RecordKind } from '../records/kinds.ts';
import { makeFolder } from './durable.ts';
import { StoreError, storeErrorFrom } from './errors.ts';
import { type FileClaim, type FileFaults, FileStore, type SweepCount } from './files.ts';
import { checkId } from './ids.ts';
import { jsonText } from './json-text.ts';
import { migrate } from './migrations.ts';
import { Reader, type StoredFile } from './reader.ts';
import type { TouchedRecord } from './relations.ts';
import { DATABASE_NAME, kyselyOn, openReader, openWriter } from './sqlite.ts';
import type { Connections, GivenDatabase, Tables } from './tables.ts';
import { Transaction } from './transaction.ts';
import { type UndoResult, undoChange } from './undo.ts';

export interface StoreOptions {
  /** holds the files, and the database unless another is given; made if it is not there */
  readonly folder: string;
  /** an engine other than SQLite */
  readonly database?: GivenDatabase;
  /** UTC time of a change; the machine's clock if left out */
  readonly clock?: () => Date;
  /** who writes where a write does not say */
  readonly by?: string;
  /** how long to wait for another writer, ms */
  readonly patienceMs?: number;
}

export interface WriteRequest {
  /** made by the caller; a repeat of it is answered with the first result */
  readonly changeId: string;
  readonly by?: string;
  /** what the change is for, in words, as the history shows it */
  readonly what: string;
  /** the series it belongs to; left out: that of the records it touches */
  readonly seriesId?: string | null;
}

/** A committed change, told to listeners in the order of commit. */
export interface ChangeEvent {
  readonly sequence: number;
  readonly changeId: string;
  readonly seriesId: string | null;
  readonly at: string;
  readonly by: string;
  readonly what: string;
  readonly undoes: string | null;
  readonly records: readonly { id: string; kind: RecordKind; revision: number; isDeleted: boolean }[];
}

const PATIENCE_MS = 15_000;
const LONGEST_PAUSE_MS = 60;

/** Serialises the writers of one PostgreSQL database, as SQLite's write lock does. */
const POSTGRES_LOCK = 0x50657269;

/**
 * Opens the store of a folder, or makes it, and brings its schema up to date.
 *
 * @throws StoreError STORE_IS_NEWER, STORE_NOT_OURS: and what is there is left as it is; STORE_FOLDER, STORE_READ_ONLY,
 *   STORE_DISK_FULL, STORE_DAMAGED, STORE_BUSY
 */
export async function openStore(options: StoreOptions): Promise<Store> {
  const { folder, database } = options;
  const clock = options.clock ?? (() => new Date());
  const patienceMs = options.patienceMs ?? PATIENCE_MS;
  try {
    await makeFolder(folder);
    const entries = await readdir(folder);
    if (entries.length === 0 || entries.includes(DATABASE_NAME)) await chmod(folder, 0o700);
  } catch (error) {
    throw storeErrorFrom(error, `opening the folder ${folder}`);
  }
  const writer =
    database === undefined
      ? kyselyOn(await withPatience(patienceMs, async () => openWriter(folder)))
      : new Kysely<Tables>({ dialect: database.dialect });
  const dialectName = database?.dialectName ?? 'sqlite';
  try {
    const whole = { dialectName, writer, reader: writer };
    await inTransaction(whole, patienceMs, (db) => migrate(db, dialectName, clock().toISOString()));
    const files = await FileStore.open(folder);
    const reader = database === undefined ? kyselyOn(openReader(folder)) : writer;
    return new Store({ dialectName, writer, reader }, files, clock, options.by, patienceMs);
  } catch (error) {
    await writer.destroy();
    throw storeErrorFrom(error, `opening the store in ${folder}`);
  }
}

export class Store {
  readonly read: Reader;
  readonly #connections: Connections;
  readonly #files: FileStore;
  readonly #clock: () => Date;
  readonly #by: string | undefined;
  readonly #patienceMs: number;
  readonly #listeners = new Set<(event: ChangeEvent) => void>();
  /** set for the code inside a write, and for what it calls */
  readonly #inside = new AsyncLocalStorage<{ isOpen: boolean }>();
  #isClosed = false;

  /** Use `openStore`. */
  constructor(
    connections: Connections,
    files: FileStore,
    clock: () => Date,
    by: string | undefined,
    patienceMs: number,
  ) {
    this.#connections = connections;
    this.#files = files;
    this.#clock = clock;
    this.#by = by;
    this.#patienceMs = patienceMs;
    this.read = new Reader(connections.reader, () => this.#checkOutside('read the store'));
  }

  /**
   * One change: all of it is kept, durably, or nothing. Writers wait for each other; `work` sees only its transaction,
   * may be run again after a conflict, and must wait for nothing but the transaction's answers.
   *
   * @param work its result must be JSON (nothing counts as null)
   * @returns the result; for a repeated `changeId` the first result, and `work` is not run
   * @throws StoreError CHANGE_ID_TAKEN if the identifier belongs to a change for something else; WRITE_NESTED, NOT_JSON,
   *   RECORD_SERIES if records of two series were touched, STORE_BUSY, what `work` throws, what the rules between
   *   records refuse (RECORD_LINK, RECORD_IN_USE, FILE_UNKNOWN)
   */
  write<Result>(request: WriteRequest, work: (transaction: Transaction) => Promise<Result>): Promise<Result> {
    return this.#write(request, null, work);
  }

  /**
   * A new change that gives each record touched by an earlier one back what it was before. Undoing that change in turn
   * does the earlier one again.
   *
   * @throws StoreError CHANGE_UNKNOWN; CHANGE_NOT_UNDOABLE if later changes have touched the records; RECORD_IN_USE
   */
  async undo(request: { changeId: string; by?: string; ofChange: string }): Promise<UndoResult> {
    const { ofChange, ...rest } = request;
    const undone = await this.read.findChange(ofChange);
    if (undone === undefined) throw new StoreError('CHANGE_UNKNOWN', `There is no change ${ofChange}.`);
    return this.#write({ ...rest, what: `undo: ${undone.what}` }, ofChange, (transaction, db) =>
      undoChange(transaction, db, undone),
    );
  }

  /** Takes a file in; see FileStore.put. Add the claim with `addFile` in the write of the record that names it. */
  async putFile(
    source: Uint8Array | AsyncIterable<Uint8Array>,
    options: { maxBytes?: number } = {},
  ): Promise<FileClaim> {
    this.#checkOutside('take a file in');
    return this.#files.put(source, options);
  }

  /**
   * The bytes of a stored file, checked against its SHA-256.
   *
   * @throws StoreError FILE_UNKNOWN, FILE_MISSING, FILE_DAMAGED
   */
  async fileBytes(sha256: string): Promise<Uint8Array> {
    return this.#files.bytes(await this.#fileRow(sha256));
  }

  /** The bytes of a file that was put but that no row names yet. */
  claimedBytes(claim: FileClaim): Promise<Uint8Array> {
    return this.#files.bytes(claim);
  }

  /** The bytes of a stored file as they come, its length checked first. */
  async *fileStream(sha256: string): AsyncGenerator<Uint8Array> {
    yield* this.#files.stream(await this.#fileRow(sha256));
  }

  /** Reads every stored file again and compares it with its name. */
  async verifyFiles(): Promise<FileFaults> {
    return this.#files.verify(await this.read.files());
  }

  /** Takes away files that no row names and no live import claims. */
  sweepFiles(): Promise<SweepCount> {
    return this.#files.sweep(this.read, (work) =>
      inTransaction(this.#connections, this.#patienceMs, (db) => work(new Reader(db, () => {}))),
    );
  }

  /** Tells `listener` of each change this process commits. @returns what ends it */
  onChange(listener: (event: ChangeEvent) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  /** Waits for the writes under way, gives claims up and closes the files. */
  async close(): Promise<void> {
    if (this.#isClosed) return;
    this.#checkOutside('close the store');
    this.#isClosed = true;
    await this.#files.close();
    const { reader, writer } = this.#connections;
    if (reader !== writer) await reader.destroy();
    // the last one to close folds the log back into the database; that needs the right to write
    await writer.connection().execute(async () => {});
    await writer.destroy();
  }

  #checkOutside(doing: string): void {
    if (this.#isClosed) throw new StoreError('STORE_CLOSED', `The store is closed; it cannot ${doing}.`);
    if (this.#inside.getStore()?.isOpen) {
      throw new StoreError('WRITE_NESTED', `Code inside a write tried to ${doing}.`);
    }
  }

  async #fileRow(sha256: string): Promise<StoredFile> {
    const file = await this.read.findFile(sha256);
    if (file === undefined)
      throw new StoreError('FILE_UNKNOWN', `The store has no file ${JSON.stringify(sha256)}.`);
    return file;
  }

  async #write<Result>(
    request: WriteRequest,
    undoes: string | null,
    work: (transaction: Transaction, db: Kysely<Tables>) => Promise<Result>,
  ): Promise<Result> {
    this.#checkOutside('write');
    const { changeId, what } = request;
    const by = request.by ?? this.#by ?? '';
    checkId(changeId, 'change');
    jsonText({ by, what }, 'the description of a change');
    if (by.trim() === '' || what.trim() === '') {
      throw new StoreError(
        'RECORD_BODY',
        `A change by ${JSON.stringify(by)} for ${JSON.stringify(what)} says too little.`,
        {
          remedy: 'Say who writes, and what for.',
        },
      );
    }
    const doing = `writing the change ${JSON.stringify(what)}`;
    const outcome = await inTransaction(
      this.#connections,
      this.#patienceMs,
      async (db) => {
        const first = await db
          .selectFrom('changes')
          .select(['what', 'undoes', 'result'])
          .where('id', '=', changeId)
          .executeTakeFirst();
        if (first !== undefined)
          return { result: repeated(first, request, undoes), event: undefined, claims: [] };
        const at = this.#clock().toISOString();
        const scope = { isOpen: true };
        const transaction = new Transaction(db, { changeId, by, at }, this.#files, () => {
          if (!scope.isOpen) throw new StoreError('WRITE_OVER', `The write ${JSON.stringify(what)} is over.`);
        });
        try {
          const result = await this.#inside.run(scope, () => work(transaction, db));
          const resultText = jsonText(result, `the result of ${JSON.stringify(what)}`);
          const { touched, claims } = await transaction.finish();
          const seriesId = await seriesOfChange(transaction, request.seriesId, touched);
          const newest = await db
            .selectFrom('changes')
            .select((s) => s.fn.max('sequence').as('sequence'))
            .executeTakeFirst();
          const sequence = (newest?.sequence ?? 0) + 1;
          await db
            .insertInto('changes')
            .values({ sequence, id: changeId, at, by, what, series_id: seriesId, result: resultText, undoes })
            .execute();
          const records = touched.map(({ id, kind, revision, isDeleted }) => ({
            id,
            kind,
            revision,
            isDeleted,
          }));
          const event: ChangeEvent = { sequence, changeId, seriesId, at, by, what, undoes, records };
          return { result: JSON.parse(resultText) as Result, event, claims };
        } finally {
          scope.isOpen = false;
        }
      },
      doing,
    );
    for (const claim of outcome.claims) await claim.release();
    if (outcome.event !== undefined) for (const listener of [...this.#listeners]) listener(outcome.event);
    return outcome.result as Result;
  }
}

/** The first answer to a repeated change, if it is a repeat and not another change under the same identifier. */
function repeated(
  first: Pick<Tables['changes'], 'what' | 'undoes' | 'result'>,
  request: WriteRequest,
  undoes: string | null,
): unknown {
  if (first.what !== request.what || first.undoes !== undoes) {
    throw new StoreError(
      'CHANGE_ID_TAKEN',
      `The change ${request.changeId} was ${JSON.stringify(first.what)}; it is now asked for ${JSON.stringify(request.what)}.`,
      { data: { changeId: request.changeId, first: first.what, now: request.what } },
    );
  }
  return JSON.parse(first.result);
}

async function seriesOfChange(
  transaction: Transaction,
  stated: string | null | undefined,
  touched: readonly TouchedRecord[],
): Promise<string | null> {
  const series = new Set(touched.map(({ seriesId }) => seriesId).filter((id) => id !== null));
  if (stated !== undefined && stated !== null) series.add(stated);
  if (series.size > 1) {
    throw new StoreError('RECORD_SERIES', `One change touches the series ${[...series].join(' and ')}.`, {
      remedy: 'Make one change for each series, so that each can be undone alone.',
    });
  }
  const [id] = series;
  if (id === undefined) return null;
  if ((await transaction.find(id))?.kind !== 'series') {
    throw new StoreError('RECORD_UNKNOWN', `There is no series ${id}.`);
  }
  return id;
}

/** One transaction that holds the write lock from its beginning; tried again while others hold it. */
function inTransaction<Result>(
  { writer, dialectName }: Connections,
  patienceMs: number,
  work: (db: Kysely<Tables>) => Promise<Result>,
  doing = 'writing',
): Promise<Result> {
  return withPatience(patienceMs, async () => {
    // SQLite answers without ever waiting: many writes in a row would keep the process from all else
    await nextTurn();
    try {
      return await writer.transaction().execute(async (db) => {
        if (dialectName === 'postgres')
          await sql`select pg_advisory_xact_lock(${sql.lit(POSTGRES_LOCK)})`.execute(db);
        return work(db);
      });
    } catch (error) {
      throw storeErrorFrom(error, doing);
    }
  });
}

/** Tries again, after pauses of random length, while the store is busy; gives up when the patience is at its end. */
async function withPatience<Result>(patienceMs: number, attempt: () => Promise<Result>): Promise<Result> {
  const giveUpAt = Date.now() + patienceMs;
  for (let pauseMs = 2; ; pauseMs = Math.min(2 * pauseMs, LONGEST_PAUSE_MS)) {
    try {
      return await attempt();
    } catch (error) {
      const isBusy = error instanceof StoreError && error.code === 'STORE_BUSY';
      if (!isBusy || Date.now() >= giveUpAt) throw error;
    }
    await sleep(1 + Math.random() * pauseMs);
  }
}
