// Several processes on one store folder at once.
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { newId } from '../../src/logbook/ids.ts';
import { lotBody } from './bodies.ts';
import { ids } from './import-of-files.ts';
import { integrityOf } from './integrity.ts';
import { addedSeries, change, clearStores, newFolder, openedStore } from './opened-store.ts';

afterEach(clearStores);

const IMPORT = join(import.meta.dirname, 'import-of-files.ts');
const SEED = 3;

function importing(folder: string, first: number, count: number): Promise<string[]> {
  const child = spawn(process.execPath, [IMPORT, folder, String(first), String(count), String(SEED)]);
  let output = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8').on('data', (text: string) => {
      output += text;
    });
  }
  return new Promise((resolve, reject) => {
    child.on('close', (code) =>
      code === 0 ? resolve(output.trim().split('\n')) : reject(new Error(output)),
    );
  });
}

describe('two processes and this one that write to one folder at once', () => {
  it('lose nothing, while a sweep goes on all the time', async () => {
    const folder = await newFolder();
    const store = await openedStore({ folder });
    const seriesId = await addedSeries(store, 'of this process');
    let isOver = false;
    const imports = Promise.all([importing(folder, 0, 60), importing(folder, 60, 60)]).finally(() => {
      isOver = true;
    });
    const ownIds: string[] = [];
    const writing = (async () => {
      while (!isOver) {
        const id = newId();
        await store.write(change('add a lot'), (tx) =>
          tx.create('lot', id, seriesId, lotBody()).then(() => null),
        );
        ownIds.push(id);
      }
    })();
    let sweeps = 0;
    const sweeping = (async () => {
      while (!isOver) {
        expect((await store.sweepFiles()).files).toBe(0); // every file is named or claimed at every moment
        sweeps++;
      }
    })();
    const acknowledged = await imports;
    await Promise.all([writing, sweeping]);

    expect(acknowledged.map((lines) => lines.length)).toEqual([61, 61]);
    expect(sweeps).toBeGreaterThan(3);
    const measurements = await store.read.list('measurement', { seriesId: ids.series(SEED) });
    expect(new Set(measurements.map(({ id }) => id))).toEqual(
      new Set(Array.from({ length: 120 }, (_, number) => ids.measurement(number, SEED))),
    );
    expect((await store.read.list('lot')).map(({ id }) => id).sort()).toEqual(ownIds.sort());
    const changes = await store.read.changesSince(0, 10_000);
    expect(changes).toHaveLength(1 + 1 + 120 + ownIds.length); // the beginning of the import happened once
    await store.close();
    expect(integrityOf(folder)).toMatchObject({
      faults: [],
      files: 120,
      filesWithoutRow: 0,
      leftovers: 0,
      claims: 0,
    });
  });

  it('open a new folder at the same moment, and both find the same schema', async () => {
    const folder = await newFolder();
    const outputs = await Promise.all([
      importing(folder, 0, 2),
      importing(folder, 2, 2),
      importing(folder, 4, 2),
    ]);
    expect(outputs.map((lines) => lines.at(-1))).toEqual(['done', 'done', 'done']);
    expect(integrityOf(folder)).toMatchObject({ faults: [], files: 6, records: 3 + 6 });
  });
});
