import { afterEach, describe, expect, it } from 'vitest';
import { type DescribedSeries, describedSeriesId, isLoaded, loadSeries } from '../../src/jobs/load-series.ts';
import { seriesViewFrom } from '../../src/jobs/series-view.ts';
import type { Workbench } from '../../src/jobs/workbench.ts';
import { filmBody, lotBody, pieceBody, runBody, seriesBody, targetBody } from '../logbook/bodies.ts';
import { clearStores, errorOf } from '../logbook/opened-store.ts';
import { currentFile, resistanceFile, type SimulatedFile, scanFile } from '../simulate/instrument-files.ts';
import { benchHere, bytesOfFile } from './bench.ts';

afterEach(clearStores);

/** A body as a description writes it: labels where the store has identifiers. */
function described(body: object, labels: Record<string, unknown>): { label: string } {
  const fields = Object.entries(body).filter(([field]) => !/Ids?$/.test(field));
  return { ...Object.fromEntries(fields), ...labels } as { label: string };
}

function file(each: SimulatedFile, pieceLabel: string, settings = {}) {
  return { name: each.name, bytes: bytesOfFile(each), pieceLabel, stateLabel: null, settings };
}

const SERIES: DescribedSeries = {
  series: described(seriesBody('described'), { benchmarkPieceLabel: 'A1', controlPieceLabel: 'B1' }),
  chambers: [],
  pathPlans: [],
  lots: [described(lotBody('L'), {})],
  targets: [described(targetBody('T'), { lotLabels: ['L'] })],
  runs: [described(runBody('R', null), { targetLabel: 'T' })],
  films: ['A', 'B'].map((label) => described(filmBody(label, null), { runLabel: 'R' })),
  pieces: ['A', 'B'].map((label) => described(pieceBody(`${label}1`, ''), { filmLabel: label })),
  treatments: [],
  typedFacts: [],
  files: [
    file(scanFile({ pieceLabel: 'A1', cAxisAngstrom: 11.69, peakCounts: 4e4 }), 'A1'),
    file(resistanceFile({ pieceLabel: 'A1', midpointK: 90, widthK: 1, resistanceAt300Ohm: 10 }), 'A1'),
    file(resistanceFile({ pieceLabel: 'B1', midpointK: 85, widthK: 4, resistanceAt300Ohm: 30 }), 'B1'),
    file(currentFile({ pieceLabel: 'B1', icA: 0.4, powerIndex: 15, tapDistanceM: 2e-3 }), 'B1', {
      tapDistanceM: 2e-3,
      bridgeWidthM: 1e-4,
      temperatureK: 77,
    }),
  ],
};

/** What a store holds, without what a second load cannot repeat: times, and identifiers that nothing was told. */
async function contentOf({ store }: Workbench): Promise<unknown> {
  const seriesId = describedSeriesId('described');
  const records = await store.read.seriesRecords(seriesId);
  const files = await store.read.files();
  const bodies = records.map(({ kind, revision, body }) => ({ kind, revision, body }));
  const changes = (await store.read.changes({ seriesId, limit: 500 })).map(({ what }) => what);
  return {
    bodies,
    changes: changes.sort(),
    files: files.map(({ sha256, bytes, firstName }) => ({ sha256, bytes, firstName })),
  };
}

describe('a described series', () => {
  it('broken off after any of its files goes on where it stopped, and ends as if it had not been', async () => {
    const whole = await benchHere();
    const seriesId = await loadSeries(whole, SERIES);
    const wanted = await contentOf(whole);
    expect(await isLoaded(whole, 'described')).toBe(true);
    for (let k = 1; k <= SERIES.files.length; k++) {
      const bench = await benchHere();
      const breakOff = (done: number): void => {
        if (done === k) throw new Error('the power is gone');
      };
      expect((await errorOf(loadSeries(bench, SERIES, breakOff))).message).toBe('the power is gone');
      expect(await bench.store.read.list('measurement')).toHaveLength(k);
      expect(await isLoaded(bench, 'described')).toBe(false);
      const after = await benchHere(bench.store); // another process: nothing waits in it
      expect(await loadSeries(after, SERIES)).toBe(seriesId);
      expect(await contentOf(after)).toEqual(wanted);
    }
  });

  it('has its verdicts and its proposals fresh, and a second load adds nothing', async () => {
    const bench = await benchHere();
    const seriesId = await loadSeries(bench, SERIES);
    const view = seriesViewFrom(await bench.store.read.seriesRecords(seriesId));
    expect(view.verdicts).toHaveLength(2);
    expect(view.verdicts.every(({ isStale }) => !isStale)).toBe(true);
    expect(view.proposalsAreStale).toBe(false);
    expect(view.series.body.benchmarkPieceId).toBe(view.pieces.find(({ body }) => body.label === 'A1')!.id);
    const before = await contentOf(bench);
    await loadSeries(bench, SERIES);
    expect(await contentOf(bench)).toEqual(before);
  });

  it('with a file that needs an answer says which file and what the question is', async () => {
    const bench = await benchHere();
    const bytes = new TextEncoder().encode('1 2\n3 4\n5 6\n');
    const files = [{ name: 'A1 odd.txt', bytes, pieceLabel: 'A1', stateLabel: null, settings: {} }];
    expect((await errorOf(loadSeries(bench, { ...SERIES, files }))).message).toMatch(
      /^A1 odd\.txt cannot be read/,
    );
  });
});
