// Where a melt lies lowest above a plane of chemical potentials. J per mole of cations, shares of cations.
import { D_BA, D_BA_BA, D_RE, D_RE_BA, D_RE_RE, MELT_NUMBERS, type Melt, mixingOf, OMEGA } from './melt.ts';

/** RE shares of the search grid: melts hold from traces to a few per cent; the last rows find what a strong RE-Ba or RE-Cu term makes. */
const GRID_RE = [1e-5, 1e-3, 0.006, 0.03, 0.1, 0.3, 0.5, 0.75] as const;
const GRID_BA = [0.002, 0.06, 0.12, 0.18, 0.23, 0.28, 0.33, 0.39, 0.46, 0.54, 0.63, 0.74, 0.9] as const;
const N_RE = GRID_RE.length;
const N_BA = GRID_BA.length;
/** Compositions of the grid, RE outermost; the share of Cu is the rest and is above 0. */
const GRID: readonly { readonly i: number; readonly j: number; readonly y: number; readonly b: number }[] =
  GRID_RE.flatMap((y, i) => GRID_BA.map((b, j) => ({ i, j, y, b }))).filter(({ y, b }) => y + b < 0.99);
export const GRID_SIZE = GRID.length;
const GRID_Y = Float64Array.from(GRID, ({ y }) => y);
const GRID_B = Float64Array.from(GRID, ({ b }) => b);
const GRID_MIXING = Float64Array.from(GRID, ({ y, b }) => mixingOf(y, b));

/** A composition of the melt and its height above the plane asked about. */
export interface MeltPoint {
  readonly y: number;
  readonly b: number;
  readonly height: number;
}

/** Grid points higher than this above the plane are not followed down: no valley of a melt is so deep between two of them. */
const FOLLOWED_J_PER_MOL = 3000;
/** Melts beside the edge without Cu, where the grid has none: RE and Ba share. */
const BESIDE_EDGE = [
  [0.12, 0.878],
  [0.36, 0.638],
  [0.6, 0.398],
  [0.85, 0.148],
] as const;
const SMALLEST_SHARE = 1e-14;
/** Melts with less Cu than this part of their Ba are followed in the logarithm of Cu instead of Ba. */
const POOR_IN_CU = 0.01;

/** Room for one search at a time. */
const ABOVE = new Float64Array(N_RE * N_BA);
const NUMBERS = new Float64Array(MELT_NUMBERS);

/** The search over one melt at one T and pO2; keeps its grid once it was asked for. */
export class MeltSearch {
  readonly melt: Melt;
  readonly #grid = new Float64Array(GRID_SIZE);
  #isGridded = false;

  constructor(melt: Melt) {
    this.melt = melt;
  }

  /** Works the grid out; a caller does so once before gridPoint, gridOmega and gridHeight. */
  fillGrid(): void {
    if (this.#isGridded) return;
    for (let k = 0; k < GRID_SIZE; k++)
      this.#grid[k] = this.melt.omegaOf(GRID_Y[k]!, GRID_B[k]!, GRID_MIXING[k]!);
    this.#isGridded = true;
  }

  /** Composition of a grid point, with its energy as `height`. */
  gridPoint(k: number): MeltPoint {
    const { y, b } = GRID[k]!;
    return { y, b, height: this.#grid[k]! };
  }

  gridOmega(k: number): number {
    return this.#grid[k]!;
  }

  /** Height of a grid point above a plane. */
  gridHeight(k: number, re: number, ba: number, cu: number): number {
    return this.#grid[k]! - GRID_Y[k]! * re - GRID_B[k]! * ba - (1 - GRID_Y[k]! - GRID_B[k]!) * cu;
  }

  /** Height of a composition above the plane of three potentials (RE, Ba, Cu). */
  height(plane: ArrayLike<number>, y: number, b: number): number {
    return this.melt.omega(y, b) - y * plane[0]! - b * plane[1]! - (1 - y - b) * plane[2]!;
  }

  /**
   * Every valley of the melt above a plane that the grid shows within a height, followed to its floor; the lowest first.
   *
   * @param starts further compositions (RE share, Ba share) to go down from
   * @param withinJPerMol height above which a valley on the grid is left alone; 3000 holds every one that dips below the plane
   */
  valleys(
    plane: ArrayLike<number>,
    starts: readonly (readonly [number, number])[] = [],
    withinJPerMol = FOLLOWED_J_PER_MOL,
  ): MeltPoint[] {
    this.fillGrid();
    const above = ABOVE;
    above.fill(Number.POSITIVE_INFINITY);
    for (let k = 0; k < GRID_SIZE; k++) {
      const { i, j } = GRID[k]!;
      above[i * N_BA + j] = this.gridHeight(k, plane[0]!, plane[1]!, plane[2]!);
    }
    const found: MeltPoint[] = [];
    const follow = (y: number, b: number): void => {
      const floor = this.descend(plane, y, b);
      if (!found.some((other) => Math.abs(other.b - floor.b) + Math.abs(other.y - floor.y) < 1e-7))
        found.push(floor);
    };
    for (let k = 0; k < GRID_SIZE; k++) {
      const { i, j, y, b } = GRID[k]!;
      const here = above[i * N_BA + j]!;
      if (here <= withinJPerMol && this.#isValley(i, j, here)) follow(y, b);
    }
    for (const [y, b] of BESIDE_EDGE) if (this.height(plane, y, b) <= withinJPerMol) follow(y, b);
    for (const [y, b] of starts) follow(y, b);
    return found.sort((p, q) => p.height - q.height);
  }

  #isValley(i: number, j: number, here: number): boolean {
    const above = ABOVE;
    const k = i * N_BA + j;
    if (i > 0 && above[k - N_BA]! < here) return false;
    if (i < N_RE - 1 && above[k + N_BA]! < here) return false;
    if (j > 0 && above[k - 1]! < here) return false;
    if (j < N_BA - 1 && above[k + 1]! < here) return false;
    return true;
  }

  /**
   * Goes down from a composition to the floor of its valley: Newton steps in ln y and ln b, by the mixing entropy alone where the
   * surface curves downwards, halved where they would climb.
   *
   * @param settled relative step at which it ends
   */
  descend(plane: ArrayLike<number>, fromY: number, fromB: number, settled = 1e-7): MeltPoint {
    const { melt } = this;
    const n = NUMBERS;
    const slopeRe = plane[0]! - plane[2]!;
    const slopeBa = plane[1]! - plane[2]!;
    let y = fromY;
    let b = fromB;
    let height = Number.POSITIVE_INFINITY;
    for (let step = 0; step < 60; step++) {
      melt.evaluate(y, b, n);
      height = n[OMEGA]! - y * slopeRe - b * slopeBa - plane[2]!;
      const gRe = n[D_RE]! - slopeRe;
      const gBa = n[D_BA]! - slopeBa;
      let hRe = n[D_RE_RE]!;
      let hMixed = n[D_RE_BA]!;
      let hBa = n[D_BA_BA]!;
      const c = 1 - y - b;
      // the two small shares are stepped in their logarithms: next to the edge without Cu they are those of RE and Cu
      const isPoor = c < POOR_IN_CU * b;
      const [x, g1, g2] = isPoor ? [c, gRe - gBa, -gBa] : [b, gRe, gBa];
      if (isPoor) {
        hRe += hBa - 2 * hMixed;
        hMixed = hBa - hMixed;
      }
      if (!(hRe > 0 && hRe * hBa - hMixed * hMixed > 1e-3 * hRe * Math.abs(hBa))) {
        const rest = isPoor ? b : c;
        hRe = melt.rt * (1 / y + 1 / rest);
        hMixed = melt.rt / rest;
        hBa = melt.rt * (1 / x + 1 / rest);
      }
      const determinant = hRe * hBa - hMixed * hMixed;
      const stepRe = -(hBa * g1 - hMixed * g2) / determinant / y;
      const stepX = -(hRe * g2 - hMixed * g1) / determinant / x;
      const largest = Math.max(Math.abs(stepRe), Math.abs(stepX));
      if (largest < settled) break;
      let part = largest > 1.5 ? 1.5 / largest : 1;
      let nextY = y;
      let nextB = b;
      let isLower = false;
      for (let halving = 0; halving < 30 && !isLower; halving++, part /= 2) {
        nextY = Math.max(SMALLEST_SHARE, y * Math.exp(part * stepRe));
        const nextX = Math.max(SMALLEST_SHARE, x * Math.exp(part * stepX));
        nextB = isPoor ? 1 - nextY - nextX : nextX;
        if (!(nextB > 0 && 1 - nextY - nextB > SMALLEST_SHARE / 2)) continue;
        isLower = this.height(plane, nextY, nextB) <= height + 1e-9;
      }
      if (!isLower) break;
      const moved = Math.abs(nextY - y) / y + Math.abs(nextB - b) / Math.min(b, c);
      y = nextY;
      b = nextB;
      if (moved < settled) break;
    }
    return { y, b, height: this.height(plane, y, b) };
  }
}
