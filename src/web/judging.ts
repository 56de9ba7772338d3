// Judging from a page: the verdicts, and what of their numbers could not be found anew.
import type { SeriesView } from '../records/series-view.ts';
import { api, dataOf } from './api.ts';

export interface JudgedPieces {
  verdictCount: number;
  /** a sentence for each file that was to be reduced again and could not be */
  failures: string[];
}

/**
 * What judging left without fresh numbers: files that are still old, and files whose reduction now fails.
 *
 * @param concerned pieces that were judged, or judged against
 */
export function failuresSince(before: SeriesView, after: SeriesView, concerned: readonly string[]): string[] {
  return after.analyses.flatMap((analysis) => {
    const measurement = after.measurements.find(({ id }) => id === analysis.measurementId);
    if (!measurement || !concerned.includes(measurement.body.pieceId)) return [];
    const { fileName } = measurement.body;
    const isNew = !before.analyses.some(({ id }) => id === analysis.id);
    if (analysis.failure && isNew)
      return [`${fileName} could not be reduced again: ${analysis.failure.message}`];
    return analysis.isStale
      ? [`${fileName} could not be reduced again: its numbers are old. Open its curve and reduce it there.`]
      : [];
  });
}

/** Judges pieces on fresh numbers. */
export async function judgePieces(
  before: SeriesView,
  pieceIds: readonly string[],
  changeId: string,
): Promise<JudgedPieces> {
  const params = { path: { seriesId: before.series.id } };
  const body = { changeId, pieceIds: [...new Set(pieceIds)] };
  const { verdicts } = await dataOf(api.POST('/api/series/{seriesId}/judge', { params, body }));
  const after = (await dataOf(api.GET('/api/series/{seriesId}', { params }))) as unknown as SeriesView;
  const { benchmarkPieceId } = after.series.body;
  const concerned = benchmarkPieceId ? [...body.pieceIds, benchmarkPieceId] : body.pieceIds;
  return { verdictCount: verdicts.length, failures: failuresSince(before, after, concerned) };
}
