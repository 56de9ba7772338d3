// Compositions on a regular lattice in the triangle or in a window of it. Shares of cations.
import { DomainError } from '../errors.ts';

/** Part of the triangle: least and most copper, most RE; the rest is Ba. */
export interface Window {
  readonly cuMin: number;
  readonly cuMax: number;
  readonly reMax: number;
}

export const WHOLE_TRIANGLE: Window = { cuMin: 0, cuMax: 1, reMax: 1 };

export interface Lattice {
  readonly re: Float64Array;
  readonly ba: Float64Array;
  readonly cu: Float64Array;
}

/** Ba shares down to this are rounding and count as 0. */
const ROUNDING = 1e-12;

/**
 * Lattice of step s = max(cuMax - cuMin, reMax)/divisions: rows of RE = 0, s, 2 s, ... reMax; in each row Cu = cuMin, cuMin + s,
 * ... cuMax; Ba = 1 - RE - Cu; points with Ba below 0 are left out. The whole triangle gives (n + 1)(n + 2)/2 compositions,
 * edges and corners among them.
 *
 * @throws DomainError EQUILIBRIUM_REGION where the window is empty
 */
export function compositionLattice(divisions: number, window: Window = WHOLE_TRIANGLE): Lattice {
  const { cuMin, cuMax, reMax } = window;
  if (!(cuMin >= 0 && cuMax <= 1 && cuMin < cuMax && reMax > 0 && reMax <= 1)) {
    throw new DomainError(
      'EQUILIBRIUM_REGION',
      `region is cuMin ${cuMin}, cuMax ${cuMax}, reMax ${reMax}.`,
      'Give 0 <= cuMin < cuMax <= 1 and 0 < reMax <= 1.',
    );
  }
  const step = Math.max(cuMax - cuMin, reMax) / divisions;
  const nRe = Math.floor(reMax / step + 1e-9);
  const nCu = Math.floor((cuMax - cuMin) / step + 1e-9);
  const re: number[] = [];
  const ba: number[] = [];
  const cu: number[] = [];
  for (let i = 0; i <= nRe; i++) {
    for (let j = 0; j <= nCu; j++) {
      const reShare = i * step;
      const cuShare = cuMin + j * step;
      const rest = 1 - reShare - cuShare;
      if (rest < -ROUNDING) continue;
      re.push(reShare);
      cu.push(cuShare);
      ba.push(rest < ROUNDING ? 0 : rest);
    }
  }
  return { re: Float64Array.from(re), ba: Float64Array.from(ba), cu: Float64Array.from(cu) };
}
