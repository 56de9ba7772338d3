// Temperature at which a rising, noisy share of a transition passes a level. Pure; temperatures in K.
import { isotonic } from '../numerics/isotonic.ts';
import { fitPolynomial } from '../numerics/polynomial.ts';

/** One sweep's transition as shares: 0 below it, 1 on the normal line. Temperatures rise. */
export interface ShareCurve {
  temperatureK: Float64Array;
  share: Float64Array;
  /** `share` with its noise pooled away, so that it never falls */
  rising: Float64Array;
  /** standard deviation of one share */
  noise: number;
}

export interface Crossing {
  temperatureK: number;
  standardUncertaintyK: number;
  /** dshare/dT at the crossing, 1/K */
  slopePerK: number;
}

/** Rows needed for a local cubic and a local quadratic; below that, the neighbours are joined by a straight line. */
const ROWS_FOR_CUBIC = 12;
const ROWS_FOR_QUADRATIC = 6;
/** Share of the transition that six rows may span for a cubic to follow it: less where the curve bends into its tails. */
const WIDEST_CUBIC = 0.9;
const WIDEST_CUBIC_IN_TAIL = 0.25;

export function shareCurve(temperatureK: Float64Array, share: Float64Array, noise: number): ShareCurve {
  return { temperatureK, share, rising: isotonic(share), noise };
}

/** Where the pooled curve passes a level, by straight lines; undefined outside its range. */
export function roughCrossingK(curve: ShareCurve, level: number): number | undefined {
  const { temperatureK, rising } = curve;
  const n = rising.length;
  let above = 0;
  while (above < n && rising[above]! < level) above++;
  if (above === 0 || above === n) return undefined;
  const low = rising[above - 1]!;
  const high = rising[above]!;
  const part = (level - low) / (high - low);
  return temperatureK[above - 1]! + part * (temperatureK[above]! - temperatureK[above - 1]!);
}

/**
 * Temperature at which the share passes a level, by a local polynomial through the rows around it, or by a straight line
 * between neighbours where the rows are too far apart. The window reaches as far to either side as the pooled curve needs
 * from the level to `inner`, the side where it is steep: the flat side would let the noise choose it. In the
 * middle, the shorter of both sides counts. The uncertainty propagates the noise of the rows, from their scatter about the
 * polynomial and never below the curve's own noise; between neighbours it also holds their spacing.
 *
 * @param level share at which to cross
 * @param inner share nearer to the middle of the transition, which sets the window
 * @returns undefined where the curve does not reach the level
 *
 * Source: [derived: least squares, u(T) = u(share)/(dshare/dT); spacing as a rectangular distribution, JCGM 100:2008, 4.3.7].
 */
export function levelCrossing(curve: ShareCurve, level: number, inner: number): Crossing | undefined {
  const centreK = roughCrossingK(curve, level);
  if (centreK === undefined) return undefined;
  const { temperatureK, share } = curve;
  const innerK = roughCrossingK(curve, inner);
  if (innerK === undefined) return betweenNeighbours(curve, level, centreK);
  const mirror = 2 * level - inner;
  const mirrorK = mirror > 0.1 && mirror < 0.9 ? roughCrossingK(curve, mirror) : undefined;
  const halfK = Math.min(
    Math.abs(innerK - centreK),
    Math.abs((mirrorK ?? Number.POSITIVE_INFINITY) - centreK),
  );
  let rows: number[] = [];
  for (let i = 0; i < share.length; i++) if (Math.abs(temperatureK[i]! - centreK) <= halfK) rows.push(i);
  let order = rows.length >= ROWS_FOR_CUBIC ? 3 : 2;
  if (rows.length < ROWS_FOR_QUADRATIC) {
    rows = nearestRows(curve, centreK);
    order = 3;
    const widest = isInTail(level) ? WIDEST_CUBIC_IN_TAIL : WIDEST_CUBIC;
    const isWithin =
      rows.length === ROWS_FOR_QUADRATIC && curve.rising[rows.at(-1)!]! - curve.rising[rows[0]!]! < widest;
    if (!isWithin) return betweenNeighbours(curve, level, centreK);
  }
  const spread = temperatureK[rows.at(-1)!]! - temperatureK[rows[0]!]!;
  if (!(spread > 0)) return betweenNeighbours(curve, level, centreK);
  const scaleK = spread / 2;
  const fit = fitPolynomial(
    rows.map((i) => (temperatureK[i]! - centreK) / scaleK),
    rows.map((i) => share[i]!),
    order,
  );
  const root = fit && rootNear(fit.coefficients, level);
  if (!fit || root === undefined) return betweenNeighbours(curve, level, centreK);
  const slope = fit.coefficients.reduce((sum, c, k) => sum + (k ? k * c * root ** (k - 1) : 0), 0);
  if (!(slope > 0)) return betweenNeighbours(curve, level, centreK);
  const scatter = Math.max(fit.scatter, curve.noise);
  let unitVariance = 0;
  for (let j = 0; j <= order; j++)
    for (let k = 0; k <= order; k++) unitVariance += fit.inverse[j * (order + 1) + k]! * root ** (j + k);
  // few rows: how far cubic and chord part bounds what is not known of the shape (U-shaped distribution, JCGM 100, 4.3.8)
  const shapeK =
    order === 3 && rows.length === ROWS_FOR_QUADRATIC ? (scaleK * Math.abs(root)) / Math.SQRT2 : 0;
  return {
    temperatureK: centreK + scaleK * root,
    standardUncertaintyK: Math.hypot((scatter * Math.sqrt(unitVariance) * scaleK) / slope, shapeK),
    slopePerK: slope / scaleK,
  };
}

/** The same number of rows on either side of a temperature; fewer at the end of the curve. */
function nearestRows({ temperatureK }: ShareCurve, centreK: number): number[] {
  const above = temperatureK.findIndex((t) => t >= centreK);
  const half = ROWS_FOR_QUADRATIC / 2;
  const rows: number[] = [];
  for (let i = Math.max(0, above - half); i < Math.min(temperatureK.length, above + half); i++) rows.push(i);
  return rows;
}

/** Shares beyond these lie in the tails of a transition, whose shape a few rows do not show. */
const TAIL_SHARE = 0.1;

const isInTail = (level: number): boolean => level < TAIL_SHARE || level > 1 - TAIL_SHARE;

/**
 * Straight line between the rows on either side. A chord errs by up to the spacing times the share it bridges (so for a
 * normal distribution function down to 10 %), and by no more than a rectangular distribution over the spacing. In the tails
 * nothing but the two rows is known: the crossing lies anywhere between them, so its root mean square distance from the
 * chord's is sqrt(1/12 + (part - 1/2)^2) of the spacing.
 */
function betweenNeighbours(curve: ShareCurve, level: number, centreK: number): Crossing | undefined {
  const { temperatureK, rising } = curve;
  let above = 0;
  while (above < rising.length && rising[above]! < level) above++;
  const gapK = temperatureK[above]! - temperatureK[above - 1]!;
  const bridged = rising[above]! - rising[above - 1]!;
  if (!(gapK > 0))
    return { temperatureK: centreK, standardUncertaintyK: 0, slopePerK: Number.POSITIVE_INFINITY };
  const slopePerK = bridged / gapK;
  const part = (centreK - temperatureK[above - 1]!) / gapK;
  const noiseK = (curve.noise * Math.hypot(part, 1 - part)) / slopePerK;
  const shape = isInTail(level)
    ? Math.sqrt(1 / 12 + (part - 0.5) ** 2)
    : Math.min(bridged, 1 / Math.sqrt(12));
  return {
    temperatureK: centreK,
    standardUncertaintyK: Math.hypot(noiseK, gapK * shape),
    slopePerK,
  };
}

/** Root of the polynomial minus the level nearest to 0, inside [-1.5, 1.5], by Newton's method. */
function rootNear(coefficients: number[], level: number): number | undefined {
  let x = 0;
  for (let i = 0; i < 40; i++) {
    let value = -level;
    let slope = 0;
    for (let k = 0; k < coefficients.length; k++) {
      value += coefficients[k]! * x ** k;
      if (k) slope += k * coefficients[k]! * x ** (k - 1);
    }
    const step = value / slope;
    if (!Number.isFinite(step)) return undefined;
    x -= step;
    if (Math.abs(x) > 1.5) return undefined;
    if (Math.abs(step) < 1e-12) return x;
  }
  return undefined;
}
