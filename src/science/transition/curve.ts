// What a resistive and a magnetic transition share: rows checked, sweeps told apart and read, their mean taken. Pure; K.
import { DomainError } from '../errors.ts';
import { type Flag, inWords, type Measured } from '../measured.ts';
import { largestOf, smallestOf } from '../numerics/extremes.ts';
import { median } from '../numerics/straight-line.ts';
import { sweepsOf } from '../numerics/sweeps.ts';
import { type Crossing, levelCrossing } from './level-crossing.ts';
import { findStep, type Step, type StepSearch } from './step.ts';
import { type PartStep, stepsWithin } from './steps-within.ts';

/** Fewest rows with both numbers that make a curve. */
export const MIN_ROWS = 10;
/** Fewest rows of a sweep that is read on its own. */
const MIN_SWEEP_ROWS = 10;
/** No 123 film has shown its transition above this; a higher one is likely a slip of unit. */
export const HIGHEST_TC_K = 100; // [memory: Nd and La members near 96 K; rounded up]

const DEFAULT_ONSET_SHARE = 0.98;
const DEFAULT_ZERO_SHARE = 0.005;
/** A level above this, which only noise calls for, says nothing of a zero. */
const HIGHEST_ZERO_SHARE = 0.05;

export interface TransitionOptions {
  /** share of the normal line at the onset; default 0.98 */
  onsetShare?: number | undefined;
  /** share of the normal line at which the resistance counts as zero; default 0.005, never below three times the noise */
  zeroShare?: number | undefined;
  /** standard uncertainty of the thermometer's scale, K; default 0 */
  temperatureStandardUncertaintyK?: number | undefined;
}

export interface Baseline {
  intercept: number;
  slopePerK: number;
  fromK: number;
  toK: number;
  scatter: number;
}

/** One sweep's answers; null where the sweep does not show it. */
export interface SweepReading {
  direction: 'warming' | 'cooling';
  nRows: number;
  onset: Measured | null;
  t90: Measured | null;
  t50: Measured | null;
  t10: Measured | null;
  zero: Measured | null;
  width: Measured | null;
  parts: { t50: Measured; share: number }[];
  step: Step;
  zeroShare: number;
}

export interface CurveRows {
  temperatureK: Float64Array;
  value: Float64Array;
}

/**
 * Rows with both numbers, in the order of measurement.
 *
 * @throws DomainError TRANSITION_LENGTHS, TRANSITION_TOO_FEW, TRANSITION_TEMPERATURE
 */
export function checkedRows(
  temperatureK: ArrayLike<number>,
  value: ArrayLike<number>,
  what: string,
  flags: Flag[],
): CurveRows {
  const n = temperatureK.length;
  if (value.length !== n)
    throw new DomainError('TRANSITION_LENGTHS', `${n} temperatures but ${value.length} ${what}.`);
  const keptK: number[] = [];
  const kept: number[] = [];
  for (let i = 0; i < n; i++) {
    const t = temperatureK[i]!;
    if (!Number.isFinite(t) || !Number.isFinite(value[i]!)) continue;
    if (t <= 0)
      throw new DomainError(
        'TRANSITION_TEMPERATURE',
        `temperatureK[${i}] is ${inWords(t)} K; a temperature in kelvin is above 0. The column may be in degrees Celsius.`,
      );
    keptK.push(t);
    kept.push(value[i]!);
  }
  if (kept.length < MIN_ROWS)
    throw new DomainError(
      'TRANSITION_TOO_FEW',
      `${kept.length} of ${n} rows hold both a temperature and one of the ${what}; at least ${MIN_ROWS} are needed.`,
    );
  if (kept.length < n)
    flags.push({
      code: 'ROWS_MISSING',
      message: `${n - kept.length} of ${n} rows lack a number and were left out.`,
    });
  return { temperatureK: Float64Array.from(keptK), value: Float64Array.from(kept) };
}

export interface SweepRows extends CurveRows {
  direction: 'warming' | 'cooling';
}

/** Sweeps with their rows in rising temperature; short turns (settling, overshoot) are left out and said. */
export function sweepRows(rows: CurveRows, flags: Flag[]): SweepRows[] {
  const { temperatureK, value } = rows;
  const n = temperatureK.length;
  const spanK = largestOf(temperatureK) - smallestOf(temperatureK);
  const stepK = median(
    Array.from({ length: n - 1 }, (_, i) => Math.abs(temperatureK[i + 1]! - temperatureK[i]!)),
  );
  const all = sweepsOf(temperatureK, Math.max(0.05 * spanK, 6 * stepK));
  const long = all.filter((s) => s.to - s.from + 1 >= MIN_SWEEP_ROWS);
  if (long.length < all.length)
    flags.push({
      code: 'SHORT_SWEEP',
      message: `${all.length - long.length} of ${all.length} sweeps have fewer than ${MIN_SWEEP_ROWS} rows and were left out.`,
    });
  return long.map(({ from, to, direction }) => {
    const order = Array.from({ length: to - from + 1 }, (_, k) => from + k).sort(
      (a, b) => temperatureK[a]! - temperatureK[b]! || a - b,
    );
    return {
      direction: direction > 0 ? 'warming' : 'cooling',
      temperatureK: Float64Array.from(order, (i) => temperatureK[i]!),
      value: Float64Array.from(order, (i) => value[i]!),
    };
  });
}

/**
 * Reads one sweep. The uncertainty of each temperature joins the local fit's (noise and spacing of the rows) with that of
 * the normal line and of the level below, each turned into kelvin by the slope of the share.
 */
export function readSweep(
  sweep: SweepRows,
  levelRows: 'all below' | 'coldest',
  options: TransitionOptions,
): { search: StepSearch; reading: SweepReading | undefined } {
  const search = findStep(sweep.temperatureK, sweep.value, levelRows);
  if (!search.found) return { search, reading: undefined };
  const { step } = search;
  const { curve, level } = step;
  const onsetShare = options.onsetShare ?? DEFAULT_ONSET_SHARE;
  const stepSize = stepSizeOf(step);
  const levelU = level ? level.standardUncertainty / stepSize : 0;
  const toMeasured = (crossing: Crossing | undefined, share: number): Measured | null => {
    if (!crossing) return null;
    const line = (share * step.lineUncertainty(crossing.temperatureK)) / crossing.slopePerK;
    const below = ((1 - share) * levelU) / crossing.slopePerK;
    const value = crossing.temperatureK;
    return { value, standardUncertainty: Math.hypot(crossing.standardUncertaintyK, line, below), unit: 'K' };
  };
  const at = (share: number, inner: number): Measured | null =>
    toMeasured(levelCrossing(curve, share, inner), share);
  const scatterShare = (level?.scatter ?? curve.noise * stepSize) / stepSize;
  const wantedZero = options.zeroShare ?? DEFAULT_ZERO_SHARE;
  const zeroShare = Math.max(wantedZero, 3 * scatterShare);
  const t90 = at(0.9, 0.8);
  const t50 = at(0.5, 0.35);
  const t10 = level ? at(0.1, 0.2) : null;
  const zero =
    level && zeroShare <= HIGHEST_ZERO_SHARE ? zeroAt(curve, zeroShare, wantedZero, toMeasured) : null;
  const isOnsetInNoise = curve.noise > 1 - onsetShare;
  const onset = isOnsetInNoise ? null : at(onsetShare, 1 - 3 * (1 - onsetShare));
  const width =
    t90 && t10
      ? {
          value: t90.value - t10.value,
          standardUncertainty: Math.hypot(t90.standardUncertainty, t10.standardUncertainty),
          unit: 'K',
        }
      : null;
  const parts: PartStep[] = level ? stepsWithin(curve, step.footK, step.kneeK) : [];
  return {
    search,
    reading: {
      direction: sweep.direction,
      nRows: sweep.value.length,
      onset,
      t90,
      t50,
      t10,
      zero,
      width,
      parts: parts.map((part) => ({ t50: toMeasured(part.t50, 0.5)!, share: part.share })),
      step,
      zeroShare,
    },
  };
}

/**
 * Zero, read at a level that the noise may have raised above the one wanted. The true zero then lies lower, by about twice
 * what the slope at the level says in the tail of a normal distribution function [derived: levels of 1 to 5 % against
 * 0.5 %]; that joins the uncertainty.
 */
function zeroAt(
  curve: Step['curve'],
  level: number,
  wanted: number,
  toMeasured: (crossing: Crossing | undefined, share: number) => Measured | null,
): Measured | null {
  const crossing = levelCrossing(curve, level, 3 * level);
  const read = toMeasured(crossing, level);
  if (!read || !crossing) return null;
  const lowerK = (2 * (level - wanted)) / crossing.slopePerK;
  return { ...read, standardUncertainty: Math.hypot(read.standardUncertainty, lowerK) };
}

/** Says what the noise of the widest-read sweep hides: the onset, or the zero as it was wanted. */
export function flagNoise(
  { zeroShare, step: { curve, level } }: SweepReading,
  { onsetShare = DEFAULT_ONSET_SHARE, zeroShare: wanted = DEFAULT_ZERO_SHARE }: TransitionOptions,
  hasZero: boolean,
  flags: Flag[],
): void {
  const percent = (share: number): string => `${inWords(100 * share)} %`;
  if (curve.noise > 1 - onsetShare)
    flags.push({
      code: 'ONSET_IN_NOISE',
      message: `The curve scatters by ${percent(curve.noise)} of its step, more than the ${percent(1 - onsetShare)} by which the onset stands off the line: no onset is given.`,
    });
  if (!hasZero || !level || zeroShare <= wanted) return;
  flags.push({
    code: 'ZERO_IN_NOISE',
    message:
      zeroShare > HIGHEST_ZERO_SHARE
        ? `Below the transition the curve scatters by ${percent(zeroShare / 3)} of its step: no zero is given.`
        : `Zero is read at ${percent(zeroShare)} of the normal line, three times the scatter below the transition, not at ${percent(wanted)}: the true zero lies lower, which its uncertainty holds.`,
  });
}

/** Height of the step at its middle, in the curve's unit. */
export function stepSizeOf(step: Step): number {
  const middleK = (step.footK + step.kneeK) / 2;
  return step.baseline.intercept + step.baseline.slope * middleK - (step.level?.value ?? 0);
}

/**
 * Mean of one temperature over the sweeps. Half the difference between warming and cooling is taken as the bound of a
 * rectangular distribution: a lagging thermometer reads low on warming and high on cooling, or the other way.
 */
export function meanOfSweeps(
  readings: readonly SweepReading[],
  pick: (reading: SweepReading) => Measured | null,
  scaleUncertaintyK: number,
): Measured | null {
  const all = readings.map(pick);
  if (all.length === 0 || all.some((m) => m === null)) return null;
  const values = all.map((m) => m!.value);
  const n = values.length;
  const inner = Math.sqrt(all.reduce((sum, m) => sum + m!.standardUncertainty ** 2, 0)) / n;
  const half = (Math.max(...values) - Math.min(...values)) / 2;
  return {
    value: values.reduce((sum, v) => sum + v, 0) / n,
    standardUncertainty: Math.hypot(inner, half / Math.sqrt(3), scaleUncertaintyK),
    unit: 'K',
  };
}

/** Says how far warming and cooling part, where they part by more than their uncertainty. */
export function flagLag(readings: readonly SweepReading[], flags: Flag[]): void {
  const meanOf = (direction: 'warming' | 'cooling') => {
    const values = readings.filter((r) => r.direction === direction && r.t50).map((r) => r.t50!);
    return values.length
      ? {
          value: values.reduce((sum, v) => sum + v.value, 0) / values.length,
          u: Math.sqrt(values.reduce((sum, v) => sum + v.standardUncertainty ** 2, 0)) / values.length,
        }
      : undefined;
  };
  const warming = meanOf('warming');
  const cooling = meanOf('cooling');
  if (!warming || !cooling) return;
  const lagK = warming.value - cooling.value;
  if (Math.abs(lagK) > 2 * Math.hypot(warming.u, cooling.u))
    flags.push({
      code: 'SWEEPS_LAG',
      message:
        `Warming and cooling give midpoints ${inWords(Math.abs(lagK))} K apart (${inWords(warming.value)} and ` +
        `${inWords(cooling.value)} K): the thermometer lags the film. The mean is given, half the difference is in its uncertainty.`,
    });
}

/** Parts of a double transition, said in words. */
export function flagParts(readings: readonly SweepReading[], flags: Flag[]): void {
  const most = readings.reduce((a, b) => (b.parts.length > a.parts.length ? b : a));
  if (most.parts.length < 2) return;
  const list = most.parts.map((p) => `${inWords(p.t50.value)} K (${Math.round(100 * p.share)} %)`).join(', ');
  flags.push({
    code: 'DOUBLE_TRANSITION',
    message: `The derivative has ${most.parts.length} peaks: parts of the film go over at ${list}. One midpoint and width stand for all of them.`,
  });
}

/** Flags that any transition can need: a temperature no 123 film has, a scale that nobody stated. */
export function flagTemperature(t50: Measured | null, flags: Flag[]): void {
  if (t50 && t50.value > HIGHEST_TC_K)
    flags.push({
      code: 'TEMPERATURE_SUSPECT',
      message: `The midpoint is at ${inWords(t50.value)} K; 123 films go over below ${HIGHEST_TC_K} K. Check the unit and the thermometer.`,
    });
}
