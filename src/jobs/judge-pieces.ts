// Judges pieces of a series and stores the verdicts, with the reductions made anew for them, all in one change.
import { newId } from '../logbook/ids.ts';
import type { AnyRecord } from '../logbook/reader.ts';
import { filmRows, isInformed, type PieceState } from '../records/film-rows.ts';
import type { Analysis, StoredRecord } from '../records/kinds.ts';
import type { SeriesView } from '../records/series-view.ts';
import { firstAnswer } from './first-answer.ts';
import { benchmarkState, verdictRequest } from './judge.ts';
import { reduceMeasurement, subjectOf } from './reduce-measurement.ts';
import { runVersioned } from './run-versioned.ts';
import { seriesViewFrom } from './series-view.ts';
import type { Workbench } from './workbench.ts';

export interface JudgeOrder {
  seriesId: string;
  changeId: string;
  /** null: every piece */
  pieceIds: readonly string[] | null;
  /** leaves out the states whose verdict still holds; all are judged if left out */
  onlyStale?: boolean;
}

/** A file whose numbers were old and could not be found anew, and why. */
export interface FailedReduction {
  fileName: string;
  message: string;
}

export interface Judged {
  /** in the order of films and pieces */
  verdicts: StoredRecord<'verdict'>[];
  failedReductions: FailedReduction[];
}

const isJudging = (what: string): boolean => what.startsWith('judged ');

interface Refreshed {
  /** new analyses, each under the identifier that it is stored with */
  analyses: { id: string; body: Analysis }[];
  failedReductions: FailedReduction[];
}

/** Reduces again what is old among the measurements of these pieces; what cannot be reduced leaves the rest to go on. */
async function refreshed(
  { runner, store }: Workbench,
  view: SeriesView,
  pieceIds: ReadonlySet<string>,
): Promise<Refreshed> {
  const result: Refreshed = { analyses: [], failedReductions: [] };
  for (const measurement of view.measurements) {
    const { pieceId, fileName } = measurement.body;
    const isOld = view.analyses.find((each) => each.measurementId === measurement.id)?.isStale ?? false;
    if (!isOld || !pieceIds.has(pieceId)) continue;
    try {
      const subject = await subjectOf(store.read, measurement.id, measurement.body);
      const body = await reduceMeasurement(runner, subject);
      result.analyses.push({ id: newId(), body });
      if (body.failure) result.failedReductions.push({ fileName, message: body.failure.message });
    } catch (error) {
      // its old numbers stay, marked so, and with them the verdict on them
      const message = error instanceof Error ? error.message : String(error);
      result.failedReductions.push({ fileName, message });
    }
  }
  return result;
}

/** The view as it will be once the new analyses are stored. */
function viewWith(records: readonly AnyRecord[], { analyses }: Refreshed): SeriesView {
  const added = analyses.map(({ id, body }) => {
    const before = records.find(
      (each) => each.kind === 'analysis' && (each.body as Analysis).measurementId === body.measurementId,
    )!;
    return { ...before, id, body } as AnyRecord;
  });
  return seriesViewFrom([...records, ...added]);
}

const keyOf = ({ piece, stateTreatmentId }: PieceState): string => `${piece.id} ${stateTreatmentId}`;
const statesOf = (view: SeriesView): PieceState[] => filmRows(view).flatMap((row) => row.states);

/**
 * A verdict for each measured state of the pieces named, on fresh numbers: what is old among the reductions of these pieces
 * and of the benchmark is reduced again first. Pieces of which nothing is known get none.
 *
 * @returns the verdict records, and which files could not be reduced again
 */
export async function judgePieces(bench: Workbench, order: JudgeOrder): Promise<Judged> {
  const { seriesId, changeId, pieceIds, onlyStale = false } = order;
  const [first] = await firstAnswer<Judged>(bench.store, changeId, isJudging);
  if (first) return first;
  await bench.store.read.findOrThrow('series', seriesId);
  const records = await bench.store.read.seriesRecords(seriesId);
  const before = seriesViewFrom(records);
  const asked = statesOf(before)
    .filter(({ piece }) => pieceIds === null || pieceIds.includes(piece.id))
    .filter(({ verdict }) => !onlyStale || verdict === null || verdict.isStale);
  if (asked.length === 0) return { verdicts: [], failedReductions: [] };
  const { benchmarkPieceId } = before.series.body;
  const concerned = new Set(asked.map(({ piece }) => piece.id));
  if (benchmarkPieceId !== null) concerned.add(benchmarkPieceId);
  const fresh = await refreshed(bench, before, concerned);
  const { analyses, failedReductions } = fresh;
  const view = viewWith(records, fresh);
  // what was known and is no more, since its reduction failed, is judged too: its verdict must not stand
  const known = new Set(asked.filter(isInformed).map(keyOf));
  const keys = new Set(asked.map(keyOf));
  const states = statesOf(view).filter(
    (state) => keys.has(keyOf(state)) && (isInformed(state) || known.has(keyOf(state))),
  );
  if (states.length === 0) return { verdicts: [], failedReductions };
  const benchmark = benchmarkState(view);
  const bodies = await Promise.all(
    states.map(async (state) => ({
      pieceId: state.piece.id,
      stateTreatmentId: state.stateTreatmentId,
      ...(await runVersioned(bench.runner, 'learning.verdict', verdictRequest(view, state, benchmark))),
    })),
  );
  const labels = [...new Set(states.map((state) => state.piece.body.label))];
  const named = labels.length > 5 ? `${labels.length} pieces` : labels.join(', ');
  const reduced =
    analyses.length === 0
      ? ''
      : `, reduced ${analyses.length} ${analyses.length === 1 ? 'file' : 'files'} again`;
  const what = `judged ${named}${reduced}`;
  return bench.store.write({ changeId, what, seriesId }, async (transaction) => {
    for (const { id, body } of analyses) await transaction.create('analysis', id, seriesId, body);
    const verdicts: StoredRecord<'verdict'>[] = [];
    for (const body of bodies) verdicts.push(await transaction.create('verdict', newId(), seriesId, body));
    return { verdicts, failedReductions };
  });
}
