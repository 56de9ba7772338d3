// Lower convex hull of heights over a composition triangle, and the facet a composition lies in. Pure; heights in the
// caller's unit, compositions as shares (a, b, c) that sum to 1.
import { invert3 } from './matrix3.ts';

/** A point of the triangle with its height. */
export interface HullPoint {
  readonly shares: readonly [number, number, number];
  readonly height: number;
}

export interface HullFacet {
  /** indices of the three corners, ascending */
  readonly corners: readonly [number, number, number];
  /** heights of the facet's plane over the three pure components */
  readonly plane: readonly [number, number, number];
  /** nine numbers: corner weights = shares (as a row) times this matrix */
  readonly weights: Float64Array;
}

/** Corners that span less than this (twice the area, in shares squared) are taken as lying on one line. */
const SMALLEST_DETERMINANT = 1e-10;
/** A point this far under a plane (unit of height) still counts as on it, so that rounding opens no hole. */
const ON_PLANE = 1e-7;

/** Height of a point above a facet's plane; negative below it. */
export function heightAbove(plane: readonly [number, number, number], point: HullPoint): number {
  const [a, b, c] = point.shares;
  return point.height - a * plane[0] - b * plane[1] - c * plane[2];
}

/** Room that a loop over triples uses again and again. */
interface HullScratch {
  readonly matrix: Float64Array;
  readonly inverse: Float64Array;
}

/**
 * The facet of three points, if it is one of the lower hull: no point lies below its plane.
 *
 * @returns undefined if a point lies below the plane or the three lie on one line
 */
export function facetOf(
  points: readonly HullPoint[],
  corners: readonly [number, number, number],
  scratch: HullScratch = { matrix: new Float64Array(9), inverse: new Float64Array(9) },
): HullFacet | undefined {
  const { matrix } = scratch;
  const p = points[corners[0]]!;
  const q = points[corners[1]]!;
  const r = points[corners[2]]!;
  for (let i = 0; i < 3; i++) {
    matrix[i] = p.shares[i]!;
    matrix[3 + i] = q.shares[i]!;
    matrix[6 + i] = r.shares[i]!;
  }
  const weights = invert3(matrix, SMALLEST_DETERMINANT, scratch.inverse);
  if (weights === undefined) return undefined;
  const a = weights[0]! * p.height + weights[1]! * q.height + weights[2]! * r.height;
  const b = weights[3]! * p.height + weights[4]! * q.height + weights[5]! * r.height;
  const c = weights[6]! * p.height + weights[7]! * q.height + weights[8]! * r.height;
  for (const { shares, height } of points) {
    if (height - shares[0] * a - shares[1] * b - shares[2] * c < -ON_PLANE) return undefined;
  }
  return { corners, plane: [a, b, c], weights: weights.slice() };
}

/**
 * Facets of the lower hull: every triple of points whose plane has no point below it. All triples are tried (about 1000
 * for the 20 points of a phase diagram), which cannot go astray on points in line. Four points in one plane give
 * overlapping facets, which are then equally good answers.
 *
 * @param points compositions with heights; the three corners of the triangle must be covered for the hull to be whole
 * @returns facets in the order of their corner indices
 */
export function lowerHull(points: readonly HullPoint[]): HullFacet[] {
  const n = points.length;
  const facets: HullFacet[] = [];
  const scratch: HullScratch = { matrix: new Float64Array(9), inverse: new Float64Array(9) };
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      for (let k = j + 1; k < n; k++) {
        const facet = facetOf(points, [i, j, k], scratch);
        if (facet !== undefined) facets.push(facet);
      }
    }
  }
  return facets;
}

/** How far outside a facet a composition may lie, as a negative weight, and still count as inside. */
const INSIDE = 1e-11;

/**
 * The facet that holds a composition.
 *
 * @param weights three numbers, filled with the corners' weights there: none below 0, sum 1
 * @param guess   index of the facet to try first
 * @returns index of the first facet that holds it; the nearest one where rounding leaves it outside all
 */
export function locateFacet(
  facets: readonly HullFacet[],
  a: number,
  b: number,
  c: number,
  weights: Float64Array,
  guess = 0,
): number {
  let best = -1;
  let bestLeast = Number.NEGATIVE_INFINITY;
  for (let step = -1; step < facets.length; step++) {
    const index = step < 0 ? guess : step;
    const m = facets[index]?.weights;
    if (m === undefined) continue;
    const u = a * m[0]! + b * m[3]! + c * m[6]!;
    const v = a * m[1]! + b * m[4]! + c * m[7]!;
    const w = a * m[2]! + b * m[5]! + c * m[8]!;
    const least = Math.min(u, v, w);
    if (least <= bestLeast) continue;
    best = index;
    bestLeast = least;
    weights[0] = u;
    weights[1] = v;
    weights[2] = w;
    if (least >= -INSIDE) break;
  }
  let sum = 0;
  for (let i = 0; i < 3; i++) {
    weights[i] = Math.max(0, weights[i]!);
    sum += weights[i]!;
  }
  for (let i = 0; i < 3; i++) weights[i] = weights[i]! / sum;
  return best;
}
