import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bracketedRoot } from '../../../src/science/numerics/bracketed-root.ts';

describe('bracketedRoot', () => {
  it('finds the root of a rising or falling curve from any first guess', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 820, max: 1780, noNaN: true }),
        fc.double({ min: 850, max: 1750, noNaN: true }),
        fc.boolean(),
        (root, start, isRising) => {
          const f = (x: number): number =>
            (isRising ? 1 : -1) * (Math.tanh((x - root) / 200) + (x - root) / 500);
          const found = bracketedRoot(f, [800, 1800], start, 3, 1e-9);
          expect(found).toBeDefined();
          expect(Math.abs(found! - root)).toBeLessThan(1e-6);
        },
      ),
      { numRuns: 500, seed: 60 },
    );
  });

  it('finds a root past a kink, where a secant overshoots', () => {
    const f = (x: number): number => (x < 2 ? 100 * (x - 2) : 0.01 * (x - 2));
    expect(bracketedRoot(f, [0, 10], 9, 0.1, 1e-10)).toBeCloseTo(2, 8);
  });

  it('says that there is none where the curve keeps one sign to both ends', () => {
    expect(bracketedRoot((x) => x + 20, [0, 10], 5, 1, 1e-9)).toBeUndefined();
    expect(bracketedRoot((x) => -x - 20, [0, 10], 5, 1, 1e-9)).toBeUndefined();
  });

  it('says that there is none where the curve has no numbers', () => {
    expect(bracketedRoot(() => Number.NaN, [0, 10], 5, 1, 1e-9)).toBeUndefined();
  });
});
