// Fields and shares of many compositions in every member, by the members' diagrams. Shares of cations.
import { FIELD_JOINT } from './assemblage.ts';
import { type Diagram, diagramOf } from './diagram.ts';
import { oxygenStateAt } from './oxygen.ts';
import {
  type Conditions,
  checkPhaseNames,
  LIQUID,
  type Member,
  phaseSystem,
  superconductorName,
} from './phase-system.ts';
import { SMALLEST_SHARE } from './point-equilibrium.ts';

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
  const oxygen = oxygenStateAt(conditions.temperatureK, conditions.po2Atm);
  const diagrams = members.map((member) => diagramOf(phaseSystem(member, conditions, oxygen)));
  return scanDiagrams(diagrams, superconductorName(conditions.rareEarth), re, ba, cu);
}

/** The same from diagrams that are there, one a member. */
export function scanDiagrams(
  diagrams: readonly Diagram[],
  superconductor: string,
  re: ArrayLike<number>,
  ba: ArrayLike<number>,
  cu: ArrayLike<number>,
): FieldScan {
  const n = re.length;
  const nMembers = diagrams.length;
  const known = new FieldList();
  const scan: FieldScan = {
    fields: known.fields,
    fieldIndex: new Int32Array(n * nMembers),
    liquidShare: new Float64Array(n * nMembers),
    usefulShare: new Float64Array(n),
  };
  const facets = new Int32Array(n);
  const weights = new Float64Array(3 * n);
  for (let m = 0; m < nMembers; m++) {
    diagrams[m]!.hull.locateAll(re, ba, cu, facets, weights);
    scanMember(scan, known, diagrams[m]!, superconductor, m, nMembers, facets, weights);
  }
  return scan;
}

/** Fills in one member where its compositions lie in known facets with known weights. No closure in its loop: one made garbage at every composition. */
function scanMember(
  { fieldIndex, liquidShare, usefulShare }: FieldScan,
  known: FieldList,
  diagram: Diagram,
  superconductor: string,
  member: number,
  nMembers: number,
  facets: Int32Array,
  weights: Float64Array,
): void {
  const isLiquid = cornersNamed(diagram, LIQUID);
  const is123 = cornersNamed(diagram, superconductor);
  const fieldOf = new Int32Array(diagram.hull.facetCount * 8).fill(-1);
  for (let i = 0, slot = member; i < facets.length; i++, slot += nMembers) {
    const at = 3 * i;
    const facet = facets[i]!;
    const corner = 3 * facet;
    const p = weights[at]! > SMALLEST_SHARE ? weights[at]! : 0;
    const q = weights[at + 1]! > SMALLEST_SHARE ? weights[at + 1]! : 0;
    const r = weights[at + 2]! > SMALLEST_SHARE ? weights[at + 2]! : 0;
    const liquid = p * isLiquid[corner]! + q * isLiquid[corner + 1]! + r * isLiquid[corner + 2]!;
    const solid123 = p * is123[corner]! + q * is123[corner + 1]! + r * is123[corner + 2]!;
    if (liquid > 0 && solid123 > 0) usefulShare[i]! += (liquid + solid123) / nMembers;
    const present = (p > 0 ? 1 : 0) + (q > 0 ? 2 : 0) + (r > 0 ? 4 : 0);
    const key = 8 * facet + present;
    if (fieldOf[key]! < 0) fieldOf[key] = known.indexOf(phasesOf(diagram, facet, present));
    fieldIndex[slot] = fieldOf[key]!;
    liquidShare[slot] = liquid;
  }
}

/** Names at the corners of a facet whose bits are set. */
function phasesOf({ hull, names }: Diagram, facet: number, present: number): string[] {
  return [0, 1, 2].filter((k) => present & (1 << k)).map((k) => names[hull.corners[3 * facet + k]!]!);
}

/** 1 for each corner of each facet where the named phase stands, else 0. */
function cornersNamed({ hull: { corners }, names }: Diagram, wanted: string): Uint8Array {
  const isThere = new Uint8Array(corners.length);
  for (let i = 0; i < isThere.length; i++) isThere[i] = names[corners[i]!] === wanted ? 1 : 0;
  return isThere;
}

/** The fields met so far. */
class FieldList {
  readonly fields: string[][] = [];
  readonly #indices = new Map<string, number>();

  /** Index of the field of these phases, added if it is new. */
  indexOf(phases: readonly string[]): number {
    const sorted = [...new Set(phases)].sort();
    const key = sorted.join(FIELD_JOINT);
    const index = this.#indices.get(key) ?? this.fields.length;
    if (index === this.fields.length) {
      this.#indices.set(key, index);
      this.fields.push(sorted);
    }
    return index;
  }
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
