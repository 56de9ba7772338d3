import { describe, expect, it } from 'vitest';
import { chiSquaredAbove, studentBound, studentWithin } from '../../../src/science/numerics/student-t.ts';

describe("Student's t", () => {
  it('has the closed forms of one and two degrees of freedom', () => {
    for (const t of [0.1, 1, 3, 40]) {
      expect(studentWithin(t, 1)).toBeCloseTo((2 / Math.PI) * Math.atan(t), 12);
      expect(studentWithin(t, 2)).toBeCloseTo(t / Math.sqrt(2 + t * t), 12);
    }
  });

  it('has the bound that gives its probability', () => {
    for (const nu of [1, 3, 10, 100]) expect(studentWithin(studentBound(0.95, nu), nu)).toBeCloseTo(0.95, 11);
  });

  it('tends to the normal distribution', () => {
    expect(studentBound(0.95, 1e6)).toBeCloseTo(1.95996, 4);
  });
});

describe('chi squared', () => {
  it('with two degrees of freedom falls as exp(-x/2)', () => {
    for (const x of [0.01, 1, 5, 60]) expect(chiSquaredAbove(x, 2) / Math.exp(-x / 2)).toBeCloseTo(1, 11);
  });

  it('exceeds nothing always', () => {
    expect(chiSquaredAbove(0, 5)).toBe(1);
  });
});
