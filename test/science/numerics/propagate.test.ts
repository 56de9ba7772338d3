import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { propagate } from '../../../src/science/numerics/propagate.ts';

describe('propagate', () => {
  it('adds the uncertainties of a sum in squares and the relative ones of a product', () => {
    const { values, standardUncertainties } = propagate(
      ([a, b]) => [a! + b!, a! * b!],
      [
        { value: 10, standardUncertainty: 0.3 },
        { value: 20, standardUncertainty: 0.4 },
      ],
    );
    expect([...values]).toEqual([30, 200]);
    expect(standardUncertainties[0]).toBeCloseTo(0.5, 12);
    expect(standardUncertainties[1]).toBeCloseTo(Math.hypot(0.3 * 20, 0.4 * 10), 12);
  });

  it('keeps a positive input positive however uncertain it is', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 5, noNaN: true }), (relative) => {
        const seen: number[] = [];
        propagate(
          ([x]) => {
            seen.push(x!);
            return [x!];
          },
          [{ value: 2, standardUncertainty: 2 * relative, isPositive: true }],
        );
        expect(Math.min(...seen)).toBeGreaterThan(0);
      }),
    );
  });

  it('refuses a positive input that is more than ten times as uncertain as it is large', () => {
    const input = { value: 1, standardUncertainty: 11, isPositive: true };
    expect(() => propagate(([x]) => [x!], [input])).toThrow(
      /An input of 1 has a standard uncertainty of 11; allowed is up to 10/,
    );
  });

  it('lets an input without a stated uncertainty add nothing', () => {
    const input = { value: 3, standardUncertainty: null };
    expect(propagate(([x]) => [x! ** 2], [input]).standardUncertainties[0]).toBe(0);
  });
});
