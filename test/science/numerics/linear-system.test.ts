import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { solveLinearSystem } from '../../../src/science/numerics/linear-system.ts';

describe('solveLinearSystem', () => {
  it('gives back the x that made the right side', () => {
    const entry = fc.double({ min: -5, max: 5, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(entry, { minLength: 9, maxLength: 9 }),
        fc.array(entry, { minLength: 3, maxLength: 3 }),
        (a, x) => {
          const rows = [0, 1, 2].map((i) => [0, 1, 2].map((j) => a[3 * i + j]! + (i === j ? 20 : 0)));
          const b = rows.map((row) => row.reduce((sum, value, j) => sum + value * x[j]!, 0));
          const { solution } = solveLinearSystem(rows, b);
          x.forEach((value, j) => {
            expect(solution![j]).toBeCloseTo(value, 8);
          });
        },
      ),
      { seed: 4 },
    );
  });

  it('solves more rows than columns where they agree, and names a row that does not', () => {
    expect(
      Array.from(
        solveLinearSystem(
          [
            [1, 0],
            [0, 2],
            [1, 2],
          ],
          [1, 4, 5],
        ).solution!,
      ),
    ).toEqual([1, 2]);
    expect(solveLinearSystem([[1], [1]], [1, 2]).brokenRows).toHaveLength(1);
  });

  it('names a column that could be anything', () => {
    expect(solveLinearSystem([[1, 1]], [1])).toEqual({
      solution: undefined,
      freeColumns: [1],
      brokenRows: [],
    });
  });
});
