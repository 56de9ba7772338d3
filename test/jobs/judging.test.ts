import { afterEach, describe, expect, it } from 'vitest';
import { importFile } from '../../src/jobs/import-file.ts';
import { judgePieces } from '../../src/jobs/judge-pieces.ts';
import { proposeTargets } from '../../src/jobs/propose-targets.ts';
import { seriesViewFrom } from '../../src/jobs/series-view.ts';
import type { Workbench } from '../../src/jobs/workbench.ts';
import { newId } from '../../src/logbook/ids.ts';
import type { Criterion, Fact } from '../../src/records/criteria.ts';
import { filmRows } from '../../src/records/film-rows.ts';
import type { RecordBodies, RecordKind } from '../../src/records/kinds.ts';
import type { SeriesView } from '../../src/records/series-view.ts';
import { filmBody, pieceBody, treatmentBody } from '../logbook/bodies.ts';
import { change, clearStores, errorOf } from '../logbook/opened-store.ts';
import { currentFile, loopFile } from '../simulate/instrument-files.ts';
import { type AddedPiece, addedPiece, benchHere, sent } from './bench.ts';

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
  return {
    name: 'jcAPerM2',
    at,
    value,
    standardUncertainty: 1e8,
    origin: 'typed',
    method: 'transport, 1 uV/cm',
  };
}

async function typed(bench: Workbench, piece: AddedPiece, value: number): Promise<string> {
  const id = newId();
  await bench.store.write(change('type a Jc'), (tx) =>
    tx.create('typedFacts', id, piece.seriesId, {
      pieceId: piece.pieceId,
      stateTreatmentId: null,
      numbers: [typedJc(value)],
      phases: [],
      composition: null,
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
  judgePieces(bench, { seriesId, changeId, pieceIds: null }).then(({ verdicts }) => verdicts);

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
    expect((await judgePieces(bench, order)).verdicts[0]!.body.response).toMatchObject({
      outcome: 'falls short',
    });
    expect(await stalenessOf(bench, piece)).toEqual([false]);
    expect((await judgePieces(bench, { ...order, changeId: newId() })).verdicts).toEqual([]); // what holds is left
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

const RAMP = { settings: { tapDistanceM: 2e-3, bridgeWidthM: 1e-4, temperatureK: 77, fieldT: 0 } };

/** A film of 200 nm with a bridge that carries 0.4 A at 77 K: 2 MA/cm2. */
async function bridge(bench: Workbench, series: Partial<SeriesView['series']['body']> = {}) {
  const thicknessNm = { value: 200, standardUncertainty: 4 };
  const piece = await addedPiece(bench.store, {
    series: { criteria: [JC_AT_77], ...series },
    film: { thicknessNm },
  });
  const file = currentFile({ pieceLabel: 'P1', icA: 0.4, powerIndex: 20, tapDistanceM: 2e-3 });
  await importFile(bench, (await sent(bench, piece, file, RAMP)).order);
  return piece;
}

const judgedJc = (view: SeriesView): number =>
  (view.verdicts[0]!.response as { reasons: { measured: { value: number } }[] }).reasons[0]!.measured.value;

const corrected = (bench: Workbench, { filmId }: AddedPiece, thickness: number) =>
  revised(bench, 'film', filmId, { thicknessNm: { value: thickness, standardUncertainty: 4 } });

describe('numbers that a correction made old', () => {
  it('make the verdict and the proposals old, and are found anew when it is judged again, in one change', async () => {
    const bench = await benchHere();
    const piece = await bridge(bench);
    await judged(bench, piece);
    await proposeTargets(bench, { seriesId: piece.seriesId, changeId: newId(), count: 2 });
    const before = await viewOf(bench, piece.seriesId);
    expect(before.verdicts.map(({ isStale }) => isStale)).toEqual([false]);
    expect(before.proposalsAreStale).toBe(false);
    expect(judgedJc(before) / 2e10).toBeCloseTo(1, 2);

    await corrected(bench, piece, 400);
    const old = await viewOf(bench, piece.seriesId);
    expect(old.verdicts.map(({ isStale }) => isStale)).toEqual([true]);
    expect(old.proposalsAreStale).toBe(true);
    expect(filmRows(old)[0]!.best!.oldMeasurementIds).toEqual([old.measurements[0]!.id]);

    const changeId = newId();
    await judged(bench, piece, changeId);
    const after = await viewOf(bench, piece.seriesId);
    expect(judgedJc(after) / 1e10).toBeCloseTo(1, 2); // half the density in twice the thickness
    expect(after.verdicts.map(({ isStale }) => isStale)).toEqual([false]);
    expect(after.analyses.map(({ isStale }) => isStale)).toEqual([false]);
    expect(filmRows(after)[0]!.best!.oldMeasurementIds).toEqual([]);

    await bench.store.undo({ ofChange: changeId, changeId: newId() });
    const undone = await viewOf(bench, piece.seriesId);
    expect(judgedJc(undone) / 2e10).toBeCloseTo(1, 2);
    expect(undone.analyses.map(({ id }) => id)).toEqual(before.analyses.map(({ id }) => id));
  });

  it('of the benchmark make every verdict against it old, and judging one piece renews them', async () => {
    const bench = await benchHere();
    const benchmark = await bridge(bench, {
      criteria: [{ ...JC_AT_77, wanted: 1.5, relativeTo: 'benchmark' }],
    });
    await revised(bench, 'series', benchmark.seriesId, { benchmarkPieceId: benchmark.pieceId });
    const piece = { ...benchmark, filmId: newId(), pieceId: newId() };
    await bench.store.write(change('another film'), async (tx) => {
      await tx.create('film', piece.filmId, piece.seriesId, filmBody('other', null));
      await tx.create('piece', piece.pieceId, piece.seriesId, pieceBody('Q', piece.filmId));
    });
    await typed(bench, piece, 2e10);
    const only = { seriesId: piece.seriesId, pieceIds: [piece.pieceId] };
    const first = await judgePieces(bench, { ...only, changeId: newId() });
    expect(first.verdicts[0]!.body.response).toMatchObject({ outcome: 'falls short' });
    await corrected(bench, benchmark, 400);
    expect(await stalenessOf(bench, piece)).toEqual([true]);
    const again = await judgePieces(bench, { ...only, changeId: newId() });
    expect(again.verdicts[0]!.body.response).toMatchObject({ outcome: 'passes' }); // twice 1 MA/cm2
    expect(await stalenessOf(bench, piece)).toEqual([false]);
  });

  it('that cannot be found anew are named, and the other pieces get their verdict', async () => {
    const bench = await benchHere();
    const piece = await bridge(bench);
    const looped = { ...piece, filmId: newId(), pieceId: newId() };
    await bench.store.write(change('another film'), async (tx) => {
      const thicknessNm = { value: 200, standardUncertainty: 4 };
      await tx.create('film', looped.filmId, piece.seriesId, { ...filmBody('other', null), thicknessNm });
      const sides = { lengthMm: 3, widthMm: 2 };
      await tx.create('piece', looped.pieceId, piece.seriesId, {
        ...pieceBody('L', looped.filmId),
        ...sides,
      });
    });
    const loop = { jcAPerM2: 2e10, lengthM: 3e-3, widthM: 2e-3, thicknessM: 200e-9 };
    const settings = { temperatureK: 77 };
    const file = loopFile({ pieceLabel: 'L', ...loop });
    await importFile(bench, (await sent(bench, looped, file, { settings })).order);
    await judged(bench, piece);
    await revised(bench, 'piece', looped.pieceId, { widthMm: null });
    await corrected(bench, piece, 400);
    const order = { seriesId: piece.seriesId, changeId: newId(), pieceIds: null };
    const answer = await judgePieces(bench, order);
    expect(answer.verdicts).toHaveLength(2);
    expect(answer.failedReductions).toEqual([
      { fileName: file.name, message: expect.stringContaining('length and width') },
    ]);
    expect(judgedJc(await viewOf(bench, piece.seriesId)) / 1e10).toBeCloseTo(1, 2);
    expect(await stalenessOf(bench, looped)).toEqual([false]);
    expect(await judgePieces(bench, order)).toEqual(answer);
  });

  it('stay, and stay marked, where a worker is lost while it reduces them', async () => {
    const bench = await benchHere();
    const piece = await bridge(bench);
    await judged(bench, piece);
    await corrected(bench, piece, 400);
    const run: Workbench['runner']['run'] = async (name, ...rest) => {
      if (name === 'current.voltage') throw new Error('The worker is gone.');
      return bench.runner.run(name, ...rest);
    };
    const broken = { ...bench, runner: { run } };
    const answer = await judgePieces(broken, { seriesId: piece.seriesId, changeId: newId(), pieceIds: null });
    expect(answer.failedReductions).toMatchObject([{ message: 'The worker is gone.' }]);
    expect(await stalenessOf(bench, piece)).toEqual([true]);
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
