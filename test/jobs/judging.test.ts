import { afterEach, describe, expect, it } from 'vitest';
import { judgePieces } from '../../src/jobs/judge-pieces.ts';
import { proposeTargets } from '../../src/jobs/propose-targets.ts';
import { seriesViewFrom } from '../../src/jobs/series-view.ts';
import type { Workbench } from '../../src/jobs/workbench.ts';
import { newId } from '../../src/logbook/ids.ts';
import type { Criterion, Fact } from '../../src/records/criteria.ts';
import type { RecordBodies, RecordKind } from '../../src/records/kinds.ts';
import type { SeriesView } from '../../src/records/series-view.ts';
import { filmBody, pieceBody, treatmentBody } from '../logbook/bodies.ts';
import { change, clearStores, errorOf } from '../logbook/opened-store.ts';
import { type AddedPiece, addedPiece, benchHere } from './bench.ts';

afterEach(clearStores);

const JC_AT_77: Criterion = {
  kind: 'number',
  fact: 'jcAPerM2',
  at: { temperatureK: 77, fieldT: 0 },
  comparison: 'at least',
  wanted: 1e10,
  relativeTo: 'nothing',
};

function typedJc(value: number): Fact {
  const at = { temperatureK: 77, fieldT: 0 };
  return { name: 'jcAPerM2', at, value, standardUncertainty: 1e8, origin: 'typed', method: 'transport' };
}

async function typed(bench: Workbench, piece: AddedPiece, value: number): Promise<string> {
  const id = newId();
  await bench.store.write(change('type a Jc'), (tx) =>
    tx.create('typedFacts', id, piece.seriesId, {
      pieceId: piece.pieceId,
      stateTreatmentId: null,
      numbers: [typedJc(value)],
      phases: [],
      source: 'a notebook',
      note: '',
    }),
  );
  return id;
}

async function revised<Kind extends RecordKind>(
  bench: Workbench,
  kind: Kind,
  id: string,
  with_: Partial<RecordBodies[Kind]>,
): Promise<void> {
  const record = await bench.store.read.findOrThrow(kind, id);
  await bench.store.write(change(`revise ${kind}`), (tx) =>
    tx.revise(kind, id, record.revision, { ...record.body, ...with_ } as RecordBodies[Kind]),
  );
}

async function viewOf(bench: Workbench, seriesId: string): Promise<SeriesView> {
  return seriesViewFrom(await bench.store.read.seriesRecords(seriesId));
}

const judged = (bench: Workbench, { seriesId }: AddedPiece, changeId = newId()) =>
  judgePieces(bench, { seriesId, changeId, pieceIds: null });

const stalenessOf = async (bench: Workbench, { seriesId, pieceId }: AddedPiece) =>
  (await viewOf(bench, seriesId)).verdicts
    .filter((each) => each.pieceId === pieceId)
    .map(({ isStale }) => isStale);

describe('a verdict', () => {
  it('passes where Jc is above what is wanted, falls short where it is below, and holds until something changes', async () => {
    const bench = await benchHere();
    const good = await addedPiece(bench.store, { series: { criteria: [JC_AT_77] } });
    await typed(bench, good, 2e10);
    const [verdict] = await judged(bench, good);
    expect(verdict!.body.response).toMatchObject({ outcome: 'passes' });
    expect(await stalenessOf(bench, good)).toEqual([false]);
    const bad = await addedPiece(bench.store, { series: { criteria: [JC_AT_77] } });
    await typed(bench, bad, 5e9);
    expect((await judged(bench, bad))[0]!.body.response).toMatchObject({ outcome: 'falls short' });
  });

  it('goes stale when a criterion changes, and holds again once the criterion is as it was', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store, { series: { criteria: [JC_AT_77] } });
    await typed(bench, piece, 2e10);
    await judged(bench, piece);
    await revised(bench, 'series', piece.seriesId, { criteria: [{ ...JC_AT_77, wanted: 3e10 }] });
    expect(await stalenessOf(bench, piece)).toEqual([true]);
    await revised(bench, 'series', piece.seriesId, { criteria: [JC_AT_77] });
    expect(await stalenessOf(bench, piece)).toEqual([false]);
  });

  it('goes stale when a fact changes or is added, and is judged anew', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store, { series: { criteria: [JC_AT_77] } });
    const factsId = await typed(bench, piece, 2e10);
    await judged(bench, piece);
    await revised(bench, 'typedFacts', factsId, { numbers: [typedJc(5e9)] });
    expect(await stalenessOf(bench, piece)).toEqual([true]);
    const order = { seriesId: piece.seriesId, changeId: newId(), pieceIds: null, onlyStale: true };
    expect((await judgePieces(bench, order))[0]!.body.response).toMatchObject({ outcome: 'falls short' });
    expect(await stalenessOf(bench, piece)).toEqual([false]);
    expect(await judgePieces(bench, { ...order, changeId: newId() })).toEqual([]); // what holds is left
    await revised(bench, 'film', piece.filmId, { thicknessNm: { value: 300, standardUncertainty: null } });
    expect(await stalenessOf(bench, piece)).toEqual([true]);
  });

  it('goes stale when the benchmark is named or measured again', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store, {
      series: { criteria: [{ ...JC_AT_77, wanted: 0.9, relativeTo: 'benchmark' }] },
    });
    const benchmark = { ...piece, filmId: newId(), pieceId: newId() };
    await bench.store.write(change('a benchmark'), async (tx) => {
      await tx.create('film', benchmark.filmId, piece.seriesId, filmBody('slow', null));
      await tx.create('piece', benchmark.pieceId, piece.seriesId, pieceBody('B', benchmark.filmId));
    });
    await typed(bench, piece, 2e10);
    await typed(bench, benchmark, 2.1e10);
    expect((await judged(bench, piece))[0]!.body.response).toMatchObject({ outcome: 'cannot say' });
    await revised(bench, 'series', piece.seriesId, { benchmarkPieceId: benchmark.pieceId });
    expect(await stalenessOf(bench, piece)).toEqual([true]);
    const again = (await judged(bench, piece)).find(({ body }) => body.pieceId === piece.pieceId)!;
    expect(again.body.response).toMatchObject({ outcome: 'passes' });
    await typed(bench, benchmark, 2.2e10);
    expect(await stalenessOf(bench, piece)).toEqual([true]);
  });

  it('keeps the benchmark where a treatment of it is written down but not yet measured', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store, {
      series: { criteria: [{ ...JC_AT_77, wanted: 0.9, relativeTo: 'benchmark' }] },
    });
    const benchmark = { ...piece, filmId: newId(), pieceId: newId() };
    const thicknessNm = { value: 300, standardUncertainty: null }; // known of every state, measured or not
    await bench.store.write(change('a benchmark'), async (tx) => {
      await tx.create('film', benchmark.filmId, piece.seriesId, { ...filmBody('slow', null), thicknessNm });
      await tx.create('piece', benchmark.pieceId, piece.seriesId, pieceBody('B', benchmark.filmId));
    });
    await typed(bench, piece, 2e10);
    await typed(bench, benchmark, 2.1e10);
    await revised(bench, 'series', piece.seriesId, { benchmarkPieceId: benchmark.pieceId });
    await bench.store.write(change('an anneal to come'), (tx) =>
      tx.create('treatment', newId(), piece.seriesId, treatmentBody('T1', benchmark.pieceId)),
    );
    const own = (await judged(bench, piece)).find(({ body }) => body.pieceId === piece.pieceId)!;
    expect(own.body.response).toMatchObject({ outcome: 'passes' });
  });

  it('goes stale when the science that made it changes', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store, { series: { criteria: [JC_AT_77] } });
    await typed(bench, piece, 2e10);
    const [verdict] = await judged(bench, piece);
    const records = await bench.store.read.seriesRecords(piece.seriesId);
    const older = records.map((record) =>
      record.id === verdict!.id
        ? { ...record, body: { ...record.body, effectiveVersion: 'before' } }
        : record,
    );
    expect(seriesViewFrom(older as typeof records).verdicts[0]!.isStale).toBe(true);
  });

  it('asked for again under the same change is the first one, whatever was measured meanwhile', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store, { series: { criteria: [JC_AT_77] } });
    await typed(bench, piece, 2e10);
    const changeId = newId();
    const first = await judged(bench, piece, changeId);
    await typed(bench, piece, 5e9);
    await revised(bench, 'piece', piece.pieceId, { label: 'renamed' });
    expect(await judged(bench, piece, changeId)).toEqual(first);
    expect(await bench.store.read.list('verdict')).toHaveLength(1);
  });

  it('is not given for a piece of which nothing is known', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store, { series: { criteria: [JC_AT_77] } });
    expect(await judged(bench, piece)).toEqual([]);
  });

  it('of a series that is not there is refused', async () => {
    const bench = await benchHere();
    const nowhere = { seriesId: newId(), changeId: newId(), pieceIds: null };
    expect(await errorOf(judgePieces(bench, nowhere))).toMatchObject({ code: 'RECORD_UNKNOWN' });
  });
});

describe('proposals', () => {
  it('are stored with what was asked, answered once a change, and go stale when a film is judged otherwise', async () => {
    const bench = await benchHere();
    const piece = await addedPiece(bench.store, { series: { criteria: [JC_AT_77] } });
    const factsId = await typed(bench, piece, 2e10);
    await judged(bench, piece);
    const order = { seriesId: piece.seriesId, changeId: newId(), count: 2 };
    const made = await proposeTargets(bench, order);
    expect(await proposeTargets(bench, order)).toEqual(made);
    expect(await bench.store.read.list('proposals')).toHaveLength(1);
    expect(await viewOf(bench, piece.seriesId)).toMatchObject({
      proposals: { id: made.id },
      proposalsAreStale: false,
    });
    await revised(bench, 'typedFacts', factsId, { numbers: [typedJc(5e9)] });
    await judged(bench, piece);
    expect((await viewOf(bench, piece.seriesId)).proposalsAreStale).toBe(true);
  });
});
