// All that a report of a series shows: its records, every curve, and the odds over the triangle.
import type { MeasurementView } from '../api/contract.ts';
import type { SeriesView } from '../records/series-view.ts';
import { CarriedDomainError } from '../runner/browser.ts';
import { measurementView } from './measurement-view.ts';
import { fieldsRequest } from './propose.ts';
import { seriesViewFrom } from './series-view.ts';
import type { Workbench } from './workbench.ts';

export interface SeriesEvidence {
  view: SeriesView;
  /** what `equilibrium.fields` answered; null where it refuses the rare earth or the condition */
  fields: unknown;
  curves: Map<string, MeasurementView>;
}

export async function seriesEvidence(bench: Workbench, seriesId: string): Promise<SeriesEvidence> {
  await bench.store.read.findOrThrow('series', seriesId);
  const view = seriesViewFrom(await bench.store.read.seriesRecords(seriesId));
  const fields = await bench.runner
    .run('equilibrium.fields', fieldsRequest(view.series.body))
    .catch((error: unknown) => {
      if (error instanceof CarriedDomainError) return null;
      throw error;
    });
  const curves = new Map<string, MeasurementView>();
  for (const { id } of view.measurements) curves.set(id, await measurementView(bench, id));
  return { view, fields, curves };
}
