import { request as httpRequest } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { CATALOGUE } from '../../src/computations/catalogue.ts';
import { MAX_RUNNING_JOBS } from '../../src/jobs/job-list.ts';
import type { Workbench } from '../../src/jobs/workbench.ts';
import { type WorkerThreadRunner, workerThreadRunner } from '../../src/jobs/worker-threads.ts';
import { runnerHere } from '../../src/runner/run-here.ts';
import type { Runner } from '../../src/runner/runner.ts';
import { buildApp } from '../../src/server/app.ts';
import { benchHere } from '../jobs/bench.ts';
import { clearStores } from '../logbook/opened-store.ts';
import { type OpenedApp, openedApp, problemIn } from './opened-app.ts';

/** Some seconds of work in eleven parts. */
const LONG = { rareEarth: 'Y', temperatureC: 900, po2Atm: 0.1, divisions: 200, members: 20 };

let threads: WorkerThreadRunner;
let bench: Workbench;
let opened: OpenedApp;
beforeAll(async () => {
  threads = workerThreadRunner(2);
  bench = { ...(await benchHere()), runner: threads };
  opened = await openedApp({ bench });
});
afterAll(async () => {
  await opened.app.close();
  await threads.close();
  await clearStores();
});

describe('the catalogue over HTTP', () => {
  it('is listed whole, each entry with its version', async () => {
    const list = (await opened.ask('GET', '/api/computations')).json() as { name: string }[];
    expect(list.map(({ name }) => name)).toEqual(CATALOGUE.map(({ name }) => name));
    expect(list[0]).toMatchObject({
      version: expect.any(Number),
      effectiveVersion: expect.stringMatching(/^[0-9a-f]{16}$/),
    });
  });

  it.each(CATALOGUE.map((entry) => [entry.name, entry] as const))(
    'answers the example of %s as the entry itself does',
    async (name, { example }) => {
      const response = await opened.ask('POST', `/api/computations/${name}`, { body: example });
      expect(response.statusCode).toBe(200);
      expect(response.json()).toEqual(await runnerHere().run(name, example));
      const schema = (await opened.ask('GET', `/api/computations/${name}/schema`)).json();
      expect(schema).toMatchObject({ request: expect.any(Object), response: expect.any(Object), example });
    },
  );

  it('refuses what physics or the schema refuses with a code, a sentence that shows the value, and a remedy', async () => {
    const wrong = { rareEarth: 'Fe', temperatureC: 'hot', po2Atm: 0.1, divisions: 20 };
    const refused = await opened.ask('POST', '/api/computations/equilibrium.fields', { body: wrong });
    expect(problemIn(refused)).toMatchObject({
      status: 422,
      code: 'REQUEST_INVALID',
      sentence: expect.stringMatching(/rareEarth.*Fe.*temperatureC.*hot/s),
    });
  });

  it('names the nearest entries where a name is mistyped', async () => {
    const unknown = await opened.ask('POST', '/api/computations/mater.formula', { body: {} });
    expect(problemIn(unknown)).toMatchObject({
      status: 404,
      code: 'COMPUTATION_UNKNOWN',
      sentence: expect.stringContaining('matter.formula'),
    });
    expect(problemIn(await opened.ask('GET', '/api/computations/mater.formula/schema')).status).toBe(404);
  });

  it.each([
    ['no body at all', undefined, {}],
    ['bytes', new Uint8Array([1, 2, 3]), {}],
    ['plain text', 'text', { 'content-type': 'text/plain' }],
    ['a number', 3, {}],
    ['null', null, {}],
  ])('refuses %s where a request should be', async (_, body, headers) => {
    const refused = problemIn(
      await opened.ask('POST', '/api/computations/matter.formula', { body, headers }),
    );
    expect([400, 415, 422]).toContain(refused.status);
  });

  it('refuses a stored table that is not there by its name', async () => {
    const blob = 'a'.repeat(64);
    const body = { temperatureK: { blob, column: 0 }, resistanceOhm: { blob, column: 1 } };
    const refused = problemIn(await opened.ask('POST', '/api/computations/transition.resistive', { body }));
    expect(refused.sentence).toContain(blob);
    expect(refused.status).toBeLessThan(500);
  });
});

interface JobSaid {
  id: string;
  state: string;
  done: number;
  total: number;
}

describe('a long computation', () => {
  it('that is not done soon becomes a job, told of part by part as events, whose answer is kept', async () => {
    const app = await buildApp({
      bench,
      clock: () => new Date(),
      pagesFolder: null,
      port: () => port,
      shortWaitMs: 1,
    });
    let port = 0;
    await app.listen({ host: '127.0.0.1', port: 0 });
    ({ port } = app.server.address() as AddressInfo);
    const url = `http://127.0.0.1:${port}`;
    try {
      const started = await fetch(`${url}/api/computations/equilibrium.fields`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'x-peritect': '1' },
        body: JSON.stringify({ ...LONG, members: 3 }),
      });
      expect(started.status).toBe(202);
      const job = (await started.json()) as JobSaid;
      expect(started.headers.get('location')).toBe(`/api/jobs/${job.id}`);
      const events = await fetch(`${url}/api/jobs/${job.id}/events`);
      expect(events.headers.get('content-type')).toContain('text/event-stream');
      expect(events.headers.get('x-content-type-options')).toBe('nosniff');
      const said = (await events.text())
        .split('\n\n')
        .filter((each) => each.startsWith('data: '))
        .map((each) => JSON.parse(each.slice(6)) as JobSaid);
      const steps = said
        .filter(({ state, total }) => state === 'running' && total > 0)
        .map(({ done }) => done);
      expect(steps.length).toBeGreaterThan(3);
      expect(steps).toEqual([...steps].sort((a, b) => a - b));
      expect(said.at(-1)).toMatchObject({ state: 'done', response: { re: expect.any(Array) } });
      const late = await fetch(`${url}/api/jobs/${job.id}/events`); // who asks late is told the end at once
      expect(await late.text()).toContain('"state":"done"');
      expect(await (await fetch(`${url}/api/jobs/${job.id}`)).json()).toEqual(said.at(-1));
    } finally {
      await app.close();
    }
  });

  it('is cancelled in the middle of a part, and its worker is free again', async () => {
    const patient = await openedApp({ bench, shortWaitMs: 1 });
    const started = await patient.ask('POST', '/api/computations/equilibrium.fields', {
      body: { ...LONG, temperatureC: 910, members: 200 },
    });
    const { id } = started.json() as JobSaid;
    const at = performance.now();
    const cancelled = await patient.ask('DELETE', `/api/jobs/${id}`);
    expect(cancelled.json()).toMatchObject({ id, state: 'cancelled' });
    expect(performance.now() - at).toBeLessThan(5000);
    const [{ name, example }] = CATALOGUE as never as [{ name: string; example: unknown }];
    const next = await opened.ask('POST', `/api/computations/${name}`, { body: example });
    expect(next.statusCode).toBe(200);
    await patient.app.close();
  });

  it('that is told of to somebody who goes away stops telling, and the server stays up', async () => {
    const app = await buildApp({
      bench,
      clock: () => new Date(),
      pagesFolder: null,
      port: () => port,
      shortWaitMs: 1,
    });
    let port = 0;
    await app.listen({ host: '127.0.0.1', port: 0 });
    ({ port } = app.server.address() as AddressInfo);
    const headers = { 'content-type': 'application/json', 'x-peritect': '1' };
    const body = JSON.stringify({ ...LONG, temperatureC: 920, members: 60 });
    const url = `http://127.0.0.1:${port}/api/computations/equilibrium.fields`;
    const { id } = (await (await fetch(url, { method: 'POST', headers, body })).json()) as JobSaid;
    await new Promise<void>((resolve) => {
      const listening = httpRequest({ port, path: `/api/jobs/${id}/events` }, (answer) => {
        answer.once('data', () => {
          answer.destroy();
          resolve();
        });
        answer.on('error', () => {});
      });
      listening.on('error', () => {});
      listening.end();
    });
    const at = performance.now();
    await app.close(); // ends its jobs, and so whoever waits for one
    expect(performance.now() - at).toBeLessThan(2000);
  });

  it('is refused in words where fifty are running', async () => {
    const forever: Runner = {
      run: (_name, _request, { signal } = {}) =>
        new Promise((_, reject) => signal?.addEventListener('abort', () => reject(signal.reason))),
    };
    const busy = await openedApp({ bench: { ...bench, runner: forever }, shortWaitMs: 1 });
    const ask = () => busy.ask('POST', '/api/computations/equilibrium.fields', { body: LONG });
    for (let i = 0; i < MAX_RUNNING_JOBS; i++) expect((await ask()).statusCode).toBe(202);
    expect(problemIn(await ask())).toMatchObject({ status: 429, code: 'TOO_MANY_JOBS' });
    await busy.app.close();
  });

  it('that is unknown is refused with 404', async () => {
    for (const [method, path] of [
      ['GET', ''],
      ['DELETE', ''],
      ['GET', '/events'],
    ] as const) {
      const refused = await opened.ask(method, `/api/jobs/no-such-job${path}`);
      expect(problemIn(refused)).toMatchObject({ status: 404, code: 'JOB_UNKNOWN' });
    }
  });

  it('that fails says why as a problem', async () => {
    const failing: Runner = {
      run: () => new Promise((_, reject) => setTimeout(() => reject(new RangeError('x')), 50)),
    };
    const poor = await openedApp({ bench: { ...bench, runner: failing }, shortWaitMs: 1 });
    const { id } = (
      await poor.ask('POST', '/api/computations/equilibrium.fields', { body: LONG })
    ).json() as JobSaid;
    await poor.ask('GET', `/api/jobs/${id}/events`);
    const job = (await poor.ask('GET', `/api/jobs/${id}`)).json();
    expect(job).toMatchObject({ state: 'failed', problem: { code: 'FAULT' } });
    await poor.app.close();
  });
});
