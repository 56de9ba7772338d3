// Opens the store of a folder with somewhere to compute beside it, for the server and for a command alike.
import { homedir, userInfo } from 'node:os';
import { join } from 'node:path';
import { openStore } from '../logbook/store.ts';
import { readStored } from '../logbook/stored-blobs.ts';
import { Uploads } from './uploads.ts';
import type { Workbench } from './workbench.ts';
import { workerThreadRunner } from './worker-threads.ts';

/** Folder of the store: PERITECT_HOME, else `.peritect` in the user's own folder. */
export function homeFolder(): string {
  return process.env.PERITECT_HOME || join(homedir(), '.peritect');
}

export interface OpenWorkbench extends Workbench {
  close(): Promise<void>;
}

/** Who writes: the account, or its number where the machine has no name for it. */
function accountName(): string {
  try {
    return userInfo().username;
  } catch {
    return `account ${process.getuid?.() ?? 'without a name'}`;
  }
}

/** @param threads worker threads at most */
export async function openWorkbench(folder: string, threads: number): Promise<OpenWorkbench> {
  const store = await openStore({ folder, by: accountName() });
  const runner = workerThreadRunner(threads, (reference) => readStored(store, reference));
  return {
    store,
    runner,
    files: runner.files,
    uploads: new Uploads(store),
    async close() {
      await runner.close();
      await store.close();
    },
  };
}
