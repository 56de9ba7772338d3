// Weighted straight lines, plain and robust, with their covariance. Pure; units are the caller's.

export interface StraightLine {
  intercept: number;
  slope: number;
  /** variances and covariance of intercept and slope, scaled by the scatter of the points about the line */
  interceptVariance: number;
  slopeVariance: number;
  covariance: number;
  /** standard deviation of a point of weight 1 about the line; 0 for two points */
  scatter: number;
  /** share of the variance of y that the line explains */
  rSquared: number;
  nUsed: number;
}

/**
 * Straight line y = intercept + slope x by weighted least squares, about the weighted mean of x so that a large offset in
 * x costs no digits.
 *
 * @param x       n abscissae
 * @param y       n ordinates
 * @param weights n relative weights, 1 if left out; 0 leaves a point out
 * @returns undefined with fewer than two different x
 *
 * Source: [looked-up: JCGM 100:2008, H.3]; checked on a certified data set in the tests.
 */
export function straightLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights?: ArrayLike<number>,
): StraightLine | undefined {
  let sumW = 0;
  let meanX = 0;
  let meanY = 0;
  let nUsed = 0;
  for (let i = 0; i < x.length; i++) {
    const w = weights?.[i] ?? 1;
    if (!(w > 0)) continue;
    nUsed++;
    sumW += w;
    meanX += w * x[i]!;
    meanY += w * y[i]!;
  }
  if (nUsed < 2) return undefined;
  meanX /= sumW;
  meanY /= sumW;
  let sxx = 0;
  let sxy = 0;
  let syy = 0;
  for (let i = 0; i < x.length; i++) {
    const w = weights?.[i] ?? 1;
    if (!(w > 0)) continue;
    sxx += w * (x[i]! - meanX) ** 2;
    sxy += w * (x[i]! - meanX) * (y[i]! - meanY);
    syy += w * (y[i]! - meanY) ** 2;
  }
  if (!(sxx > 0)) return undefined;
  const slope = sxy / sxx;
  const intercept = meanY - slope * meanX;
  let residual = 0;
  for (let i = 0; i < x.length; i++) {
    const w = weights?.[i] ?? 1;
    if (w > 0) residual += w * (y[i]! - meanY - slope * (x[i]! - meanX)) ** 2;
  }
  const variance = nUsed > 2 ? residual / (nUsed - 2) : 0;
  const slopeVariance = variance / sxx;
  return {
    intercept,
    slope,
    interceptVariance: variance / sumW + meanX ** 2 * slopeVariance,
    slopeVariance,
    covariance: -meanX * slopeVariance,
    scatter: Math.sqrt(variance),
    rSquared: syy > 0 ? 1 - residual / syy : 1,
    nUsed,
  };
}

/** Value of the line at x with its standard uncertainty. */
export function onLine(line: StraightLine, x: number): { value: number; standardUncertainty: number } {
  const variance = line.interceptVariance + 2 * x * line.covariance + x * x * line.slopeVariance;
  return { value: line.intercept + line.slope * x, standardUncertainty: Math.sqrt(Math.max(variance, 0)) };
}

/** Median of the finite numbers; NaN if there is none. */
export function median(values: ArrayLike<number>): number {
  const sorted = Array.from(values)
    .filter(Number.isFinite)
    .sort((a, b) => a - b);
  const n = sorted.length;
  if (n === 0) return Number.NaN;
  return n % 2 ? sorted[(n - 1) / 2]! : (sorted[n / 2 - 1]! + sorted[n / 2]!) / 2;
}

/** 1.4826 times the median absolute value: the standard deviation, for normal deviates about zero. */
const ROBUST_SCALE = 1.4826; // 1 / (0.75 quantile of the standard normal distribution)

/** Distance in robust standard deviations at which a point loses all weight; 95 % efficient on normal deviates. */
const BIWEIGHT_CUT = 4.685; // [memory: Beaton and Tukey 1974, Technometrics 16, 147]

/**
 * Straight line that single wild points do not move: least squares repeated with biweight weights.
 *
 * @returns undefined with fewer than two different x; the plain line where the points scatter by rounding alone
 */
export function robustStraightLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  weights?: ArrayLike<number>,
): StraightLine | undefined {
  let line = straightLine(x, y, weights);
  if (!line || x.length < 5) return line;
  for (let round = 0; round < 12; round++) {
    const residuals = Array.from(
      { length: x.length },
      (_, i) => y[i]! - line!.intercept - line!.slope * x[i]!,
    );
    const n = residuals.length;
    const scale = ROBUST_SCALE * median(residuals.map(Math.abs)) * Math.sqrt(n / (n - 2)); // two fitted parameters
    if (!(scale > 1e-13 * Math.abs(line.intercept + line.slope * x[0]!))) return line;
    const next = straightLine(
      x,
      y,
      residuals.map((residual, i) => {
        const u = residual / (BIWEIGHT_CUT * scale);
        return Math.abs(u) < 1 ? (weights?.[i] ?? 1) * (1 - u * u) ** 2 : 0;
      }),
    );
    if (!next) return line;
    // the weights make the scatter look small: give it from the residuals themselves
    const factor = next.scatter > 0 ? (scale / next.scatter) ** 2 : 1;
    const change = Math.abs(next.slope - line.slope) / (Math.abs(next.slope) + 1e-300);
    line = {
      ...next,
      scatter: scale,
      interceptVariance: next.interceptVariance * factor,
      slopeVariance: next.slopeVariance * factor,
      covariance: next.covariance * factor,
    };
    if (change < 1e-9) break;
  }
  return line;
}

/**
 * Standard deviation of the noise of a curve, from how far each point lies from the chord of its neighbours: robust
 * against a few steep places. Spacing may vary.
 *
 * @returns NaN with fewer than three points
 */
export function noiseOfCurve(x: ArrayLike<number>, y: ArrayLike<number>): number {
  const scaled: number[] = [];
  for (let i = 1; i + 1 < x.length; i++) {
    const gap = x[i + 1]! - x[i - 1]!;
    const share = gap === 0 ? 0.5 : Math.min(1, Math.max(0, (x[i]! - x[i - 1]!) / gap));
    const departure = y[i]! - (1 - share) * y[i - 1]! - share * y[i + 1]!;
    scaled.push(Math.abs(departure) / Math.sqrt(1 + share ** 2 + (1 - share) ** 2));
  }
  return ROBUST_SCALE * median(scaled);
}
