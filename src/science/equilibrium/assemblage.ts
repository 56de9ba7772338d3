// Odds of each phase field at a composition, over the members of the ensemble. Shares of cations, J per mole of cations.
import { locateFacet } from '../numerics/triangle-hull.ts';
import {
  type Conditions,
  checkPhaseNames,
  type Diagram,
  diagramAt,
  heightsAbovePlane,
  LIQUID,
  type Member,
  type PhaseShare,
  phasesAt,
  SMALLEST_SHARE,
  superconductorName,
} from './diagram.ts';

/** RE, Ba, Cu shares that sum to 1. */
export type CationShares = readonly [number, number, number];

export interface Assemblage {
  /** probability of each field; the key is its sorted phase names joined by ' + ' */
  readonly odds: Record<string, number>;
  /** the median member's phases, with the standard deviation of each share over the members */
  readonly phases: readonly (PhaseShare & { readonly shareU: number })[];
  readonly liquidShare: { readonly value: number; readonly standardUncertainty: number };
  /** height of every phase above the plane of the median member's stable phases, J per mole of cations */
  readonly driving: Record<string, number>;
}

export const FIELD_JOINT = ' + ';

function shareOf(phases: readonly PhaseShare[], name: string): number {
  return phases.find((phase) => phase.name === name)?.share ?? 0;
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

/**
 * Odds, phases and distances at one composition: in each member the lower hull, its facet at the composition and the lever
 * rule; the odds are shares of members. The uncertainty of a share is its standard deviation over the members, an absent
 * phase counted as 0.
 *
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_HELD_BACK
 */
export function assemblageAt(
  members: readonly Member[],
  conditions: Conditions,
  shares: CationShares,
): Assemblage {
  checkPhaseNames(conditions);
  const [re, ba, cu] = shares;
  const found = members.map((member) => {
    const diagram = diagramAt(member, conditions);
    return { diagram, ...phasesAt(diagram, re, ba, cu) };
  });
  const odds: Record<string, number> = {};
  for (const { phases } of found) {
    const field = phases.map(({ name }) => name).join(FIELD_JOINT);
    odds[field] = (odds[field] ?? 0) + 1;
  }
  for (const field of Object.keys(odds)) odds[field]! /= members.length;
  const liquidShares = found.map(({ phases }) => shareOf(phases, LIQUID));
  const median = found[medianIndex(liquidShares)]!;
  return {
    odds,
    phases: median.phases.map((phase) => ({
      ...phase,
      shareU: deviation(found.map(({ phases }) => shareOf(phases, phase.name))),
    })),
    liquidShare: { value: shareOf(median.phases, LIQUID), standardUncertainty: deviation(liquidShares) },
    driving: heightsAbovePlane(median.diagram, median.facet, shares),
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
 * The field of every composition in every member.
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
  members.forEach((member, m) => {
    const diagram = diagramAt(member, conditions);
    const known = knownFields(diagram, indexOfField, fields);
    let facet = 0;
    for (let i = 0; i < n; i++) {
      facet = locateFacet(diagram.facets, re[i]!, ba[i]!, cu[i]!, weights, facet);
      const { corners } = diagram.facets[facet]!;
      let present = 0;
      let liquid = 0;
      let solid123 = 0;
      for (let k = 0; k < 3; k++) {
        if (weights[k]! <= SMALLEST_SHARE) continue;
        present |= 1 << k;
        const { name } = diagram.points[corners[k]!]!;
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
  diagram: Diagram,
  indexOfField: Map<string, number>,
  fields: string[][],
): (facet: number, present: number) => number {
  const cache = new Int32Array(diagram.facets.length * 8).fill(-1);
  return (facet, present) => {
    const slot = facet * 8 + present;
    if (cache[slot]! >= 0) return cache[slot]!;
    const corners = diagram.facets[facet]!.corners.filter((_, k) => present & (1 << k));
    const names = [...new Set(corners.map((corner) => diagram.points[corner]!.name))].sort();
    const key = names.join(FIELD_JOINT);
    let index = indexOfField.get(key);
    if (index === undefined) {
      index = fields.length;
      indexOfField.set(key, index);
      fields.push(names);
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

/**
 * Probability that liquid and 123 are both present, at a list of compositions: what evidence from films is weighed against.
 *
 * @param re, ba, cu shares of n compositions, each sum 1
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_HELD_BACK
 */
export function oddsOfLiquidAnd123(
  members: readonly Member[],
  conditions: Conditions,
  re: ArrayLike<number>,
  ba: ArrayLike<number>,
  cu: ArrayLike<number>,
): LiquidOdds {
  const scan = scanFields(members, conditions, re, ba, cu);
  return liquidOddsOf(scan, members.length, superconductorName(conditions.rareEarth));
}
