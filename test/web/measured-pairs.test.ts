import { describe, expect, it } from 'vitest';
import { growthEvaporation } from '../../src/computations/growth/evaporation.ts';
import type { Treatment, TypedFacts } from '../../src/records/kinds.ts';
import { placeSegments } from '../../src/science/growth/path.ts';
import { evaporationAsk } from '../../src/web/drafts/evaporation-ask.ts';
import {
  carriedLoss,
  compensateAddress,
  lossesParameter,
  lossOfBoth,
  lossTexts,
} from '../../src/web/drafts/loss-address.ts';
import { heatedPairs, relativeRatioU } from '../../src/web/drafts/measured-pairs.ts';
import { stored, viewWith } from './series-view.ts';

const SEGMENTS: Treatment['segments'] = [
  { kind: 'ramp', toC: 850, durationS: 825, po2Atm: 1e-6, gas: '' },
  { kind: 'hold', toC: 850, durationS: 60, po2Atm: 1e-3, gas: '' },
];
const treatment = (id: string, startedAt: string | null, segments = SEGMENTS) =>
  stored('treatment', id, {
    label: id,
    pieceId: 'P',
    startedAt,
    segments,
    planId: null,
    chamberId: null,
    note: '',
  });
type Composition = NonNullable<TypedFacts['composition']>;
const composition = (ba: number, cu: number, more: Partial<Composition> = {}): Composition => ({
  cations: { Dy: 1, Ba: ba, Cu: cu },
  standardUncertainties: { Dy: 0.01, Ba: 0.04, Cu: 0.03 },
  method: 'ICP-OES',
  standard: '',
  ...more,
});
const facts = (id: string, stateTreatmentId: string | null, measured: Composition | null) =>
  stored('typedFacts', id, {
    pieceId: 'P',
    stateTreatmentId,
    numbers: [],
    phases: [],
    composition: measured,
    source: '',
    note: '',
  });
const PIECE = stored('piece', 'P', {
  label: 'D01-a',
  filmId: 'F',
  lengthMm: null,
  widthMm: null,
  note: '',
});
const FILM = stored('film', 'F', {
  label: 'D01',
  runId: null,
  cations: null,
  substrate: 'MgO',
  substrateLot: '',
  position: '',
  thicknessNm: { value: 400, standardUncertainty: null },
  depositionRateNmPerS: null,
  conversionRateNmPerS: null,
  overallRateNmPerS: null,
  note: '',
});
const base = { pieces: [PIECE], films: [FILM] };

describe('films measured before and after a treatment', () => {
  it('make one pair of each two neighbouring measured states, over the treatments between them', () => {
    const view = viewWith({
      ...base,
      treatments: [
        treatment('second', '2026-01-03T00:00:00.000Z'),
        treatment('first', '2026-01-02T00:00:00.000Z'),
      ],
      typedFacts: [facts('a', null, composition(2, 3)), facts('b', 'second', composition(1.9, 2.9))],
    });
    const { pairs, labels, remarks } = heatedPairs(view);
    expect(labels).toEqual(['D01-a: first, second']);
    expect(remarks).toEqual([]);
    expect(pairs[0]).toMatchObject({
      before: { Ba: 2 },
      after: { Ba: 1.9 },
      thicknessNm: 400,
    });
    const placed = placeSegments(pairs[0]!.path.start, pairs[0]!.path.segments);
    expect(placed.at(-1)!.endS).toBe(2 * 885);
  });

  it('take the newest composition of a state, and none of a piece measured once', () => {
    const once = viewWith({
      ...base,
      treatments: [treatment('t', null)],
      typedFacts: [facts('a', 't', composition(2, 3)), facts('b', null, null)],
    });
    expect(heatedPairs(once).pairs).toEqual([]);
    const twice = viewWith({
      ...base,
      treatments: [treatment('t', null)],
      typedFacts: [
        facts('a', null, composition(9, 9)),
        facts('b', null, composition(2, 3)),
        facts('c', 't', composition(1.9, 2.9)),
      ],
    });
    expect(heatedPairs(twice).pairs[0]!.before.Ba).toBe(2);
  });

  it('are left out in words where a path has no oxygen or a cation is missing, and doubted between two methods', () => {
    const cold = treatment('t', null, [{ kind: 'hold', toC: 850, durationS: 60, po2Atm: 0, gas: 'vacuum' }]);
    const measured = [facts('a', null, composition(2, 3)), facts('b', 't', composition(1.9, 2.9))];
    expect(heatedPairs(viewWith({ ...base, treatments: [cold], typedFacts: measured }))).toEqual({
      pairs: [],
      labels: [],
      remarks: [expect.stringContaining('no oxygen pressure above 0')],
    });
    const bare = composition(1.9, 2.9, { cations: { Ba: 2, Cu: 3 } });
    const withBare = [measured[0]!, facts('b', 't', bare)];
    expect(
      heatedPairs(viewWith({ ...base, treatments: [treatment('t', null)], typedFacts: withBare })).remarks[0],
    ).toContain('a rare earth, Ba and Cu must all be measured');
    const other = [measured[0]!, facts('b', 't', composition(1.9, 2.9, { method: 'EDX' }))];
    const doubted = heatedPairs(viewWith({ ...base, treatments: [treatment('t', null)], typedFacts: other }));
    expect(doubted.pairs).toHaveLength(1);
    expect(doubted.remarks[0]).toContain('by ICP-OES before and EDX after');
  });

  it('state the doubt of a ratio by its less certain metal and the rare earth', () => {
    expect(relativeRatioU(composition(2, 3))).toBeCloseTo(Math.hypot(0.02, 0.01), 12);
    expect(relativeRatioU(composition(2, 3, { standardUncertainties: { Dy: 0.01, Ba: 0.04 } }))).toBeNull();
  });
});

describe('the request of what evaporates', () => {
  const film = {
    timeS: [0, 825, 825, 885],
    temperatureC: [25, 850, 850, 850],
    log10Po2Atm: [-6, -6, -3, -3],
  };
  const view = viewWith({
    ...base,
    treatments: [treatment('t', null)],
    typedFacts: [facts('a', null, composition(2, 3)), facts('b', 't', composition(1.9, 2.9))],
  });
  const of = (texts: Record<string, string>) =>
    evaporationAsk(
      film,
      { cations: { Dy: 1, Ba: 2, Cu: 3 }, thicknessNm: { value: 400, standardUncertainty: 10 } },
      heatedPairs(view).pairs,
      texts,
    );

  it('is one that the entry takes and answers, with the measured loss fitted', () => {
    const { request } = of({ sticking: '0.5 ± 0.1', layerMm: '3' });
    const answer = growthEvaporation.run(growthEvaporation.request.parse(request));
    expect(answer.empirical!.pairs[0]!.baLoss).toBeCloseTo(0.05, 12);
    expect(answer.empirical!.pairs[0]!.cuLoss).toBeCloseTo(1 - 2.9 / 3, 12);
  });

  it('asks the activities at equilibrium after those of the pure oxides', () => {
    expect(of({}).request).not.toHaveProperty('activities');
    expect(of({}).atEquilibrium).toMatchObject({ activities: 'equilibrium' });
  });

  it('is not asked with a field that cannot be read', () => {
    const { request, faults } = of({ sticking: '1.2' });
    expect(request).toBeNull();
    expect(faults.sticking).toContain("Found '1.2'");
  });
});

describe('fitted losses on their way to the target', () => {
  const share = (value: number, standardUncertainty: number) => ({ value, standardUncertainty });

  it('are the mean of both lines, with half their distance as the least doubt', () => {
    expect(lossOfBoth(share(0.02, 0.001), share(0.04, 0.001))).toEqual(share(0.03, 0.01));
    expect(lossOfBoth(null, share(0.04, 0.001))).toEqual(share(0.04, 0.001));
    expect(lossOfBoth(null, null)).toBeNull();
  });

  it('are carried to another path as evaporation, or near what was measured', () => {
    const loss = share(0.3, 0.1);
    expect(carriedLoss({ scale: share(0.8, 0.2), loss }, [0.02])).toBe(loss);
    expect(carriedLoss({ scale: share(1e6, 6e5), loss }, [0.02])).toBeNull();
    expect(carriedLoss({ scale: share(1e6, 6e5), loss }, [0.2, 0.5])).toBe(loss);
    expect(carriedLoss({ scale: share(0.8, 0.2), loss: null }, [0.02])).toBeNull();
  });

  it('are written with their doubts, gains and unknown ones left out', () => {
    expect(lossesParameter({ Ba: share(0.03, 0.01), Cu: share(0.02, 0.012345) })).toBe(
      'Ba:0.03~0.01,Cu:0.02~0.01235',
    );
    expect(lossesParameter({ Ba: share(-0.01, 0.02), Cu: null })).toBe('');
    const address = compensateAddress(
      's',
      { cations: { Dy: 1, Ba: 2, Cu: 3 }, rareEarth: 'Dy' },
      'Ba:0.03~0.01',
    );
    const search = new URL(address, 'http://here').searchParams;
    expect(search.get('ratio')).toBe('1:2:3');
    expect(search.get('losses')).toBe('Ba:0.03~0.01');
  });

  it('are read by the target page as per cents, and what is no loss is left out', () => {
    expect(lossTexts('Ba:0.03~0.01,Cu:0.02~0.01235')).toEqual({ Ba: '3 ± 1', Cu: '2 ± 1.2' });
    expect(lossTexts('Ba:1.2~0.1,Xx:0.1~0.1,Cu:-0.1~0.1,Y:0.1,nothing')).toEqual({});
  });
});
