import { describe, expect, it } from 'vitest';
import { learningNext } from '../../../src/computations/learning/next.ts';
import { learningVerdict } from '../../../src/computations/learning/verdict.ts';

describe('learning.verdict', () => {
  it('answers its example in its own schema', () => {
    const response = learningVerdict.run(learningVerdict.request.parse(learningVerdict.example));
    expect(learningVerdict.response.parse(response)).toEqual(response);
    expect(response.reasons.map((reason) => reason.outcome)).toEqual(['passes', 'cannot say', 'passes']);
  });

  it('says at which condition the number was taken, where it is not the one asked', () => {
    const response = learningVerdict.run(learningVerdict.request.parse(learningVerdict.example));
    expect(response.reasons[0]!.sentence).toContain('(2.4 ± 0.2)e10 A/m2 (at 77.3 K, self-field)');
  });
});

describe('learning.next', () => {
  const example = learningNext.request.parse(learningNext.example);

  it('answers its example in its own schema, with reasons in words and numbers', () => {
    const response = learningNext.run(example);
    expect(learningNext.response.parse(response)).toEqual(response);
    const [first] = response.proposals;
    expect(first!.sentence).toMatch(
      /^Y 1 : Ba 2\.5 : Cu 6\.5 .* odds of 50 % at 850 degC .* Score 0\.199 = field 0\.5 x space 0\.97 x evidence 0\.41\.$/,
    );
    expect(first!.couldGoWrong).toMatch(/made F2 fall short \(CuO should be absent and is present\)/);
    expect(first!.cations).toEqual({ Y: 1, Ba: expect.closeTo(2.5, 9), Cu: expect.closeTo(6.5, 9) });
  });

  it('flags zero odds everywhere, and fewer proposals than asked for', () => {
    const zero = { ...example, fieldOdds: { ...example.fieldOdds, odds: new Float64Array(4) }, count: 5 };
    expect(learningNext.run(zero).flags.map((flag) => flag.code)).toEqual([
      'ALL_ODDS_ZERO',
      'FEWER_PROPOSALS',
    ]);
    expect(learningNext.run({ ...example, tried: [] }).proposals[0]!.couldGoWrong).toMatch(/^New ground/);
    expect(learningNext.run({ ...example, tried: [] }).proposals[0]!.nearestTried).toBeNull();
  });
});
