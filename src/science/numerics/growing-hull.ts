// The lower convex hull of heights over the composition triangle, grown point by point. Pure; compositions as shares that sum to 1,
// heights in the caller's unit.
//
// A new point that lies below the hull takes away every facet whose plane it lies below; the hole, which is star-shaped seen from
// the point, is closed by facets from its rim. Source: incremental hull [memory: Clarkson and Shor 1989, Discrete Comput. Geom. 4].
import { determinant3, invert3 } from './matrix3.ts';

/** A point counts as below a plane when it lies this far below it, unit of height. */
const BELOW = 1e-7;
/** Corners that span less than this (twice the area, shares squared) lie on one line. */
const FLAT = 1e-13;
/** A composition this far outside a facet, as a negative weight, still counts as inside. */
const INSIDE = 1e-11;

/** Steps between compositions that differ by less than this are even. */
const EVEN = 1e-13;

const NEXT = [1, 2, 0] as const;

/** Facets are triangles of point indices; the hull keeps the point's shares and heights. */
export class GrowingHull {
  /** three shares a point */
  readonly shares: number[] = [];
  readonly heights: number[] = [];
  /** three point indices a facet; a facet that was taken away has isAlive 0 */
  readonly corners: number[] = [];
  /** the facet across the edge from corner k to the next; -1 at the rim of the triangle */
  readonly across: number[] = [];
  readonly isAlive: number[] = [];
  /** heights of the facet's plane over the three pure components */
  readonly planes: number[] = [];
  /** nine numbers a facet: corner weights = shares (as a row) times this matrix */
  readonly #weights: number[] = [];
  readonly #matrix = new Float64Array(9);
  readonly #inverse = new Float64Array(9);
  #last = 0;

  /**
   * @param heights of the three pure components: the hull starts as their plane
   */
  constructor(heights: readonly [number, number, number]) {
    for (let k = 0; k < 3; k++) {
      this.shares.push(k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0);
      this.heights.push(heights[k]!);
    }
    this.#addFacet(0, 1, 2);
  }

  get facetCount(): number {
    return this.isAlive.length;
  }

  #addFacet(p: number, q: number, r: number): number {
    const { shares, heights } = this;
    const m = this.#matrix;
    for (let k = 0; k < 3; k++) {
      m[k] = shares[3 * p + k]!;
      m[3 + k] = shares[3 * q + k]!;
      m[6 + k] = shares[3 * r + k]!;
    }
    const w = invert3(m, FLAT, this.#inverse);
    if (w === undefined) return -1;
    const facet = this.isAlive.length;
    this.isAlive.push(1);
    this.corners.push(p, q, r);
    this.across.push(-1, -1, -1);
    for (let i = 0; i < 9; i++) this.#weights.push(w[i]!);
    for (let i = 0; i < 3; i++) {
      this.planes.push(w[3 * i]! * heights[p]! + w[3 * i + 1]! * heights[q]! + w[3 * i + 2]! * heights[r]!);
    }
    return facet;
  }

  /** Height of a place above a facet's plane; negative below it. */
  heightAbove(facet: number, a: number, b: number, c: number, height: number): number {
    const p = this.planes;
    return height - a * p[3 * facet]! - b * p[3 * facet + 1]! - c * p[3 * facet + 2]!;
  }

  /**
   * The facet that holds a composition, found by walking from the last one.
   *
   * @param weights filled with the weights of its corners: none below 0, sum 1
   */
  locate(a: number, b: number, c: number, weights: Float64Array): number {
    let facet = this.isAlive[this.#last] ? this.#last : this.isAlive.lastIndexOf(1);
    const m = this.#weights;
    for (let step = 0; step < 400; step++) {
      const at = 9 * facet;
      const p = a * m[at]! + b * m[at + 3]! + c * m[at + 6]!;
      const q = a * m[at + 1]! + b * m[at + 4]! + c * m[at + 7]!;
      const r = a * m[at + 2]! + b * m[at + 5]! + c * m[at + 8]!;
      weights[0] = p;
      weights[1] = q;
      weights[2] = r;
      if (p >= -INSIDE && q >= -INSIDE && r >= -INSIDE) return this.#settle(facet, weights);
      // over the edge opposite the corner of least weight, unless that is the rim
      let least = -INSIDE;
      let towards = -1;
      const across = this.across;
      if (p < least && across[3 * facet + 1]! >= 0) {
        least = p;
        towards = across[3 * facet + 1]!;
      }
      if (q < least && across[3 * facet + 2]! >= 0) {
        least = q;
        towards = across[3 * facet + 2]!;
      }
      if (r < least && across[3 * facet]! >= 0) towards = across[3 * facet]!;
      if (towards < 0) break;
      facet = towards;
    }
    return this.#locateAmongAll(a, b, c, weights);
  }

  /**
   * The facets of many compositions. Where they follow one another at even steps, as those of a lattice do, one division says how
   * many of them stay in a facet, and their weights change by the same amounts.
   *
   * @param facets  filled with the facet of each
   * @param weights filled with the three weights of each, as by `locate`
   */
  locateAll(
    a: ArrayLike<number>,
    b: ArrayLike<number>,
    c: ArrayLike<number>,
    facets: Int32Array,
    weights: Float64Array,
  ): void {
    const n = a.length;
    const m = this.#weights;
    const first = new Float64Array(3);
    for (let i = 0; i < n; ) {
      const facet = this.locate(a[i]!, b[i]!, c[i]!, first);
      const p = first[0]!;
      const q = first[1]!;
      const r = first[2]!;
      facets[i] = facet;
      weights[3 * i] = p;
      weights[3 * i + 1] = q;
      weights[3 * i + 2] = r;
      const start = i;
      i++;
      if (i === n) return;
      const da = a[i]! - a[start]!;
      const db = b[i]! - b[start]!;
      const dc = c[i]! - c[start]!;
      const at = 9 * facet;
      const dp = da * m[at]! + db * m[at + 3]! + dc * m[at + 6]!;
      const dq = da * m[at + 1]! + db * m[at + 4]! + dc * m[at + 7]!;
      const dr = da * m[at + 2]! + db * m[at + 5]! + dc * m[at + 8]!;
      let most = n - 1 - start;
      if (dp < 0) most = Math.min(most, p / -dp);
      if (dq < 0) most = Math.min(most, q / -dq);
      if (dr < 0) most = Math.min(most, r / -dr);
      for (let step = 1; step <= most; step++, i++) {
        const off = Math.abs(a[i]! - a[start]! - step * da) + Math.abs(c[i]! - c[start]! - step * dc);
        if (off > EVEN) break;
        facets[i] = facet;
        weights[3 * i] = p + step * dp;
        weights[3 * i + 1] = q + step * dq;
        weights[3 * i + 2] = r + step * dr;
      }
    }
  }

  /** Where the walk ends nowhere for rounding: the facet that the composition is least outside of. */
  #locateAmongAll(a: number, b: number, c: number, weights: Float64Array): number {
    const m = this.#weights;
    let best = -1;
    let bestLeast = Number.NEGATIVE_INFINITY;
    for (let facet = 0; facet < this.isAlive.length; facet++) {
      if (!this.isAlive[facet]) continue;
      let least = Number.POSITIVE_INFINITY;
      for (let i = 0; i < 3; i++) {
        least = Math.min(
          least,
          a * m[9 * facet + i]! + b * m[9 * facet + 3 + i]! + c * m[9 * facet + 6 + i]!,
        );
      }
      if (least <= bestLeast) continue;
      bestLeast = least;
      best = facet;
    }
    for (let i = 0; i < 3; i++)
      weights[i] = a * m[9 * best + i]! + b * m[9 * best + 3 + i]! + c * m[9 * best + 6 + i]!;
    return this.#settle(best, weights);
  }

  #settle(facet: number, weights: Float64Array): number {
    this.#last = facet;
    let sum = 0;
    for (let i = 0; i < 3; i++) {
      if (weights[i]! < 0) weights[i] = 0;
      sum += weights[i]!;
    }
    for (let i = 0; i < 3; i++) weights[i]! /= sum;
    return facet;
  }

  readonly #place = new Float64Array(3);
  readonly #hole: number[] = [];
  /** the addition, counted from 1, that last took a facet into its hole */
  readonly #takenBy: number[] = [];
  /** by point of the rim: the addition that last closed an edge there, and the facet whose rim edge ends there */
  readonly #closedBy: number[] = [];
  readonly #ending: number[] = [];
  #addition = 0;

  /**
   * Adds a point if it lies below the hull.
   *
   * @returns its index, or -1 if it does not
   */
  add(a: number, b: number, c: number, height: number): number {
    const first = this.locate(a, b, c, this.#place);
    if (this.heightAbove(first, a, b, c, height) >= -BELOW) return -1;
    const point = this.heights.length;
    this.shares.push(a, b, c);
    this.heights.push(height);
    const addition = ++this.#addition;
    const hole = this.#hole;
    const takenBy = this.#takenBy;
    hole.length = 0;
    hole.push(first);
    takenBy[first] = addition;
    for (let i = 0; i < hole.length; i++) {
      const edges = 3 * hole[i]!;
      for (let k = 0; k < 3; k++) {
        const next = this.across[edges + k]!;
        if (next < 0 || takenBy[next] === addition) continue;
        // a facet in line with the point and the edge would be flat: the facet behind the edge goes too
        if (
          this.heightAbove(next, a, b, c, height) < -BELOW ||
          this.#isFlat(this.corners[edges + k]!, this.corners[edges + NEXT[k]!]!, point)
        ) {
          takenBy[next] = addition;
          hole.push(next);
        }
      }
    }
    this.#closeHole(point);
    return point;
  }

  #isFlat(p: number, q: number, r: number): boolean {
    const s = this.shares;
    const m = this.#matrix;
    for (let k = 0; k < 3; k++) {
      m[k] = s[3 * p + k]!;
      m[3 + k] = s[3 * q + k]!;
      m[6 + k] = s[3 * r + k]!;
    }
    return !(Math.abs(determinant3(m)) > FLAT);
  }

  /** Puts a facet on each edge of the hole's rim, and takes the facets of the hole away. */
  #closeHole(point: number): void {
    const hole = this.#hole;
    const { across, corners } = this;
    const addition = this.#addition;
    const firstMade = this.facetCount;
    for (let i = 0; i < hole.length; i++) {
      const facet = hole[i]!;
      for (let k = 0; k < 3; k++) {
        const behind = across[3 * facet + k]!;
        if (behind >= 0 && this.#takenBy[behind] === addition) continue;
        const p = corners[3 * facet + k]!;
        const q = corners[3 * facet + NEXT[k]!]!;
        const made = this.#addFacet(p, q, point);
        if (made < 0) continue; // the point lies on the rim of the triangle
        this.#openAt(p);
        this.#openAt(q);
        this.#ending[q] = made;
        across[3 * made] = behind;
        if (behind >= 0) {
          for (let j = 0; j < 3; j++) if (across[3 * behind + j] === facet) across[3 * behind + j] = made;
        }
      }
    }
    for (let i = 0; i < hole.length; i++) this.isAlive[hole[i]!] = 0;
    for (let made = firstMade; made < this.facetCount; made++) {
      const before = this.#ending[corners[3 * made]!]!;
      if (before < 0) continue;
      across[3 * made + 2] = before; // the edge from the point to the rim edge's beginning
      across[3 * before + 1] = made;
    }
    if (this.facetCount > firstMade) this.#last = firstMade;
  }

  /** Forgets what an earlier addition left at a point of the rim. */
  #openAt(p: number): void {
    if (this.#closedBy[p] === this.#addition) return;
    this.#closedBy[p] = this.#addition;
    this.#ending[p] = -1;
  }
}
