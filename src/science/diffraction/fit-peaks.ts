// Weighted least-squares fit of overlapping lines together. Pure functions; degrees of 2theta, counts.
import { fitLeastSquares } from '../numerics/least-squares.ts';
import { lowerBound } from './background.ts';
import type { PeakShape } from './peak-shape.ts';
import { addPeakCurve, kAlpha2TwoThetaDeg, peakCounts } from './peak-shape.ts';
import type { Radiation } from './radiation.ts';
import type { Scan } from './scan.ts';
import { varianceOf } from './scan.ts';

export interface FittedPeak extends PeakShape {
  readonly twoThetaDegU: number;
  readonly areaCountsDegU: number;
  readonly fwhmDegU: number;
  /** area over its uncertainty */
  readonly significance: number;
}

interface Seed {
  readonly twoThetaDeg: number;
  readonly areaCountsDeg: number;
  readonly fwhmDeg: number;
  readonly lorentzShare?: number;
  readonly significance: number;
}

/** Widest line fitted: anything wider is a hump and stays in the background. */
const WIDEST_LINE_DEG = 1.2;
/** What is known of a line's Lorentzian share before the fit [common practice]; it rules only where the line is weak. */
const LORENTZ_PRIOR = { mean: 0.5, standardUncertainty: 0.25 } as const;
/** How far the background may be off under a line, as a share of one point's noise: while searching, at the end. */
const BACKGROUND_SLACK = { search: 0.5, final: 0.25 } as const;
const MOST_LINES_TOGETHER = 6;
/** A line whose fitted area is not this many uncertainties above zero is dropped again. */
const LEAST_SIGNIFICANCE = 3;
/** No pseudo-Voigt is a real line: this share of its height is added to the noise, so that a strong line's shape does not outweigh everything near it [common practice]. */
const SHAPE_MISFIT = 0.02;
/** Finely stepped points are joined so far that this many are left across a line; 12 widen it by 0.2 % [derived]. */
const POINTS_ACROSS = { search: 7, final: 12 } as const;

/** Seeds whose curves reach into one another, each group in order of angle. */
function overlapGroups<S extends Seed>(seeds: readonly S[]): S[][] {
  const sorted = [...seeds].sort((p, q) => p.twoThetaDeg - q.twoThetaDeg);
  const groups: S[][] = [];
  for (const seed of sorted) {
    const group = groups.at(-1);
    const before = group?.at(-1);
    const isNear =
      before !== undefined &&
      seed.twoThetaDeg - before.twoThetaDeg < 1.5 * (seed.fwhmDeg + before.fwhmDeg) + 0.25;
    if (group !== undefined && isNear && group.length < MOST_LINES_TOGETHER) group.push(seed);
    else groups.push([seed]);
  }
  return groups;
}

/** Sum of the lines over the scan, counts. */
export function sumOfPeaks(scan: Scan, peaks: readonly PeakShape[], radiation: Radiation): Float64Array {
  const curve = new Float64Array(scan.counts.length);
  for (const peak of peaks) addPeakCurve(curve, scan.twoThetaDeg, peak, radiation);
  return curve;
}

/**
 * Fits every line: lines that overlap together, the tails of all others taken off first, each group with its own small
 * straight-line correction of the background. Parameters of a line: position, area, width, Lorentzian share. What is known
 * before (the share is near one half, the background is off by a fraction of the noise) enters as further points with
 * their own uncertainty, so that a weak line cannot grow tails into its background. Standard uncertainties come from the inverse normal matrix, widened by
 * sqrt(chi squared / degrees of freedom) where that is above 1, so that a shape that does not quite fit widens them.
 *
 * @param background counts, one a point
 * @param seeds      first guesses; earlier results may be given again
 * @param isFinal    false while searching: points are joined and the fit stops early
 * @returns lines in order of angle; those whose area is not three uncertainties above zero, and humps, are dropped
 */
export function fitPeaks(
  scan: Scan,
  radiation: Radiation,
  background: ArrayLike<number>,
  seeds: readonly Seed[],
  isFinal = true,
): FittedPeak[] {
  const groups = overlapGroups(seeds);
  const start = groups.map((group) => group.map((seed) => ({ lorentzShare: 0.5, ...seed })));
  const total = sumOfPeaks(scan, start.flat(), radiation);
  return groups.flatMap((_, g) => {
    const own = sumOfPeaks(scan, start[g]!, radiation);
    const others = total.map((value, i) => value - own[i]!);
    // The weakest doubtful line goes first: without it the others may become clear.
    for (let left = start[g]!; left.length > 0; ) {
      const fitted = fitGroup(scan, radiation, background, others, left, isFinal);
      const doubts = fitted.map((peak) => (peak.fwhmDeg > 0.99 * WIDEST_LINE_DEG ? 0 : peak.significance));
      const weakest = doubts.indexOf(Math.min(...doubts));
      if (doubts[weakest]! > LEAST_SIGNIFICANCE) return fitted;
      left = left.filter((__, s) => s !== weakest);
    }
    return [];
  });
}

interface Window {
  angles: number[];
  /** counts less background and the other lines */
  y: number[];
  /** background and other lines */
  underneath: number[];
  /** points joined into each */
  joined: number[];
}

function windowOf(
  scan: Scan,
  background: ArrayLike<number>,
  others: ArrayLike<number>,
  from: number,
  to: number,
  pointsEach: number,
): Window {
  const window: Window = { angles: [], y: [], underneath: [], joined: [] };
  for (let first = from; first < to; first += pointsEach) {
    let angle = 0;
    let value = 0;
    let under = 0;
    let used = 0;
    for (let i = first; i < Math.min(to, first + pointsEach); i++) {
      if (Number.isNaN(scan.counts[i]!)) continue;
      angle += scan.twoThetaDeg[i]!;
      value += scan.counts[i]!;
      under += background[i]! + others[i]!;
      used++;
    }
    if (used === 0) continue;
    window.angles.push(angle / used);
    window.y.push((value - under) / used);
    window.underneath.push(under / used);
    window.joined.push(used);
  }
  return window;
}

/** One fit of a group; one result a seed, in the seeds' order, with significance 0 where the fit found nothing. */
function fitGroup(
  scan: Scan,
  radiation: Radiation,
  background: ArrayLike<number>,
  others: ArrayLike<number>,
  seeds: readonly (Seed & PeakShape)[],
  isFinal: boolean,
): FittedPeak[] {
  const { twoThetaDeg, noise, stepDeg } = scan;
  const widest = Math.max(...seeds.map((seed) => seed.fwhmDeg));
  const reach = Math.min(Math.max(4 * widest, 0.4), 2.5);
  const last = seeds.at(-1)!.twoThetaDeg;
  const partner = kAlpha2TwoThetaDeg(last, radiation);
  const from = lowerBound(twoThetaDeg, seeds[0]!.twoThetaDeg - reach);
  const to = lowerBound(twoThetaDeg, (Number.isNaN(partner) ? last : partner) + reach);
  const narrowestSeed = Math.min(...seeds.map((seed) => seed.fwhmDeg));
  const pointsAcross = isFinal ? POINTS_ACROSS.final : POINTS_ACROSS.search;
  const pointsEach = Math.max(1, Math.floor(narrowestSeed / pointsAcross / stepDeg));
  const { angles, y, underneath, joined } = windowOf(scan, background, others, from, to, pointsEach);
  const middleDeg = (seeds[0]!.twoThetaDeg + last) / 2;
  const mean = underneath.reduce((sum, value) => sum + Math.abs(value), 0) / Math.max(1, underneath.length);
  const begin: number[] = [0, 0];
  const lower: number[] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  const upper: number[] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const baseScale = Math.sqrt(varianceOf(noise, mean) + 1e-12);
  const scales: number[] = [baseScale, baseScale];
  const narrowest = Math.max(0.02, 1.1 * stepDeg);
  const places = seeds.map((seed) => {
    const place = begin.length;
    const width = Math.min(Math.max(seed.fwhmDeg, narrowest), WIDEST_LINE_DEG);
    const freedom = Math.max(0.5 * width, 3 * stepDeg, 0.04);
    const area = Math.max(seed.areaCountsDeg, 1e-9);
    begin.push(seed.twoThetaDeg, area, width, Math.min(Math.max(seed.lorentzShare, 0.02), 0.98));
    lower.push(seed.twoThetaDeg - freedom, 0, narrowest, 0);
    upper.push(seed.twoThetaDeg + freedom, Number.POSITIVE_INFINITY, WIDEST_LINE_DEG, 1);
    scales.push(width, area, width, 1);
    return place;
  });
  const shapeAt = (parameters: ArrayLike<number>, s: number): PeakShape => {
    const place = places[s]!;
    return {
      twoThetaDeg: parameters[place]!,
      areaCountsDeg: parameters[place + 1]!,
      fwhmDeg: parameters[place + 2]!,
      lorentzShare: parameters[place + 3]!,
    };
  };
  const unfitted = {
    twoThetaDegU: Number.NaN,
    areaCountsDegU: Number.NaN,
    fwhmDegU: Number.NaN,
    significance: 0,
  };
  if (y.length < begin.length + 3) return seeds.map((seed) => ({ ...seed, ...unfitted }));
  const nPoints = y.length;
  const halfWidthDeg = (angles[nPoints - 1]! - angles[0]!) / 2;
  // The solver asks for all points of one parameter set in turn, point 0 first, and mostly changes one line at a time:
  // each line's curve is kept and made again only when the line changed.
  const curves = seeds.map(() => new Float64Array(nPoints));
  const curvesOf = seeds.map(() => new Float64Array(4).fill(Number.NaN));
  const refreshCurves = (parameters: ArrayLike<number>): void => {
    for (const [s, curveOf] of curvesOf.entries()) {
      const place = places[s]!;
      let isSame = true;
      for (let k = 0; k < 4; k++) {
        if (curveOf[k] !== parameters[place + k]) isSame = false;
        curveOf[k] = parameters[place + k]!;
      }
      if (isSame) continue;
      const shape = shapeAt(parameters, s);
      const partnerDeg = kAlpha2TwoThetaDeg(shape.twoThetaDeg, radiation);
      const curve = curves[s]!;
      for (let i = 0; i < nPoints; i++) curve[i] = peakCounts(shape, angles[i]!, radiation, partnerDeg);
    }
  };
  const model = (parameters: Float64Array, i: number): number => {
    if (i >= nPoints) {
      const prior = i - nPoints;
      if (prior < 2) return prior === 0 ? parameters[0]! : parameters[1]! * halfWidthDeg;
      return parameters[places[prior - 2]! + 3]!;
    }
    if (i === 0) refreshCurves(parameters);
    let sum = parameters[0]! + parameters[1]! * (angles[i]! - middleDeg);
    for (let s = 0; s < curves.length; s++) sum += curves[s]![i]!;
    return sum;
  };
  const slack = baseScale * (isFinal ? BACKGROUND_SLACK.final : BACKGROUND_SLACK.search);
  const known = [0, 0, ...seeds.map(() => LORENTZ_PRIOR.mean)];
  const knownU = [slack, slack, ...seeds.map(() => LORENTZ_PRIOR.standardUncertainty)];
  const sigmasFor = (levels: readonly number[]): number[] => [
    ...levels.map((level, i) => {
      const above = Math.max(level, 0);
      const variance = varianceOf(noise, underneath[i]! + above) / joined[i]!;
      return Math.sqrt(variance + (SHAPE_MISFIT * above) ** 2 + 1e-12);
    }),
    ...knownU,
  ];
  // Weights from the curve, not from single points: a low count must not weigh more for being low.
  const smoothed = y.map((_, i) => (y[Math.max(0, i - 1)]! + y[i]! + y[Math.min(y.length - 1, i + 1)]!) / 3);
  const bounds = { lower, upper, scales };
  const values = [...y, ...known];
  let result = fitLeastSquares(model, values, begin, {
    ...bounds,
    sigmas: sigmasFor(smoothed),
    maxIterations: isFinal ? 25 : 10,
    tolerance: isFinal ? 1e-4 : 3e-3,
  });
  if (isFinal) {
    const sigmas = sigmasFor(y.map((_, i) => model(result.parameters, i)));
    result = fitLeastSquares(model, values, result.parameters, {
      ...bounds,
      sigmas,
      maxIterations: 15,
      tolerance: 1e-5,
    });
  }
  const widening = Math.sqrt(Math.max(1, result.chiSquared / Math.max(1, result.degreesOfFreedom)));
  return seeds.map((_, s) => {
    const place = places[s]!;
    const shape = shapeAt(result.parameters, s);
    const [twoThetaDegU, areaCountsDegU, fwhmDegU] = [0, 1, 2].map(
      (k) => result.standardUncertainties[place + k]! * widening,
    ) as [number, number, number];
    if (!(shape.areaCountsDeg > 0)) return { ...shape, ...unfitted, significance: 0 };
    const ratio = shape.areaCountsDeg / areaCountsDegU;
    // A singular fit says which line to drop by its share of the seeds' area.
    const significance = Number.isFinite(ratio) ? ratio : 1e-6 * Math.min(shape.areaCountsDeg, 1e6);
    return { ...shape, twoThetaDegU, areaCountsDegU, fwhmDegU, significance };
  });
}
