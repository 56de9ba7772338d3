// One measurement with its curve and its newest analysis; and reducing it again.
import type { MeasurementView } from '../api/contract.ts';
import { readColumns } from '../logbook/columns.ts';
import { newId } from '../logbook/ids.ts';
import type { MeasurementSettings } from '../records/kinds.ts';
import { firstAnswer } from './first-answer.ts';
import { reduceMeasurement, subjectOf } from './reduce-measurement.ts';
import { isAskedTheSame } from './reduction.ts';
import { versionNow } from './series-view.ts';
import type { Workbench } from './workbench.ts';

const withoutNaN = (column: Float64Array): (number | null)[] =>
  Array.from(column, (value) => (Number.isNaN(value) ? null : value));

/** @throws StoreError RECORD_UNKNOWN, RECORD_REMOVED */
export async function measurementView({ store }: Workbench, measurementId: string): Promise<MeasurementView> {
  const measurement = await store.read.findOrThrow('measurement', measurementId);
  const analysis = (await store.read.list('analysis', { parentId: measurementId })).at(-1) ?? null;
  const columns = await readColumns(store, measurement.body.columns.blob);
  return {
    measurement,
    analysis,
    isStale:
      analysis !== null &&
      (versionNow(analysis.body.computation) !== analysis.body.effectiveVersion ||
        !isAskedTheSame(await subjectOf(store.read, measurementId, measurement.body), analysis.body.request)),
    roles: measurement.body.columns.roles,
    columns: columns.map(withoutNaN),
  };
}

export interface ReduceOrder {
  measurementId: string;
  changeId: string;
  settings: MeasurementSettings;
}

const isReducing = (what: string): boolean => /^reduced .* again$/s.test(what);

/** Reduces a measurement once more with the settings given; the analysis before stays in the history. */
export async function reduceAgain(bench: Workbench, order: ReduceOrder): Promise<MeasurementView> {
  const { store, runner } = bench;
  const { measurementId, changeId, settings } = order;
  const [isRepeat] = await firstAnswer(store, changeId, isReducing);
  if (isRepeat !== undefined) return measurementView(bench, measurementId);
  const measurement = await store.read.findOrThrow('measurement', measurementId);
  const body = { ...measurement.body, settings };
  const analysis = await reduceMeasurement(runner, await subjectOf(store.read, measurementId, body));
  const what = `reduced ${body.fileName} again`;
  await store.write({ changeId, what, seriesId: measurement.seriesId }, async (transaction) => {
    await transaction.revise('measurement', measurementId, measurement.revision, body);
    await transaction.create('analysis', newId(), measurement.seriesId, analysis);
  });
  return measurementView(bench, measurementId);
}
