import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import {
  median,
  noiseOfCurve,
  onLine,
  robustStraightLine,
  straightLine,
} from '../../../src/science/numerics/straight-line.ts';

const X = Array.from({ length: 60 }, (_, i) => 1e6 + i);

describe('straight lines', () => {
  it('go through points on a line far from the origin without losing digits', () => {
    const line = straightLine(
      X,
      X.map((x) => 2 - 3 * x),
    )!;
    expect(line.slope).toBeCloseTo(-3, 12);
    expect(onLine(line, 1e6).value).toBeCloseTo(2 - 3e6, 6);
  });

  it('are not moved by a few wild points when robust', () => {
    const random = seededRandom(1);
    const y = X.map((x, i) => 0.5 * (x - 1e6) + 0.1 * random.normal() + (i % 12 === 0 ? 50 : 0));
    expect(Math.abs(robustStraightLine(X, y)!.slope - 0.5)).toBeLessThan(0.005);
    expect(Math.abs(straightLine(X, y)!.intercept + 0.5e6)).toBeGreaterThan(1);
  });

  it('hold the true value at a point in 95 of a hundred intervals', () => {
    const random = seededRandom(2);
    let held = 0;
    for (let k = 0; k < 500; k++) {
      const line = robustStraightLine(
        X,
        X.map((x) => 3 + 0.2 * (x - 1e6) + random.normal()),
      )!;
      const at = onLine(line, 1e6 - 20);
      if (Math.abs(at.value - (3 - 4)) < 1.96 * at.standardUncertainty) held++;
    }
    expect(held / 500).toBeGreaterThan(0.88);
    expect(held / 500).toBeLessThan(0.99);
  });

  it('do not exist through one abscissa', () => {
    expect(straightLine([1, 1, 1], [1, 2, 3])).toBeUndefined();
    expect(straightLine([1], [1])).toBeUndefined();
  });
});

describe('noiseOfCurve', () => {
  it('finds the noise of a curve with a steep step, at any spacing', () => {
    const random = seededRandom(3);
    const x = Array.from({ length: 400 }, (_, i) => i + 0.3 * random.uniform());
    const y = x.map((v) => (v > 200 ? 1000 : 0) + 0.01 * v + 0.5 * random.normal());
    expect(noiseOfCurve(x, y)).toBeGreaterThan(0.42);
    expect(noiseOfCurve(x, y)).toBeLessThan(0.58);
  });

  it('has nothing to say about two points', () => {
    expect(noiseOfCurve([0, 1], [0, 1])).toBeNaN();
    expect(median([])).toBeNaN();
  });
});
