// The smooth curve under the lines. Pure functions; degrees of 2theta, counts.
import type { Scan } from './scan.ts';
import { varianceOf } from './scan.ts';

/** Windows wider than a line and narrower than an amorphous hump, degrees of 2theta. */
const PEELING_HALF_WIDTH_DEG = 1.2;
const SMOOTHING_SIGMA_DEG = 0.5;

/**
 * A first background by peeling: the square root of the counts is smoothed, then each point is lowered to the mean of
 * its neighbours at +-w whenever that is lower, with w growing to 1.2 degrees. Lines narrower than that vanish; broad
 * humps stay.
 *
 * @returns counts, one a point; rests a little low where the scan is noisy, which `smoothBackground` takes away
 * Source: [memory: C.G. Ryan et al., Nucl. Instrum. Methods B 34 (1988) 396, statistics-sensitive peeling], with the
 * square root for the logarithm since both make Poisson noise even.
 */
export function peeledBackground(scan: Scan): Float64Array {
  const { counts, stepDeg } = scan;
  const n = counts.length;
  const roots = new Float64Array(n);
  let lastKnown = 0;
  for (let i = 0; i < n; i++) {
    if (!Number.isNaN(counts[i]!)) lastKnown = Math.max(counts[i]!, 0);
    roots[i] = Math.sqrt(lastKnown + 0.375);
  }
  const reach = Math.max(1, Math.round(0.05 / stepDeg));
  let curve = movingMean(roots, reach);
  const widest = Math.min(Math.floor((n - 1) / 2), Math.max(3, Math.round(PEELING_HALF_WIDTH_DEG / stepDeg)));
  const widths: number[] = [];
  for (let w = widest; w >= 1; w = Math.floor(w / 1.3)) widths.push(w);
  for (const w of widths.reverse()) {
    const lowered = curve.slice();
    for (let i = 0; i < n; i++) {
      // At the ends the window shrinks to what the scan holds, so that the ends are peeled too.
      const arm = Math.min(w, i, n - 1 - i);
      if (arm < 1) continue;
      const mean = (curve[i - arm]! + curve[i + arm]!) / 2;
      if (mean < lowered[i]!) lowered[i] = mean;
    }
    curve = lowered;
  }
  return curve.map((root) => Math.max(root * root - 0.375, 0));
}

function movingMean(values: Float64Array, reach: number): Float64Array {
  const n = values.length;
  const sums = new Float64Array(n + 1);
  for (let i = 0; i < n; i++) sums[i + 1] = sums[i]! + values[i]!;
  return Float64Array.from({ length: n }, (_, i) => {
    const first = Math.max(0, i - reach);
    const last = Math.min(n - 1, i + reach);
    return (sums[last + 1]! - sums[first]!) / (last - first + 1);
  });
}

/**
 * Background as the local straight line through the counts once the fitted lines are taken off: at each of a set of
 * knots a weighted least-squares line with a Gaussian window (sigma 0.5 degree), points more than three standard
 * deviations off clipped and the fit repeated, points inside line cores left out; between knots straight lines.
 *
 * @param scan         the scan
 * @param peakCounts   sum of the fitted lines at each point
 * @param start        a background to begin from, for the noise of each point
 * @param isInCore     points where a line is strong, to be left out
 * @returns counts, one a point, never below zero for counts
 */
export function smoothBackground(
  scan: Scan,
  peakCounts: ArrayLike<number>,
  start: ArrayLike<number>,
  isInCore: ArrayLike<boolean>,
): Float64Array {
  const { twoThetaDeg, counts, noise } = scan;
  const n = counts.length;
  const span = twoThetaDeg[n - 1]! - twoThetaDeg[0]!;
  const nKnots = Math.max(2, Math.ceil(span / (SMOOTHING_SIGMA_DEG / 2)) + 1);
  const knotDeg = Float64Array.from(
    { length: nKnots },
    (_, k) => twoThetaDeg[0]! + (span * k) / (nKnots - 1),
  );
  const heights = new Float64Array(nKnots);
  for (let k = 0; k < nKnots; k++) {
    const centreDeg = knotDeg[k]!;
    let height: number | undefined;
    // Too few points clear of lines: look further.
    for (let sigmaDeg = SMOOTHING_SIGMA_DEG; height === undefined && sigmaDeg < 6; sigmaDeg *= 1.6) {
      const from = lowerBound(twoThetaDeg, centreDeg - 3 * sigmaDeg);
      const to = Math.min(n - 1, lowerBound(twoThetaDeg, centreDeg + 3 * sigmaDeg));
      height = clippedLine(from, to, centreDeg, sigmaDeg);
    }
    heights[k] = height ?? start[Math.min(n - 1, lowerBound(twoThetaDeg, centreDeg))]!;
  }
  function clippedLine(from: number, to: number, centreDeg: number, sigmaDeg: number): number | undefined {
    let height = Number.NaN;
    let slope = 0;
    for (let round = 0; round < 3; round++) {
      let w0 = 0;
      let w1 = 0;
      let w2 = 0;
      let y0 = 0;
      let y1 = 0;
      let used = 0;
      for (let i = from; i <= to; i++) {
        const value = counts[i]! - peakCounts[i]!;
        if (Number.isNaN(value) || isInCore[i]) continue;
        const u = twoThetaDeg[i]! - centreDeg;
        const variance =
          varianceOf(noise, Math.max(round === 0 ? start[i]! : height + slope * u, 0)) +
          varianceOf(noise, peakCounts[i]!) +
          (0.03 * peakCounts[i]!) ** 2;
        const residual = round === 0 ? value - start[i]! : value - height - slope * u;
        if (residual > 3 * Math.sqrt(variance) + 1 || (round > 0 && residual < -4 * Math.sqrt(variance) - 1))
          continue;
        const weight = Math.exp((-u * u) / (2 * sigmaDeg * sigmaDeg)) / Math.max(variance, 1e-12);
        w0 += weight;
        w1 += weight * u;
        w2 += weight * u * u;
        y0 += weight * value;
        y1 += weight * u * value;
        used++;
      }
      if (used < 8) return undefined;
      const determinant = w0 * w2 - w1 * w1;
      if (!(determinant > 1e-9 * w0 * w2)) return undefined;
      height = (w2 * y0 - w1 * y1) / determinant;
      slope = (w0 * y1 - w1 * y0) / determinant;
    }
    return height;
  }
  const hasFloor = noise.kind === 'poisson';
  const curve = new Float64Array(n);
  for (let i = 0, k = 0; i < n; i++) {
    while (k < nKnots - 2 && twoThetaDeg[i]! > knotDeg[k + 1]!) k++;
    const t = (twoThetaDeg[i]! - knotDeg[k]!) / (knotDeg[k + 1]! - knotDeg[k]!);
    const value = heights[k]! * (1 - t) + heights[k + 1]! * t;
    curve[i] = hasFloor ? Math.max(value, 0) : value;
  }
  return curve;
}

/** First place whose angle is not below the given one. */
export function lowerBound(sorted: ArrayLike<number>, value: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle]! < value) low = middle + 1;
    else high = middle;
  }
  return low;
}
