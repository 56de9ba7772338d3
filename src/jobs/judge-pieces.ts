// Judges pieces of a series and stores the verdicts, all in one change.
import { newId } from '../logbook/ids.ts';
import { filmRows, isInformed } from '../records/film-rows.ts';
import type { StoredRecord } from '../records/kinds.ts';
import { firstAnswer } from './first-answer.ts';
import { benchmarkState, verdictRequest } from './judge.ts';
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

const isJudging = (what: string): boolean => what.startsWith('judged ');

/**
 * A verdict for each measured state of the pieces named. Pieces of which nothing is known get none.
 *
 * @returns the verdict records, in the order of films and pieces
 */
export async function judgePieces(bench: Workbench, order: JudgeOrder): Promise<StoredRecord<'verdict'>[]> {
  const { seriesId, changeId, pieceIds, onlyStale = false } = order;
  const [first] = await firstAnswer<StoredRecord<'verdict'>[]>(bench.store, changeId, isJudging);
  if (first) return first;
  await bench.store.read.findOrThrow('series', seriesId);
  const view = seriesViewFrom(await bench.store.read.seriesRecords(seriesId));
  const states = filmRows(view)
    .flatMap((row) => row.states)
    .filter((state) => isInformed(state) && (pieceIds === null || pieceIds.includes(state.piece.id)))
    .filter(({ verdict }) => !onlyStale || verdict === null || verdict.isStale);
  if (states.length === 0) return [];
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
  return bench.store.write({ changeId, what: `judged ${named}`, seriesId }, async (transaction) => {
    const records: StoredRecord<'verdict'>[] = [];
    for (const body of bodies) records.push(await transaction.create('verdict', newId(), seriesId, body));
    return records;
  });
}
