// The broad hump of an amorphous film. Pure functions; degrees of 2theta, counts.
import { invertSymmetric, solveCholesky } from '../numerics/least-squares.ts';
import { spacingAngstromOfTwoTheta, twoThetaDegOfSpacing } from './lattice.ts';
import type { Scan } from './scan.ts';
import { varianceOf } from './scan.ts';

/** Where the hump of Ba-O and RE-O neighbours stands and may spread, degrees of 2theta for Cu K-alpha [common practice]. */
const WINDOW_CU_DEG = { from: 21, to: 40 } as const;
const CENTRES_CU_DEG = { from: 27.5, to: 31.5 } as const;
const WIDTHS_DEG = [4, 5.5, 7, 9] as const;
const CU_ANGSTROM = 1.5405929;

export interface AmorphousAnswer {
  /** hump's area over hump and crystalline lines of the film in the same window; null where none can be given */
  readonly share: number | null;
  readonly shareU: number | null;
  readonly answer: 'yes' | 'no' | 'cannot say';
  readonly reason: string;
}

/** Angles between which a hump is looked for, degrees of 2theta at this wavelength. */
export function humpWindowDeg(wavelengthAngstrom: number): { from: number; to: number } {
  const at = (cuDeg: number): number =>
    twoThetaDegOfSpacing(spacingAngstromOfTwoTheta(cuDeg, CU_ANGSTROM), wavelengthAngstrom);
  return { from: at(WINDOW_CU_DEG.from), to: at(WINDOW_CU_DEG.to) };
}

/**
 * Whether an amorphous hump stands under the lines: after the lines are taken off, a Gaussian hump centred at 27.5 to
 * 31.5 degrees (Cu), 4 to 9 degrees wide, is fitted together with a parabola over 21 to 40 degrees by linear least
 * squares. 'yes' needs the hump to be six standard deviations above zero and 4 % of the background it stands on; 'no'
 * that its upper limit is below that, or below twice that with no sign of it; in between nobody can say, since the background's own curvature is as large.
 *
 * The share is one of areas, not of volume: textured crystals put their whole area into a few lines.
 *
 * @param lineCounts     sum of all fitted lines, one a point
 * @param crystallineCountsDeg area of the film's own lines in the window, substrate left out
 */
export function amorphousShare(
  scan: Scan,
  lineCounts: ArrayLike<number>,
  crystallineCountsDeg: number,
  wavelengthAngstrom: number,
): AmorphousAnswer {
  const { from, to } = humpWindowDeg(wavelengthAngstrom);
  const stretch = (to - from) / (WINDOW_CU_DEG.to - WINDOW_CU_DEG.from);
  const angles: number[] = [];
  const y: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < scan.counts.length; i++) {
    const angle = scan.twoThetaDeg[i]!;
    if (!(angle >= from && angle <= to) || Number.isNaN(scan.counts[i]!)) continue;
    angles.push(angle);
    y.push(scan.counts[i]! - lineCounts[i]!);
    const variance = varianceOf(scan.noise, Math.max(scan.counts[i]!, 1)) + (0.05 * lineCounts[i]!) ** 2;
    weights.push(1 / Math.max(variance, 1e-12));
  }
  const n = angles.length;
  if (n < 40 || angles[0]! > from + 2 * stretch || angles[n - 1]! < to - 3 * stretch) {
    return {
      share: null,
      shareU: null,
      answer: 'cannot say',
      reason: `The scan does not cover ${from.toFixed(0)} to ${to.toFixed(0)} degrees, where a hump would stand.`,
    };
  }
  const middle = (from + to) / 2;
  const half = (to - from) / 2;
  let best: { chi: number; height: number; heightU: number; base: number; width: number } | undefined;
  for (let centreCu = CENTRES_CU_DEG.from; centreCu <= CENTRES_CU_DEG.to; centreCu += 1) {
    const centre = from + (centreCu - WINDOW_CU_DEG.from) * stretch;
    for (const widthCu of WIDTHS_DEG) {
      const width = widthCu * stretch;
      const basis = (i: number, k: number): number => {
        const t = (angles[i]! - middle) / half;
        return k < 3 ? t ** k : Math.exp(-4 * Math.LN2 * ((angles[i]! - centre) / width) ** 2);
      };
      const normal = new Float64Array(16);
      const right = new Float64Array(4);
      for (let i = 0; i < n; i++) {
        for (let k = 0; k < 4; k++) {
          const value = basis(i, k) * weights[i]!;
          right[k] = right[k]! + value * y[i]!;
          for (let m = 0; m < 4; m++) normal[4 * k + m] = normal[4 * k + m]! + value * basis(i, m);
        }
      }
      const covariance = invertSymmetric(normal.slice(), 4);
      if (covariance === undefined || !solveCholesky(normal, 4, right)) continue;
      let chi = 0;
      for (let i = 0; i < n; i++) {
        let value = 0;
        for (let k = 0; k < 4; k++) value += right[k]! * basis(i, k);
        chi += weights[i]! * (y[i]! - value) ** 2;
      }
      if (best !== undefined && chi >= best.chi) continue;
      const t = (centre - middle) / half;
      const widening = Math.sqrt(Math.max(1, chi / (n - 6)));
      const base = right[0]! + right[1]! * t + right[2]! * t * t;
      best = { chi, height: right[3]!, heightU: Math.sqrt(covariance[15]!) * widening, base, width };
    }
  }
  if (best === undefined) {
    return {
      share: null,
      shareU: null,
      answer: 'cannot say',
      reason: 'No smooth background could be fitted.',
    };
  }
  const areaPerHeight = best.width * Math.sqrt(Math.PI / (4 * Math.LN2));
  const area = Math.max(best.height, 0) * areaPerHeight;
  const areaU = best.heightU * areaPerHeight;
  const whole = area + crystallineCountsDeg;
  const share = whole > 0 ? area / whole : null;
  // d(share)/d(area) = crystalline/whole^2; the lines' own uncertainty is small beside the hump's.
  const shareU = whole > 0 ? Math.min(1, (areaU * (crystallineCountsDeg + areaU)) / whole ** 2) : null;
  const least = 0.04 * Math.max(best.base, 0);
  const upper = Math.max(best.height, 0) + 1.645 * best.heightU;
  if (best.height > 6 * best.heightU && best.height > least) {
    return {
      share,
      shareU,
      answer: 'yes',
      reason: `A hump ${best.width.toFixed(1)} degrees wide stands ${(best.height / best.heightU).toFixed(0)} standard deviations above the background.`,
    };
  }
  if (upper < least || (upper < 2 * least && best.height < 3 * best.heightU)) {
    const isKnown = crystallineCountsDeg > 0;
    return {
      share: isKnown ? share : null,
      shareU: isKnown ? shareU : null,
      answer: 'no',
      reason: 'No hump stands above the curvature of the background.',
    };
  }
  return {
    share: null,
    shareU: null,
    answer: 'cannot say',
    reason: 'A hump, if any, is no larger than the doubt about the background under it.',
  };
}
