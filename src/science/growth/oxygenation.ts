// Oxygen going into a film by diffusion while it is held or cooled. SI; K.

import { GAS_CONSTANT, oxygenAboveSix, po2OfOxygenAtm, ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { DomainError } from '../errors.ts';
import { diffusingBody, PLATE } from '../numerics/diffusion-modes.ts';
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

/**
 * Mean oxygen of a plate over a path: the surface is in balance with the gas at every moment, and the plate follows it
 * (diffusingBody, exact for a surface moving straight in Dt between samples).
 *
 * @param surface c at the surface, one a sample
 * @param diffusivity one a sample, m2/s
 * @param startMean c of the whole plate at the beginning
 * @returns mean c, one a sample
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
  const step = diffusingBody(PLATE, surface[0]! - startMean);
  mean[0] = startMean;
  for (let i = 1; i < n; i++) {
    const theta =
      (((diffusivity[i]! + diffusivity[i - 1]!) / 2) * (timeS[i]! - timeS[i - 1]!)) / lengthM ** 2;
    mean[i] = surface[i]! + step(theta).take(surface[i]! - surface[i - 1]!);
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
 * Diffusivity of the oxygen tracer, m2/s, by the line of one way.
 *
 * Source: table oxygen-diffusion. Range: ab 300 to 850 degC; film one point at 315 degC; c 300 to 650 degC within a factor 10.
 */
export function oxygenDiffusivity(way: DiffusionWay, temperatureK: number): number {
  const { lnD0, activationJPerMol } = WAYS[way];
  return Math.exp(lnD0 - activationJPerMol / (GAS_CONSTANT * temperatureK));
}

/**
 * How much faster oxygen evens out than its tracer moves: d ln p^(1/2)/d ln z = w z/(R T) + 2/(2 - z) of the oxygen in balance
 * with the gas, taken by the quotient of two near contents.
 *
 * @param z oxygen above six, kept within 0.001 to 1
 *
 * Source: [memory: Darken 1948, Trans. AIME 175, 184], with the lattice gas of equilibrium/oxygen.ts [derived].
 * Range: as oxygenAboveSix; correlation of the tracer's jumps is left out.
 */
export function thermodynamicFactor(temperatureK: number, z: number): number {
  const at = Math.min(Math.max(z, 1e-3), 1);
  return (
    Math.log(po2OfOxygenAtm(temperatureK, at * 1.001) / po2OfOxygenAtm(temperatureK, at * 0.999)) /
    (2 * Math.log(1.001 / 0.999))
  );
}

/** Chemical diffusivity of oxygen by the line of one way, m2/s: that of the tracer times the thermodynamic factor at content z. */
export function chemicalDiffusivity(way: DiffusionWay, temperatureK: number, z: number): number {
  return oxygenDiffusivity(way, temperatureK) * thermodynamicFactor(temperatureK, z);
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
