import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { type Batch, type BatchRequest, planBatch } from '../../../src/science/target/batch.ts';
import { batchDoubts } from '../../../src/science/target/doubts.ts';
import { firedMassG, oxygenPerCation } from '../../../src/science/target/fired-mass.ts';

const powder = (formula: string, purity = 0.999, lossOnDrying = 0) => ({ formula, purity, lossOnDrying });
const request = (changes: Partial<BatchRequest> = {}): BatchRequest => ({
  cations: { Y: 1, Ba: 2, Cu: 3 },
  totalMassG: 50,
  oxygenPer123: 6.93,
  precursors: [powder('Y2O3', 0.9999, 0.004), powder('BaCO3', 0.998, 0.001), powder('CuO')],
  balanceStepMg: 0.1,
  ...changes,
});
const codes = (batch: Batch, stepMg = 0.1): string[] =>
  batchDoubts(batch.weighed, stepMg).map((doubt) => doubt.code);

describe('planBatch', () => {
  it('weighs more of a powder that is impure or wet, by 1/(purity (1 - loss))', () => {
    const dry = planBatch(request({ precursors: ['Y2O3', 'BaCO3', 'CuO'].map((f) => powder(f, 1)) }));
    const wet = planBatch(request());
    expect(wet.weighed[0]!.exactMassMg / dry.weighed[0]!.exactMassMg).toBeCloseTo(1 / (0.9999 * 0.996), 12);
  });

  it('gives back ratio and fired mass for any wanted ratio', () => {
    const amount = fc.double({ min: 0.05, max: 10, noNaN: true });
    const share = fc.double({ min: 0.5, max: 1, noNaN: true });
    fc.assert(
      fc.property(amount, amount, amount, amount, share, share, (gd, ba, cu, zr, purity, dryness) => {
        const cations = { Gd: gd, Ba: ba, Cu: cu, Zr: zr };
        const batch = planBatch(
          request({
            cations,
            precursors: ['Gd2O3', 'BaCO3', 'CuO', 'ZrO2'].map((f) => powder(f, purity, 1 - dryness)),
            balanceStepMg: 1e-5,
          }),
        );
        for (const [symbol, wanted] of Object.entries(cations))
          expect(batch.targetRatio[symbol]! / wanted).toBeCloseTo(1, 6);
        expect(batch.calcinedTotalMg).toBeCloseTo(50_000, 3);
      }),
      { seed: 5 },
    );
  });

  it('lets a pre-reacted powder bring two cations', () => {
    const batch = planBatch(request({ precursors: [powder('Y2O3'), powder('BaCuO2'), powder('CuO')] }));
    expect(batch.targetRatio.Ba).toBeCloseTo(2, 4);
    const moles = batch.weighed.map((p) => (p.massMg * p.purity!) / p.molarMassGPerMol);
    expect(moles[2]! / moles[1]!).toBeCloseTo(0.5, 4); // two of three Cu come with the Ba
  });

  it('rounds to the balance and answers with the ratio that the rounded masses give', () => {
    const batch = planBatch(request({ totalMassG: 1, balanceStepMg: 10 }));
    for (const { massMg } of batch.weighed) expect(massMg % 10).toBe(0);
    expect(Math.abs(batch.targetRatio.Y! - 1)).toBeGreaterThan(1e-3);
    expect(batch.targetRatio.Y! + batch.targetRatio.Ba! + batch.targetRatio.Cu!).toBeCloseTo(6, 12);
  });

  it('loses on firing what carbonate gives off less the oxygen taken up', () => {
    const batch = planBatch(
      request({ precursors: ['Y2O3', 'BaCO3', 'CuO'].map((f) => powder(f, 1)), balanceStepMg: 1e-4 }),
    );
    const moles123 = 50 / firedMassG({ Y: 1, Ba: 2, Cu: 3 }, 6.93);
    const carbonDioxideG = 2 * moles123 * (12.011 + 2 * 15.999);
    const oxygenG = (6.93 - 6.5) * moles123 * 15.999;
    expect(batch.weighedTotalMg - batch.calcinedTotalMg).toBeCloseTo(1000 * (carbonDioxideG - oxygenG), 2);
  });

  it('states the uncertainty that simulated weighings show', () => {
    const stepMg = 20;
    const plan = planBatch(
      request({
        totalMassG: 5,
        balanceStepMg: stepMg,
        precursors: [powder('Y2O3', 0.99), powder('BaCO3', 0.98), powder('CuO', 0.999)],
      }),
    );
    const random = seededRandom(7);
    const drawn: number[] = [];
    for (let i = 0; i < 20_000; i++) {
      const amounts: Record<string, number> = {};
      for (const p of plan.weighed) {
        const massMg = p.massMg + stepMg * (random.uniform() - 0.5);
        const purity = p.purity! + (1 - p.purity!) * (2 * random.uniform() - 1);
        for (const [symbol, count] of Object.entries(p.cations))
          amounts[symbol] = (count * massMg * purity) / p.molarMassGPerMol;
      }
      drawn.push((6 * amounts.Ba!) / (amounts.Y! + amounts.Ba! + amounts.Cu!));
    }
    const mean = drawn.reduce((sum, x) => sum + x, 0) / drawn.length;
    const spread = Math.sqrt(drawn.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (drawn.length - 1));
    expect(plan.ratioU.Ba! / spread).toBeCloseTo(1, 1);
  });

  it.each([
    [
      'a purity above 1',
      { precursors: [powder('Y2O3', 1.2)] },
      /precursors\[0\]\.purity is 1\.2; allowed is above 0 and up to 1/,
    ],
    ['a purity of 0', { precursors: [powder('Y2O3', 0)] }, /precursors\[0\]\.purity is 0; allowed/],
    ['a loss of 1', { precursors: [powder('Y2O3', 1, 1)] }, /lossOnDrying is 1; allowed is 0 to below 1/],
    [
      'an anion in the ratio',
      { cations: { O: 7 } },
      /composition\.cations\.O is 'O'; allowed is the symbol of a cation/,
    ],
    ['an unknown element', { cations: { Xx: 1 } }, /composition\.cations\.Xx is 'Xx'/],
    ['an empty ratio', { cations: { Y: 0 } }, /composition\.cations is all 0/],
    [
      'a cation nobody brings',
      { cations: { Y: 1, Ba: 2, Cu: 3, Zr: 0.1 } },
      /Zr is 0\.1, but no precursor brings Zr/,
    ],
    ['too much oxygen', { oxygenPer123: 7.5 }, /oxygenPer123 is 7\.5; allowed is 6 to 7/],
    ['no mass', { totalMassG: 0 }, /totalMassG is 0; allowed is above 0/],
    ['an unknown element in a powder', { precursors: [powder('Xy2O3')] }, /'Xy2O3', position 1: found 'Xy'/],
    [
      'a purity of nothing',
      { precursors: [powder('Y2O3', Number.NaN)] },
      /purity is NaN; allowed is above 0/,
    ],
    [
      'purity and assay together',
      {
        precursors: [
          { ...powder('Y2O3'), assay: { cation: 'Y', massFraction: 0.78, standardUncertainty: 0 } },
        ],
      },
      /precursors\[0\] is with both purity and assay; allowed is one of them/,
    ],
    [
      'an assay of a metal that is not in the formula',
      {
        precursors: [
          {
            formula: 'BaO2',
            assay: { cation: 'Cu', massFraction: 0.5, standardUncertainty: 0 },
            lossOnDrying: 0,
          },
        ],
      },
      /precursors\[0\]\.assay\.cation is 'Cu'; allowed is a cation of BaO2: Ba/,
    ],
    [
      'an assay above 1',
      {
        precursors: [
          {
            formula: 'BaO2',
            assay: { cation: 'Ba', massFraction: 81, standardUncertainty: 0 },
            lossOnDrying: 0,
          },
        ],
      },
      /assay\.massFraction is 81; allowed is above 0 and below 1/,
    ],
    ['a batch of a tonne', { totalMassG: 1e6 }, /totalMassG is 1000000; allowed is above 0 and up to 10000/],
    ['a balance without a step', { balanceStepMg: 0 }, /balanceStepMg is 0; allowed is above 0/],
    ['an open rare earth', { precursors: [powder('RE2O3')] }, /a formula with its rare earth named/],
    ['a powder without a cation', { precursors: [powder('CO2')] }, /a formula that holds a cation/],
    [
      'a cation of unknown valence',
      { cations: { Y: 1, Ba: 2, Cu: 3, V: 0.1 }, precursors: [...request().precursors, powder('V2O5')] },
      /V has no valence in the table/,
    ],
    ['a step above every mass', { balanceStepMg: 10_000, totalMassG: 1 }, /every mass rounds to 0/],
    [
      'negative moles',
      { cations: { Y: 1, Ba: 3, Cu: 2 }, precursors: [powder('Y2O3'), powder('BaCuO2'), powder('CuO')] },
      /precursors\[2\] \(CuO\) would need -1\.000 mol/,
    ],
    [
      'a set that leaves a choice',
      { precursors: [...request().precursors, powder('BaCuO2')] },
      /in many ways/,
    ],
    ['a powder named twice', { precursors: [...request().precursors, powder('CuO')] }, /in many ways/],
    [
      'a set that cannot do it',
      { precursors: [powder('Y2O3'), powder('BaCuO2')] },
      /No amounts of Y2O3, BaCuO2 give/,
    ],
  ])('refuses %s and names the field, the value and the range', (_title, changes, message) => {
    expect(() => planBatch(request(changes))).toThrow(message);
  });
});

describe('oxygenPerCation', () => {
  it('adds to the oxygen asked for in 1:2:3', () => {
    for (const oxygen of [6, 6.5, 6.93, 7])
      expect(
        oxygenPerCation('Y', oxygen) + 2 * oxygenPerCation('Ba', oxygen) + 3 * oxygenPerCation('Cu', oxygen),
      ).toBeCloseTo(oxygen, 12);
  });
});

describe('batchDoubts', () => {
  it('asks when the loss on drying is the carbonate itself', () => {
    const batch = planBatch(
      request({ precursors: [powder('Y2O3'), powder('BaCO3', 0.998, 0.223), powder('CuO')] }),
    );
    expect(codes(batch)).toEqual(['LOSS_IS_REACTION']);
  });

  it('asks for drying of an oxide that takes up water, for a low purity and for an exact one', () => {
    const batch = planBatch(
      request({
        cations: { Nd: 1, Ba: 2, Cu: 3 },
        precursors: [powder('Nd2O3'), powder('BaO2', 0.9, 0.01), powder('CuO', 1)],
      }),
    );
    expect(codes(batch)).toEqual(['DRY_FIRST', 'PURITY_LOW', 'PURITY_EXACT']);
  });

  it('asks about more metal than the pure compound holds: 81.1 % Ba in BaO2', () => {
    const withAssay = (massFraction: number) => {
      const assay = { cation: 'Ba', massFraction, standardUncertainty: 0.002 };
      const precursors = [powder('Y2O3'), { formula: 'BaO2', assay, lossOnDrying: 0.01 }, powder('CuO')];
      return codes(planBatch(request({ precursors })));
    };
    expect(withAssay(0.88)).toContain('ASSAY_ABOVE_FORMULA');
    expect(withAssay(0.81)).not.toContain('ASSAY_ABOVE_FORMULA');
  });

  it('says when a mass is below the step, coarse for the balance, or not needed', () => {
    const precursors = [...request().precursors, powder('HfO2')];
    expect(codes(planBatch(request({ precursors })))).toEqual(['NOT_NEEDED']);
    const little = planBatch(
      request({ precursors, cations: { Y: 1, Ba: 2, Cu: 3, Hf: 1e-6 }, balanceStepMg: 1 }),
    );
    expect(codes(little, 1)).toEqual(['BELOW_STEP']);
    expect(little.targetRatio.Hf).toBe(0);
    expect(little.ratioU.Hf).toBeGreaterThan(0);
    expect(codes(planBatch(request({ totalMassG: 1, balanceStepMg: 1 })), 1)).toContain('COARSE_BALANCE');
  });

  it('asks for an assay of a hydrate, whose water is counted from the formula', () => {
    const precursors = [powder('Y(NO3)3\u00b76H2O'), powder('BaCO3'), powder('CuO')];
    expect(codes(planBatch(request({ precursors })))).toEqual(['HYDRATE_WATER']);
    const dried = [powder('Y(NO3)3\u00b76H2O', 0.999, 0.7), ...precursors.slice(1)];
    expect(codes(planBatch(request({ precursors: dried })))).toContain('LOSS_IS_REACTION');
    const [, ...others] = precursors;
    const assay = { cation: 'Y', massFraction: 0.231, standardUncertainty: 0.001 };
    expect(
      codes(
        planBatch(
          request({ precursors: [{ formula: 'Y(NO3)3\u00b76H2O', assay, lossOnDrying: 0 }, ...others] }),
        ),
      ),
    ).toEqual([]);
  });
});
