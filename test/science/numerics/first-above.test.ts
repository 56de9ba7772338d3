import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstAboveIn } from '../../../src/science/numerics/first-above.ts';

describe('the first row that reaches a level', () => {
  it('is the one that looking at every row finds', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: -9, max: 9 }), { minLength: 1, maxLength: 40 }),
        fc.nat(45),
        fc.integer({ min: -9, max: 9 }),
        fc.integer({ min: -3, max: 12 }),
        (values, from, reference, rise) => {
          const looked = values.findIndex((value, i) => i >= from && value - reference >= rise);
          expect(firstAboveIn(values)(from, reference, rise)).toBe(looked < 0 ? values.length : looked);
        },
      ),
    );
  });

  it('is the end of an empty column', () => {
    expect(firstAboveIn([])(0, 0, 1)).toBe(0);
  });
});
