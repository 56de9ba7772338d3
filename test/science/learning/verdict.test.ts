import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Criterion, Fact, Facts, PhaseFact } from '../../../src/science/learning/facts.ts';
import { meetingOdds } from '../../../src/science/learning/odds.ts';
import { judge, type VerdictQuestion } from '../../../src/science/learning/verdict.ts';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';

const AT_77 = { temperatureK: 77, fieldT: 0 };
const jc = (value: number, standardUncertainty: number | null, rest: Partial<Fact> = {}): Fact => ({
  name: 'jcAPerM2',
  at: AT_77,
  value,
  standardUncertainty,
  origin: 'measured',
  method: 'transport, 1 uV/cm',
  ...rest,
});
const facts = (numbers: Fact[], phases: PhaseFact[] = []): Facts => ({ numbers, phases });
const atLeast = (wanted: number, relativeTo: 'nothing' | 'benchmark' = 'nothing'): Criterion => ({
  kind: 'number',
  fact: 'jcAPerM2',
  at: AT_77,
  comparison: 'at least',
  wanted,
  relativeTo,
});
const ask = (changes: Partial<VerdictQuestion>) =>
  judge({
    criteria: [atLeast(2e10)],
    facts: facts([]),
    benchmark: null,
    differences: [],
    runScatter: undefined,
    ...changes,
  });
const codes = (verdict: ReturnType<typeof judge>): string[] => verdict.doubts.map((doubt) => doubt.code);

describe('meetingOdds', () => {
  it('is the share of simulated true values that meet a benchmark', () => {
    const random = seededRandom(3);
    let met = 0;
    const n = 40_000;
    for (let i = 0; i < n; i++) if (2.1 + 0.2 * random.normal() >= 2 + 0.1 * random.normal()) met += 1;
    const { odds } = meetingOdds(
      { value: 2.1, standardUncertainty: 0.2 },
      { value: 2, standardUncertainty: 0.1 },
      'at least',
    );
    expect(odds).toBeCloseTo(met / n, 1);
    expect(Math.abs(odds - met / n)).toBeLessThan(4 * Math.sqrt((odds * (1 - odds)) / n));
  });

  it('for at least and at most add to 1', () => {
    const number = fc.double({ min: -10, max: 10, noNaN: true });
    const spread = fc.double({ min: 0.01, max: 10, noNaN: true });
    fc.assert(
      fc.property(number, spread, number, spread, (x, ux, w, uw) => {
        const measured = { value: x, standardUncertainty: ux };
        const wanted = { value: w, standardUncertainty: uw };
        const sum =
          meetingOdds(measured, wanted, 'at least').odds + meetingOdds(measured, wanted, 'at most').odds;
        expect(sum).toBeCloseTo(1, 12);
      }),
      { seed: 2 },
    );
  });

  it('of two bounds that pull apart says nothing', () => {
    const above = (value: number) => ({ value, standardUncertainty: 0, bound: 'above' as const });
    expect(meetingOdds(above(3), above(2), 'at least').side).toBe('open');
    expect(meetingOdds(above(3), { ...above(2), bound: 'below' }, 'at least')).toEqual({
      odds: 1,
      side: 'least',
    });
  });
});

describe('judge', () => {
  it.each([
    [2.21e10, 'passes'],
    [2.05e10, 'cannot say'],
    [1.95e10, 'cannot say'],
    [1.79e10, 'falls short'],
  ])('says of Jc %d with 2e9, asked for 2e10: %s', (value, outcome) => {
    const verdict = ask({ facts: facts([jc(value, 2e9)]) });
    expect(verdict.outcome).toBe(outcome);
    expect(verdict.odds.passes + verdict.odds.fallsShort + verdict.odds.cannotSay).toBeCloseTo(1, 12);
  });

  it('names the uncertainty that would decide, and a number of that uncertainty does', () => {
    const first = ask({ facts: facts([jc(2.1e10, 2e9)]) });
    expect(first.reasons[0]!.wouldDecide).toContain('standard uncertainty of 1e9 A/m2');
    expect(ask({ facts: facts([jc(2.1e10, 1e9)]) }).outcome).toBe('passes');
  });

  it('cannot say without the number, and asks for it', () => {
    const verdict = ask({});
    expect(verdict.outcome).toBe('cannot say');
    expect(verdict.odds).toEqual({ passes: 0, fallsShort: 0, cannotSay: 1 });
    expect(verdict.reasons[0]).toMatchObject({
      odds: null,
      measured: null,
      wouldDecide: 'Measure Jc at 77 K, self-field.',
    });
  });

  it('compares with a benchmark, with both uncertainties, and names how it was grown unlike', () => {
    const verdict = ask({
      criteria: [atLeast(0.8, 'benchmark')],
      facts: facts([jc(2.4e10, 2e9)]),
      benchmark: facts([jc(2.5e10, 1.5e9)]),
      differences: ['substrate MgO, the benchmark on SrTiO3'],
    });
    const [reason] = verdict.reasons;
    expect(reason).toMatchObject({ outcome: 'passes', wanted: { value: 2e10, unit: 'A/m2' } });
    expect(reason!.sentence).toContain('grown unlike it: substrate MgO');
    expect(reason!.odds).toBeGreaterThan(reason!.oddsWithScatter!);
    expect(codes(verdict)).toEqual(['SCATTER_PRIOR']);
  });

  it('cannot say against a benchmark that was not measured, whatever the piece has', () => {
    const verdict = ask({ criteria: [atLeast(1, 'benchmark')], facts: facts([jc(5e10, 1e9)]) });
    expect(verdict.outcome).toBe('cannot say');
    expect(verdict.reasons[0]).toMatchObject({
      wanted: null,
      sentence: expect.stringContaining('no benchmark is named, or nothing is known of it'),
      wouldDecide: 'Name the piece that is the benchmark, and measure Jc at 77 K, self-field of it.',
    });
    const silent = ask({
      criteria: [atLeast(1, 'benchmark')],
      facts: facts([jc(5e10, 1e9)]),
      benchmark: facts([]),
    });
    expect(silent.reasons[0]).toMatchObject({
      sentence: expect.stringContaining('the benchmark has no such number'),
      wouldDecide: 'Measure Jc at 77 K, self-field of the benchmark.',
    });
  });

  it('takes the scatter of the series in place of the prior', () => {
    const prior = ask({ facts: facts([jc(2.5e10, 1e9)]) });
    const own = ask({ facts: facts([jc(2.5e10, 1e9)]), runScatter: 0.05 });
    expect(own.reasons[0]!.oddsWithScatter).toBeGreaterThan(prior.reasons[0]!.oddsWithScatter!);
    expect(codes(own)).toEqual([]);
  });

  it('claims neither 0 nor 1 for a number without an uncertainty', () => {
    for (const unstated of [null, 0]) {
      const verdict = ask({ facts: facts([jc(2.1e10, unstated)]) });
      expect(verdict.outcome).toBe('cannot say');
      expect(verdict.reasons[0]!.measured!.standardUncertainty).toBeCloseTo(2.1e9, -3);
      expect(codes(verdict)).toContain('UNCERTAINTY_NOT_STATED');
    }
  });

  it.each([
    ['above', 2.5e10, 'passes'],
    ['above', 1.5e10, 'cannot say'],
    ['below', 1.5e10, 'falls short'],
    ['below', 2.5e10, 'cannot say'],
  ] as const)(
    'lets a bound decide only where it does: Jc %s %d, asked for at least 2e10, %s',
    (bound, value, outcome) => {
      const verdict = ask({ facts: facts([jc(value, null, { bound })]) });
      expect(verdict.outcome).toBe(outcome);
      expect(verdict.reasons[0]!.odds).toBeNull();
      expect(codes(verdict)).toEqual([]);
      if (outcome === 'cannot say') expect(verdict.reasons[0]!.wouldDecide).toMatch(/in place of the bound/);
    },
  );

  it('falls short if one criterion does, and is open if one is', () => {
    const phase = (wanted: 'present' | 'absent'): Criterion => ({ kind: 'phase', phase: 'CuO', wanted });
    const seen = facts([jc(3e10, 1e9)], [{ phase: 'CuO', answer: 'present', origin: 'measured' }]);
    expect(ask({ criteria: [atLeast(2e10), phase('absent')], facts: seen }).outcome).toBe('falls short');
    expect(ask({ criteria: [atLeast(2e10), phase('present')], facts: seen }).outcome).toBe('passes');
    expect(ask({ criteria: [atLeast(2e10), phase('present')], facts: facts([jc(3e10, 1e9)]) }).outcome).toBe(
      'cannot say',
    );
  });

  it('believes a scan before a typed phase, and cannot say when two scans differ', () => {
    const said = (...answers: PhaseFact[]) =>
      ask({ criteria: [{ kind: 'phase', phase: 'Y123', wanted: 'present' }], facts: facts([], answers) });
    const typedAbsent: PhaseFact = { phase: 'Y123', answer: 'absent', origin: 'typed' };
    const seen: PhaseFact = { phase: 'Y123', answer: 'present', origin: 'measured' };
    expect(said(typedAbsent, seen).outcome).toBe('passes');
    expect(said(typedAbsent).outcome).toBe('falls short');
    expect(said(seen, { ...seen, answer: 'absent' }).outcome).toBe('cannot say');
    expect(said({ ...seen, answer: 'cannot say' }).reasons[0]!.wouldDecide).toMatch(/theta-2theta/);
  });

  it('says that nothing was asked', () => {
    const verdict = ask({ criteria: [] });
    expect([verdict.outcome, codes(verdict)]).toEqual(['cannot say', ['NO_CRITERIA']]);
  });

  it('does not ask for a better measurement of a piece that lies on the wanted value', () => {
    expect(ask({ facts: facts([jc(2e10, 1e9)]) }).reasons[0]!.wouldDecide).toMatch(
      /no measurement of this piece/,
    );
  });

  it('never claims more of the whole than of its weakest criterion', () => {
    const width: Criterion = {
      kind: 'number',
      fact: 'transitionWidthK',
      comparison: 'at most',
      wanted: 1,
      relativeTo: 'nothing',
    };
    const width07: Fact = {
      name: 'transitionWidthK',
      value: 0.7,
      standardUncertainty: 0.2,
      origin: 'measured',
      method: 'resistance',
    };
    const verdict = ask({ criteria: [atLeast(2e10), width], facts: facts([jc(2.3e10, 2e9), width07]) });
    const odds = verdict.reasons.map((reason) => reason.odds!);
    expect(verdict.odds.passes).toBeCloseTo(odds[0]! * odds[1]!, 12);
  });
});

describe('the benchmark judged against itself', () => {
  const own = facts([jc(2.5e10, 4e9, { measurementId: 'm1' })]);

  it('passes a share of its own value, since both err together, however uncertain it is', () => {
    const verdict = ask({ criteria: [atLeast(0.8, 'benchmark')], facts: own, benchmark: own });
    expect(verdict.outcome).toBe('passes');
    expect(verdict.reasons[0]!.odds).toBeGreaterThan(0.99);
    expect(verdict.reasons[0]!.sentence).toContain('the benchmark itself');
    const whole = ask({ criteria: [atLeast(1, 'benchmark')], facts: own, benchmark: own });
    expect(whole.outcome).toBe('passes');
    expect(whole.reasons[0]!.odds).toBeNull(); // a number is at least itself: nothing is left to odds
  });

  it('falls short of more than itself', () => {
    const verdict = ask({ criteria: [atLeast(1.2, 'benchmark')], facts: own, benchmark: own });
    expect(verdict.outcome).toBe('falls short');
  });

  it('is not taken for another measurement of the same value', () => {
    const other = facts([jc(2.5e10, 4e9, { measurementId: 'm2' })]);
    const verdict = ask({ criteria: [atLeast(1, 'benchmark')], facts: own, benchmark: other });
    expect(verdict.reasons[0]!.odds).toBeCloseTo(0.5, 10);
    const typed = facts([jc(2.5e10, 4e9, { origin: 'typed' })]);
    const twice = ask({ criteria: [atLeast(1, 'benchmark')], facts: typed, benchmark: typed });
    expect(twice.reasons[0]!.odds).toBeCloseTo(0.5, 10); // two pieces may be typed alike
  });
});
