import { describe, expect, it } from 'vitest';
import type { TestedLine, TestGround } from '../../../src/science/diffraction/phase-test.ts';
import { answerForPhase, lineLogBayesFactor } from '../../../src/science/diffraction/phase-test.ts';

const ground = { referenceArea: 100 } as TestGround;
const line = (
  label: string,
  twoThetaDeg: number,
  areaCountsDeg: number,
  more: Partial<TestedLine> = {},
): TestedLine => ({
  label,
  twoThetaDeg,
  toleranceDeg: 0.1,
  isInScan: true,
  coveredBy: undefined,
  peak: undefined,
  areaCountsDeg,
  areaCountsDegU: 0.3,
  ...more,
});
const nobody = (): boolean => false;

describe('lineLogBayesFactor', () => {
  it.each([
    [0.5, 0.3, 5],
    [3, 1, 2],
    [-1, 1, 5],
    [0, 1, 0.2],
  ])(
    'is the integral of half-normal times error, done by direct sum (a %d, s %d, S %d)',
    (area, areaU, scale) => {
      let there = 0;
      const step = scale / 4000;
      for (let x = step / 2; x < 8 * scale + 8 * areaU; x += step) {
        const prior = (2 / (scale * Math.sqrt(2 * Math.PI))) * Math.exp(-((x / scale) ** 2) / 2);
        there += prior * Math.exp(-(((area - x) / areaU) ** 2) / 2) * step;
      }
      const absent = Math.exp(-((area / areaU) ** 2) / 2);
      expect(Math.abs(lineLogBayesFactor(area, areaU, scale) - Math.log(there / absent))).toBeLessThan(1e-3);
    },
  );
});

describe('answerForPhase', () => {
  it('calls a phase absent when its clear lines show nothing, with three deviations as the limit', () => {
    const answer = answerForPhase(ground, [line('a', 29, 0.1), line('b', 34, -0.2)], [], nobody);
    expect(answer.answer).toBe('absent');
    expect(answer.detectionLimit).toBeCloseTo(0.009, 9);
  });

  it('calls a phase present when two of its lines are seen', () => {
    const lines = [line('a', 29, 6, { peak: 0 }), line('b', 34, 2, { peak: 1 })];
    expect(answerForPhase(ground, lines, [], nobody)).toMatchObject({
      answer: 'present',
      texture: 'random or weakly aligned',
    });
  });

  it('cannot say when the only line seen lies under another’s', () => {
    const answer = answerForPhase(
      ground,
      [line('a', 29, 6, { peak: 0, coveredBy: 'SrTiO3 (002)' })],
      [],
      nobody,
    );
    expect(answer).toMatchObject({
      answer: 'cannot say',
      reason: expect.stringMatching(/a under SrTiO3 \(002\)/),
    });
  });

  it('cannot say when another candidate claims the only line', () => {
    const answer = answerForPhase(ground, [line('a', 29, 6, { peak: 0 })], [], () => true);
    expect(answer.answer).toBe('cannot say');
  });

  it('cannot say when a line as strong is missing, unless the one seen is an aligned phase’s', () => {
    const lines = [line('a', 29, 10, { peak: 0 }), line('b', 34, 0)];
    expect(answerForPhase(ground, lines, [], nobody)).toMatchObject({
      answer: 'cannot say',
      reason: expect.stringMatching(/b, which should be as strong, is missing/),
    });
    expect(answerForPhase(ground, lines, ['a'], nobody)).toMatchObject({
      answer: 'present',
      texture: 'aligned, a along the normal',
    });
  });

  it('cannot say when the noise would hide the amount that is usual', () => {
    const lines = [line('a', 29, 2, { areaCountsDegU: 6 })];
    expect(answerForPhase(ground, lines, [], nobody).answer).toBe('cannot say');
  });
});
