// Odds beside printed tables and a reference library.
import { cumulativeStdNormalProbability } from 'simple-statistics';
import { passingOdds } from '../../src/science/learning/beta-distribution.ts';
import { meetingOdds } from '../../src/science/learning/odds.ts';
import { normalCdf } from '../../src/science/numerics/normal-distribution.ts';
import type { OutsideCheck } from './outside-check.ts';

const TABLE = 'standard normal probabilities, public table of the z distribution, area below z';
const COIN =
  'Rogers and Girolami, A First Course in Machine Learning, 2nd ed., sec. 3: one head after a uniform prior';

export const CHECKS: readonly OutsideCheck[] = [
  {
    functionName: 'normalCdf',
    quantity: 'lower tail at z = -3, by continued fraction',
    source: TABLE,
    provenance: 'looked-up',
    expected: '0.00135',
    unit: '1',
    got: () => normalCdf(-3.0000001),
  },
  {
    functionName: 'normalCdf',
    quantity: 'lower tail at z = -2.3, by series',
    source: TABLE,
    provenance: 'looked-up',
    expected: '0.01072',
    unit: '1',
    got: () => normalCdf(-2.3),
  },
  {
    functionName: 'normalCdf',
    quantity: 'share below z = 0.32',
    source: 'Rosner, Fundamentals of Biostatistics, appendix table 3, column A',
    provenance: 'looked-up',
    expected: '0.6255',
    unit: '1',
    got: () => normalCdf(0.32),
  },
  {
    functionName: 'meetingOdds',
    quantity: 'odds that 24(2) exceeds 0.8 times 25(1.5)',
    source: 'simple-statistics 7.12.1 cumulativeStdNormalProbability of 4/sqrt(2^2 + 1.2^2)',
    provenance: 'reference library',
    expected: cumulativeStdNormalProbability(4 / Math.sqrt(2 ** 2 + 1.2 ** 2)).toFixed(4),
    unit: '1',
    got: () =>
      meetingOdds(
        { value: 24, standardUncertainty: 2 },
        { value: 0.8 * 25, standardUncertainty: 0.8 * 1.5 },
        'at least',
      ).odds,
    tolerance: 0.002,
    toleranceReason: 'the library looks z up in steps of 0.01',
  },
  {
    functionName: 'passingOdds',
    quantity: 'mean after one pass',
    source: COIN,
    provenance: 'looked-up',
    expected: '0.66667',
    unit: '1',
    got: () => passingOdds(1, 0).mean,
  },
  {
    functionName: 'passingOdds',
    quantity: 'variance after one pass, 1/18',
    source: COIN,
    provenance: 'looked-up',
    expected: '0.05556',
    unit: '1',
    got: () => passingOdds(1, 0).standardDeviation ** 2,
  },
];
