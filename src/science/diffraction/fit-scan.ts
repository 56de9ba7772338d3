// From a scan to its lines and its background. Pure; degrees of 2theta, counts.
import { peeledBackground, smoothBackground } from './background.ts';
import { findPeaks } from './find-peaks.ts';
import type { FittedPeak } from './fit-peaks.ts';
import { fitPeaks, sumOfPeaks } from './fit-peaks.ts';
import { kAlpha2TwoThetaDeg } from './peak-shape.ts';
import type { Radiation } from './radiation.ts';
import type { Scan } from './scan.ts';

export interface FittedScan {
  /** in order of angle */
  readonly peaks: readonly FittedPeak[];
  /** counts, one a point of the scan */
  readonly backgroundCounts: Float64Array;
  /** background and lines together */
  readonly fitCounts: Float64Array;
}

/** Search, fit, look again at what is left: overlapping lines show only after their neighbour is taken off. */
const ROUNDS = 3;
const MOST_PEAKS = 80;

function coresOf(scan: Scan, peaks: readonly FittedPeak[], radiation: Radiation): boolean[] {
  const isInCore = new Array<boolean>(scan.counts.length).fill(false);
  for (const peak of peaks) {
    const partner = kAlpha2TwoThetaDeg(peak.twoThetaDeg, radiation);
    const low = peak.twoThetaDeg - 1.5 * peak.fwhmDeg;
    const high = (Number.isNaN(partner) ? peak.twoThetaDeg : partner) + 1.5 * peak.fwhmDeg;
    for (let i = 0; i < isInCore.length; i++) {
      if (scan.twoThetaDeg[i]! > low && scan.twoThetaDeg[i]! < high) isInCore[i] = true;
    }
  }
  return isInCore;
}

/**
 * Background and lines of a scan, in three rounds of search and fit.
 *
 * Assumes lines no wider than 1.2 degrees: wider humps stay in the background, where `amorphousShare` looks for them.
 *
 * @param scan      from `prepareScan`
 * @param radiation wavelengths of the doublet
 */
export function fitScan(scan: Scan, radiation: Radiation): FittedScan {
  let background: Float64Array = peeledBackground(scan);
  let peaks: FittedPeak[] = [];
  let sum: Float64Array = new Float64Array(scan.counts.length);
  for (let round = 0; round < ROUNDS; round++) {
    const residual = scan.counts.map((value, i) => value - background[i]! - sum[i]!);
    const found = findPeaks(scan, radiation, residual, background, sum);
    if (found.length === 0 && round > 0) break;
    const seeds = [...peaks, ...found.slice(0, MOST_PEAKS - peaks.length)];
    peaks = fitPeaks(scan, radiation, background, seeds, false);
    sum = sumOfPeaks(scan, peaks, radiation);
    background = smoothBackground(scan, sum, background, coresOf(scan, peaks, radiation));
  }
  peaks = fitPeaks(scan, radiation, background, peaks);
  sum = sumOfPeaks(scan, peaks, radiation);
  return {
    peaks,
    backgroundCounts: background,
    fitCounts: Float64Array.from(background, (value, i) => value + sum[i]!),
  };
}
