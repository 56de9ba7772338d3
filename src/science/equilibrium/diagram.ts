// The whole triangle at one T and pO2 for one member: solids and melt as one hull, refined where the melt curves. J per mole of
// cations, shares of cations.
import { GrowingHull } from '../numerics/growing-hull.ts';
import { GRID_SIZE } from './melt-search.ts';
import { LIQUID, type PhaseSystem } from './phase-system.ts';
import type { PhaseShare } from './point-equilibrium.ts';
import { SMALLEST_SHARE } from './point-equilibrium.ts';

/** The melt's surface may dip this far below a facet that holds two solids or more: sets how exactly the tie triangles end. */
const SHARP_J_PER_MOL = 0.01;
/** The same below a facet of one solid and two samples of the melt, whose share of melt it hardly moves. */
const SMOOTH_J_PER_MOL = 1;
/** The same below a facet of the melt alone: it only has to find where the melt splits or a solid comes. */
const MELT_ALONE_J_PER_MOL = 15;
/** Samples of the melt on one facet this far apart may have another valley between them. */
const FAR = 0.12;
const SETTLED = 1e-5;
const MAX_POINTS = 3000;
/** A melt that holds less than this of a cation is put on the rim, where it holds none: that moves its energy by 0.003 J at most. */
const TRACE = 1e-8;
/** A melt this near to a corner of the facet that it lies in is that corner: it would only make facets too thin to have a plane. */
const SAME_MELT = 1e-7;

export interface Diagram {
  readonly hull: GrowingHull;
  /** name of each point of the hull */
  readonly names: readonly string[];
}

/** Lower hull of the free phases, the melt sampled until none of it lies below. */
export function diagramOf(system: PhaseSystem): Diagram {
  const { names: solidNames, shares, heights, isFree, search, isMeltFree } = system;
  const corner = (k: number): number => {
    let best = -1;
    for (let i = 0; i < heights.length; i++) {
      if (shares[3 * i + k] === 1 && isFree[i] && (best < 0 || heights[i]! < heights[best]!)) best = i;
    }
    return best;
  };
  const corners = [corner(0), corner(1), corner(2)] as const;
  const hull = new GrowingHull([heights[corners[0]]!, heights[corners[1]]!, heights[corners[2]]!]);
  const names: string[] = corners.map((i) => solidNames[i]!);
  for (let i = 0; i < heights.length; i++) {
    if (!isFree[i] || corners.includes(i)) continue;
    if (hull.add(shares[3 * i]!, shares[3 * i + 1]!, shares[3 * i + 2]!, heights[i]!) >= 0)
      names.push(solidNames[i]!);
  }
  if (!isMeltFree) return { hull, names };
  const weights = new Float64Array(3);
  const isThere = (y: number, b: number): boolean => {
    const facet = hull.locate(y, b, 1 - y - b, weights);
    for (let k = 0; k < 3; k++) {
      const point = hull.corners[3 * facet + k]!;
      const apart = Math.abs(hull.shares[3 * point]! - y) + Math.abs(hull.shares[3 * point + 1]! - b);
      if (apart < SAME_MELT && names[point] === LIQUID) return true;
    }
    return false;
  };
  const addMelt = (y: number, b: number, omega: number): void => {
    if (isThere(y, b)) return;
    if (hull.add(y, b, 1 - y - b, omega) >= 0) names.push(LIQUID);
  };
  const addFloor = (y: number, b: number): void => {
    const own = y < TRACE ? 0 : y;
    const ba = b < TRACE ? 0 : 1 - own - b < TRACE ? 1 - own : b;
    addMelt(own, ba, search.melt.omega(own, ba));
  };
  search.fillGrid();
  for (let k = 0; k < GRID_SIZE; k++) {
    const { y, b } = search.gridPoint(k);
    addMelt(y, b, search.gridOmega(k));
  }
  // the melt of the Ba-Cu edge, which holds no RE
  for (let k = 1; k < 40; k++) addMelt(0, k / 40, search.melt.omega(0, k / 40));
  addMelt(0, 0, search.melt.omega(0, 0));
  const plane = new Float64Array(3);
  const isWide = (facet: number): boolean => {
    const melts = [0, 1, 2]
      .map((k) => hull.corners[3 * facet + k]!)
      .filter((point) => names[point] === LIQUID);
    return melts.some((p) =>
      melts.some((q) => Math.abs(hull.shares[3 * p + 1]! - hull.shares[3 * q + 1]!) > FAR),
    );
  };
  for (let facet = 0; facet < hull.facetCount && names.length < MAX_POINTS; facet++) {
    if (!hull.isAlive[facet]) continue;
    for (let k = 0; k < 3; k++) plane[k] = hull.planes[3 * facet + k]!;
    let nMelt = 0;
    let y = 0;
    let b = 0;
    for (let k = 0; k < 3; k++) {
      const point = hull.corners[3 * facet + k]!;
      if (names[point] !== LIQUID) continue;
      nMelt++;
      y += hull.shares[3 * point]!;
      b += hull.shares[3 * point + 1]!;
    }
    const tolerance = [SHARP_J_PER_MOL, SHARP_J_PER_MOL, SMOOTH_J_PER_MOL, MELT_ALONE_J_PER_MOL][nMelt]!;
    const floors = nMelt < 2 || isWide(facet) ? search.valleys(plane) : [];
    if (nMelt > 0)
      floors.push(search.descend(plane, Math.max(y / nMelt, 1e-9), Math.max(b / nMelt, 1e-9), SETTLED));
    for (const floor of floors) {
      if (floor.height < -tolerance) addFloor(floor.y, floor.b);
    }
  }
  return { hull, names };
}

/** The phases at a composition by the hull, with the facet they stand on. */
export function phasesAt(
  { hull, names }: Diagram,
  re: number,
  ba: number,
  cu: number,
): { facet: number; phases: PhaseShare[] } {
  const weights = new Float64Array(3);
  const facet = hull.locate(re, ba, cu, weights);
  const found = new Map<string, { share: number; sums: [number, number, number] }>();
  for (let k = 0; k < 3; k++) {
    const weight = weights[k]!;
    if (weight <= SMALLEST_SHARE) continue;
    const point = hull.corners[3 * facet + k]!;
    const entry = found.get(names[point]!) ?? { share: 0, sums: [0, 0, 0] };
    entry.share += weight;
    for (let j = 0; j < 3; j++) entry.sums[j]! += weight * hull.shares[3 * point + j]!;
    found.set(names[point]!, entry);
  }
  const phases = [...found]
    .map(([name, { share, sums }]) => ({
      name,
      share,
      composition: sums.map((sum) => sum / share) as [number, number, number],
    }))
    .sort((p, q) => (p.name < q.name ? -1 : 1));
  return { facet, phases };
}

/** A field of three phases: a facet with three names. */
export interface TieTriangle {
  readonly phases: string[];
  /** indices of the hull's points, in the order of `phases` */
  readonly corners: readonly number[];
}

export function tieTrianglesOf({ hull, names }: Diagram): TieTriangle[] {
  const triangles: TieTriangle[] = [];
  for (let facet = 0; facet < hull.facetCount; facet++) {
    if (!hull.isAlive[facet]) continue;
    const corners = [0, 1, 2]
      .map((k) => hull.corners[3 * facet + k]!)
      .sort((p, q) => (names[p]! < names[q]! ? -1 : 1));
    const phases = corners.map((point) => names[point]!);
    if (new Set(phases).size === 3) triangles.push({ phases, corners });
  }
  return triangles;
}

/** A piece of line between two fields of which one holds a curved edge of the melt. */
export interface DiagramBorder {
  /** names of the fields on its two sides */
  readonly fields: readonly string[];
  readonly from: number;
  readonly to: number;
}

/** Every piece of line between two different fields that is no side of a tie triangle: the melt's own edge. */
export function bordersOf({ hull, names }: Diagram): DiagramBorder[] {
  const fieldOf = (facet: number): string =>
    [...new Set([0, 1, 2].map((k) => names[hull.corners[3 * facet + k]!]!))].sort().join(' + ');
  const borders: DiagramBorder[] = [];
  for (let facet = 0; facet < hull.facetCount; facet++) {
    if (!hull.isAlive[facet]) continue;
    const own = fieldOf(facet);
    for (let k = 0; k < 3; k++) {
      const other = hull.across[3 * facet + k]!;
      if (other < facet) continue; // the rim, or met from the other side
      const from = hull.corners[3 * facet + k]!;
      const to = hull.corners[3 * facet + ((k + 1) % 3)]!;
      const beyond = fieldOf(other);
      if (beyond !== own && names[from] === LIQUID && names[to] === LIQUID)
        borders.push({ fields: [own, beyond], from, to });
    }
  }
  return borders;
}
