import { describe, expect, it } from 'vitest';
import { fitPolynomial } from '../../../src/science/numerics/polynomial.ts';

describe('fitPolynomial', () => {
  it('gives back the polynomial that its points lie on', () => {
    const x = [-1, -0.4, 0, 0.3, 0.9];
    const fit = fitPolynomial(
      x,
      x.map((v) => 2 - 3 * v + 0.5 * v * v),
      2,
    )!;
    for (const [k, c] of [2, -3, 0.5].entries()) expect(fit.coefficients[k]).toBeCloseTo(c, 12);
    expect(fit.scatter).toBeLessThan(1e-12);
  });

  it('has the variance of the middle of five even points that the sums give by hand, 17/35 for a parabola', () => {
    const fit = fitPolynomial([-2, -1, 0, 1, 2], [0, 1, 0, 1, 0], 2)!;
    expect(fit.inverse[0]).toBeCloseTo(17 / 35, 12);
  });

  it('is not there for fewer different points than coefficients', () => {
    expect(fitPolynomial([1, 1, 2], [1, 2, 3], 2)).toBeUndefined();
  });
});
