import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ATOMIC_WEIGHTS } from '../../../src/science/tables/atomic-weights.ts';
import { type Batch, planBatch } from '../../../src/science/target/batch.ts';
import { add, divided, type Fraction, fraction, times, toNumber } from '../../exact-fraction.ts';

const SOURCES = {
  Y: ['Y2O3', 'Y', 'Y(NO3)3\u00b76H2O', 'Y(CH3COO)3\u00b74H2O'],
  Ba: ['BaCO3', 'BaO2', 'BaO', 'Ba(NO3)2', 'Ba(OH)2\u00b78H2O', 'Ba(CH3COO)2'],
  Cu: ['CuO', 'Cu2O', 'Cu', 'Cu(NO3)2\u00b73H2O'],
  Zr: ['ZrO2', 'Zr', 'BaZrO3'],
  Ag: ['Ag2O', 'Ag', 'AgNO3'],
} as const;
const pure = (formula: string) => ({ formula, purity: 1, lossOnDrying: 0 });
const sum = (batch: Batch): number =>
  Object.values(batch.leavingMg).reduce((total, each) => total + each, batch.calcinedTotalMg);

const amount = fc.double({ min: 0.05, max: 10, noNaN: true });
const powderOf = (formulas: readonly string[]) =>
  fc.record({
    formula: fc.constantFrom(...formulas),
    purity: fc.double({ min: 0.8, max: 1, noNaN: true }),
    lossOnDrying: fc.double({ min: 0, max: 0.2, noNaN: true }),
  });

describe('firing', () => {
  it('conserves mass, whatever the powders: weighed is fired and leaving', () => {
    fc.assert(
      fc.property(
        fc.tuple(...Object.values(SOURCES).map(powderOf)),
        fc.tuple(amount, amount, amount, amount, amount),
        fc.double({ min: 6, max: 7, noNaN: true }),
        (precursors, [y, ba, cu, zr, ag], oxygenPer123) => {
          const batch = planBatch({
            cations: { Y: y, Ba: ba + zr, Cu: cu, Zr: zr, Ag: ag }, // enough Ba for BaZrO3
            totalMassG: 50,
            oxygenPer123,
            precursors,
            balanceStepMg: 0.1,
          });
          expect(Math.abs(sum(batch) / batch.weighedTotalMg - 1)).toBeLessThan(1e-9);
        },
      ),
      { seed: 11 },
    );
  });

  it('gives back the cation ratio from the masses, over random sets of powders', () => {
    fc.assert(
      fc.property(
        fc.tuple(...Object.values(SOURCES).map(powderOf)),
        fc.tuple(amount, amount, amount, amount, amount),
        (precursors, [y, ba, cu, zr, ag]) => {
          const cations = { Y: y, Ba: ba + zr, Cu: cu, Zr: zr, Ag: ag };
          const batch = planBatch({
            cations,
            totalMassG: 50,
            oxygenPer123: 6.93,
            precursors,
            balanceStepMg: 1e-7,
          });
          for (const [symbol, wanted] of Object.entries(cations))
            expect(batch.targetRatio[symbol]! / wanted).toBeCloseTo(1, 8);
        },
      ),
      { seed: 12 },
    );
  });

  it.each([
    // powders, moles of CO2, H2O, NO2, O2 per mole of YBa2Cu3O7 by counting atoms
    [['Y2O3', 'BaCO3', 'CuO'], 2, 0, 0, [-1, 4]],
    [['Y2O3', 'BaO2', 'CuO'], 0, 0, 0, [3, 4]],
    [['Y', 'BaO2', 'Cu'], 0, 0, 0, [-3, 2]],
    [['Y2O3', 'Ba(NO3)2', 'Cu2O'], 0, 0, 4, [0, 1]],
    [['Y(NO3)3\u00b76H2O', 'Ba(OH)2\u00b78H2O', 'Cu(NO3)2\u00b73H2O'], 0, 33, 9, [2, 1]],
    [['Y(CH3COO)3\u00b74H2O', 'Ba(CH3COO)2', 'CuO'], 14, 14.5, 0, [-57, 4]],
  ] as const)(
    'of %j gives off what counting atoms in exact fractions says',
    (formulas, co2, h2o, no2, o2) => {
      const batch = planBatch({
        cations: { Y: 1, Ba: 2, Cu: 3 },
        totalMassG: 66.6,
        oxygenPer123: 7,
        precursors: formulas.map(pure),
        balanceStepMg: 1e-7,
      });
      const weight = (symbol: string): Fraction =>
        fraction(String(ATOMIC_WEIGHTS.records.find((row) => row.symbol === symbol)!.value));
      const mass = (counts: Record<string, number>): Fraction =>
        Object.entries(counts).reduce(
          (total, [symbol, n]) => add(total, times(weight(symbol), fraction(String(n)))),
          fraction('0'),
        );
      const target = mass({ Y: 1, Ba: 2, Cu: 3, O: 7 });
      const expectedMg = (moles: Fraction, counts: Record<string, number>): number =>
        toNumber(divided(times(times(fraction('66600'), moles), mass(counts)), target));
      const { CO2, H2O, NO2, O2 } = batch.leavingMg;
      expect(CO2).toBeCloseTo(expectedMg(fraction(String(co2)), { C: 1, O: 2 }), 5);
      expect(H2O).toBeCloseTo(expectedMg(fraction(String(h2o)), { H: 2, O: 1 }), 5);
      expect(NO2).toBeCloseTo(expectedMg(fraction(String(no2)), { N: 1, O: 2 }), 5);
      expect(O2).toBeCloseTo(
        expectedMg(divided(fraction(String(o2[0])), fraction(String(o2[1]))), { O: 2 }),
        5,
      );
      expect(batch.calcinedTotalMg).toBeCloseTo(66_600, 5);
    },
  );

  it('counts moisture, what an impure powder holds beside, and the metal an assay finds', () => {
    const batch = planBatch({
      cations: { Y: 1, Ba: 2, Cu: 3 },
      totalMassG: 50,
      oxygenPer123: 6.93,
      precursors: [
        { formula: 'Y2O3', purity: 0.99, lossOnDrying: 0.01 },
        {
          formula: 'BaO2',
          assay: { cation: 'Ba', massFraction: 0.85, standardUncertainty: 0 },
          lossOnDrying: 0,
        },
        pure('CuO'),
      ],
      balanceStepMg: 0.01,
    });
    expect(batch.leavingMg.moisture).toBeCloseTo(0.01 * batch.weighed[0]!.massMg, 9);
    const [y2o3, bao2] = batch.weighed;
    // pure BaO2 is 81.1 % Ba: 85 % stands for more of it than was weighed
    const beside = 0.99 * y2o3!.massMg * 0.01 + bao2!.massMg * (1 - (0.85 * 169.325) / 137.327);
    expect(batch.leavingMg.beside).toBeCloseTo(beside, 6);
    expect(Math.abs(sum(batch) / batch.weighedTotalMg - 1)).toBeLessThan(1e-12);
  });

  it('lists an anion that no oxide keeps apart from the gases', () => {
    const batch = planBatch({
      cations: { Y: 1, Ba: 2, Cu: 3 },
      totalMassG: 10,
      oxygenPer123: 6.93,
      precursors: ['Y2O3', 'BaF2', 'CuO'].map(pure),
      balanceStepMg: 0.01,
    });
    expect(batch.leavingMg.other).toBeCloseTo((2 * 18.998403162 * batch.weighed[1]!.massMg) / 175.324, 2);
    expect(Math.abs(sum(batch) / batch.weighedTotalMg - 1)).toBeLessThan(1e-12);
  });
});
