// Thickness over a flat substrate that faces a plume. One length unit throughout; shares of the thickness on the axis.
import { checkRange, POSITIVE } from './range.ts';

export interface Plume {
  /** from the spot to the plane of the substrate */
  readonly distance: number;
  /** n: flux into a solid angle falls as cos^n of the angle from the axis */
  readonly exponent: number;
  /** from the axis of the plume to the middle of the substrate */
  readonly offset: number;
  /** does the substrate turn about its middle? */
  readonly isRotating: boolean;
}

/** @throws DomainError GROWTH_RANGE */
export function checkPlume({ distance, exponent, offset }: Plume): void {
  checkRange('plume.distanceMm', distance, POSITIVE);
  checkRange('plume.exponent', exponent, { min: 0, max: 200 });
  checkRange('plume.offsetMm', offset, { min: 0 });
}

/**
 * Thickness at a distance r from the axis: t(r)/t(0) = (1 + r^2/h^2)^(-(n + 3)/2). The flux falls as cos^n, the distance
 * as 1/cos and the tilt of the surface as cos, which makes cos^(n + 3). Some papers call n + 3 the exponent.
 *
 * Source: [derived: geometry of a point source and a parallel plane]; n = 1 is the small flat evaporator, n = 0 the point.
 * Range: a spot far smaller than h; no scattering in the gas, which flattens the plume.
 */
export function thicknessShareAt(radius: number, distance: number, exponent: number): number {
  return (1 + (radius / distance) ** 2) ** (-(exponent + 3) / 2);
}

const TURN_STEPS = 96; // a periodic sum: exact to 1e-12 for offsets below h and exponents to 20

/** The same, averaged over a turn about a middle that lies an offset from the axis. Source: as thicknessShareAt. */
export function turnedShareAt(radius: number, offset: number, distance: number, exponent: number): number {
  let sum = 0;
  for (let k = 0; k < TURN_STEPS; k++) {
    const phi = (2 * Math.PI * k) / TURN_STEPS;
    const squared = radius ** 2 + offset ** 2 - 2 * radius * offset * Math.cos(phi);
    sum += thicknessShareAt(Math.sqrt(Math.max(0, squared)), distance, exponent);
  }
  return sum / TURN_STEPS;
}

/** Share at a place (x, y) from the middle of the substrate, x along the offset. */
export function shareAt(x: number, y: number, { distance, exponent, offset, isRotating }: Plume): number {
  return isRotating
    ? turnedShareAt(Math.hypot(x, y), offset, distance, exponent)
    : thicknessShareAt(Math.hypot(x + offset, y), distance, exponent);
}

const GRID_STEPS = 16;

/**
 * Half of the spread over a rectangle, as a share of its middle value: (max - min)/(max + min), on a grid of 17 x 17 with
 * the middle and the corners.
 */
export function spreadOver(width: number, length: number, plume: Plume): number {
  let [least, most] = [Number.POSITIVE_INFINITY, 0];
  for (let i = 0; i <= GRID_STEPS; i++)
    for (let j = 0; j <= GRID_STEPS; j++) {
      const share = shareAt((i / GRID_STEPS - 0.5) * width, (j / GRID_STEPS - 0.5) * length, plume);
      least = Math.min(least, share);
      most = Math.max(most, share);
    }
  return (most - least) / (most + least);
}
