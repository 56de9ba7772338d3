// The exact minimum of the grand potential at one composition: a linear programme over the solids and a grid of melts, the melt
// then followed to convergence. J per mole of cations, shares of cations.
import { invert3 } from '../numerics/matrix3.ts';
import { CUPROUS, D_BA, D_BA_BA, D_RE, D_RE_BA, D_RE_RE, MELT_NUMBERS, OMEGA } from './melt.ts';
import { GRID_SIZE, type MeltPoint } from './melt-search.ts';
import { LIQUID, type PhaseSystem } from './phase-system.ts';

/** A phase with less than this share of the cations counts as absent: the composition lies on a tie line or a compound. */
export const SMALLEST_SHARE = 1e-9;
/** What stands for a share of 0, so that every potential has a value. */
const TRACE = 1e-13;
/** The programme is left for Newton steps when no melt lies further below the plane, J/mol. */
const ROUGH_J_PER_MOL = 0.05;
/** Where Newton steps do not apply (two melts) the programme goes on to this. */
const FINE_J_PER_MOL = 1e-5;
const VERIFIED_J_PER_MOL = 1e-4;
const MAX_COLUMNS = 80;
/** Rounds of the programme after which Newton steps are tried before its melts are refined. */
const EARLY_ATTEMPTS = 2;
/** Three columns that span less (twice the area, shares squared) lie on one line. */
const SMALLEST_DETERMINANT = 1e-15;
/** Melts nearer to each other than this add nothing to the programme. */
const SAME_MELT = 1e-7;

/** A phase's part of the assemblage at a composition. */
export interface PhaseShare {
  readonly name: string;
  /** share of all cations that the phase holds */
  readonly share: number;
  /** RE, Ba, Cu shares of its own cations */
  readonly composition: readonly [number, number, number];
}

export interface PointEquilibrium {
  /** by name; two entries of the liquid where it has split in two */
  readonly phases: readonly PhaseShare[];
  /** chemical potentials of REO1.5, BaO and CuO at fixed pO2, J per mole, from the oxides */
  readonly plane: readonly [number, number, number];
  /** Cu+ share of the copper of each liquid, in the order of `phases` */
  readonly cuprousShares: readonly number[];
}

type Shares = readonly [number, number, number];
interface Column {
  /** index of the solid; -1 for a melt */
  readonly solid: number;
  readonly shares: Shares;
  readonly height: number;
}
interface Basis {
  columns: [Column, Column, Column];
  weights: Float64Array;
  plane: Float64Array;
}

const solidColumn = ({ shares, heights }: PhaseSystem, i: number): Column => ({
  solid: i,
  shares: [shares[3 * i]!, shares[3 * i + 1]!, shares[3 * i + 2]!],
  height: heights[i]!,
});
const meltColumn = ({ y, b }: MeltPoint, height: number): Column => ({
  solid: -1,
  shares: [y, b, 1 - y - b],
  height,
});

/** Lowest free solid of each pure cation: a basis at every composition. */
function cornerBasis(system: PhaseSystem): [Column, Column, Column] {
  const { shares, heights, isFree } = system;
  return [0, 1, 2].map((k) => {
    let best = -1;
    for (let i = 0; i < heights.length; i++) {
      if (shares[3 * i + k] === 1 && isFree[i] && (best < 0 || heights[i]! < heights[best]!)) best = i;
    }
    return solidColumn(system, best);
  }) as [Column, Column, Column];
}

const matrix = new Float64Array(9);
const inverse = new Float64Array(9);

/** Weights and plane of three columns at a composition; false where the three lie on one line. */
function solveBasis(basis: Basis, x: Shares): boolean {
  for (let i = 0; i < 3; i++) matrix.set(basis.columns[i]!.shares, 3 * i);
  if (invert3(matrix, SMALLEST_DETERMINANT, inverse) === undefined) return false;
  for (let i = 0; i < 3; i++) {
    basis.weights[i] = x[0] * inverse[i]! + x[1] * inverse[3 + i]! + x[2] * inverse[6 + i]!;
    basis.plane[i] =
      inverse[3 * i]! * basis.columns[0].height +
      inverse[3 * i + 1]! * basis.columns[1].height +
      inverse[3 * i + 2]! * basis.columns[2].height;
  }
  return true;
}

const heightOf = ({ shares, height }: Column, plane: ArrayLike<number>): number =>
  height - shares[0] * plane[0]! - shares[1] * plane[1]! - shares[2] * plane[2]!;

/** Takes a column into the basis in place of the one that reaches weight 0 first. */
function pivot(basis: Basis, entering: Column, x: Shares): void {
  const { shares } = entering;
  let leaving = -1;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < 3; i++) {
    const rate = shares[0] * inverse[i]! + shares[1] * inverse[3 + i]! + shares[2] * inverse[6 + i]!;
    if (rate <= 1e-13) continue;
    const ratio = Math.max(0, basis.weights[i]!) / rate;
    if (ratio < least) {
      least = ratio;
      leaving = i;
    }
  }
  const kept = basis.columns[leaving]!;
  basis.columns[leaving] = entering;
  if (!solveBasis(basis, x)) {
    basis.columns[leaving] = kept;
    solveBasis(basis, x);
  }
}

/** Simplex steps over the free solids, the grid of melts and the melts found since. */
function programme(system: PhaseSystem, basis: Basis, x: Shares, found: readonly Column[]): void {
  const { shares, heights, isFree, search, isMeltFree } = system;
  solveBasis(basis, x); // `inverse` may be that of another basis since
  for (let step = 0; step < 200; step++) {
    const [p0, p1, p2] = basis.plane as unknown as Shares;
    let best = -1e-9;
    let entering: Column | undefined;
    let at = -1;
    for (let i = 0; i < heights.length; i++) {
      if (!isFree[i]) continue;
      const above = heights[i]! - shares[3 * i]! * p0 - shares[3 * i + 1]! * p1 - shares[3 * i + 2]! * p2;
      if (above < best) {
        best = above;
        at = i;
      }
    }
    if (at >= 0) entering = solidColumn(system, at);
    if (isMeltFree) {
      at = -1;
      for (let k = 0; k < GRID_SIZE; k++) {
        const above = search.gridHeight(k, p0, p1, p2);
        if (above < best) {
          best = above;
          at = k;
        }
      }
      if (at >= 0) entering = meltColumn(search.gridPoint(at), search.gridOmega(at));
      for (const column of found) {
        const above = heightOf(column, basis.plane);
        if (above < best) {
          best = above;
          entering = column;
        }
      }
    }
    if (entering === undefined) return;
    pivot(basis, entering, x);
  }
}

const numbers = new Float64Array(MELT_NUMBERS);

/** Chemical potentials in a melt; leaves its numbers in `numbers`. */
function meltPlane({ search }: PhaseSystem, y: number, b: number): [number, number, number] {
  search.melt.evaluate(y, b, numbers);
  const cu = numbers[OMEGA]! - y * numbers[D_RE]! - b * numbers[D_BA]!;
  return [cu + numbers[D_RE]!, cu + numbers[D_BA]!, cu];
}

interface Polished {
  /** solids, then the melt */
  readonly columns: readonly Column[];
  readonly weights: readonly number[];
  readonly plane: readonly [number, number, number];
}

/** The melt alone. */
function meltAlone(system: PhaseSystem, x: Shares): Polished {
  const plane = meltPlane(system, x[0], x[1]);
  return { columns: [meltColumn({ y: x[0], b: x[1], height: 0 }, numbers[OMEGA]!)], weights: [1], plane };
}

/** One solid and the melt opposite it: the solid's share w where its potential in the melt is its own. */
function meltAndSolid(system: PhaseSystem, solid: Column, x: Shares, guess: number): Polished | undefined {
  const s = solid.shares;
  // the melt's composition must stay inside the triangle
  let high = 1;
  for (let k = 0; k < 3; k++) if (s[k]! > 0) high = Math.min(high, x[k]! / s[k]!);
  let low = 0;
  let w = Math.min(Math.max(guess, 1e-12), high * (1 - 1e-12));
  for (let i = 0; i < 100; i++) {
    const rest = 1 - w;
    const y = Math.max(1e-300, (x[0] - w * s[0]) / rest);
    const b = Math.max(1e-300, (x[1] - w * s[1]) / rest);
    const plane = meltPlane(system, y, b);
    const excess = plane[0] * s[0] + plane[1] * s[1] + plane[2] * s[2] - solid.height;
    if (Math.abs(excess) < 1e-9 || high - low < 1e-15) {
      return {
        columns: [solid, meltColumn({ y, b, height: 0 }, numbers[OMEGA]!)],
        weights: [w, 1 - w],
        plane,
      };
    }
    if (excess > 0)
      low = w; // the melt would rather give the solid up
    else high = w;
    const dRe = (y - s[0]) / rest;
    const dBa = (b - s[1]) / rest;
    const bend =
      dRe * dRe * numbers[D_RE_RE]! + 2 * dRe * dBa * numbers[D_RE_BA]! + dBa * dBa * numbers[D_BA_BA]!;
    const slope = -rest * bend;
    let next = w - excess / slope;
    if (!(slope < 0 && next > low && next < high)) next = (low + high) / 2;
    w = next;
  }
  return undefined;
}

/** Two solids and the melt that is saturated with both. */
function meltAndSolids(
  system: PhaseSystem,
  solids: readonly [Column, Column],
  x: Shares,
  start: Shares,
): Polished | undefined {
  let [y, b] = start;
  for (let i = 0; i < 60; i++) {
    const plane = meltPlane(system, y, b);
    const [o1, hRe, hMixed, hBa] = [numbers[OMEGA]!, numbers[D_RE_RE]!, numbers[D_RE_BA]!, numbers[D_BA_BA]!];
    const [p, q] = solids.map((solid) => {
      const s = solid.shares;
      return {
        excess: plane[0] * s[0] + plane[1] * s[1] + plane[2] * s[2] - solid.height,
        byRe: (s[0] - y) * hRe + (s[1] - b) * hMixed,
        byBa: (s[0] - y) * hMixed + (s[1] - b) * hBa,
      };
    }) as [{ excess: number; byRe: number; byBa: number }, { excess: number; byRe: number; byBa: number }];
    const determinant = p.byRe * q.byBa - p.byBa * q.byRe;
    const stepRe = -(q.byBa * p.excess - p.byBa * q.excess) / determinant / y;
    const stepBa = -(p.byRe * q.excess - q.byRe * p.excess) / determinant / b;
    const largest = Math.max(Math.abs(stepRe), Math.abs(stepBa));
    if (!Number.isFinite(largest)) return undefined;
    if (Math.abs(p.excess) + Math.abs(q.excess) < 1e-8 || largest < 1e-13) {
      const basis: Basis = {
        columns: [solids[0], solids[1], meltColumn({ y, b, height: 0 }, o1)],
        weights: new Float64Array(3),
        plane: new Float64Array(3),
      };
      if (!solveBasis(basis, x)) return undefined;
      return { columns: basis.columns, weights: [...basis.weights], plane };
    }
    const part = largest > 1 ? 1 / largest : 1;
    y *= Math.exp(part * stepRe);
    b *= Math.exp(part * stepBa);
    if (!(y + b < 1)) return undefined;
  }
  return undefined;
}

/** Newton steps on a set of at most two solids beside one melt. */
function meltWith(
  system: PhaseSystem,
  solids: readonly Column[],
  x: Shares,
  start: Shares,
  share: number,
): Polished | undefined {
  const [p, q] = solids;
  if (p === undefined) return meltAlone(system, x);
  if (q === undefined) return meltAndSolid(system, p, x, 1 - share);
  return meltAndSolids(system, [p, q], x, start);
}

/**
 * Newton steps on the phases that the programme ended with. A solid that comes out with a negative share leaves the set, one that
 * lies below the plane joins it; undefined where no such set with one melt is the lowest.
 */
function polish(system: PhaseSystem, basis: Basis, x: Shares): Polished | undefined {
  let solids: Column[] = [];
  const melts: { weight: number; shares: Shares }[] = [];
  basis.columns.forEach((column, i) => {
    const weight = basis.weights[i]!;
    if (weight <= SMALLEST_SHARE) return;
    if (column.solid >= 0) solids.push(column);
    else melts.push({ weight, shares: column.shares });
  });
  const share = melts.reduce((sum, { weight }) => sum + weight, 0);
  let start = [0, 1, 2].map(
    (k) => melts.reduce((sum, { weight, shares }) => sum + weight * shares[k]!, 0) / share,
  ) as unknown as Shares;
  for (let attempt = 0; attempt < 6; attempt++) {
    const polished = meltWith(system, solids, x, start, share);
    if (polished === undefined) return undefined;
    const out = polished.weights.findIndex((weight) => weight < 0);
    if (out >= 0) {
      if (polished.columns[out]!.solid < 0) return undefined;
      solids = solids.filter((column) => column !== polished.columns[out]);
      continue;
    }
    const below = lowestSolid(system, polished.plane);
    if (below < 0) {
      const floor = system.search.valleys(polished.plane, besideMelt(polished.columns.at(-1)!.shares))[0];
      return floor === undefined || floor.height > -VERIFIED_J_PER_MOL ? polished : undefined;
    }
    if (solids.length >= 2) return undefined;
    solids = [...solids, solidColumn(system, below)];
    start = polished.columns.at(-1)!.shares;
  }
  return undefined;
}

/** Places about a melt from which a second one may be met, that the grid is too wide to show. */
function besideMelt([y, b]: readonly [number, number, ...number[]]): [number, number][] {
  const places: [number, number][] = [
    [2 * y, b],
    [y / 2, b],
    [y, b / 3],
    [y, Math.min(1.3 * b, (1 + b) / 2)],
  ];
  return places.filter(([re, ba]) => re > 0 && ba > 0 && re + ba < 0.99);
}

/** The free solid furthest below a plane; -1 if none is. */
function lowestSolid({ shares, heights, isFree }: PhaseSystem, plane: Shares): number {
  let lowest = -1;
  let least = -VERIFIED_J_PER_MOL;
  for (let i = 0; i < heights.length; i++) {
    if (!isFree[i]) continue;
    const above =
      heights[i]! - shares[3 * i]! * plane[0] - shares[3 * i + 1]! * plane[1] - shares[3 * i + 2]! * plane[2];
    if (above >= least) continue;
    least = above;
    lowest = i;
  }
  return lowest;
}

/**
 * The phases of lowest grand potential at a composition.
 *
 * @param shares RE, Ba and Cu, sum 1; a share of 0 is taken as 1e-13, so that phases holding none of it stay
 */
export function pointEquilibrium(system: PhaseSystem, shares: Shares): PointEquilibrium {
  const lifted = shares.map((share) => Math.max(share, TRACE));
  const sum = lifted[0]! + lifted[1]! + lifted[2]!;
  const x = lifted.map((share) => share / sum) as unknown as Shares;
  const basis: Basis = {
    columns: cornerBasis(system),
    weights: new Float64Array(3),
    plane: new Float64Array(3),
  };
  solveBasis(basis, x);
  if (system.isMeltFree) system.search.fillGrid();
  const found: Column[] = [];
  let tolerance = ROUGH_J_PER_MOL;
  let early = EARLY_ATTEMPTS;
  for (;;) {
    programme(system, basis, x, found);
    if (!system.isMeltFree) break;
    const hasMelt = basis.columns.some(({ solid }, i) => solid < 0 && basis.weights[i]! > SMALLEST_SHARE);
    if (hasMelt && early > 0) {
      // Newton steps mostly reach the melt from a coarse sample of it, and prove the plane themselves
      early--;
      const polished = polish(system, basis, x);
      if (polished) return answer(system, polished.columns, polished.weights, polished.plane);
    }
    const near = betweenMelts(basis);
    if (tolerance < ROUGH_J_PER_MOL) near.push(...near.flatMap(besideMelt)); // the melt by itself did not do
    const floors = system.search.valleys(basis.plane, near);
    const deep = floors.filter(({ height }) => height < -tolerance);
    if (deep.length > 0 && found.length < MAX_COLUMNS) {
      const before = found.length;
      for (const { y, b } of deep) {
        if (found.some(({ shares: s }) => isSameMelt(s, y, b))) continue;
        found.push(meltColumn({ y, b, height: 0 }, system.search.melt.omega(y, b)));
      }
      if (found.length > before) continue;
    }
    if (!hasMelt) {
      const isAbove = !floors.some(({ height }) => height < -FINE_J_PER_MOL);
      if (isAbove || tolerance <= FINE_J_PER_MOL || found.length >= MAX_COLUMNS) break;
      tolerance = FINE_J_PER_MOL;
      continue;
    }
    const polished = polish(system, basis, x);
    if (polished) return answer(system, polished.columns, polished.weights, polished.plane);
    if (tolerance <= FINE_J_PER_MOL || found.length >= MAX_COLUMNS) break;
    tolerance /= 10;
  }
  return answer(system, basis.columns, [...basis.weights], [...basis.plane] as [number, number, number]);
}

/** Near in every share, and in the ratio of small ones: where a cation is absent, its traces set the programme's steps. */
function isSameMelt(shares: Shares, y: number, b: number): boolean {
  return [y, b, 1 - y - b].every((share, k) => {
    const difference = Math.abs(share - shares[k]!);
    return difference < SAME_MELT && difference < 0.1 * share;
  });
}

/** The melts of a basis and the middles between them, where another melt may lie lower. */
function betweenMelts({ columns, weights }: Basis): [number, number][] {
  const melts = columns.filter(({ solid }, i) => solid < 0 && weights[i]! > 0); // those of traces too: they may grow
  return melts.flatMap((p, i) =>
    melts
      .slice(i)
      .map(({ shares }): [number, number] => [
        Math.max(1e-12, (p.shares[0] + shares[0]) / 2),
        Math.max(1e-12, (p.shares[1] + shares[1]) / 2),
      ]),
  );
}

/** Melts nearer to each other than this are one melt, of which the programme holds several samples. */
const ONE_MELT = 0.03;

function answer(
  system: PhaseSystem,
  columns: readonly Column[],
  weights: readonly number[],
  plane: readonly [number, number, number],
): PointEquilibrium {
  const parts: { name: string; share: number; sums: [number, number, number] }[] = [];
  columns.forEach(({ solid, shares }, i) => {
    const weight = weights[i]!;
    if (weight <= SMALLEST_SHARE) return;
    const name = solid < 0 ? LIQUID : system.names[solid]!;
    const same = parts.find(
      (part) =>
        part.name === name &&
        shares.every((share, k) => Math.abs(share - part.sums[k]! / part.share) < ONE_MELT),
    );
    if (same) {
      same.share += weight;
      for (let k = 0; k < 3; k++) same.sums[k]! += weight * shares[k]!;
    } else {
      parts.push({
        name,
        share: weight,
        sums: shares.map((share) => weight * share) as [number, number, number],
      });
    }
  });
  parts.sort((p, q) => (p.name < q.name ? -1 : p.name > q.name ? 1 : 0));
  const phases = parts.map(({ name, share, sums }) => ({
    name,
    share,
    composition: sums.map((sum) => sum / share) as [number, number, number],
  }));
  const cuprousShares = phases
    .filter(({ name }) => name === LIQUID)
    .map(({ composition: [y, b] }) => {
      system.search.melt.evaluate(Math.max(y, 1e-300), Math.max(b, 1e-300), numbers);
      return numbers[CUPROUS]!;
    });
  return { phases, plane, cuprousShares };
}
