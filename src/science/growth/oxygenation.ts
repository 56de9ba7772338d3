// Oxygen going into a film by diffusion while it is held or cooled. SI; K.

import { GAS_CONSTANT, oxygenAboveSix, ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { DomainError } from '../errors.ts';
import { straightLine } from '../numerics/straight-line.ts';
import { OXYGEN_DIFFUSION } from '../tables/oxygen-diffusion.ts';
import type { PathSamples } from './path.ts';

/**
 * Share of the way to equilibrium of a plate whose one face is open, or of the half of one with both open:
 * F = 1 - sum 8/((2k + 1)^2 pi^2) exp(-(2k + 1)^2 pi^2 theta/4), theta = D t/L^2, L the thickness to the closed face.
 *
 * @param theta 0 or more
 * @returns 0 to 1; the square-root law 2 sqrt(theta/pi) below 0.05, where both agree to 1e-9
 *
 * Source: [looked-up: Crank, The Mathematics of Diffusion, 1975, p. 48, as quoted in a library's manual].
 * Range: constant surface and a D that does not depend on oxygen.
 */
export function uptakeShare(theta: number): number {
  if (theta < 0.05) return 2 * Math.sqrt(Math.max(0, theta) / Math.PI);
  let sum = 0;
  for (let k = 0; k < 40; k++) {
    const odd = (2 * k + 1) ** 2;
    const term = Math.exp((-odd * Math.PI ** 2 * theta) / 4) / odd;
    sum += term;
    if (term < 1e-16) break;
  }
  return 1 - (8 / Math.PI ** 2) * sum;
}

/** theta = D t/L^2 at which a share of the way is done: the inverse of uptakeShare, by bisection. */
export function thetaOfShare(share: number): number {
  let [low, high] = [0, 20];
  while (high - low > 1e-12 * high) {
    const middle = (low + high) / 2;
    if (uptakeShare(middle) < share) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Modes kept over a path; what is left out is taken as filled at once, 2/(pi^2 modes) of a change: 0.05 %. */
const MODES = 400;

/**
 * Mean oxygen of a plate over a path: the surface is in balance with the gas at every moment, and each mode of the plate
 * relaxes, a_k' = -(2k + 1)^2 pi^2 D/(4 L^2) a_k + c_s' (Duhamel's superposition, exact for a surface moving straight in
 * Dt between samples).
 *
 * @param surface c at the surface, one a sample
 * @param diffusivity one a sample, m2/s
 * @param startMean c of the whole plate at the beginning
 * @returns mean c, one a sample
 *
 * Source: [derived: superposition of uptakeShare]; see there for the modes.
 */
export function meanOverPath(
  timeS: ArrayLike<number>,
  surface: ArrayLike<number>,
  diffusivity: ArrayLike<number>,
  lengthM: number,
  startMean: number,
): Float64Array {
  const n = timeS.length;
  const mean = new Float64Array(n);
  const behind = new Float64Array(MODES).fill(surface[0]! - startMean); // how far each mode is behind the surface
  mean[0] = startMean;
  for (let i = 1; i < n; i++) {
    const step = (((diffusivity[i]! + diffusivity[i - 1]!) / 2) * (timeS[i]! - timeS[i - 1]!)) / lengthM ** 2;
    const change = surface[i]! - surface[i - 1]!;
    let missing = 0;
    for (let k = 0; k < MODES; k++) {
      const odd = (2 * k + 1) ** 2;
      const decay = (odd * Math.PI ** 2 * step) / 4;
      const kept = Math.exp(-decay);
      behind[k] = behind[k]! * kept + (decay > 1e-9 ? (change * (1 - kept)) / decay : change);
      missing += behind[k]! / odd;
    }
    mean[i] = surface[i]! - (8 / Math.PI ** 2) * missing;
  }
  return mean;
}

/** Ways for oxygen: along ab, apparent into a c-axis film through its short circuits, and along c of a perfect crystal. */
export type DiffusionWay = 'ab' | 'film' | 'c';

const POINTS = OXYGEN_DIFFUSION.records.flatMap((record) => (record.kind === 'point' ? [record] : []));
const AB_LINE = straightLine(
  POINTS.map(({ temperatureC }) => 1 / (temperatureC + ZERO_CELSIUS_K)),
  POINTS.map(({ d }) => Math.log(d)),
)!;

interface WayLine {
  readonly lnD0: number;
  readonly activationJPerMol: number;
  readonly doubtFactor: number;
  readonly fromC: number;
  readonly toC: number;
}

function lineOf(way: 'film' | 'c'): WayLine {
  for (const record of OXYGEN_DIFFUSION.records)
    if (record.kind === 'line' && record.id === way) {
      const { anchorD, anchorC, activationJPerMol, doubtFactor, fromC, toC } = record;
      return {
        lnD0: Math.log(anchorD) + activationJPerMol / (GAS_CONSTANT * (anchorC + ZERO_CELSIUS_K)),
        activationJPerMol,
        doubtFactor,
        fromC,
        toC,
      };
    }
  throw new DomainError('GROWTH_UNKNOWN', `No line of oxygen diffusion is named '${way}'.`);
}

const WAYS: Readonly<Record<DiffusionWay, WayLine>> = {
  ab: {
    lnD0: AB_LINE.intercept,
    activationJPerMol: -AB_LINE.slope * GAS_CONSTANT,
    doubtFactor: Math.exp(AB_LINE.scatter),
    fromC: Math.min(...POINTS.map(({ temperatureC }) => temperatureC)),
    toC: Math.max(...POINTS.map(({ temperatureC }) => temperatureC)),
  },
  film: lineOf('film'),
  c: lineOf('c'),
};

/** Line of one way: D = exp(lnD0 - E/(R T)), its doubt as a factor, and its range. Along ab fitted to the tabulated points. */
export function diffusionLine(way: DiffusionWay): WayLine {
  return WAYS[way];
}

/**
 * Diffusivity of oxygen, m2/s, by the line of one way.
 *
 * Source: table oxygen-diffusion. Range: ab 300 to 850 degC; film one point at 315 degC; c 300 to 650 degC within a factor 10.
 */
export function oxygenDiffusivity(way: DiffusionWay, temperatureK: number): number {
  const { lnD0, activationJPerMol } = WAYS[way];
  return Math.exp(lnD0 - activationJPerMol / (GAS_CONSTANT * temperatureK));
}

/** Oxygen above six with every chain site taken: one a formula [memory: Jorgensen and others 1990]. */
export const FULL_CHAINS = 1;

/**
 * Oxygen above six in balance with the gas along a path, one a sample, never more than the chains hold: far below its
 * range the fitted balance would go on to two.
 *
 * Range: as oxygenAboveSix; flagged by the caller.
 */
export function surfaceOxygen({ temperatureK, log10Po2Atm }: PathSamples): Float64Array {
  return temperatureK.map((kelvin, i) =>
    Math.min(FULL_CHAINS, oxygenAboveSix(kelvin, 10 ** log10Po2Atm[i]!)),
  );
}
