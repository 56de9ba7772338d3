import { describe, expect, it } from 'vitest';
import { targetBatch } from '../../src/computations/target/batch.ts';
import type { SeriesView } from '../../src/records/series-view.ts';
import { filmKnowledge, knowledgeText } from '../../src/web/drafts/film-aim.ts';
import { proposedLosses, transferPairs } from '../../src/web/drafts/measured-pairs.ts';
import { emptyTarget, readTarget } from '../../src/web/drafts/target-draft.ts';

type Composition = NonNullable<SeriesView['typedFacts'][number]['body']['composition']>;
type Ratio = Record<string, number>;

const composition = (cations: Ratio, relativeU = 0.02): Composition => ({
  cations,
  standardUncertainties: Object.fromEntries(
    Object.entries(cations).map(([symbol, amount]) => [symbol, amount * relativeU]),
  ),
  method: 'EDX',
  standard: '',
});

interface MadeFilm {
  name: string;
  target: Ratio | null;
  /** as it left the run, then after each treatment; null: not measured */
  states: (Composition | null)[];
}

/** A view with a target, a run, a film and a piece for each name. */
function viewOf(films: readonly MadeFilm[]): SeriesView {
  const view = {
    targets: [],
    runs: [],
    films: [],
    pieces: [],
    treatments: [],
    typedFacts: [],
  } as unknown as Record<string, unknown[]>;
  for (const { name, target, states } of films) {
    if (target)
      view.targets!.push({ id: `T ${name}`, body: { label: `T-${name}`, cations: target, sheet: null } });
    view.runs!.push({ id: `R ${name}`, body: { targetId: target ? `T ${name}` : null } });
    view.films!.push({ id: `F ${name}`, body: { label: name, runId: `R ${name}` } });
    view.pieces!.push({ id: `P ${name}`, body: { label: `${name}-a`, filmId: `F ${name}` } });
    states.forEach((measured, i) => {
      const treatmentId = i === 0 ? null : `H${i} ${name}`;
      if (treatmentId) view.treatments!.push({ id: treatmentId, body: { pieceId: `P ${name}` } });
      view.typedFacts!.push({
        id: `facts ${name} ${i}`,
        body: { pieceId: `P ${name}`, stateTreatmentId: treatmentId, composition: measured },
      });
    });
  }
  return view as unknown as SeriesView;
}

const T1 = { Y: 1, Ba: 2, Cu: 3 };
/** films that hold 5 % less barium and 4 % more copper than their targets */
const through = (target: Ratio): Ratio => ({ Y: target.Y!, Ba: 0.95 * target.Ba!, Cu: 1.04 * target.Cu! });

describe('transferPairs', () => {
  it('pairs the ratio of the target with the ratio measured as the piece left the run', () => {
    const view = viewOf([{ name: 'D1', target: T1, states: [composition(through(T1))] }]);
    const { pairs, leftOut } = transferPairs(view);
    expect(leftOut).toEqual([]);
    expect(pairs).toHaveLength(1);
    expect(pairs[0]).toMatchObject({ label: 'T-D1 to D1-a', target: T1, film: through(T1) });
    expect(pairs[0]!.filmRelativeU.Ba).toBeCloseTo(0.02, 12);
  });

  it('leaves heated pieces and films without a target out, and says why', () => {
    const { pairs, leftOut } = transferPairs(
      viewOf([
        { name: 'D1', target: T1, states: [null, composition(through(T1))] },
        { name: 'D2', target: null, states: [composition(through(T1))] },
        { name: 'D3', target: T1, states: [composition(through(T1), 0)] },
      ]),
    );
    expect(pairs).toEqual([]);
    expect(leftOut).toEqual([
      'D2-a: the target of its run is not recorded.',
      'D3-a: the uncertainty of Y is not stated, or not below the amount itself.',
    ]);
  });

  it('pairs only elements that were measured', () => {
    const target = { ...T1, Zr: 0.1 };
    const { pairs } = transferPairs(viewOf([{ name: 'D1', target, states: [composition(through(T1))] }]));
    expect(Object.keys(pairs[0]!.target)).toEqual(['Y', 'Ba', 'Cu']);
  });
});

describe('proposedLosses', () => {
  it('finds a tenth of the copper lost between two states of a piece, against the rare earth', () => {
    const view = viewOf([
      // all amounts in another unit after heating: only ratios count
      { name: 'D1', target: T1, states: [composition(T1), composition({ Y: 10, Ba: 20, Cu: 27 })] },
    ]);
    const losses = proposedLosses(view);
    expect(losses.Cu!.value).toBeCloseTo(0.1, 12);
    expect(losses.Cu!.standardUncertainty).toBeCloseTo(0.9 * 0.04, 12); // four amounts of 2 % in quadrature
    expect(losses.Ba!.value).toBeCloseTo(0, 12);
  });

  it('proposes no loss below 0', () => {
    const view = viewOf([
      { name: 'D1', target: T1, states: [composition(T1), composition({ Y: 1, Ba: 2.2, Cu: 3 })] },
    ]);
    expect(proposedLosses(view).Ba!.value).toBe(0);
  });
});

describe('a ratio wanted in the film', () => {
  const targets = [T1, { Y: 1, Ba: 2.2, Cu: 3.5 }, { Y: 1, Ba: 2.4, Cu: 4 }];
  const known = filmKnowledge(
    viewOf(targets.map((target, i) => ({ name: `D${i}`, target, states: [composition(through(target))] }))),
  );
  const filmDraft = { ...emptyTarget('1:2:3'), wantedIn: 'film' as const };

  it('is turned into the target whose film it is, which is what is weighed', () => {
    const { aim, request, faults } = readTarget(filmDraft, 'Y', [], known);
    expect(faults).toEqual({});
    const target = aim!.answer.target.cations;
    expect((target.Ba! / target.Y!) * 0.95).toBeCloseTo(2, 9);
    expect((target.Cu! / target.Y!) * 1.04).toBeCloseTo(3, 9);
    expect(aim!.answer.targetU.Ba).toBeGreaterThan(0);
    const weighed = targetBatch.run(targetBatch.request.parse(request));
    expect(weighed.targetRatio.Ba! / weighed.targetRatio.Y!).toBeCloseTo(2 / 0.95, 3);
    expect(knowledgeText(known)).toContain('3 pairs');
  });

  it('takes a typed factor in place of the learnt one, and a typed loss beside it', () => {
    const { aim } = readTarget(
      { ...filmDraft, factors: { Ba: '1 ± 0.01' }, losses: { Cu: '10 ± 2' } },
      'Y',
      [],
      known,
    );
    const target = aim!.answer.target.cations;
    expect(target.Ba! / target.Y!).toBeCloseTo(2, 9);
    expect((target.Cu! / target.Y!) * 1.04 * 0.9).toBeCloseTo(3, 9);
  });

  it('is taken for the target itself where nothing is known, and says so plainly', () => {
    const nothing = filmKnowledge(viewOf([]));
    const { aim, request, faults } = readTarget(filmDraft, 'Y', [], nothing);
    expect(faults).toEqual({});
    expect(aim).toBeNull();
    expect(request?.composition).toEqual({ cations: T1 });
    expect(knowledgeText(nothing)).toMatch(/nothing says how a film differs from its target/);
  });

  it('asks for the factor that is missing, at its field and in words', () => {
    const zirconium = { ...filmDraft, ratio: 'Y1 Ba2 Cu3 Zr0.1' };
    const { request, faults } = readTarget(zirconium, 'Y', [], known);
    expect(request).toBeNull();
    expect(Object.keys(faults)).toEqual(['factor.Zr']);
    expect(faults['factor.Zr']).toMatch(/^The transfer factor of Zr is missing/);
  });

  it('takes the first rare earth as the measure of factors that are only typed', () => {
    const { aim } = readTarget(
      { ...filmDraft, factors: { Ba: '0.9', Cu: '1.1' } },
      'Y',
      [],
      filmKnowledge(viewOf([])),
    );
    expect(aim?.request.factors.Y).toEqual({ value: 1, standardUncertainty: 0 });
  });

  it.each([
    [{ factors: { Ba: '-1' } }, 'factor.Ba'],
    [{ losses: { Cu: '100' } }, 'loss.Cu'],
  ])('refuses %j at its field', (change, field) => {
    expect(Object.keys(readTarget({ ...filmDraft, ...change }, 'Y', [], known).faults)).toEqual([field]);
  });
});
