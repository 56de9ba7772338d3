// Raw files, kept once under their SHA-256: files/ab/cdef... in the store folder. A file is put and claimed first; its
// row is written with the record that needs it. What is put is never altered.
import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { readdir, readFile, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { aboutOf, claimFile, isOwnerAlive, liveClaims, ownedName } from './claims.ts';
import { makeFolder, moveDurably, writeSynced } from './durable.ts';
import { StoreError, storeErrorFrom } from './errors.ts';
import type { Reader, StoredFile } from './reader.ts';

/** Largest file taken unless the caller says otherwise, bytes. */
export const MAX_FILE_BYTES = 1 << 30;

/** Files swept under one hold of the write lock, so that writers do not wait long. */
const SWEPT_AT_ONCE = 20;

const SHA256 = /^[0-9a-f]{64}$/;

/** A file that is durably there and kept for this process, whether or not a row names it. */
export interface FileClaim {
  readonly sha256: string;
  readonly bytes: number;
  /** Gives the claim up. A committed write does so for the claims it used; call it when an import is given up. */
  release(): Promise<void>;
}

export interface FileFaults {
  readonly checked: number;
  /** rows whose file is not there */
  readonly missing: readonly string[];
  /** rows whose file has other bytes than its name says */
  readonly damaged: readonly string[];
  /** files that no row names: imports under way, or left for `sweep` */
  readonly withoutRow: readonly string[];
}

export interface SweepCount {
  /** files that no row named and no live import claimed */
  readonly files: number;
  /** half-written files of processes that are gone */
  readonly leftovers: number;
}

/** Runs work while nobody can commit a row; hands it the rows as they stand. */
type WhileNobodyWrites = <Result>(work: (rows: Reader) => Promise<Result>) => Promise<Result>;

export class FileStore {
  readonly #folder: string;
  readonly #incoming: string;
  readonly #claims: string;
  readonly #held = new Set<string>();

  private constructor(folder: string) {
    this.#folder = folder;
    this.#incoming = join(folder, 'incoming');
    this.#claims = join(folder, 'claims');
  }

  /** @param storeFolder the store's folder; its files stand in `files` */
  static async open(storeFolder: string): Promise<FileStore> {
    const files = new FileStore(join(storeFolder, 'files'));
    await makeFolder(files.#incoming);
    await makeFolder(files.#claims);
    return files;
  }

  /** Where a file stands, there or not. */
  pathOf(sha256: string): string {
    if (!SHA256.test(sha256)) {
      throw new StoreError(
        'FILE_UNKNOWN',
        `${JSON.stringify(sha256)} is no SHA-256 in small hexadecimal letters.`,
      );
    }
    return join(this.#folder, sha256.slice(0, 2), sha256.slice(2));
  }

  /**
   * Takes a file in: when it answers, the bytes are durably on the disk, under their SHA-256, and claimed.
   *
   * @param source  the bytes, whole or as they come
   * @param options maxBytes: refuse more, 1 GiB if left out
   * @throws StoreError FILE_TOO_LARGE, STORE_DISK_FULL, STORE_READ_ONLY: and nothing is left behind
   */
  async put(
    source: Uint8Array | AsyncIterable<Uint8Array>,
    options: { maxBytes?: number } = {},
  ): Promise<FileClaim> {
    const maxBytes = options.maxBytes ?? MAX_FILE_BYTES;
    const hash = createHash('sha256');
    let seen = 0;
    const temporary = join(this.#incoming, ownedName('incoming'));
    const onChunk = (chunk: Uint8Array) => {
      seen += chunk.length;
      if (seen > maxBytes) {
        throw new StoreError('FILE_TOO_LARGE', `The file has more than ${maxBytes} bytes.`, {
          data: { maxBytes },
        });
      }
      hash.update(chunk);
    };
    let claimPath: string | undefined;
    try {
      const bytes = await writeSynced(temporary, source instanceof Uint8Array ? [source] : source, onChunk);
      const sha256 = hash.digest('hex');
      // Claim first, then name: `sweep` looks at the claims again after it has taken a file aside. The name is written
      // even if it is there already, so that nothing rests on a file that a sweep has in its hands.
      claimPath = await claimFile(this.#claims, sha256);
      this.#held.add(claimPath);
      await moveDurably(temporary, this.pathOf(sha256));
      return { sha256, bytes, release: this.#releaser(claimPath) };
    } catch (error) {
      await rm(temporary, { force: true });
      if (claimPath !== undefined) await this.#releaser(claimPath)();
      throw storeErrorFrom(error, 'taking a file in');
    }
  }

  /** @throws StoreError FILE_MISSING, FILE_DAMAGED if the file is not there with that many bytes */
  async checkPresent(sha256: string, bytes: number): Promise<void> {
    let found: number;
    try {
      found = (await stat(this.pathOf(sha256))).size;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'ENOENT')
        throw storeErrorFrom(error, `looking for file ${sha256}`);
      throw new StoreError('FILE_MISSING', `The file ${sha256} is not in the store folder.`, {
        data: { sha256 },
      });
    }
    if (found !== bytes) {
      throw new StoreError(
        'FILE_DAMAGED',
        `The file ${sha256} has ${found} bytes and should have ${bytes}.`,
        {
          data: { sha256, bytes, found },
        },
      );
    }
  }

  /**
   * The bytes of a file, checked against its name.
   *
   * @throws StoreError FILE_MISSING, FILE_DAMAGED
   */
  async bytes(file: Pick<StoredFile, 'sha256' | 'bytes'>): Promise<Uint8Array> {
    await this.checkPresent(file.sha256, file.bytes);
    const content = await readFile(this.pathOf(file.sha256));
    const sha256 = createHash('sha256').update(content).digest('hex');
    if (sha256 !== file.sha256) {
      throw new StoreError('FILE_DAMAGED', `The file ${file.sha256} now has the SHA-256 ${sha256}.`, {
        data: { sha256: file.sha256, found: sha256 },
      });
    }
    return content;
  }

  /** The bytes of a file as they come; its length is checked before the first. For sending on, not for keeping. */
  async *stream(file: Pick<StoredFile, 'sha256' | 'bytes'>): AsyncGenerator<Uint8Array> {
    await this.checkPresent(file.sha256, file.bytes);
    yield* createReadStream(this.pathOf(file.sha256));
  }

  /** Reads every file again and compares it with its name. */
  async verify(rows: readonly StoredFile[]): Promise<FileFaults> {
    const missing: string[] = [];
    const damaged: string[] = [];
    for (const row of rows) {
      try {
        await this.checkPresent(row.sha256, row.bytes);
        const hash = createHash('sha256');
        for await (const chunk of createReadStream(this.pathOf(row.sha256))) hash.update(chunk);
        if (hash.digest('hex') !== row.sha256) damaged.push(row.sha256);
      } catch (error) {
        if (!(error instanceof StoreError)) throw storeErrorFrom(error, `reading file ${row.sha256}`);
        (error.code === 'FILE_MISSING' ? missing : damaged).push(row.sha256);
      }
    }
    const named = new Set(rows.map(({ sha256 }) => sha256));
    const withoutRow = (await this.#allFiles()).filter((sha256) => !named.has(sha256));
    return { checked: rows.length, missing, damaged, withoutRow };
  }

  /**
   * Takes away the files that no row names and no live import claims, and what dead processes left half-written.
   * Safe beside imports in this and in other processes: see docs/store.md.
   *
   * @param rows              the rows of files, read without a lock: a first guess
   * @param whileNobodyWrites holds the write lock of the database around its work
   */
  async sweep(rows: Reader, whileNobodyWrites: WhileNobodyWrites): Promise<SweepCount> {
    let leftovers = 0;
    const taken: string[] = [];
    for (const name of await readdir(this.#incoming)) {
      if (SHA256.test(aboutOf(name))) taken.push(aboutOf(name));
      else if (!(await isOwnerAlive(this.#incoming, name))) {
        await rm(join(this.#incoming, name), { force: true });
        leftovers++;
      }
    }
    const named = new Set((await rows.files()).map(({ sha256 }) => sha256));
    const claimed = await liveClaims(this.#claims);
    const loose = (await this.#allFiles()).filter((sha256) => !named.has(sha256) && !claimed.has(sha256));
    const suspects = [...new Set([...taken, ...loose])];
    let files = 0;
    for (let i = 0; i < suspects.length; i += SWEPT_AT_ONCE) {
      const portion = suspects.slice(i, i + SWEPT_AT_ONCE);
      files += await whileNobodyWrites((rowsNow) => this.#sweepSome(portion, rowsNow));
    }
    return { files, leftovers };
  }

  /** Under the write lock, so that no other sweep is at work and no row can be committed. */
  async #sweepSome(suspects: readonly string[], rows: Reader): Promise<number> {
    const named = new Set((await rows.files(suspects)).map(({ sha256 }) => sha256));
    let removed = 0;
    for (const sha256 of suspects) {
      // first what a sweep that died has taken aside
      for (const name of await readdir(this.#incoming)) {
        if (aboutOf(name) === sha256) await this.#move(join(this.#incoming, name), this.pathOf(sha256));
      }
      if (named.has(sha256) || (await liveClaims(this.#claims)).has(sha256)) continue;
      const aside = join(this.#incoming, ownedName(sha256));
      if (!(await this.#move(this.pathOf(sha256), aside))) continue;
      // an import that claims from here on writes the name anew; one that has claimed meanwhile gets its file back
      if ((await liveClaims(this.#claims)).has(sha256)) await this.#move(aside, this.pathOf(sha256));
      else {
        await rm(aside, { force: true });
        removed++;
      }
    }
    return removed;
  }

  /** False: there was nothing to move. */
  async #move(from: string, to: string): Promise<boolean> {
    try {
      await moveDurably(from, to);
      return true;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code === 'ENOENT') return false;
      throw storeErrorFrom(error, `sweeping ${from}`);
    }
  }

  /** Gives up every claim of this store that still stands. */
  async close(): Promise<void> {
    for (const path of [...this.#held]) await this.#releaser(path)();
  }

  #releaser(claimPath: string): () => Promise<void> {
    return async () => {
      this.#held.delete(claimPath);
      await rm(claimPath, { force: true });
    };
  }

  async #allFiles(): Promise<string[]> {
    const found: string[] = [];
    for (const start of await readdir(this.#folder)) {
      if (!/^[0-9a-f]{2}$/.test(start)) continue;
      for (const rest of await readdir(join(this.#folder, start))) found.push(start + rest);
    }
    return found.filter((sha256) => SHA256.test(sha256)).sort();
  }
}
