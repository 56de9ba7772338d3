// The shape of one diffraction line: a pseudo-Voigt doublet. Pure functions; degrees of 2theta, counts.
import type { Radiation } from './radiation.ts';
import { twoThetaDegAtWavelength } from './radiation.ts';

/** One line as fitted; enough to draw it. */
export interface PeakShape {
  /** position of the K-alpha1 line */
  readonly twoThetaDeg: number;
  /** area of K-alpha1 and K-alpha2 together, counts x degrees */
  readonly areaCountsDeg: number;
  /** full width at half maximum of each line of the doublet */
  readonly fwhmDeg: number;
  /** share of the Lorentzian, 0 to 1 */
  readonly lorentzShare: number;
}

const GAUSS_SHARPNESS = 4 * Math.LN2;
const GAUSS_PEAK = 2 * Math.sqrt(Math.LN2 / Math.PI);
const LORENTZ_PEAK = 2 / Math.PI;

/**
 * Pseudo-Voigt of unit area: eta L + (1 - eta) G, with L = (2/(pi W))/(1 + 4 u^2/W^2) and
 * G = (2/W) sqrt(ln2/pi) exp(-4 ln2 u^2/W^2).
 *
 * @param offsetDeg    u, distance from the centre
 * @param fwhmDeg      W, full width at half maximum of both parts, > 0
 * @param lorentzShare eta, 0 to 1
 * @returns 1/degree
 * Source: [memory: P. Thompson, D.E. Cox, J.B. Hastings, J. Appl. Cryst. 20 (1987) 79]; unit area checked by quadrature.
 */
export function pseudoVoigtPerDeg(offsetDeg: number, fwhmDeg: number, lorentzShare: number): number {
  const u = offsetDeg / fwhmDeg;
  const lorentz = LORENTZ_PEAK / (1 + 4 * u * u);
  const gauss = u * u > 12 ? 0 : GAUSS_PEAK * Math.exp(-GAUSS_SHARPNESS * u * u);
  return (lorentzShare * lorentz + (1 - lorentzShare) * gauss) / fwhmDeg;
}

/** Position of the K-alpha2 partner, degrees of 2theta; NaN where there is none. */
export function kAlpha2TwoThetaDeg(twoThetaDeg: number, radiation: Radiation): number {
  if (radiation.kAlpha2Angstrom === undefined) return Number.NaN;
  return twoThetaDegAtWavelength(twoThetaDeg, radiation.kAlpha1Angstrom, radiation.kAlpha2Angstrom);
}

/**
 * A peak's curve at one angle: K-alpha1 with 1/(1 + r) of the area and K-alpha2 with r/(1 + r), r from the radiation,
 * both of one width and shape.
 *
 * @param partnerTwoThetaDeg position of K-alpha2, made once per peak with `kAlpha2TwoThetaDeg`
 * @returns counts above background
 */
export function peakCounts(
  peak: PeakShape,
  twoThetaDeg: number,
  radiation: Radiation,
  partnerTwoThetaDeg: number = kAlpha2TwoThetaDeg(peak.twoThetaDeg, radiation),
): number {
  const main = pseudoVoigtPerDeg(twoThetaDeg - peak.twoThetaDeg, peak.fwhmDeg, peak.lorentzShare);
  if (Number.isNaN(partnerTwoThetaDeg) || radiation.kAlpha2Share === 0) return peak.areaCountsDeg * main;
  const partner = pseudoVoigtPerDeg(twoThetaDeg - partnerTwoThetaDeg, peak.fwhmDeg, peak.lorentzShare);
  const share = radiation.kAlpha2Share;
  return (peak.areaCountsDeg * (main + share * partner)) / (1 + share);
}

/** The doublet's counts at its K-alpha1 position, without background. */
export function peakHeightCounts(peak: PeakShape, radiation: Radiation): number {
  return peakCounts(peak, peak.twoThetaDeg, radiation);
}

/** Adds a peak to a curve in place, over the whole scan: a Lorentzian's tails reach far. */
export function addPeakCurve(
  curveCounts: Float64Array,
  twoThetaDeg: ArrayLike<number>,
  peak: PeakShape,
  radiation: Radiation,
): void {
  const partner = kAlpha2TwoThetaDeg(peak.twoThetaDeg, radiation);
  for (let i = 0; i < curveCounts.length; i++) {
    curveCounts[i] = curveCounts[i]! + peakCounts(peak, twoThetaDeg[i]!, radiation, partner);
  }
}
