import { afterEach, describe, expect, it } from 'vitest';
import { viewOfPiece } from '../../src/cli/series-records.ts';
import type { Store } from '../../src/logbook/store.ts';
import { addedPiece } from '../jobs/bench.ts';
import { clearStores, errorOf, openedStore } from '../logbook/opened-store.ts';

afterEach(clearStores);

const withSeries = async (store: Store, label: string, isInvented: boolean, piece: string) =>
  (await addedPiece(store, { label: piece, series: { label, isInvented } })).seriesId;

describe('the series that a command speaks of', () => {
  it('is the only one that is not invented, beside the demonstration', async () => {
    const store = await openedStore();
    await withSeries(store, 'demo', true, 'D01-a');
    const real = await withSeries(store, 'ours', false, 'F01-a');
    expect((await viewOfPiece(store.read, undefined, undefined)).series.id).toBe(real);
  });

  it('is the only one there is, invented or not', async () => {
    const store = await openedStore();
    const demo = await withSeries(store, 'demo', true, 'D01-a');
    expect((await viewOfPiece(store.read, undefined, undefined)).series.id).toBe(demo);
  });

  it('is the one that holds the piece named, or the pieces that the files name', async () => {
    const store = await openedStore();
    const demo = await withSeries(store, 'demo', true, 'D01-a');
    const real = await withSeries(store, 'ours', false, 'F01-a');
    await withSeries(store, 'ours too', false, 'G01-a');
    expect((await viewOfPiece(store.read, undefined, 'D01-a')).series.id).toBe(demo);
    expect((await viewOfPiece(store.read, undefined, undefined, ['F01-a RT.csv'])).series.id).toBe(real);
  });

  it('is asked for where several are real, each listed, and where files speak of two', async () => {
    const store = await openedStore();
    await withSeries(store, 'demo', true, 'D01-a');
    await withSeries(store, 'ours', false, 'F01-a');
    await withSeries(store, 'ours too', false, 'G01-a');
    const error = await errorOf(viewOfPiece(store.read, undefined, undefined));
    expect(error).toMatchObject({ code: 'SERIES_SEVERAL' });
    expect(error.message).toMatch(/3 series: 'demo' \(.*, invented\), 'ours' \(.*'ours too'/);
    const files = ['F01-a RT.csv', 'G01-a RT.csv'];
    expect(await errorOf(viewOfPiece(store.read, undefined, undefined, files))).toMatchObject({
      code: 'SERIES_SEVERAL',
    });
  });

  it('is asked for by identifier where two series have a piece of that label', async () => {
    const store = await openedStore();
    await withSeries(store, 'ours', false, 'F01-a');
    await withSeries(store, 'ours too', false, 'F01-a');
    expect(await errorOf(viewOfPiece(store.read, undefined, 'F01-a'))).toMatchObject({
      code: 'LABEL_SHARED',
    });
  });
});
