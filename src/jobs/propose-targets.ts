// Asks for the next targets of a series and stores the answer.
import { newId } from '../logbook/ids.ts';
import type { StoredRecord } from '../records/kinds.ts';
import type { RunOptions } from '../runner/runner.ts';
import { firstAnswer } from './first-answer.ts';
import { fieldsRequest, proposalsRequest } from './propose.ts';
import { runVersioned } from './run-versioned.ts';
import { seriesViewFrom } from './series-view.ts';
import type { Workbench } from './workbench.ts';

interface FieldsAnswer {
  re: number[];
  ba: number[];
  cu: number[];
  oddsLiquidAnd123: number[];
  usefulShare: number[];
}

export interface ProposeOrder {
  seriesId: string;
  changeId: string;
  count: number;
}

/** Odds over the triangle at the series' growth condition, then the next targets by them and by what was tried. */
export async function proposeTargets(
  bench: Workbench,
  order: ProposeOrder,
  options?: RunOptions,
): Promise<StoredRecord<'proposals'>> {
  const { seriesId, changeId, count } = order;
  const what = `asked for the next ${count} targets`;
  const isSame = (said: string) => said === what;
  const [first] = await firstAnswer<StoredRecord<'proposals'>>(bench.store, changeId, isSame);
  if (first) return first;
  await bench.store.read.findOrThrow('series', seriesId);
  const view = seriesViewFrom(await bench.store.read.seriesRecords(seriesId));
  const fields = (await bench.runner.run(
    'equilibrium.fields',
    fieldsRequest(view.series.body),
    options,
  )) as FieldsAnswer;
  const compositions = fields.re.map((re, i) => ({ re, ba: fields.ba[i]!, cu: fields.cu[i]! }));
  const { oddsLiquidAnd123: odds, usefulShare: usefulShares } = fields;
  const request = proposalsRequest(view, count, { compositions, odds, usefulShares });
  const answer = await runVersioned(bench.runner, 'learning.next', request, options);
  return bench.store.write({ changeId, what, seriesId }, (transaction) =>
    transaction.create('proposals', newId(), seriesId, { seriesId, ...answer }),
  );
}
