// Odds of each phase field at a composition, over the members of the ensemble. Shares of cations, J per mole of cations.
import { type Diagram, diagramOf } from './diagram.ts';
import { type OxygenState, oxygenStateAt } from './oxygen.ts';
import {
  type Conditions,
  checkPhaseNames,
  LIQUID,
  type Member,
  type PhaseSystem,
  phaseSystem,
  superconductorName,
} from './phase-system.ts';
import {
  type PhaseShare,
  type PointEquilibrium,
  pointEquilibrium,
  SMALLEST_SHARE,
} from './point-equilibrium.ts';

/** RE, Ba, Cu shares that sum to 1. */
export type CationShares = readonly [number, number, number];

/** Middle 95 % of the members. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

export interface Assemblage {
  /** probability of each field; the key is its sorted phase names joined by ' + ' */
  readonly odds: Record<string, number>;
  /** the median member's phases, with the standard deviation of each share over the members */
  readonly phases: readonly (PhaseShare & { readonly shareU: number })[];
  readonly liquidShare: { readonly value: number; readonly standardUncertainty: number };
  readonly liquidInterval: Interval;
  /** height of every phase above the plane of the median member's stable phases, J per mole of cations */
  readonly driving: Record<string, number>;
  /** chemical potentials of REO1.5, BaO and CuO in the median member, J per mole, from the oxides at this pO2 */
  readonly potentials: readonly [number, number, number];
  /** Cu+ share of the copper in the median member's liquid; null without liquid */
  readonly cuprousShare: number | null;
}

export const FIELD_JOINT = ' + ';

/** Sorted names of the phases there, each once, joined. */
export function fieldName(phases: readonly { readonly name: string }[]): string {
  return [...new Set(phases.map(({ name }) => name))].sort().join(FIELD_JOINT);
}

function shareOf(phases: readonly PhaseShare[], name: string): number {
  return phases.reduce((sum, phase) => sum + (phase.name === name ? phase.share : 0), 0);
}

function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
}

/** Index of the lower median: the member in the middle by value, ties by index. */
export function medianIndex(values: ArrayLike<number>): number {
  const middle = Math.floor((values.length - 1) / 2);
  let isSorted = true; // as it is where no member, or every one, has the phase alike
  for (let i = 1; i < values.length && isSorted; i++) isSorted = values[i - 1]! <= values[i]!;
  if (isSorted) return middle;
  const order = Array.from(values, (_, i) => i).sort((a, b) => values[a]! - values[b]! || a - b);
  return order[middle]!;
}

/** Middle 95 % of some values: the 2.5 % and 97.5 % points, between neighbours by their distance. */
export function interval95(values: readonly number[]): Interval {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (part: number): number => {
    const place = part * (sorted.length - 1);
    const below = Math.floor(place);
    const above = Math.min(sorted.length - 1, below + 1);
    return sorted[below]! + (place - below) * (sorted[above]! - sorted[below]!);
  };
  return { low: at(0.025), high: at(0.975) };
}

/** Heights below this are rounding, J per mole of cations. */
const ROUNDING_J_PER_MOL = 1e-4;

/**
 * Height of every phase above the plane of the phases that are stable at a composition, J per mole of its cations: what an offset
 * must take off before the phase joins there. 0 for the stable ones, negative for one that is held back and would form. Phases
 * with a cation that the composition lacks are left out.
 */
function heightsAbovePlane(
  { names, shares, heights, search }: PhaseSystem,
  { plane }: PointEquilibrium,
  composition: CationShares,
): Record<string, number> {
  const found: Record<string, number> = {};
  const rounded = (height: number): number => (Math.abs(height) < ROUNDING_J_PER_MOL ? 0 : height);
  names.forEach((name, i) => {
    const own = [shares[3 * i]!, shares[3 * i + 1]!, shares[3 * i + 2]!];
    if (own.some((share, k) => share > 0 && composition[k] === 0)) return;
    const above = heights[i]! - own.reduce((sum, share, k) => sum + (share > 0 ? share * plane[k]! : 0), 0);
    found[name] = rounded(Math.min(found[name] ?? Number.POSITIVE_INFINITY, above));
  });
  const floor = search.valleys(plane)[0];
  if (floor !== undefined) found[LIQUID] = rounded(floor.height);
  return found;
}

/**
 * Odds, phases and distances at one composition, each member minimised exactly; the odds are shares of members. The uncertainty of
 * a share is its standard deviation over the members, an absent phase counted as 0.
 *
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_HELD_BACK
 */
export function assemblageAt(
  members: readonly Member[],
  conditions: Conditions,
  shares: CationShares,
): Assemblage {
  checkPhaseNames(conditions);
  const oxygen = oxygenStateAt(conditions.temperatureK, conditions.po2Atm);
  const found = members.map((member) => {
    const system = phaseSystem(member, conditions, oxygen);
    return { system, point: pointEquilibrium(system, shares) };
  });
  const odds: Record<string, number> = {};
  for (const { point } of found) {
    const field = fieldName(point.phases);
    odds[field] = (odds[field] ?? 0) + 1;
  }
  for (const field of Object.keys(odds)) odds[field]! /= members.length;
  const liquidShares = found.map(({ point }) => shareOf(point.phases, LIQUID));
  const { system, point } = found[medianIndex(liquidShares)]!;
  return {
    odds,
    phases: point.phases.map((phase) => ({
      ...phase,
      shareU: deviation(found.map(({ point: other }) => shareOf(other.phases, phase.name))),
    })),
    liquidShare: { value: shareOf(point.phases, LIQUID), standardUncertainty: deviation(liquidShares) },
    liquidInterval: interval95(liquidShares),
    driving: heightsAbovePlane(system, point, shares),
    potentials: point.plane,
    cuprousShare: point.cuprousShares[0] ?? null,
  };
}

/** Fields and liquid shares of many compositions, member by member. */
export interface FieldScan {
  /** every field met, as phase names */
  readonly fields: readonly (readonly string[])[];
  /** index into `fields`, composition by composition, members innermost */
  readonly fieldIndex: Int32Array;
  /** share of the cations in the liquid, same order */
  readonly liquidShare: Float64Array;
  /** share of the cations in liquid and 123 where both are there, else 0; mean over the members, one a composition */
  readonly usefulShare: Float64Array;
}

/**
 * The field of every composition in every member, by its diagram.
 *
 * @param re, ba, cu shares of n compositions, each sum 1
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_HELD_BACK
 */
export function scanFields(
  members: readonly Member[],
  conditions: Conditions,
  re: ArrayLike<number>,
  ba: ArrayLike<number>,
  cu: ArrayLike<number>,
): FieldScan {
  checkPhaseNames(conditions);
  const n = re.length;
  const fields: string[][] = [];
  const indexOfField = new Map<string, number>();
  const fieldIndex = new Int32Array(n * members.length);
  const liquidShare = new Float64Array(n * members.length);
  const usefulShare = new Float64Array(n);
  const superconductor = superconductorName(conditions.rareEarth);
  const weights = new Float64Array(3);
  const oxygen: OxygenState = oxygenStateAt(conditions.temperatureK, conditions.po2Atm);
  members.forEach((member, m) => {
    const diagram = diagramOf(phaseSystem(member, conditions, oxygen));
    const { hull, names } = diagram;
    const known = knownFields(diagram, indexOfField, fields);
    for (let i = 0; i < n; i++) {
      const facet = hull.locate(re[i]!, ba[i]!, cu[i]!, weights);
      let present = 0;
      let liquid = 0;
      let solid123 = 0;
      for (let k = 0; k < 3; k++) {
        if (weights[k]! <= SMALLEST_SHARE) continue;
        present |= 1 << k;
        const name = names[hull.corners[3 * facet + k]!]!;
        if (name === LIQUID) liquid += weights[k]!;
        else if (name === superconductor) solid123 += weights[k]!;
      }
      if (liquid > 0 && solid123 > 0) usefulShare[i]! += (liquid + solid123) / members.length;
      const slot = i * members.length + m;
      fieldIndex[slot] = known(facet, present);
      liquidShare[slot] = liquid;
    }
  });
  return { fields, fieldIndex, liquidShare, usefulShare };
}

/** Index of the field that the present corners of a facet make; looked up once a facet and set of corners. */
function knownFields(
  { hull, names }: Diagram,
  indexOfField: Map<string, number>,
  fields: string[][],
): (facet: number, present: number) => number {
  const cache = new Int32Array(hull.facetCount * 8).fill(-1);
  return (facet, present) => {
    const slot = facet * 8 + present;
    if (cache[slot]! >= 0) return cache[slot]!;
    const present3 = [0, 1, 2].filter((k) => present & (1 << k));
    const sorted = [...new Set(present3.map((k) => names[hull.corners[3 * facet + k]!]!))].sort();
    const key = sorted.join(FIELD_JOINT);
    let index = indexOfField.get(key);
    if (index === undefined) {
      index = fields.length;
      indexOfField.set(key, index);
      fields.push(sorted);
    }
    cache[slot] = index;
    return index;
  };
}

/** Odds at each composition, 0 to 1. */
export interface LiquidOdds {
  /** liquid and 123 are both there */
  readonly both: Float64Array;
  /** and nothing else */
  readonly onlyThose: Float64Array;
}

/** Shares of members whose field at each composition holds liquid and 123, alone or with others. */
export function liquidOddsOf(scan: FieldScan, nMembers: number, superconductor: string): LiquidOdds {
  const n = scan.fieldIndex.length / nMembers;
  const isBoth = scan.fields.map((names) => names.includes(LIQUID) && names.includes(superconductor));
  const isOnly = scan.fields.map((names, i) => isBoth[i]! && names.length === 2);
  const both = new Float64Array(n);
  const onlyThose = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    for (let m = 0; m < nMembers; m++) {
      const field = scan.fieldIndex[i * nMembers + m]!;
      if (isBoth[field]) both[i]! += 1;
      if (isOnly[field]) onlyThose[i]! += 1;
    }
    both[i]! /= nMembers;
    onlyThose[i]! /= nMembers;
  }
  return { both, onlyThose };
}
