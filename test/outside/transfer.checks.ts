// Transfer factors, their uncertainty and the weighing's beside published examples and an independent library.
import { mean, sampleStandardDeviation } from 'simple-statistics';
import { studentBound } from '../../src/science/numerics/student-t.ts';
import { type Batch, planBatch } from '../../src/science/target/batch.ts';
import { fitTransfer, type TransferFit } from '../../src/science/target/transfer.ts';
import type { OutsideCheck } from './outside-check.ts';

const ONE = { R: 1, E: 1 };
/** Factor of E in films whose ln ratio to R is y, each known to u; R is exact but for 1e-9. */
const fitOf = (data: readonly (readonly [y: number, u: number])[]): TransferFit =>
  fitTransfer(
    data.map(([y, u], i) => ({
      label: String(i),
      target: ONE,
      film: { R: 1, E: Math.exp(y) },
      filmRelativeU: { R: 1e-9, E: u },
      targetRelativeU: 0,
    })),
    'R',
  );
/** 10 +- 4 and 30 +- 5, in thousandths. */
const twoEstimates = (): TransferFit =>
  fitOf([
    [0.01, 0.004],
    [0.03, 0.005],
  ]);
const relativeU = ({ factors }: TransferFit): number => factors.E!.standardUncertainty / factors.E!.value;

const PARTICLES =
  'Dorigo, what the weighted average of particle data means, science20.com: 10 +- 4 and 30 +- 5 give 17.80 and 3.12';
const SCATTERED = [0.021, -0.034, 0.055, 0.012, -0.008, 0.047] as const;
const scattered = (): TransferFit => fitOf(SCATTERED.map((y) => [y, 0.001] as const));
const STATISTICS = 'simple-statistics 7.12.1';

/** Relative standard uncertainty of Y in a batch of Y and Nb metal, as if Nb and the sum were exact. */
function relativeUOfY(batch: Batch): number {
  const share = batch.targetRatio.Y! / (batch.targetRatio.Y! + batch.targetRatio.Nb!);
  return batch.ratioU.Y! / batch.targetRatio.Y! / (1 - share);
}
const metals = (purity: number, balanceStepMg: number, y: number): Batch =>
  planBatch({
    cations: { Y: y, Nb: 1 },
    totalMassG: 10,
    oxygenPer123: 6.93,
    precursors: [
      { formula: 'Y', purity, lossOnDrying: 0 },
      { formula: 'Nb', purity: 1, lossOnDrying: 0 },
    ],
    balanceStepMg,
  });

export const CHECKS: readonly OutsideCheck[] = [
  {
    functionName: 'fitTransfer',
    quantity: 'weighted mean of two estimates that disagree',
    source: PARTICLES,
    provenance: 'looked-up',
    expected: '17.80',
    unit: '1e-3',
    got: () => 1000 * Math.log(twoEstimates().factors.E!.value),
  },
  {
    functionName: 'fitTransfer',
    quantity: 'standard uncertainty of that mean before it is scaled by their scatter',
    source: PARTICLES,
    provenance: 'looked-up',
    expected: '3.12',
    unit: '1e-3',
    got: () => (1000 * relativeU(twoEstimates())) / Math.sqrt(twoEstimates().chiSquared),
  },
  {
    functionName: 'fitTransfer',
    quantity: 'geometric mean of six films alike in uncertainty',
    source: `${STATISTICS} mean of the logarithms`,
    provenance: 'reference library',
    expected: mean([...SCATTERED]).toPrecision(9),
    unit: '1',
    got: () => Math.log(scattered().factors.E!.value),
  },
  {
    functionName: 'fitTransfer',
    quantity: 'uncertainty of six films that scatter by more than was stated',
    source: `${STATISTICS} sample standard deviation over the root of six`,
    provenance: 'reference library',
    expected: (sampleStandardDeviation([...SCATTERED]) / Math.sqrt(6)).toPrecision(9),
    unit: '1',
    got: () => relativeU(scattered()),
  },
  {
    functionName: 'studentBound',
    quantity: 'Student t that holds 95 % of both sides, 4 degrees of freedom',
    source: 'textbook of biostatistics for beginners, table 24-1, critical values at 0.05',
    provenance: 'looked-up',
    expected: '2.78',
    unit: '1',
    got: () => studentBound(0.95, 4),
  },
  {
    functionName: 'planBatch',
    quantity: 'relative uncertainty from a purity of 0.9999 +- 0.0001',
    source: 'Eurachem/CITAC Guide Quantifying Uncertainty in Analytical Measurement, example A1, table A1.1',
    provenance: 'looked-up',
    expected: '0.000058',
    unit: '1',
    got: () => relativeUOfY(metals(0.9999, 1e-6, 1)),
  },
  {
    functionName: 'planBatch',
    quantity:
      'weighing with 0.17 mg repeatability, 0.2 mg drift and a last digit of 0.1 mg, of which the digit is ours',
    source: 'university testing centre, uncertainty budget of simple weighing, combined standard uncertainty',
    provenance: 'looked-up',
    expected: '0.000207525',
    unit: 'g',
    got: () => {
      const batch = metals(1, 0.1, 0.002); // little Y, so that Nb's digit adds nothing
      const digitG = (relativeUOfY(batch) * batch.weighed[0]!.massMg) / 1000;
      return Math.hypot(0.00017, 0.0002 / Math.sqrt(3), digitG);
    },
  },
];
