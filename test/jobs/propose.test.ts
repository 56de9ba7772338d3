// A verdict counts for a proposal only if the film was grown near the condition asked about.
import { afterEach, describe, expect, it } from 'vitest';
import { proposalsRequest } from '../../src/jobs/propose.ts';
import { seriesViewFrom } from '../../src/jobs/series-view.ts';
import { newId } from '../../src/logbook/ids.ts';
import type { Run } from '../../src/records/kinds.ts';
import { filmBody, pieceBody, runBody, seriesBody } from '../logbook/bodies.ts';
import { change, clearStores, openedStore } from '../logbook/opened-store.ts';

const nothing = { compositions: [], odds: [], usefulShares: [] };

async function reasonOf(grown: Partial<Run>): Promise<string> {
  const store = await openedStore();
  const [seriesId, runId, filmId] = [newId(), newId(), newId()];
  await store.write(change('a film'), async (tx) => {
    const growth = { temperatureC: 850, po2Atm: 1e-3, meltOffsetJPerMol: 0 };
    await tx.create('series', seriesId, null, { ...seriesBody(), growth });
    await tx.create('run', runId, seriesId, { ...runBody('R1', null), ...grown });
    await tx.create('film', filmId, seriesId, { ...filmBody('F1', runId), cations: { Y: 1, Ba: 2, Cu: 3 } });
    await tx.create('piece', newId(), seriesId, pieceBody('F1-a', filmId));
  });
  const view = seriesViewFrom(await store.read.seriesRecords(seriesId));
  const { tried } = proposalsRequest(view, 3, nothing) as { tried: { reason: string }[] };
  return tried[0]!.reason;
}

const at = (valueC: number, valuePa: number): Partial<Run> => ({
  route: 'in situ',
  temperature: { valueC, place: 'surface', offsetK: null },
  pressure: { valuePa, kind: 'oxygen partial', gauge: '', oxygenShare: 1 },
});

describe('proposalsRequest', () => {
  afterEach(clearStores);

  it('counts a film grown 20 K away at the same oxygen pressure', async () => {
    expect(await reasonOf(at(830, 101))).toBe('');
  });

  it('does not count one grown 100 K colder, nor one at a hundredth of the oxygen', async () => {
    expect(await reasonOf(at(750, 101))).toMatch(/grown at 750 degC/);
    expect(await reasonOf(at(850, 1))).toMatch(/too unlike to count/);
  });
});
