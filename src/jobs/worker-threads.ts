// The engine beside the server: worker threads. What is stored and what is long runs here, never on the event loop.
import { Piscina } from 'piscina';
import { CarriedDomainError } from '../runner/browser.ts';
import { findComputationOrThrow } from '../runner/find-computation.ts';
import { nothingStored, type StoredResolver, withStored } from '../runner/prepare.ts';
import { hashOf } from '../runner/request-hash.ts';
import { isLong } from '../runner/run-here.ts';
import type { Runner, RunOptions } from '../runner/runner.ts';
import type { FileTasks } from './file-tasks.ts';
import type { Outcome } from './worker.ts';

/** Parts kept, so that a job asked again, or retried, does not compute them again. */
const CACHED_PARTS = 200;

export interface WorkerThreadRunner extends Runner {
  /** files read by the same threads */
  readonly files: FileTasks;
  close(): Promise<void>;
}

class PartCache {
  readonly #results = new Map<string, unknown>();

  get(key: string): unknown {
    const found = this.#results.get(key);
    if (found !== undefined) {
      this.#results.delete(key); // move to the young end
      this.#results.set(key, found);
    }
    return found;
  }

  set(key: string, result: unknown): void {
    this.#results.set(key, result);
    if (this.#results.size > CACHED_PARTS) this.#results.delete(this.#results.keys().next().value!);
  }
}

/** Works on so many items at once, in order; so a long plan leaves room in the queue for what others ask meanwhile. */
async function inLanes<Item, Result>(
  items: readonly Item[],
  lanes: number,
  work: (item: Item) => Promise<Result>,
): Promise<Result[]> {
  const results: Result[] = [];
  let next = 0;
  const lane = async (): Promise<void> => {
    while (next < items.length) {
      const i = next++;
      try {
        results[i] = await work(items[i]!);
      } catch (error) {
        next = items.length; // nothing more is begun
        throw error;
      }
    }
  };
  await Promise.all(Array.from({ length: Math.min(lanes, items.length) }, lane));
  return results;
}

/**
 * A runner over a pool of worker threads. Cancelling ends the worker that runs the part; the pool starts another.
 *
 * @param threads how many at most
 */
export function workerThreadRunner(
  threads: number,
  resolve: StoredResolver = nothingStored,
): WorkerThreadRunner {
  const pool = new Piscina({
    filename: new URL('./worker.ts', import.meta.url).href,
    maxThreads: threads,
    minThreads: 1,
    idleTimeout: 60_000,
  });
  const cache = new PartCache();
  const ask = async <T>(task: string, message: unknown, signal: AbortSignal | undefined): Promise<T> => {
    const outcome = (await pool.run(message, { name: task, signal: signal ?? null })) as Outcome<T>;
    if (!outcome.ok) throw new CarriedDomainError(outcome.error);
    return outcome.value;
  };
  return {
    async run(name: string, wireRequest: unknown, { signal, onProgress }: RunOptions = {}) {
      const entry = findComputationOrThrow(name);
      const request = await withStored(wireRequest, resolve);
      signal?.throwIfAborted();
      if (!isLong(entry)) return ask('runShort', { name, request }, signal);
      const parts = await ask<readonly unknown[]>('plan', { name, request }, signal);
      let done = 0;
      const results = await inLanes(parts, threads, async (part) => {
        const key = hashOf({ name, version: entry.version, part });
        let result = cache.get(key);
        if (result === undefined) {
          result = await ask('runPart', { name, part }, signal);
          cache.set(key, result);
        }
        onProgress?.(++done, parts.length);
        return result;
      });
      return ask('merge', { name, request, results }, signal);
    },
    files: {
      look: (bytes, fileName, reading) => pool.run({ bytes, fileName, reading }, { name: 'look' }),
      readCurve: (bytes, mapping) => pool.run({ bytes, mapping }, { name: 'readCurve' }),
      readTable: (bytes, mapping, usualRareEarth, reading) =>
        pool.run({ bytes, mapping, usualRareEarth, reading }, { name: 'readTable' }),
    },
    close: () => pool.destroy(),
  };
}
