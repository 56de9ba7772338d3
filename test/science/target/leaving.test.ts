import { describe, expect, it } from 'vitest';
import { leavingOf } from '../../../src/science/target/leaving.ts';

describe('leavingOf', () => {
  it('takes one CO2 out of each barium carbonate and leaves the oxide', () => {
    // 197.335 g of BaCO3 give 44.009 g of CO2 and 153.326 g of BaO, by the standard weights of C, O and Ba
    const leaving = leavingOf([{ formula: 'BaCO3', purity: 1, lossOnDrying: 0 }], [197_335], 153_326);
    expect(leaving.carbonDioxideMg).toBeCloseTo(44_009, -1);
    expect(Math.abs(leaving.restMg)).toBeLessThan(5);
    expect(leaving.waterMg).toBe(0);
  });

  it('counts moisture before the formula, and accounts for every milligram', () => {
    const powders = [
      { formula: 'Ba(OH)2(H2O)8', purity: 0.98, lossOnDrying: 0.01 },
      { formula: 'Y(NO3)3', purity: 0.999, lossOnDrying: 0 },
    ];
    const { dryingMg, carbonDioxideMg, waterMg, nitrogenOxidesMg, restMg } = leavingOf(
      powders,
      [1000, 500],
      700,
    );
    expect(dryingMg).toBeCloseTo(10, 9);
    // 990 mg dried, 98 % of it Ba(OH)2 8H2O (315.46 g/mol), 9 H2O (18.015 g/mol) each
    expect(waterMg).toBeCloseTo((990 * 0.98 * 9 * 18.015) / 315.46, 1);
    expect(dryingMg + carbonDioxideMg + waterMg + nitrogenOxidesMg + restMg).toBeCloseTo(1500 - 700, 9);
  });

  it('takes the metal of an assay for what the powder holds', () => {
    const byAssay = leavingOf(
      [
        {
          formula: 'BaCO3',
          assay: { cation: 'Ba', massFraction: 137.327 / 197.335, standardUncertainty: 0 },
          lossOnDrying: 0,
        },
      ],
      [1000],
      777,
    );
    const pure = leavingOf([{ formula: 'BaCO3', purity: 1, lossOnDrying: 0 }], [1000], 777);
    expect(byAssay.carbonDioxideMg / pure.carbonDioxideMg).toBeCloseTo(1, 4);
  });
});
