import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { explainBySlip, slipped } from '../../../src/science/target/slip.ts';

const POWDERS = [
  { formula: 'Y2O3', purity: 1, lossOnDrying: 0 },
  { formula: 'BaCO3', purity: 1, lossOnDrying: 0 },
  { formula: 'CuO', purity: 1, lossOnDrying: 0 },
];
/** 1 : 2 : 3 by the molar masses 225.8087, 197.335 and 79.545 g/mol. */
const MASSES = [1129.0435, 3946.7, 2386.35];

describe('a slipped weighing', () => {
  it('of 20 mg CuO less lowers Cu and raises the others, by exact fractions', () => {
    const { shares } = slipped(POWDERS, MASSES, 2, -20);
    const cu = 30 - 20 / 79.545;
    expect(shares.Cu).toBeCloseTo(cu / (30 + cu), 7);
    expect(shares.Ba! / shares.Y!).toBeCloseTo(2, 6);
  });

  it('of nothing changes nothing', () => {
    expect(slipped(POWDERS, MASSES, 0, 0).shares.Cu).toBeCloseTo(0.5, 7);
  });

  it('larger than the mass is refused', () => {
    expect(() => slipped(POWDERS, MASSES, 2, -3000)).toThrow(/leaves less than nothing/);
    expect(() => slipped(POWDERS, [1, 2], 0, 0)).toThrow(/massesMg has 2 numbers and there are 3/);
  });

  it('of a powder of which no cation was measured is not named', () => {
    const powders = [...POWDERS, { formula: 'ZrO2', purity: 1, lossOnDrying: 0 }];
    const found = explainBySlip(
      powders,
      [...MASSES, 100],
      { Y: 1, Ba: 2, Cu: 2.9 },
      { Y: 0.01, Ba: 0.02, Cu: 0.03 },
    );
    expect(found.map(({ formula }) => formula).sort()).toEqual(['', 'BaCO3', 'CuO', 'Y2O3']);
  });

  it('is found again from the ratio that it makes', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 2 }),
        fc.double({ min: -0.4, max: 0.4, noNaN: true }),
        (index, part) => {
          fc.pre(Math.abs(part) > 0.02);
          const errorMg = part * MASSES[index]!;
          const { shares } = slipped(POWDERS, MASSES, index, errorMg);
          const u = Object.fromEntries(Object.keys(shares).map((symbol) => [symbol, 0.001]));
          const [best] = explainBySlip(POWDERS, MASSES, shares, u);
          expect(best!.formula).toBe(POWDERS[index]!.formula);
          expect(best!.errorMg / errorMg).toBeCloseTo(1, 3);
          expect(best!.chiSquared).toBeLessThan(1e-6);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('is not needed where the plan was met', () => {
    const explanations = explainBySlip(
      POWDERS,
      MASSES,
      { Y: 1, Ba: 2, Cu: 3 },
      { Y: 0.01, Ba: 0.02, Cu: 0.03 },
    );
    expect(explanations.at(-1)!.formula).toBe('');
    expect(explanations.at(-1)!.probability).toBeGreaterThan(0.99);
  });
});
