import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { passingOdds } from '../../../src/science/learning/beta-distribution.ts';
import { type ProposalQuestion, proposeCompositions } from '../../../src/science/learning/proposals.ts';
import { type TernaryPoint, triangleDistance } from '../../../src/science/matter/cation-ratios.ts';

function lattice(divisions: number): TernaryPoint[] {
  const points: TernaryPoint[] = [];
  for (let i = 1; i < divisions; i++)
    for (let j = 1; i + j < divisions; j++)
      points.push({ re: i / divisions, ba: j / divisions, cu: (divisions - i - j) / divisions });
  return points;
}
const POINTS = lattice(25);
const ask = (changes: Partial<ProposalQuestion> = {}) =>
  proposeCompositions({
    compositions: POINTS,
    odds: POINTS.map(() => 0.5),
    tried: [],
    count: 4,
    region: undefined,
    lengthScale: 0.06,
    seed: 1,
    ...changes,
  });
const film = (point: TernaryPoint, outcome: 'passes' | 'falls short' | 'cannot say') => ({
  ...point,
  outcome,
  label: 'F1',
  reason: '',
});

describe('proposeCompositions', () => {
  it('never proposes a composition that the diagram gives no odds', () => {
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom(0, 0, 0.2, 0.9), { minLength: POINTS.length, maxLength: POINTS.length }),
        fc.nat(1000),
        (odds, seed) => {
          fc.pre(odds.some((value) => value > 0));
          const { proposals, isFieldLeftOut } = ask({ odds, seed });
          expect(isFieldLeftOut).toBe(false);
          for (const proposal of proposals) expect(proposal.oddsLiquidAnd123).toBeGreaterThan(0);
        },
      ),
      { seed: 1, numRuns: 60 },
    );
  });

  it('fills the space and says so when all odds are zero', () => {
    const { proposals, isFieldLeftOut } = ask({ odds: POINTS.map(() => 0) });
    expect(isFieldLeftOut).toBe(true);
    expect(proposals).toHaveLength(4);
    expect(proposals[0]!.parts.field).toBe(1);
  });

  it('keeps away from what was tried and from each other', () => {
    const centre = { re: 0.32, ba: 0.32, cu: 0.36 };
    const { proposals } = ask({ tried: [film(centre, 'cannot say')] });
    const all = [centre, ...proposals];
    for (const a of all)
      for (const b of all) if (a !== b) expect(triangleDistance(a, b)).toBeGreaterThan(0.12);
  });

  it('gives the same answer to the same question, and the seed breaks ties only', () => {
    expect(ask()).toEqual(ask());
    const best = { re: 0.2, ba: 0.32, cu: 0.48 };
    const odds = POINTS.map((point) => (triangleDistance(point, best) < 1e-9 ? 0.9 : 0.3));
    for (const seed of [1, 2, 3])
      expect(triangleDistance(ask({ odds, seed }).proposals[0]!, best)).toBeLessThan(1e-9);
  });

  it('prefers the neighbourhood of a film that passed to that of one that fell short', () => {
    const good = { re: 0.2, ba: 0.2, cu: 0.6 };
    const bad = { re: 0.2, ba: 0.6, cu: 0.2 };
    const [first] = ask({ tried: [film(good, 'passes'), film(bad, 'falls short')] }).proposals;
    expect(triangleDistance(first!, good)).toBeLessThan(triangleDistance(first!, bad));
    expect(first!.parts.evidence).toBeGreaterThan(0.5);
    const near = ask({
      tried: [film(good, 'falls short')],
      compositions: [{ re: 0.22, ba: 0.2, cu: 0.58 }],
      odds: [1],
    }).proposals[0]!;
    expect(near.parts.evidence).toBeLessThan(0.4);
  });

  it('does not propose again what was tried', () => {
    const only = POINTS[10]!;
    expect(ask({ compositions: [only], odds: [1], tried: [film(only, 'passes')] }).proposals).toEqual([]);
  });

  it('stays in the region', () => {
    const { proposals } = ask({ region: { cuMin: 0.5, cuMax: 0.8, reMax: 0.2 } });
    for (const { re, cu } of proposals) expect(cu >= 0.5 && cu <= 0.8 && re <= 0.2).toBe(true);
  });

  it('scores by the product of its parts', () => {
    for (const { score, parts } of ask({ tried: [film({ re: 0.2, ba: 0.3, cu: 0.5 }, 'passes')] }).proposals)
      expect(score).toBeCloseTo(parts.field * parts.space * parts.evidence, 12);
  });

  it('refuses odds that are none, odds in another number, and a region without a composition', () => {
    expect(() => ask({ odds: [0.5] })).toThrow(/276 compositions but 1 odds/);
    expect(() => ask({ odds: POINTS.map((_, i) => (i === 3 ? 1.5 : 0.5)) })).toThrow(/odds\[3\] is 1\.5/);
    expect(() => ask({ region: { cuMin: 0.99, cuMax: 1, reMax: 1 } })).toThrow(
      /None of the 276 compositions/,
    );
  });
});

describe('passingOdds', () => {
  it('starts even, and falls towards what the record says', () => {
    expect(passingOdds(0, 0).mean).toBe(0.5);
    expect(passingOdds(0, 98).mean).toBeCloseTo(0.01, 12);
    expect(passingOdds(30, 30).standardDeviation).toBeLessThan(passingOdds(1, 1).standardDeviation);
  });

  it('has the moments of the distribution, summed directly', () => {
    const [passes, falls] = [2.5, 0.7];
    let [weight, first, second] = [0, 0, 0];
    for (let i = 0; i < 200_000; i++) {
      const p = (i + 0.5) / 200_000;
      const density = p ** passes * (1 - p) ** falls;
      weight += density;
      first += density * p;
      second += density * p * p;
    }
    const { mean, standardDeviation } = passingOdds(passes, falls);
    expect(mean).toBeCloseTo(first / weight, 6);
    expect(standardDeviation).toBeCloseTo(Math.sqrt(second / weight - (first / weight) ** 2), 6);
  });
});
