// Weighing plans beside published recipes.
import { type Batch, planBatch } from '../../src/science/target/batch.ts';
import { firedMassG } from '../../src/science/target/fired-mass.ts';
import type { OutsideCheck } from './outside-check.ts';

const pure = (formula: string) => ({ formula, purity: 1, lossOnDrying: 0 });

/** The batch whose unfired powders weigh 3 g together, as in the published recipe. */
function threeGrams(): Batch {
  const plan = (totalMassG: number): Batch =>
    planBatch({
      cations: { Y: 1, Ba: 2, Cu: 3 },
      totalMassG,
      oxygenPer123: 6.93,
      precursors: ['Y2O3', 'BaCO3', 'CuO'].map(pure),
      balanceStepMg: 1e-6,
    });
  return plan((2 * 3000) / plan(2).weighedTotalMg);
}
const grams = (p: number): number => threeGrams().weighed[p]!.exactMassMg / 1000;
const RECIPE =
  'teaching slides on preparing 1-2-3 materials: 0.454 g Y2O3, 1.587 g BaCO3, 0.959 g CuO, mixed';
const CARBONATE_LOSS = 'stoichiometry of 1/2 Y2O3 + 2 BaCO3 + 3 CuO, worked out apart from this code';

/** Share of the powders' mass that a batch of 1-2-3 loses on firing to this oxygen, %. */
function firingLossPercent(oxygenPer123: number): number {
  const batch = planBatch({
    cations: { Y: 1, Ba: 2, Cu: 3 },
    totalMassG: 100,
    oxygenPer123,
    precursors: ['Y2O3', 'BaCO3', 'CuO'].map(pure),
    balanceStepMg: 1e-6,
  });
  return 100 * (1 - batch.calcinedTotalMg / batch.weighedTotalMg);
}

export const CHECKS: readonly OutsideCheck[] = [
  {
    functionName: 'planBatch',
    quantity: 'Y2O3 in a 3 g mixture for Y-123',
    source: RECIPE,
    provenance: 'looked-up',
    expected: '0.454',
    unit: 'g',
    got: () => grams(0),
  },
  {
    functionName: 'planBatch',
    quantity: 'BaCO3 in a 3 g mixture for Y-123',
    source: RECIPE,
    provenance: 'looked-up',
    expected: '1.587',
    unit: 'g',
    got: () => grams(1),
  },
  {
    functionName: 'planBatch',
    quantity: 'CuO in a 3 g mixture for Y-123',
    source: RECIPE,
    provenance: 'looked-up',
    expected: '0.959',
    unit: 'g',
    got: () => grams(2),
  },
  {
    functionName: 'firedMassG',
    quantity: 'molar mass of YBa2Cu3O7 from cations and copper valence',
    source: 'encyclopedia entry of yttrium barium copper oxide, properties table',
    provenance: 'looked-up',
    expected: '666.19',
    unit: 'g/mol',
    got: () => firedMassG({ Y: 1, Ba: 2, Cu: 3 }, 7),
  },
  {
    functionName: 'planBatch',
    quantity: 'mass lost on firing the carbonate batch to O6.93',
    source: CARBONATE_LOSS,
    provenance: 'derived',
    expected: '10.8734',
    unit: '%',
    got: () => firingLossPercent(6.93),
  },
  {
    functionName: 'planBatch',
    quantity: 'mass lost on firing the carbonate batch to O6.10',
    source: CARBONATE_LOSS,
    provenance: 'derived',
    expected: '12.653',
    unit: '%',
    got: () => firingLossPercent(6.1),
  },
];
