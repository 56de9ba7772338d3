// Runs an entry in the thread that asks: inside a worker, on the command line, in tests.
import type { Computation } from '../computations/computation.ts';
import { findComputationOrThrow } from './find-computation.ts';
import { nothingStored, parseRequest, type StoredResolver, withStored } from './prepare.ts';
import type { Runner, RunOptions } from './runner.ts';
import { toWire } from './wire.ts';

type LongEntry = Extract<Computation, { plan: unknown }>;

/** Has the entry a plan, or one `run`? */
export function isLong(entry: Computation): entry is LongEntry {
  return 'plan' in entry;
}

const letOthersRun = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

/** A runner that computes in its own thread; a long entry gives way between its parts, so that it can be cancelled. */
export function runnerHere(resolve: StoredResolver = nothingStored): Runner {
  return {
    async run(name: string, wireRequest: unknown, { signal, onProgress }: RunOptions = {}) {
      const entry = findComputationOrThrow(name);
      const request = parseRequest(entry, await withStored(wireRequest, resolve));
      signal?.throwIfAborted();
      if (!isLong(entry)) return toWire(entry.run(request));
      const parts = entry.plan(request);
      const results: unknown[] = [];
      for (const part of parts) {
        results.push(entry.runPart(part));
        onProgress?.(results.length, parts.length);
        await letOthersRun();
        signal?.throwIfAborted();
      }
      return toWire(entry.merge(request, results));
    },
  };
}
