import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { CATALOGUE } from '../../src/computations/catalogue.ts';
import { lookAtBytes, readCurveBytes, readTableBytes } from '../../src/jobs/file-tasks.ts';
import { type WorkerThreadRunner, workerThreadRunner } from '../../src/jobs/worker-threads.ts';
import { runnerHere } from '../../src/runner/run-here.ts';
import { resistanceFile } from '../simulate/instrument-files.ts';
import { bytesOfFile } from './bench.ts';

/** Four parts. */
const FIELDS = { rareEarth: 'Y', temperatureC: 900, po2Atm: 0.1, divisions: 200, members: 4 };
/** Two hundred parts of seconds each. */
const SLOW = {
  cations: { Y: 1, Ba: 3, Cu: 6 },
  temperatureC: [800, 1050],
  po2Atm: [1e-4, 1],
  rows: 200,
  columns: 200,
};

let threads: WorkerThreadRunner;
beforeAll(() => {
  threads = workerThreadRunner(2);
});
afterAll(() => threads.close());

/** Bit for bit: JSON writes each number with the digits that give its bits back. */
const bitsOf = (value: unknown): string => JSON.stringify(value);

describe('a computation on worker threads', () => {
  it.each(CATALOGUE.map(({ name, example }) => [name, example] as const))(
    'of %s answers bit for bit as in one thread',
    async (name, example) => {
      expect(bitsOf(await threads.run(name, example))).toBe(bitsOf(await runnerHere().run(name, example)));
    },
  );

  it('in many parts answers bit for bit as one after the other, counting each part once', async () => {
    const steps: [number, number][] = [];
    const here: [number, number][] = [];
    const onProgress = (done: number, total: number) => void steps.push([done, total]);
    const parallel = await threads.run('equilibrium.fields', FIELDS, { onProgress });
    const serial = await runnerHere().run('equilibrium.fields', FIELDS, {
      onProgress: (done, total) => void here.push([done, total]),
    });
    expect(bitsOf(parallel)).toBe(bitsOf(serial));
    expect(steps).toEqual(Array.from({ length: 4 }, (_, i) => [i + 1, 4]));
    expect(here).toEqual(steps);
  });

  it('asked again takes its parts from the cache', async () => {
    const first = await threads.run('equilibrium.fields', { ...FIELDS, members: 30 });
    const at = performance.now();
    const steps: number[] = [];
    const again = await threads.run(
      'equilibrium.fields',
      { ...FIELDS, members: 30 },
      { onProgress: (done) => void steps.push(performance.now() - at + 0 * done) },
    );
    expect(bitsOf(again)).toBe(bitsOf(first));
    // all parts are there before a worker could have done one
    expect(steps.at(-1)! - steps[0]!).toBeLessThan(50);
  });

  it('is cancelled between its parts in one thread', async () => {
    const controller = new AbortController();
    let parts = 0;
    const run = runnerHere().run('equilibrium.fields', FIELDS, {
      signal: controller.signal,
      onProgress: () => {
        if (++parts === 2) controller.abort();
      },
    });
    await expect(run).rejects.toMatchObject({ name: 'AbortError' });
    expect(parts).toBe(2);
  });

  it('is cancelled in the middle of a part, while what another asked is answered', async () => {
    const controller = new AbortController();
    const run = threads.run('equilibrium.window', SLOW, { signal: controller.signal });
    const other = threads.run(
      'matter.formula',
      CATALOGUE.find(({ name }) => name === 'matter.formula')!.example,
    );
    setTimeout(() => controller.abort(), 150);
    await expect(run).rejects.toMatchObject({ name: 'AbortError' });
    expect(await other).toBeTypeOf('object');
    await expect(threads.run('equilibrium.window', SLOW, { signal: AbortSignal.abort() })).rejects.toThrow();
  });

  it('lets a short request through between the parts of a long one', async () => {
    let isLongDone = false;
    const long = threads.run('equilibrium.fields', { ...FIELDS, temperatureC: 940, members: 60 }).then(() => {
      isLongDone = true;
    });
    await new Promise((resolve) => setTimeout(resolve, 50));
    await threads.run('matter.formula', CATALOGUE.find(({ name }) => name === 'matter.formula')!.example);
    expect(isLongDone).toBe(false);
    await long;
  });

  it('that is refused carries code, sentence and remedy over the thread, and warns of nothing', async () => {
    const warned = vi.spyOn(process, 'emitWarning');
    const refused = threads.run('equilibrium.fields', { ...FIELDS, temperatureC: 1e9 });
    await expect(refused).rejects.toMatchObject({
      code: expect.stringMatching(/^EQUILIBRIUM_/),
      remedy: expect.any(String),
    });
    await expect(threads.run('equilibrium.fields', null)).rejects.toMatchObject({ code: 'REQUEST_INVALID' });
    await expect(threads.run('no.such', {})).rejects.toMatchObject({ code: 'COMPUTATION_UNKNOWN' });
    const controller = new AbortController();
    await threads.run('equilibrium.fields', { ...FIELDS, temperatureC: 950 }, { signal: controller.signal });
    expect(warned).not.toHaveBeenCalled();
    warned.mockRestore();
  });

  it('reads files as in one thread', async () => {
    const bytes = bytesOfFile(
      resistanceFile({ pieceLabel: 'P', midpointK: 90, widthK: 1, resistanceAt300Ohm: 10 }),
    );
    const here = lookAtBytes(bytes, 'P.txt');
    expect(await threads.files.look(bytes, 'P.txt')).toEqual(here);
    const { mapping } = here as Extract<typeof here, { ok: true }>;
    expect(await threads.files.readCurve(bytes, mapping!)).toEqual(readCurveBytes(bytes, mapping!));
    const table = new TextEncoder().encode('Film,Composition,T (degC)\nA,1:2:3,790\nB,1:2:3.5,\n');
    const films = await threads.files.readTable(table, null, 'Y');
    expect(films).toEqual(readTableBytes(table, null, 'Y'));
    expect(films).toMatchObject({ ok: true, rowCount: 2 });
    const answered = await threads.files.readTable(table, null, 'Y', { delimiter: 'tab' });
    expect(answered).toEqual(readTableBytes(table, null, 'Y', { delimiter: 'tab' }));
    expect(answered.ok).toBe(false);
  });
});
