// Stores for tests: each on a folder of its own, taken away at the end.
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { newId } from '../../src/logbook/ids.ts';
import { openStore, type Store, type StoreOptions } from '../../src/logbook/store.ts';
import { seriesBody } from './bodies.ts';

const taken: string[] = [];
const opened: Store[] = [];

export async function newFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'peritect-store-'));
  taken.push(folder);
  return folder;
}

/** A store on a new folder unless one is named, written by "tester" unless said otherwise. */
export async function openedStore(options: Partial<StoreOptions> = {}): Promise<Store> {
  const store = await openStore({ folder: options.folder ?? (await newFolder()), by: 'tester', ...options });
  opened.push(store);
  return store;
}

/** Call after each test. */
export async function clearStores(): Promise<void> {
  for (const store of opened.splice(0)) await store.close();
  for (const folder of taken.splice(0)) await rm(folder, { recursive: true, force: true });
}

/** A change under a new identifier. */
export function change(what: string): { changeId: string; what: string } {
  return { changeId: newId(), what };
}

/** Adds a series. @returns its identifier */
export async function addedSeries(store: Store, label?: string): Promise<string> {
  const id = newId();
  await store.write(change('add a series'), (tx) =>
    tx.create('series', id, null, seriesBody(label)).then(() => null),
  );
  return id;
}

/** The error that a promise ends with. */
export async function errorOf(promise: Promise<unknown>): Promise<Error & { code?: string; data?: unknown }> {
  try {
    await promise;
  } catch (error) {
    if (error instanceof Error) return error;
    throw error;
  }
  throw new Error('It went well, and should not have.');
}
