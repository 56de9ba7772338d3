// The store that a command works on: opened only where one is, closed whatever happens.
import { existsSync } from 'node:fs';
import { availableParallelism } from 'node:os';
import { join } from 'node:path';
import { homeFolder, type OpenWorkbench, openWorkbench } from '../jobs/open-workbench.ts';
import { DATABASE_NAME } from '../logbook/sqlite.ts';
import { CliError } from './errors.ts';

const MOST_THREADS = 4;

export const threadCount = (): number => Math.min(MOST_THREADS, availableParallelism());

/** Does the folder hold a store? */
export const holdsStore = (folder: string): boolean => existsSync(join(folder, DATABASE_NAME));

/**
 * Opens the store of the home folder for `work`, and closes it after.
 *
 * @throws CliError STORE_NONE where there is none: a command that reads must not leave an empty one behind
 */
export async function withHome<Result>(work: (bench: OpenWorkbench) => Promise<Result>): Promise<Result> {
  const folder = homeFolder();
  if (!holdsStore(folder)) throw new CliError('STORE_NONE', `There is no store in ${folder}.`);
  const bench = await openWorkbench(folder, threadCount());
  try {
    return await work(bench);
  } finally {
    await bench.close();
  }
}
