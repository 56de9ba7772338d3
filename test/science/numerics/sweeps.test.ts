import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isotonic } from '../../../src/science/numerics/isotonic.ts';
import { sweepsOf } from '../../../src/science/numerics/sweeps.ts';

describe('sweepsOf', () => {
  it('cuts at turning points and shares the turning row', () => {
    expect(sweepsOf([0, 1, 2, 3, 2, 1, 0, 1], 0.5)).toEqual([
      { from: 0, to: 3, direction: 1 },
      { from: 3, to: 6, direction: -1 },
      { from: 6, to: 7, direction: 1 },
    ]);
  });

  it('does not cut at jitter below the reversal', () => {
    const x = Array.from({ length: 100 }, (_, i) => i + (i % 2 ? 1.5 : 0));
    expect(sweepsOf(x, 3)).toHaveLength(1);
  });

  it('finds no sweep in a column that stands still', () => {
    expect(sweepsOf([1, 1, 1], 0.1)).toEqual([]);
    expect(sweepsOf([1], 0.1)).toEqual([]);
  });
});

describe('isotonic', () => {
  it('never falls, keeps the mean and leaves a rising sequence alone', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: 1, maxLength: 50 }),
        (y) => {
          const fitted = isotonic(y);
          for (let i = 1; i < y.length; i++) expect(fitted[i]!).toBeGreaterThanOrEqual(fitted[i - 1]!);
          const sum = (values: Iterable<number>) => Array.from(values).reduce((a, b) => a + b, 0);
          expect(sum(fitted)).toBeCloseTo(sum(y), 8);
          expect(Array.from(isotonic(fitted))).toEqual(Array.from(fitted));
        },
      ),
    );
  });
});
