import { describe, expect, it } from 'vitest';
import { largestOf, smallestOf } from '../../../src/science/numerics/extremes.ts';

describe('the extremes of many numbers', () => {
  it('are found among three hundred thousand, which Math.min would not take', () => {
    const values = Float64Array.from({ length: 300_000 }, (_, i) => Math.sin(i));
    values[234_567] = -3;
    values[7] = 5;
    expect([smallestOf(values), largestOf(values)]).toEqual([-3, 5]);
    expect(() => Math.min(...values)).toThrow(RangeError); // the reason why they are here
  });

  it('pass missing numbers over, and are infinite where there is none', () => {
    expect([smallestOf([Number.NaN, 2, 1]), largestOf([Number.NaN, 2, 1])]).toEqual([1, 2]);
    expect([smallestOf([]), largestOf([Number.NaN])]).toEqual([
      Number.POSITIVE_INFINITY,
      Number.NEGATIVE_INFINITY,
    ]);
  });
});
