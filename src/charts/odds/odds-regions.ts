// Regions of a map where odds are at or above a level, cut straight through the triangles of its grid: a grid of compositions
// (rows of RE, columns of Cu), or any other with even steps. No pixels.
import { DomainError } from '../../science/errors.ts';
import { checkLengths } from '../scene.ts';

/** Odds at the nodes of a regular grid of compositions, in any order; a missing node or NaN leaves a hole. */
export interface OddsMap {
  readonly re: ArrayLike<number>;
  readonly ba: ArrayLike<number>;
  readonly cu: ArrayLike<number>;
  /** probability, 0 to 1 */
  readonly odds: ArrayLike<number>;
}

/** row0, column0, row1, column1, ...; in a triangle re0, cu0, re1, cu1, ... */
type GridPath = readonly number[];

export interface OddsMesh {
  /** place of each node: RE and Cu in a triangle */
  readonly row: Float64Array;
  readonly column: Float64Array;
  readonly odds: Float64Array;
  /** three nodes each, all turning the same way */
  readonly triangles: readonly (readonly [number, number, number])[];
  /** edges of one triangle only, in that triangle's sense */
  readonly rim: readonly (readonly [number, number])[];
}

/** Smallest distance between unlike values, or 1 if all are alike. */
function stepOf(values: Float64Array): number {
  const sorted = Float64Array.from(values).sort();
  let step = Number.POSITIVE_INFINITY;
  for (let i = 1; i < sorted.length; i++) {
    const gap = sorted[i]! - sorted[i - 1]!;
    if (gap > 1e-7 && gap < step) step = gap;
  }
  return Number.isFinite(step) ? step : 1;
}

/**
 * The mesh of a map over compositions: a whole simplex or a part of it.
 *
 * @throws DomainError CHART_LENGTHS if the arrays differ in length
 * @throws DomainError CHART_GRID if the nodes do not stand on a regular grid
 */
export function oddsMesh(map: OddsMap): OddsMesh {
  checkLengths('odds map', { re: map.re, ba: map.ba, cu: map.cu, odds: map.odds });
  const n = map.odds.length;
  const re = new Float64Array(n);
  const cu = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const sum = map.re[i]! + map.ba[i]! + map.cu[i]!;
    re[i] = map.re[i]! / sum;
    cu[i] = map.cu[i]! / sum;
  }
  return gridMesh(re, cu, Float64Array.from(map.odds));
}

/**
 * Joins the nodes of a grid into triangles; its steps along rows and columns may differ, its rows may be of unlike length.
 *
 * @throws DomainError CHART_GRID if the nodes do not stand on a regular grid
 */
export function gridMesh(row: Float64Array, column: Float64Array, odds: Float64Array): OddsMesh {
  const n = odds.length;
  const rowStep = stepOf(row);
  const columnStep = stepOf(column);
  const row0 = n > 0 ? row.reduce((a, b) => Math.min(a, b)) : 0;
  const column0 = n > 0 ? column.reduce((a, b) => Math.min(a, b)) : 0;
  const nodes = new Map<number, number>();
  const ROW = 1 << 20;
  const keyOf = (i: number, j: number) => i * ROW + j;
  const cells: [number, number][] = [];
  for (let node = 0; node < n; node++) {
    const i = (row[node]! - row0) / rowStep;
    const j = (column[node]! - column0) / columnStep;
    if (!(Math.abs(i - Math.round(i)) < 0.05 && Math.abs(j - Math.round(j)) < 0.05)) {
      throw new DomainError(
        'CHART_GRID',
        `Node ${node} of the odds map (row ${row[node]}, column ${column[node]}) stands off the grid.`,
      );
    }
    if (!Number.isNaN(odds[node]!)) {
      nodes.set(keyOf(Math.round(i), Math.round(j)), node);
      cells.push([Math.round(i), Math.round(j)]);
    }
  }
  const triangles: [number, number, number][] = [];
  for (const [i, j] of cells) {
    const here = nodes.get(keyOf(i, j))!;
    const right = nodes.get(keyOf(i, j + 1));
    const up = nodes.get(keyOf(i + 1, j));
    const upLeft = nodes.get(keyOf(i + 1, j - 1));
    if (right !== undefined && up !== undefined) triangles.push([here, right, up]);
    if (up !== undefined && upLeft !== undefined) triangles.push([here, up, upLeft]);
  }
  return { row, column, odds, triangles, rim: rimOf(triangles, n) };
}

function rimOf(triangles: readonly (readonly [number, number, number])[], n: number): [number, number][] {
  const open = new Map<number, [number, number]>();
  for (const [a, b, c] of triangles) {
    for (const [from, to] of [
      [a, b],
      [b, c],
      [c, a],
    ] as const) {
      if (!open.delete(to * n + from)) {
        open.set(from * n + to, [from, to]);
      }
    }
  }
  return [...open.values()];
}

export interface OddsRegion {
  readonly level: number;
  /** closed outlines of where odds >= level; holes turn the other way */
  readonly rings: readonly GridPath[];
  /** the parts of the outlines that are contours, not the grid's rim */
  readonly contours: readonly GridPath[];
}

/** Where odds are at least `level`, linear between the nodes of each triangle. */
export function oddsRegion(mesh: OddsMesh, level: number): OddsRegion {
  const { odds, triangles, rim } = mesh;
  const n = odds.length;
  const isIn = (node: number) => odds[node]! >= level;
  // A vertex of an outline is a node (its number) or the crossing of an edge (a number above all nodes).
  const crossing = (a: number, b: number) => n + Math.min(a, b) * n + Math.max(a, b);
  const nextOf = new Map<number, number[]>();
  const contourFrom = new Set<number>();
  const link = (from: number, to: number) => {
    const list = nextOf.get(from);
    if (list) list.push(to);
    else nextOf.set(from, [to]);
  };
  for (const [a, b, c] of triangles) {
    const [inA, inB, inC] = [isIn(a), isIn(b), isIn(c)];
    if (inA === inB && inB === inC) continue;
    let leaves = 0;
    let enters = 0;
    for (const [from, to, isFrom, isTo] of [
      [a, b, inA, inB],
      [b, c, inB, inC],
      [c, a, inC, inA],
    ] as const) {
      if (isFrom && !isTo) leaves = crossing(from, to);
      if (!isFrom && isTo) enters = crossing(from, to);
    }
    link(leaves, enters);
    contourFrom.add(leaves);
  }
  for (const [from, to] of rim) {
    const start = isIn(from) ? from : crossing(from, to);
    const end = isIn(to) ? to : crossing(from, to);
    if (start !== end) link(start, end);
  }
  const pointOf = (vertex: number): [number, number] => {
    if (vertex < n) {
      return [mesh.row[vertex]!, mesh.column[vertex]!];
    }
    const a = Math.floor((vertex - n) / n);
    const b = (vertex - n) % n;
    const share = (level - odds[a]!) / (odds[b]! - odds[a]!);
    return [
      mesh.row[a]! + share * (mesh.row[b]! - mesh.row[a]!),
      mesh.column[a]! + share * (mesh.column[b]! - mesh.column[a]!),
    ];
  };
  const rings: number[][] = [];
  const contours: number[][] = [];
  for (const start of nextOf.keys()) {
    const vertices: number[] = [];
    let vertex: number | undefined = start;
    while (vertex !== undefined) {
      const next: number | undefined = nextOf.get(vertex)?.pop();
      if (next === undefined) break;
      vertices.push(vertex);
      vertex = next;
    }
    if (vertices.length > 2) {
      rings.push(vertices.flatMap(pointOf));
      contours.push(...contoursOf(vertices, contourFrom).map((part) => part.flatMap(pointOf)));
    }
  }
  return { level, rings, contours };
}

/** Cuts a closed outline into its runs of contour. A vertex in `contourFrom` begins a step of contour. */
function contoursOf(ring: readonly number[], contourFrom: ReadonlySet<number>): number[][] {
  const n = ring.length;
  const first = ring.findIndex(
    (vertex, i) => contourFrom.has(vertex) && !contourFrom.has(ring[(i + n - 1) % n]!),
  );
  if (first < 0) {
    return contourFrom.has(ring[0]!) ? [[...ring, ring[0]!]] : [];
  }
  const parts: number[][] = [];
  let part: number[] | null = null;
  for (let step = 0; step < n; step++) {
    const vertex = ring[(first + step) % n]!;
    if (contourFrom.has(vertex)) {
      part ??= [];
      part.push(vertex);
    } else if (part) {
      part.push(vertex);
      parts.push(part);
      part = null;
    }
  }
  if (part) {
    parts.push([...part, ring[first]!]);
  }
  return parts;
}
