import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { newId } from '../../src/logbook/ids.ts';
import { seededRandom } from '../../src/science/numerics/seeded-random.ts';
import { addedPiece, bytesOfFile } from '../jobs/bench.ts';
import { clearStores } from '../logbook/opened-store.ts';
import { type OpenedApp, OWN_HOST, openedApp } from '../server/opened-app.ts';
import { resistanceFile } from '../simulate/instrument-files.ts';
import { damaged, damagedJson } from './damage.ts';
import { type RouteTarget, routeTargets } from './routes.targets.ts';

const CASES_PER_TARGET = 36;
const SLOWEST_MS = 4000;
const PAST_FILMS = 'Film,Composition,T (degC),Thickness (nm)\nA,1:2:3,790,300\nB,1:2:3.5,800,250\n';

let opened: OpenedApp;
let targets: RouteTarget[];
beforeAll(async () => {
  opened = await openedApp();
  const { app, bench } = opened;
  const piece = await addedPiece(bench.store);
  const file = resistanceFile({ pieceLabel: 'P1', midpointK: 90, widthK: 1, resistanceAt300Ohm: 12 });
  const sent = async (body: Uint8Array): Promise<string> =>
    (await opened.ask('POST', '/api/files', { body })).json().sha256;
  const sha256 = await sent(bytesOfFile(file));
  const look = { sha256, fileName: file.name, seriesId: piece.seriesId };
  const { mapping, settings } = (await opened.ask('POST', '/api/imports/look', { body: look })).json();
  const measurementId = newId();
  const order = {
    ...{ id: measurementId, changeId: newId(), seriesId: piece.seriesId, pieceId: piece.pieceId },
    ...{
      stateTreatmentId: null,
      fileSha256: sha256,
      fileName: file.name,
      mapping,
      settings,
      isRemembered: false,
    },
  };
  expect((await opened.ask('POST', '/api/imports', { body: order })).statusCode).toBe(201);
  const tableSha256 = await sent(new TextEncoder().encode(PAST_FILMS));
  targets = routeTargets(app, OWN_HOST, { ...piece, measurementId, sha256, tableSha256, newId });
});
afterAll(async () => {
  await opened.app.close();
  await clearStores();
});

describe('routes sent damaged bodies', () => {
  it('never answer with a fault, always in words, and soon; and the series can still be read', async () => {
    const random = seededRandom(20310402);
    let slowest = { ms: 0, name: '' };
    let count = 0;
    for (const { name, seedInputs, run } of targets) {
      for (let i = 0; i < CASES_PER_TARGET; i++) {
        const whole = seedInputs[i % seedInputs.length]!;
        const isJson = name.startsWith('/api/');
        const bytes =
          i < seedInputs.length
            ? whole
            : isJson && i % 3 !== 0
              ? new TextEncoder().encode(damagedJson(new TextDecoder().decode(whole), random))
              : damaged(seedInputs, random);
        const started = performance.now();
        try {
          await run(bytes);
        } catch (error) {
          throw new Error(`case ${i} of ${name}: ${new TextDecoder().decode(bytes).slice(0, 2000)}`, {
            cause: error,
          });
        }
        const ms = performance.now() - started;
        if (ms > slowest.ms) slowest = { ms, name };
        count++;
      }
    }
    expect(count).toBeGreaterThan(900);
    expect(slowest.ms, slowest.name).toBeLessThan(SLOWEST_MS);
    for (const { id } of (await opened.ask('GET', '/api/series')).json() as { id: string }[])
      expect((await opened.ask('GET', `/api/series/${id}`)).statusCode).toBe(200);
  }, 300_000);
});
