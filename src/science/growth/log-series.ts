// A furnace or chamber log as a series: its readings, sampling interval, gaps, noise and lone wild readings. s, K.
import { DomainError } from '../errors.ts';
import { checkOrder } from './path.ts';

export interface Interval {
  readonly fromS: number;
  readonly toS: number;
}

/** Readings of a temperature in the order of time, missing ones left out. */
export interface LogSeries {
  readonly timeS: Float64Array;
  readonly temperatureK: Float64Array;
  /** median time from one reading to the next */
  readonly typicalIntervalS: number;
  /** longest time between two readings that is no gap */
  readonly longestIntervalS: number;
  readonly gaps: readonly Interval[];
  /** index of the first reading of each stretch without a gap, and the number of readings at the end */
  readonly bounds: readonly number[];
  /** standard deviation of one reading about a straight line through its neighbours, K */
  readonly noiseK: number;
  /** readings left out: far from both neighbours, which agree with each other */
  readonly wild: readonly { readonly atS: number; readonly temperatureK: number }[];
  readonly missing: number;
}

const LEAST_READINGS = 3;
/** A pause this many times the median interval, and longer than three times what nine in ten are, is a gap. [common practice] */
const GAP_MEDIANS = 5;
const GAP_PERCENTILES = 3;
/** Least distance of a wild reading, in standard deviations and in K. [common practice] */
const WILD_DEVIATIONS = 8;
const WILD_K = 10;
/** MAD of a normal distribution is sigma/1.4826 [derived: inverse of its 3/4 quantile]. */
const SIGMA_PER_MAD = 1.4826;

/**
 * @param timeS        n times that never fall, s; NaN where the clock is missing
 * @param temperatureK n readings, K; NaN where one is missing
 * @throws DomainError GROWTH_LENGTHS, PATH_ORDER, GROWTH_TOO_FEW
 */
export function logSeries(timeS: ArrayLike<number>, temperatureK: ArrayLike<number>): LogSeries {
  if (timeS.length !== temperatureK.length)
    throw new DomainError('GROWTH_LENGTHS', `${timeS.length} times but ${temperatureK.length} temperatures.`);
  checkOrder(timeS, 'timeS');
  const rows: number[] = [];
  for (let i = 0; i < timeS.length; i++) if (!Number.isNaN(temperatureK[i]!)) rows.push(i);
  if (rows.length < LEAST_READINGS)
    throw new DomainError(
      'GROWTH_TOO_FEW',
      `The log has ${rows.length} readings of temperature; expected ${LEAST_READINGS} or more.`,
    );
  const all = {
    timeS: Float64Array.from(rows, (i) => timeS[i]!),
    temperatureK: Float64Array.from(rows, (i) => temperatureK[i]!),
  };
  const { typicalIntervalS, longestS } = intervals(all.timeS);
  const noiseK = noiseOf(all.timeS, all.temperatureK, longestS);
  const isWild = wildReadings(all.temperatureK, noiseK);
  const kept = rows.map((_, at) => at).filter((at) => !isWild[at]);
  const keptS = Float64Array.from(kept, (at) => all.timeS[at]!);
  const gaps: Interval[] = [];
  const bounds = [0];
  for (let i = 1; i < keptS.length; i++) {
    if (keptS[i]! - keptS[i - 1]! <= longestS) continue;
    gaps.push({ fromS: keptS[i - 1]!, toS: keptS[i]! });
    bounds.push(i);
  }
  return {
    timeS: keptS,
    temperatureK: Float64Array.from(kept, (at) => all.temperatureK[at]!),
    typicalIntervalS,
    longestIntervalS: longestS,
    gaps,
    bounds: [...bounds, keptS.length],
    noiseK,
    wild: rows.flatMap((_, at) =>
      isWild[at] ? [{ atS: all.timeS[at]!, temperatureK: all.temperatureK[at]! }] : [],
    ),
    missing: timeS.length - rows.length,
  };
}

/** Median interval, and the longest one that is no gap; several readings under one stamp count as one. */
function intervals(timeS: Float64Array): { typicalIntervalS: number; longestS: number } {
  const steps = new Float64Array(Math.max(0, timeS.length - 1));
  let n = 0;
  for (let i = 1; i < timeS.length; i++) {
    const step = timeS[i]! - timeS[i - 1]!;
    if (step > 0) steps[n++] = step;
  }
  if (n === 0)
    throw new DomainError(
      'PATH_ORDER',
      `All ${timeS.length} readings stand at ${timeS[0]} s; expected times that rise.`,
    );
  const sorted = steps.subarray(0, n).sort();
  const typicalIntervalS = sorted[n >> 1]!;
  const usual = sorted[Math.min(n - 1, Math.floor(0.9 * n))]!;
  return { typicalIntervalS, longestS: Math.max(GAP_MEDIANS * typicalIntervalS, GAP_PERCENTILES * usual) };
}

/**
 * Noise of one reading: from y_i less the line through its two neighbours, scaled by sqrt(1 + w1^2 + w2^2), by the median
 * of sizes, so that steps and wild readings do not count; at least the step of the display over sqrt(12).
 *
 * Source: [derived: variance of a weighted difference]; the step [common practice: rectangular].
 */
function noiseOf(timeS: Float64Array, temperatureK: Float64Array, longestS: number): number {
  const sizes = new Float64Array(timeS.length);
  let n = 0;
  let step = Number.POSITIVE_INFINITY;
  for (let i = 1; i < timeS.length; i++) {
    const change = Math.abs(temperatureK[i]! - temperatureK[i - 1]!);
    if (change > 0 && change < step) step = change;
    if (i + 1 === timeS.length) break;
    const spanS = timeS[i + 1]! - timeS[i - 1]!;
    if (!(spanS > 0) || spanS > 2 * longestS) continue;
    const w = (timeS[i]! - timeS[i - 1]!) / spanS;
    const off = temperatureK[i]! - (1 - w) * temperatureK[i - 1]! - w * temperatureK[i + 1]!;
    sizes[n++] = Math.abs(off) / Math.sqrt(1 + w * w + (1 - w) * (1 - w));
  }
  const median = n === 0 ? 0 : sizes.subarray(0, n).sort()[n >> 1]!;
  return Math.max(SIGMA_PER_MAD * median, Number.isFinite(step) ? step / Math.sqrt(12) : 0);
}

/** A reading far from both neighbours on one side of them, while two readings before and two after lie close together. */
function wildReadings(temperatureK: Float64Array, noiseK: number): boolean[] {
  const far = Math.max(WILD_K, WILD_DEVIATIONS * noiseK);
  const isWild = Array<boolean>(temperatureK.length).fill(false);
  for (let i = 2; i + 2 < temperatureK.length; i++) {
    const [a, b, c, d, e] = [-2, -1, 0, 1, 2].map((k) => temperatureK[i + k]!) as [
      number,
      number,
      number,
      number,
      number,
    ];
    const away = Math.min(Math.abs(c - b), Math.abs(c - d));
    if (c > b !== c > d || away < far) continue;
    const apart = Math.max(Math.abs(b - a), Math.abs(e - d), Math.abs(d - b));
    isWild[i] = apart < 0.2 * away;
  }
  return isWild;
}
