import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalCdf } from '../../../src/science/numerics/normal-distribution.ts';

describe('normalCdf', () => {
  it('is the integral of the bell curve, summed directly', () => {
    const n = 200_000;
    for (const z of [-4, -1, 0.3, 2.9, 3.1]) {
      let sum = 0;
      const step = (z + 10) / n;
      for (let i = 0; i < n; i++) sum += Math.exp(-((-10 + (i + 0.5) * step) ** 2) / 2);
      expect(normalCdf(z) / ((sum * step) / Math.sqrt(2 * Math.PI))).toBeCloseTo(1, 8);
    }
  });

  it('mirrors about zero, rises, and ends at 0 and 1', () => {
    fc.assert(
      fc.property(fc.double({ min: -8, max: 8, noNaN: true }), (z) => {
        expect(normalCdf(z) + normalCdf(-z)).toBeCloseTo(1, 14);
        expect(normalCdf(z + 0.01)).toBeGreaterThanOrEqual(normalCdf(z));
      }),
      { seed: 1 },
    );
    expect([normalCdf(Number.NEGATIVE_INFINITY), normalCdf(Number.POSITIVE_INFINITY)]).toEqual([0, 1]);
  });

  it('has no step where series and continued fraction meet', () => {
    expect(normalCdf(-3 - 1e-12) / normalCdf(-3 + 1e-12)).toBeCloseTo(1, 10);
  });
});
