import { afterEach, describe, expect, it } from 'vitest';
import { addedChain, addedMeasurement } from '../logbook/chain.ts';
import { clearStores, newFolder, openedStore } from '../logbook/opened-store.ts';
import { lookForHalves, runServerKills } from './kill-run.ts';

afterEach(clearStores);

describe('a server that is killed while a hundred files are read in', () => {
  it('20 times loses nothing that it had acknowledged, keeps nothing by halves, and ends with all hundred', async () => {
    const figures = await runServerKills({ kills: 20, seed: 3 });
    const { faults, lost, failedOpens, acknowledged, measurements, kills } = figures;
    expect({ faults, lost, failedOpens }).toEqual({ faults: [], lost: 0, failedOpens: 0 });
    expect({ kills, acknowledged, measurements }).toEqual({
      kills: 20,
      acknowledged: 100,
      measurements: 100,
    });
    expect(figures.killsDuring.import).toBeGreaterThan(5); // the kills fell into the work, not beside it
    expect(figures.killsDuring.upload).toBeGreaterThan(2);
  }, 600_000);

  it('would be seen to have kept a measurement by halves', async () => {
    const folder = await newFolder();
    const store = await openedStore({ folder });
    const { id } = await addedMeasurement(store, await addedChain(store), 'M');
    const { faults, measurementIds } = lookForHalves(folder);
    expect(measurementIds).toEqual(new Set([id]));
    expect(faults).toEqual([`Measurement ${id} has 0 analyses.`, '1 rows of files for 1 measurements.']);
  });
});
