// The step of a transition in one sweep: where it lies, the line above it, the level below it. Pure; K and the curve's unit.
import { firstAboveIn } from '../numerics/first-above.ts';
import {
  median,
  noiseOfCurve,
  onLine,
  robustStraightLine,
  type StraightLine,
} from '../numerics/straight-line.ts';
import { type ShareCurve, shareCurve } from './level-crossing.ts';

/** Rows a line above or a level below the transition needs. */
const MIN_BASELINE_ROWS = 5;
const MIN_LEVEL_ROWS = 3;
/** Share of the whole rise whose shortest interval marks the steepest place. */
const STEEP_SHARE = 0.3;
/** The steepest place must be this much steeper than the curve as a whole, or there is no step. */
const LEAST_STEEPNESS = 2.5;
/** A place belongs to the step while it is this steep, as a share of the steepest. */
const FOOT_STEEPNESS = 0.1;

export interface Step {
  /** rows in rising temperature */
  temperatureK: Float64Array;
  value: Float64Array;
  /** normal line above the step and the rows it was fitted to */
  baseline: StraightLine;
  baselineFromK: number;
  baselineToK: number;
  /** level below the step; undefined where the sweep ends before it */
  level:
    | { value: number; standardUncertainty: number; scatter: number; fromK: number; toK: number }
    | undefined;
  /** change of the curve over the rows below the step, as a share of the step: not flat if large */
  levelTilt: number;
  /** where the step begins and ends, roughly */
  footK: number;
  kneeK: number;
  /** (value - level)/(line - level): 0 below the step, 1 on the line; with level 0 where none was measured */
  curve: ShareCurve;
  /** standard uncertainty of the line at T as a share of the step */
  lineUncertainty: (temperatureK: number) => number;
}

export type StepSearch =
  | { found: true; step: Step }
  | { found: false; reason: 'no step' | 'no line above'; noise: number };

/**
 * Finds the step in one sweep. The steepest place is the shortest interval over which the curve rises by 30 % of its whole
 * rise, so that a slope of the normal state over hundreds of kelvin is not taken for it. The normal line is a robust
 * straight line over a window above the step; the window is cut from the top until a parabola fits no better than the line.
 *
 * @param temperatureK n temperatures in rising order, K
 * @param value        n values that rise through the transition on warming, NaN-free
 * @param levelRows    which rows give the level below: all below the step (a resistance) or the coldest (a moment)
 */
export function findStep(
  temperatureK: Float64Array,
  value: Float64Array,
  levelRows: 'all below' | 'coldest',
): StepSearch {
  const n = value.length;
  const noise = noiseOfCurve(temperatureK, value);
  const smooth = runningMedian(value);
  const spanK = temperatureK[n - 1]! - temperatureK[0]!;
  const rough = steepestInterval(temperatureK, smooth, STEEP_SHARE * riseOf(smooth));
  if (!rough || !(riseOf(smooth) > 8 * noise) || !(rough.slope > (LEAST_STEEPNESS * riseOf(smooth)) / spanK))
    return { found: false, reason: 'no step', noise };
  // a second time with the normal state made flat, so that its own rise does not count as part of the step
  const flat = withoutNormalSlope(temperatureK, smooth, rough.centreK);
  const rise = riseOf(flat);
  const steep = steepestInterval(temperatureK, flat, STEEP_SHARE * rise) ?? rough;
  // 10-90 % width of an error-function step whose middle 30 % has this width
  const widthK = Math.max(3.3 * steep.widthK, (2 * spanK) / n);
  const edges = edgesOfStep(temperatureK, flat, 0.05 * rise + 4 * noise, FOOT_STEEPNESS * steep.slope) ?? {
    footK: steep.centreK - widthK / 2,
    kneeK: steep.centreK + widthK / 2,
  };
  const { footK, kneeK } = edges;
  const above = windowAbove(temperatureK, value, kneeK, widthK);
  if (!above) return { found: false, reason: 'no line above', noise };
  const { line, fromK, toK } = above;
  const below = levelBelow(temperatureK, value, footK - 0.5 * widthK, levelRows, noise);
  const low = below?.value ?? 0;
  const stepSize = onLine(line, (footK + kneeK) / 2).value - low;
  if (!(stepSize > 0)) return { found: false, reason: 'no step', noise };
  // far below, an extrapolated line may meet the level: those rows say nothing about the step
  const first = temperatureK.findIndex((t) => onLine(line, t).value - low > 0.3 * stepSize);
  const end = temperatureK.findIndex((t) => t > toK);
  const nearK = temperatureK.slice(first, end < 0 ? n : end);
  const share = nearK.map((t, i) => (value[first + i]! - low) / (onLine(line, t).value - low));
  return {
    found: true,
    step: {
      temperatureK,
      value,
      baseline: line,
      baselineFromK: fromK,
      baselineToK: toK,
      level: below,
      levelTilt: below ? Math.abs(below.tilt / stepSize) : 0,
      footK,
      kneeK,
      curve: shareCurve(nearK, share, Math.min(noise, line.scatter || noise) / stepSize),
      lineUncertainty: (atK) => onLine(line, atK).standardUncertainty / stepSize,
    },
  };
}

function riseOf(value: Float64Array): number {
  return value.reduce((a, b) => Math.max(a, b)) - value.reduce((a, b) => Math.min(a, b));
}

/** The curve less a rising slope of its upper half above the step; unchanged below the step. */
function withoutNormalSlope(temperatureK: Float64Array, value: Float64Array, centreK: number): Float64Array {
  const topK = temperatureK[temperatureK.length - 1]!;
  const first = temperatureK.findIndex((t) => t > (centreK + topK) / 2);
  const line = robustStraightLine(temperatureK.subarray(first), value.subarray(first));
  const slope = Math.max(0, line?.slope ?? 0);
  return value.map((v, i) => v - slope * Math.max(0, temperatureK[i]! - centreK));
}

/** Median of each row and its two neighbours. */
function runningMedian(value: ArrayLike<number>): Float64Array {
  const n = value.length;
  return Float64Array.from({ length: n }, (_, i) =>
    i === 0 || i === n - 1 ? value[i]! : median([value[i - 1]!, value[i]!, value[i + 1]!]),
  );
}

/** Shortest interval over which y rises by at least `rise`; the steeper one where two are as short. */
function steepestInterval(
  x: Float64Array,
  y: Float64Array,
  rise: number,
): { centreK: number; widthK: number; slope: number } | undefined {
  let best: { centreK: number; widthK: number; slope: number } | undefined;
  const firstAbove = firstAboveIn(y);
  let next = 0;
  for (let i = 0; i < y.length; i++) {
    while (next < x.length && x[next]! <= x[i]!) next++;
    const j = firstAbove(next, y[i]!, rise);
    if (j === y.length) continue;
    const widthK = x[j]! - x[i]!;
    if (best && widthK > best.widthK) continue;
    const slope = (y[j]! - y[i]!) / widthK;
    if (!best || slope > best.slope) best = { centreK: (x[i]! + x[j]!) / 2, widthK, slope };
  }
  return best;
}

/** Lowest and highest temperature of all intervals that rise by `rise` at a slope of at least `slope`. */
function edgesOfStep(
  x: Float64Array,
  y: Float64Array,
  rise: number,
  slope: number,
): { footK: number; kneeK: number } | undefined {
  const firstAbove = firstAboveIn(y);
  let footK = Number.POSITIVE_INFINITY;
  let kneeK = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < y.length; i++) {
    const j = firstAbove(i + 1, y[i]!, rise);
    if (j === y.length || (x[j]! - x[i]!) * slope > 4 * rise) continue;
    if (y[j]! - y[i]! >= slope * (x[j]! - x[i]!)) {
      footK = Math.min(footK, x[i]!);
      kneeK = Math.max(kneeK, x[j]!);
    }
  }
  return Number.isFinite(footK) ? { footK, kneeK } : undefined;
}

/** Straight line over a window above the step, cut from the top while a parabola fits it better. */
function windowAbove(
  temperatureK: Float64Array,
  value: Float64Array,
  kneeK: number,
  widthK: number,
): { line: StraightLine; fromK: number; toK: number } | undefined {
  const n = value.length;
  let first = n;
  for (const margin of [1, 0.5, 0.25, 0]) {
    first = temperatureK.findIndex((t) => t > kneeK + margin * widthK);
    if (first >= 0 && n - first >= MIN_BASELINE_ROWS) break;
  }
  if (first < 0 || n - first < MIN_BASELINE_ROWS) return undefined;
  let end = n;
  for (;;) {
    const x = temperatureK.subarray(first, end);
    const y = value.subarray(first, end);
    const line = robustStraightLine(x, y);
    if (!line) return undefined;
    const fromK = x[0]!;
    const toK = x[x.length - 1]!;
    const shorter = temperatureK.findIndex((t) => t > fromK + 0.75 * (toK - fromK));
    const isShort = shorter - first < 2 * MIN_BASELINE_ROWS || toK - fromK < 3 * widthK;
    if (isShort || !isCurved(x, y, line)) return { line, fromK, toK };
    end = shorter;
  }
}

/** Do the thirds of the window leave the line in the pattern of a parabola, beyond their scatter? */
function isCurved(x: Float64Array, y: Float64Array, line: StraightLine): boolean {
  const n = x.length;
  const third = Math.floor(n / 3);
  const mean = (from: number, to: number): number => {
    let sum = 0;
    for (let i = from; i < to; i++) sum += y[i]! - line.intercept - line.slope * x[i]!;
    return sum / (to - from);
  };
  const bend = mean(0, third) - 2 * mean(third, n - third) + mean(n - third, n);
  return Math.abs(bend) > 3 * line.scatter * Math.sqrt(6 / third);
}

function levelBelow(
  temperatureK: Float64Array,
  value: Float64Array,
  belowK: number,
  which: 'all below' | 'coldest',
  noise: number,
): (NonNullable<Step['level']> & { tilt: number }) | undefined {
  let count = 0;
  while (count < value.length && temperatureK[count]! < belowK) count++;
  if (count < MIN_LEVEL_ROWS) return undefined;
  const line =
    count > MIN_LEVEL_ROWS + 1
      ? robustStraightLine(temperatureK.subarray(0, count), value.subarray(0, count))
      : undefined;
  const tilt = line ? line.slope * (temperatureK[count - 1]! - temperatureK[0]!) : 0;
  const used = which === 'all below' ? count : Math.max(MIN_LEVEL_ROWS, Math.round(count * 0.1));
  const rows = value.subarray(0, used);
  const centre = median(rows);
  const spread = 1.4826 * median(Array.from(rows, (v) => Math.abs(v - centre)));
  const kept = Array.from(rows).filter((v) => Math.abs(v - centre) <= 4 * spread || spread === 0);
  const mean = kept.reduce((sum, v) => sum + v, 0) / kept.length;
  const squares = kept.reduce((sum, v) => sum + (v - mean) ** 2, 0);
  const scatter = kept.length > 4 ? Math.sqrt(squares / (kept.length - 1)) : noise;
  return {
    value: mean,
    standardUncertainty: scatter / Math.sqrt(kept.length),
    scatter,
    fromK: temperatureK[0]!,
    toK: temperatureK[used - 1]!,
    tilt,
  };
}
