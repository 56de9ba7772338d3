import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { magneticTransition } from '../../../src/science/transition/magnetic.ts';
import { evenly, transitionShare, trueCrossingK } from '../../simulate/resistance-curve.ts';

const PARTS = [{ t50K: 88, widthK: 1.5, share: 1 }];

/** Diamagnetic step of `size` A m2 on a sloping background. */
function moments(t: number[], size: number, seed: number, parts = PARTS): number[] {
  const random = seededRandom(seed);
  return t.map((x) => -size * (1 - transitionShare(parts, x)) - 2e-8 + 1e-10 * x + 2e-9 * random.normal());
}

describe('magneticTransition', () => {
  it('finds onset, midpoint and width of the diamagnetic step', () => {
    const t = evenly(80, 100, 401);
    const result = magneticTransition(t, moments(t, 1e-6, 1));
    for (const [measured, truth] of [
      [result.onset, trueCrossingK(PARTS, 0.98)],
      [result.t50, 88],
      [result.width, 1.5],
    ] as const)
      expect(Math.abs(measured!.value - truth)).toBeLessThan(4 * measured!.standardUncertainty + 0.01);
  });

  it('turns a moment of the wrong sign and says so', () => {
    const t = evenly(80, 100, 401);
    const m = moments(t, 1e-6, 2);
    const turned = magneticTransition(
      t,
      m.map((x) => -x),
    );
    expect(turned.t50!.value).toBeCloseTo(magneticTransition(t, m).t50!.value, 9);
    expect(turned.flags.map((f) => f.code)).toContain('MOMENT_SIGN');
    expect(turned.shielding!.moment.value).toBeGreaterThan(0);
  });

  it('leaves the field-cooled sweep out of the answer', () => {
    const up = evenly(80, 100, 301);
    const down = evenly(100, 80, 301);
    const result = magneticTransition([...up, ...down], [...moments(up, 1e-6, 3), ...moments(down, 3e-7, 4)]);
    expect(result.flags.map((f) => f.code)).toContain('FIELD_COOLED_SWEEP');
    expect(result.sweeps).toHaveLength(1);
    expect(result.sweeps[0]!.direction).toBe('warming');
  });

  it('says when shielding is not complete at the coldest row', () => {
    const t = evenly(5, 100, 300);
    const parts = [
      { t50K: 88, widthK: 1.5, share: 0.8 },
      { t50K: 40, widthK: 60, share: 0.2 },
    ];
    const result = magneticTransition(t, moments(t, 1e-6, 5, parts));
    expect(result.flags.map((f) => f.code)).toContain('LEVEL_NOT_FLAT');
  });

  it('does not blame the sign of the moment where a paramagnetic substrate hides the step', () => {
    const t = evenly(10, 110, 200);
    const result = magneticTransition(
      t,
      moments(t, 1e-6, 6).map((m, i) => m + 2e-4 / t[i]!),
    );
    expect(result.t50).toBeNull();
    expect(result.flags.map((f) => f.code)).toEqual(['NO_TRANSITION']);
    expect(result.flags[0]!.message).toContain('paramagnetic substrate');
  });

  it('gives nulls and a reason without a step', () => {
    const t = evenly(100, 200, 100);
    const result = magneticTransition(t, moments(t, 1e-6, 6));
    expect(result.t50).toBeNull();
    expect(result.flags.map((f) => f.code)).toContain('NO_TRANSITION');
  });
});
