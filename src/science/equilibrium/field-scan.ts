// Fields and shares of many compositions in every member, by the members' diagrams. Shares of cations.
import { type Diagram, diagramOf } from './diagram.ts';
import { AIR_OXYGEN_ATM, oxygenStateAt } from './oxygen.ts';
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
  /** odds of liquid with 123, times the share of the cations that end as 123 among the solids of air, one a composition */
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
  const superconductor = superconductorName(conditions.rareEarth);
  const scan = scanDiagrams(diagrams, superconductor, re, ba, cu);
  const final = diagramOf(phaseSystem(members[0]!, { rareEarth: conditions.rareEarth, ...FINAL }));
  const weights = new Float64Array(3);
  for (let i = 0; i < re.length; i++) {
    if (scan.usefulShare[i] === 0) continue;
    const facet = final.hull.locate(re[i]!, ba[i]!, cu[i]!, weights);
    let share = 0;
    for (let k = 0; k < 3; k++)
      if (final.names[final.hull.corners[3 * facet + k]!] === superconductor) share += weights[k]!;
    scan.usefulShare[i]! *= share;
  }
  return scan;
}

/** Where a film ends: the solids of air at 850 degC, below 124 and above the melt's end. */
const FINAL = { temperatureK: 1123.15, po2Atm: AIR_OXYGEN_ATM, heldBack: [LIQUID] } as const;

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
  const facets = new Int32Array(BLOCK);
  const weights = new Float64Array(3 * BLOCK);
  const bits = diagrams.map(({ names }) => known.bitsOf(names));
  const inside = diagrams.map((diagram, m) => facetFields(diagram, known, bits[m]!, superconductor));
  for (let from = 0; from < n; from += BLOCK) {
    const count = Math.min(BLOCK, n - from);
    const [a, b, c] = [re, ba, cu].map((shares) =>
      Float64Array.from({ length: count }, (_, i) => shares[from + i]!),
    );
    for (let m = 0; m < nMembers; m++) {
      diagrams[m]!.hull.locateAll(a!, b!, c!, facets, weights);
      scanMember(
        scan,
        known,
        diagrams[m]!,
        bits[m]!,
        inside[m]!,
        superconductor,
        m,
        nMembers,
        from,
        count,
        facets,
        weights,
      );
    }
  }
  return scan;
}

/** Compositions taken at a time: their answers for all members stay in the processor's cache. */
const BLOCK = 512;

/** What every composition inside a facet has, all three corners taking part. */
interface FacetFields {
  readonly field: Int32Array;
  /** a bit for each corner that is the liquid */
  readonly liquidCorners: Uint8Array;
  readonly isUseful: Uint8Array;
}

function facetFields(
  diagram: Diagram,
  known: FieldList,
  bits: Int32Array,
  superconductor: string,
): FacetFields {
  const { corners, facetCount, isAlive } = diagram.hull;
  const liquidBit = known.bitOf(LIQUID);
  const wanted = liquidBit | known.bitOf(superconductor);
  const field = new Int32Array(facetCount);
  const liquidCorners = new Uint8Array(facetCount);
  const isUseful = new Uint8Array(facetCount);
  for (let facet = 0; facet < facetCount; facet++) {
    if (!isAlive[facet]) continue;
    let set = 0;
    for (let k = 0; k < 3; k++) {
      const bit = bits[corners[3 * facet + k]!]!;
      set |= bit;
      if (bit === liquidBit) liquidCorners[facet]! |= 1 << k;
    }
    field[facet] = -1 - set; // its index is asked for where a composition lies in it
    isUseful[facet] = (set & wanted) === wanted ? 1 : 0;
  }
  return { field, liquidCorners, isUseful };
}

/** Fills in one member over a block of compositions that lie in known facets with known weights. */
function scanMember(
  { fieldIndex, liquidShare, usefulShare }: FieldScan,
  known: FieldList,
  diagram: Diagram,
  bits: Int32Array,
  { field, liquidCorners, isUseful }: FacetFields,
  superconductor: string,
  member: number,
  nMembers: number,
  from: number,
  count: number,
  facets: Int32Array,
  weights: Float64Array,
): void {
  const { corners } = diagram.hull;
  const liquidBit = known.bitOf(LIQUID);
  const superconductorBit = known.bitOf(superconductor);
  const part = 1 / nMembers;
  for (let i = 0, at = 0, slot = from * nMembers + member; i < count; i++, at += 3, slot += nMembers) {
    const facet = facets[i]!;
    const p = weights[at]!;
    const q = weights[at + 1]!;
    const r = weights[at + 2]!;
    if (p > SMALLEST_SHARE && q > SMALLEST_SHARE && r > SMALLEST_SHARE) {
      let index = field[facet]!;
      if (index < 0) {
        index = known.indexOf(-1 - index);
        field[facet] = index;
      }
      fieldIndex[slot] = index;
      const liquid = liquidCorners[facet]!;
      if (liquid === 0) continue;
      liquidShare[slot] = (liquid & 1 ? p : 0) + (liquid & 2 ? q : 0) + (liquid & 4 ? r : 0);
      if (isUseful[facet]) usefulShare[from + i]! += part;
      continue;
    }
    let there = 0;
    let liquid = 0;
    for (let k = 0; k < 3; k++) {
      const weight = weights[at + k]!;
      if (weight <= SMALLEST_SHARE) continue;
      const bit = bits[corners[3 * facet + k]!]!;
      there |= bit;
      if (bit === liquidBit) liquid += weight;
    }
    if (liquid > 0 && there & superconductorBit) usefulShare[from + i]! += part;
    fieldIndex[slot] = known.indexOf(there);
    liquidShare[slot] = liquid;
  }
}

/** The phases and fields met so far; a field is the set of its phases, a bit each (no diagram here has more than 30 phases). */
class FieldList {
  readonly fields: string[][] = [];
  readonly #bits = new Map<string, number>();
  readonly #indices = new Map<number, number>();

  bitOf(phase: string): number {
    let bit = this.#bits.get(phase);
    if (bit === undefined) {
      bit = 1 << this.#bits.size;
      this.#bits.set(phase, bit);
    }
    return bit;
  }

  bitsOf(phases: readonly string[]): Int32Array {
    const bits = new Int32Array(phases.length);
    for (let i = 0; i < bits.length; i++) bits[i] = this.bitOf(phases[i]!);
    return bits;
  }

  /** Index of a field, added if it is new. */
  indexOf(set: number): number {
    let index = this.#indices.get(set);
    if (index === undefined) {
      index = this.fields.length;
      this.#indices.set(set, index);
      this.fields.push(
        [...this.#bits]
          .filter(([, bit]) => set & bit)
          .map(([phase]) => phase)
          .sort(),
      );
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
