// Numbers of src/science/transition and of its straight lines beside the same numbers from outside.
import { linearRegression, medianAbsoluteDeviation } from 'simple-statistics';
import { isotonic } from '../../src/science/numerics/isotonic.ts';
import { noiseOfCurve, straightLine } from '../../src/science/numerics/straight-line.ts';
import { magneticTransition } from '../../src/science/transition/magnetic.ts';
import { resistiveTransition } from '../../src/science/transition/resistive.ts';
import { evenly, simulateResistance, transitionShare } from '../simulate/resistance-curve.ts';
import type { OutsideCheck } from './outside-check.ts';

// NIST StRD, linear regression, data set Norris
const NORRIS_X = [
  0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777, 558.2, 0.4, 0.6, 775.5, 666.9, 338, 447.5,
  11.6, 556, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8, 339.1, 887.2, 999, 779, 11.1, 118.3, 229.2, 669.1,
  448.9, 0.5,
];
const NORRIS_Y = [
  0.1, 338.8, 118.1, 888, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1, 778.1, 668.8, 339.3, 448.9,
  10.8, 557.7, 228.3, 998, 888.8, 119.6, 0.3, 0.6, 557.6, 339.3, 888, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4,
  449.2, 0.2,
];
const NORRIS_SOURCE =
  'NIST Statistical Reference Datasets, linear regression, Norris, certified values (as quoted in public test suites)';
const norris = () => straightLine(NORRIS_X, NORRIS_Y)!;

const PARTS = [{ t50K: 90, widthK: 1, share: 1 }];
const quiet = () => 0;
function readQuiet() {
  const t = evenly(110, 70, 801);
  return resistiveTransition(
    t,
    simulateResistance({ parts: PARTS, interceptOhm: 10, slopeOhmPerK: 0.5 }, t, quiet),
  );
}
/** Standard normal quantile of 0.98 over that of 0.9: where the onset lies for a width of 1 K. */
const Z98 = '2.053749'; // [memory: tables of the normal distribution]

export const CHECKS: readonly OutsideCheck[] = [
  {
    functionName: 'straightLine',
    quantity: 'Norris intercept',
    source: NORRIS_SOURCE,
    provenance: 'looked-up',
    expected: '-0.262323073774029',
    unit: '1',
    got: () => norris().intercept,
    tolerance: 1e-11,
    toleranceReason: 'rounding of doubles',
  },
  {
    functionName: 'straightLine',
    quantity: 'Norris slope',
    source: NORRIS_SOURCE,
    provenance: 'looked-up',
    expected: '1.00211681802045',
    unit: '1',
    got: () => norris().slope,
  },
  {
    functionName: 'straightLine, covariance',
    quantity: 'Norris standard deviation of the intercept',
    source: NORRIS_SOURCE,
    provenance: 'looked-up',
    expected: '0.232818234301152',
    unit: '1',
    got: () => Math.sqrt(norris().interceptVariance),
    tolerance: 1e-12,
    toleranceReason: 'rounding of doubles',
  },
  {
    functionName: 'resistiveTransition',
    quantity: 'slope of the normal line',
    source: 'simple-statistics 7.12.1, linearRegression on the rows of the stated window',
    provenance: 'reference library',
    expected: (() => {
      const { baseline } = readQuiet();
      const t = evenly(110, 70, 801);
      const r = simulateResistance({ parts: PARTS, interceptOhm: 10, slopeOhmPerK: 0.5 }, t, quiet);
      const rows = t.flatMap((x, i) => (x >= baseline!.fromK && x <= baseline!.toK ? [[x, r[i]!]] : []));
      return linearRegression(rows).m.toPrecision(9);
    })(),
    unit: 'ohm/K',
    got: () => readQuiet().baseline!.slopePerK,
    tolerance: 1e-5,
    toleranceReason: 'the library weighs the last rows of the tail fully, our robust line does not',
  },
  {
    functionName: 'noiseOfCurve',
    quantity: 'robust noise of alternating rows about a line',
    source: 'simple-statistics 7.12.1: 1.4826 x medianAbsoluteDeviation of the chords, over sqrt(1.5)',
    provenance: 'reference library',
    expected: (() => {
      const y = [1, -2, 3, -1, 2, -3, 1, 2, -1, 0.5, -0.5];
      const chords: number[] = [];
      for (let i = 1; i + 1 < y.length; i++) chords.push(y[i]! - (y[i - 1]! + y[i + 1]!) / 2);
      const both = [...chords, ...chords.map((c) => -c)]; // a median of zero, as the noise of a curve has
      return ((1.4826 * medianAbsoluteDeviation(both)) / Math.sqrt(1.5)).toPrecision(8);
    })(),
    unit: '1',
    got: () =>
      noiseOfCurve(
        Array.from({ length: 11 }, (_, i) => i),
        [1, -2, 3, -1, 2, -3, 1, 2, -1, 0.5, -0.5],
      ),
  },
  {
    functionName: 'isotonic',
    quantity: 'pooled value of three rows out of order',
    source: 'by hand: 1, 6, 5, 4, 9 pools 6, 5, 4 to their mean',
    provenance: 'derived',
    expected: '5',
    unit: '1',
    got: () => isotonic([1, 6, 5, 4, 9])[2]!,
  },
  {
    functionName: 'resistiveTransition',
    quantity: 'onset (98 %) of a normal-distribution transition, 90 K and 1 K wide',
    source: `quantiles of the normal distribution: 90 + ${Z98}/(2 x 1.281552)`,
    provenance: 'memory',
    expected: (90 + Number(Z98) / (2 * 1.281552)).toFixed(3),
    unit: 'K',
    got: () => readQuiet().onset!.value,
    tolerance: 5e-3,
    toleranceReason: 'local cubic through rows 50 mK apart on the flank of the onset',
  },
  {
    functionName: 'resistiveTransition',
    quantity: '10-90 % width of a logistic transition of scale s: 2 s ln 9',
    source: 'by hand: share = 1/(1 + exp(-(T - 90)/s)), s = 0.25 K',
    provenance: 'derived',
    expected: '1.0986',
    unit: 'K',
    got: () => {
      const t = evenly(110, 70, 1601);
      return resistiveTransition(
        t,
        t.map((x) => (10 + 0.5 * x) / (1 + Math.exp(-(x - 90) / 0.25))),
      ).width!.value;
    },
    tolerance: 1e-3,
    toleranceReason: 'a logistic tail reaches into the window of the normal line',
  },
  {
    functionName: 'magneticTransition',
    quantity: 'midpoint of a shielding moment made from a normal distribution at 88 K',
    source: 'median of the distribution',
    provenance: 'derived',
    expected: '88.000',
    unit: 'K',
    got: () => {
      const t = evenly(75, 105, 601);
      const parts = [{ t50K: 88, widthK: 1.5, share: 1 }];
      return magneticTransition(
        t,
        t.map((x) => -1e-6 * (1 - transitionShare(parts, x))),
      ).t50!.value;
    },
  },
];
