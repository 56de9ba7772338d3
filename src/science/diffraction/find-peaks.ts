// Where lines stand out of the noise, at a stated rate of false alarms. Pure functions; degrees of 2theta, counts.
import { kAlpha2TwoThetaDeg } from './peak-shape.ts';
import type { Radiation } from './radiation.ts';
import type { Scan } from './scan.ts';
import { varianceOf } from './scan.ts';

interface PeakSeed {
  readonly twoThetaDeg: number;
  readonly areaCountsDeg: number;
  readonly fwhmDeg: number;
  /** area over its standard uncertainty under the noise alone */
  readonly significance: number;
}

/** Widths searched for; each finds lines from two thirds to one and a half of itself. */
const SEARCH_WIDTHS_DEG = [0.08, 0.16, 0.32, 0.65] as const;
/** Lines expected to be reported from noise alone, over a whole scan. */
export const FALSE_ALARMS_PER_SCAN = 0.05;
/** A fitted line's shape is never quite right: this share of it is not searched for further lines. */
const SHAPE_MISFIT = 0.04;

/**
 * Upper quantile of the normal distribution for a small tail, Phi(-z) = tail.
 *
 * Source: [memory: M. Abramowitz, I.A. Stegun, Handbook of Mathematical Functions (1964), 26.2.23, error below 4.5e-4].
 */
export function normalUpperQuantile(tail: number): number {
  const t = Math.sqrt(-2 * Math.log(tail));
  return (
    t -
    (2.515517 + 0.802853 * t + 0.010328 * t * t) / (1 + 1.432788 * t + 0.189269 * t * t + 0.001308 * t ** 3)
  );
}

/**
 * Significance of a net count over an expected background, which for few counts is less than net/sqrt(background):
 * sqrt(2 ((B + N) ln(1 + N/B) - N)).
 *
 * Source: [memory: T.-P. Li, Y.-Q. Ma, Astrophys. J. 272 (1983) 317, for a known background].
 */
export function countingSignificance(netCounts: number, backgroundCounts: number): number {
  if (netCounts <= 0) return 0;
  const ratio = netCounts / backgroundCounts;
  return Math.sqrt(2 * Math.max((backgroundCounts + netCounts) * Math.log1p(ratio) - netCounts, 0));
}

interface Bins {
  angles: Float64Array;
  values: Float64Array;
  variances: Float64Array;
  pointsEach: number;
}

function binned(
  scan: Scan,
  residual: ArrayLike<number>,
  levels: ArrayLike<number>,
  fitted: ArrayLike<number>,
  pointsEach: number,
): Bins {
  const n = Math.floor(scan.counts.length / pointsEach);
  const bins: Bins = {
    angles: new Float64Array(n),
    values: new Float64Array(n),
    variances: new Float64Array(n),
    pointsEach,
  };
  for (let b = 0; b < n; b++) {
    let value = 0;
    let angle = 0;
    let variance = 0;
    let misfit = 0;
    let used = 0;
    for (let i = b * pointsEach; i < (b + 1) * pointsEach; i++) {
      angle += scan.twoThetaDeg[i]!;
      if (Number.isNaN(residual[i]!)) continue;
      value += residual[i]!;
      variance += varianceOf(scan.noise, levels[i]! + fitted[i]!);
      misfit += SHAPE_MISFIT * fitted[i]!;
      used++;
    }
    bins.angles[b] = angle / pointsEach;
    bins.values[b] = used === 0 ? Number.NaN : value / used;
    bins.variances[b] = used === 0 ? Number.NaN : variance / used ** 2 + (misfit / used) ** 2;
  }
  return bins;
}

/**
 * Lines that stand out of a scan after background and known lines are taken off. At each angle the area of a Gaussian of
 * the searched width is fitted together with a constant by weighted least squares; a line is reported where area over
 * uncertainty has a maximum above the level that noise alone passes `FALSE_ALARMS_PER_SCAN` times in the whole scan.
 * The K-alpha2 partner of a stronger line is not reported.
 *
 * @param residual   counts less background and fitted lines; NaN = masked
 * @param background counts, for the noise
 * @param fitted     fitted lines so far, counts, for the noise and for what their shape may miss
 * @returns seeds, strongest first
 */
export function findPeaks(
  scan: Scan,
  radiation: Radiation,
  residual: ArrayLike<number>,
  background: ArrayLike<number>,
  fitted: ArrayLike<number>,
): PeakSeed[] {
  const widths = SEARCH_WIDTHS_DEG.filter((width) => width >= 2 * scan.stepDeg);
  const spanDeg = scan.stepDeg * scan.counts.length;
  const trials = widths.reduce((sum, width) => sum + (3 * spanDeg) / width, 0);
  const threshold = normalUpperQuantile(Math.min(FALSE_ALARMS_PER_SCAN / trials, 0.01));
  const maxima: PeakSeed[] = [];
  for (const width of widths.length > 0 ? widths : [3 * scan.stepDeg]) {
    const bins = binned(
      scan,
      residual,
      background,
      fitted,
      Math.max(1, Math.floor(width / 7 / scan.stepDeg)),
    );
    maxima.push(...maximaOfWidth(scan, bins, width, threshold));
  }
  maxima.sort((p, q) => q.significance - p.significance);
  const kept: PeakSeed[] = [];
  for (const seed of maxima) {
    const isTaken = kept.some((other) => {
      const distance = seed.twoThetaDeg - other.twoThetaDeg;
      const wide = Math.max(seed.fwhmDeg, other.fwhmDeg);
      if (Math.abs(distance) < 1.2 * wide) return true;
      const partner = kAlpha2TwoThetaDeg(other.twoThetaDeg, radiation);
      return (
        Math.abs(seed.twoThetaDeg - partner) < Math.max(0.6 * wide, 2 * scan.stepDeg) &&
        seed.areaCountsDeg < 0.8 * other.areaCountsDeg
      );
    });
    if (!isTaken) kept.push(seed);
  }
  return kept;
}

function maximaOfWidth(scan: Scan, bins: Bins, widthDeg: number, threshold: number): PeakSeed[] {
  const { angles, values, variances, pointsEach } = bins;
  const n = angles.length;
  const areas = new Float64Array(n);
  const significances = new Float64Array(n);
  const peak = (2 / widthDeg) * Math.sqrt(Math.LN2 / Math.PI);
  const binDeg = scan.stepDeg * pointsEach;
  let first = 0;
  for (let centre = 0; centre < n; centre++) {
    while (angles[centre]! - angles[first]! > 2 * widthDeg) first++;
    let w = 0;
    let ws = 0;
    let wss = 0;
    let wy = 0;
    let wsy = 0;
    let used = 0;
    for (let i = first; i < n && angles[i]! - angles[centre]! <= 2 * widthDeg; i++) {
      const variance = variances[i]!;
      if (Number.isNaN(variance)) continue;
      const u = (angles[i]! - angles[centre]!) / widthDeg;
      const shape = peak * Math.exp(-4 * Math.LN2 * u * u);
      const weight = 1 / variance;
      w += weight;
      ws += weight * shape;
      wss += weight * shape * shape;
      wy += weight * values[i]!;
      wsy += weight * shape * values[i]!;
      used++;
    }
    const information = wss - (ws * ws) / w;
    if (used < 5 || !(information > 0)) continue;
    const area = (wsy - (ws * wy) / w) / information;
    const sigma = 1 / Math.sqrt(information);
    areas[centre] = area;
    const perCount = scan.noise.variancePerCount;
    // In counts: what a line of this area would add, over the background it has to beat.
    const z = area / sigma;
    significances[centre] =
      scan.noise.kind === 'poisson'
        ? Math.min(
            z,
            countingSignificance(
              (area * pointsEach) / binDeg / perCount,
              ((sigma * pointsEach) / binDeg) ** 2 / perCount,
            ),
          )
        : z;
  }
  const found: PeakSeed[] = [];
  const reach = Math.max(1, Math.round(widthDeg / binDeg / 2));
  for (let i = 0; i < n; i++) {
    const z = significances[i]!;
    if (z < threshold) continue;
    let isMaximum = true;
    for (let j = Math.max(0, i - reach); j <= Math.min(n - 1, i + reach) && isMaximum; j++) {
      if (significances[j]! > z || (significances[j] === z && j < i)) isMaximum = false;
    }
    if (isMaximum)
      found.push({ twoThetaDeg: angles[i]!, areaCountsDeg: areas[i]!, fwhmDeg: widthDeg, significance: z });
  }
  return found;
}
