// The lower hull of all phases at one T and pO2 for one member of the ensemble. J per mole of cations, shares of cations.
import { DomainError } from '../errors.ts';
import {
  type HullFacet,
  type HullPoint,
  heightAbove,
  locateFacet,
  lowerHull,
} from '../numerics/triangle-hull.ts';
import { type LiquidParameters, liquidAbovePlaneJPerMol } from './liquid.ts';
import {
  phaseName,
  type RareEarth,
  type SolidId,
  type SolidValues,
  solidGrandPotentialJPerMol,
  solidRecord,
  solidsOf,
} from './solids.ts';

export const LIQUID = 'liquid';

/** One possible set of the published numbers. */
export interface Member {
  readonly solids: SolidValues;
  readonly liquid: LiquidParameters;
}

/** Where the diagram is asked for, and what the caller moves in it. */
export interface Conditions {
  readonly rareEarth: RareEarth;
  readonly temperatureK: number;
  readonly po2Atm: number;
  /** added to a phase's grand potential, J per mole of cations, by phase name */
  readonly offsetsJPerMol?: Readonly<Record<string, number>>;
  /** phases that may not form */
  readonly heldBack?: readonly string[];
}

export interface DiagramPoint extends HullPoint {
  readonly name: string;
}

export interface Diagram {
  /** every phase, held back or not; the liquid twice, with its RE and without */
  readonly points: readonly DiagramPoint[];
  readonly facets: readonly HullFacet[];
  /** names of each facet's phases, sorted, each once */
  readonly facetPhases: readonly (readonly string[])[];
}

/** Names a diagram of this rare earth knows, sorted. */
function phaseNamesOf(rareEarth: RareEarth): string[] {
  return [LIQUID, ...solidsOf(rareEarth).map((record) => phaseName(record, rareEarth))].sort();
}

/** The name of the superconductor with this rare earth. */
export function superconductorName(rareEarth: RareEarth): string {
  return phaseName(solidRecord('123'), rareEarth);
}

/**
 * Refuses names that the diagram does not know, and a hold that leaves a corner of the triangle without a phase.
 *
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_HELD_BACK
 */
export function checkPhaseNames({ rareEarth, offsetsJPerMol = {}, heldBack = [] }: Conditions): void {
  const known = phaseNamesOf(rareEarth);
  for (const name of [...Object.keys(offsetsJPerMol), ...heldBack]) {
    if (known.includes(name)) continue;
    throw new DomainError(
      'EQUILIBRIUM_PHASE_UNKNOWN',
      `'${name}' is not a phase of ${rareEarth}-Ba-Cu-O here.`,
      `Take one of ${known.join(', ')}.`,
    );
  }
  const corners: readonly SolidId[][] = [['re2o3'], ['bao'], ['cuo', 'cu2o', 'cu']];
  for (const corner of corners) {
    const names = corner.map((id) => phaseName(solidRecord(id), rareEarth));
    if (names.some((name) => !heldBack.includes(name))) continue;
    throw new DomainError(
      'EQUILIBRIUM_HELD_BACK',
      `heldBack leaves nothing at the corner of ${names.join(', ')}.`,
      'Let one simple oxide of each cation form; there must be a phase that can hold it.',
    );
  }
}

/**
 * Every phase's grand potential per mole of cations over its place in the triangle REO1.5-BaO-CuOx, held back or not.
 *
 * The liquid lies above or below the plane of 123 + BaCuO2 + CuO by liquidAbovePlaneJPerMol; that plane is its reference
 * also where other solids are more stable (BaCu2O2 and Cu2O at low pO2), so that those take the liquid's place there as
 * they do in the published data. It stands twice, with its RE and without (the same distance from the plane), since it
 * takes up RE from none to saturation.
 */
export function phasePoints(member: Member, conditions: Conditions): DiagramPoint[] {
  const { rareEarth, temperatureK, po2Atm, offsetsJPerMol = {} } = conditions;
  const points: DiagramPoint[] = [];
  const formulaJPerMol = new Map<SolidId, number>();
  for (const record of solidsOf(rareEarth)) {
    const cations = record.re + record.ba + record.cu;
    const omega = solidGrandPotentialJPerMol(record, member.solids, temperatureK, po2Atm);
    formulaJPerMol.set(record.id, omega);
    const name = phaseName(record, rareEarth);
    points.push({
      name,
      shares: [record.re / cations, record.ba / cations, record.cu / cations],
      height: omega / cations + (offsetsJPerMol[name] ?? 0),
    });
  }
  const { liquid } = member;
  const above = liquidAbovePlaneJPerMol(liquid, temperatureK, po2Atm) + (offsetsJPerMol[LIQUID] ?? 0);
  // the plane over the pure components: CuO, then BaCuO2 and 123 less their copper and barium
  const perCu = formulaJPerMol.get('cuo')!;
  const perBa = formulaJPerMol.get('011')! - perCu;
  const perRe = formulaJPerMol.get('123')! - 2 * perBa - 3 * perCu;
  const shareWithoutRe = 1 - liquid.reShare;
  for (const [re, ba] of [
    [liquid.reShare, liquid.baShare],
    [0, liquid.baShare / shareWithoutRe],
  ] as const) {
    const cu = 1 - re - ba;
    points.push({ name: LIQUID, shares: [re, ba, cu], height: re * perRe + ba * perBa + cu * perCu + above });
  }
  return points;
}

/**
 * Lower hull of all phases that are not held back.
 *
 * Assumes names already checked by checkPhaseNames.
 */
export function diagramAt(member: Member, conditions: Conditions): Diagram {
  const points = phasePoints(member, conditions);
  const heldBack = conditions.heldBack ?? [];
  const free = points.map((_, i) => i).filter((i) => !heldBack.includes(points[i]!.name));
  const facets = lowerHull(free.map((i) => points[i]!)).map(
    (facet): HullFacet => ({
      ...facet,
      corners: [free[facet.corners[0]]!, free[facet.corners[1]]!, free[facet.corners[2]]!],
    }),
  );
  const facetPhases = facets.map(({ corners }) => [...new Set(corners.map((i) => points[i]!.name))].sort());
  return { points, facets, facetPhases };
}

/** A phase's part of the assemblage at a composition. */
export interface PhaseShare {
  readonly name: string;
  /** share of all cations that sit in this phase */
  readonly share: number;
  /** RE, Ba, Cu shares of the phase itself */
  readonly composition: readonly [number, number, number];
}

/** A phase with less than this share of the cations counts as absent: the composition lies on a tie line or a compound. */
export const SMALLEST_SHARE = 1e-9;

/** Index of the facet that holds a composition, with the phases there by name, sorted. */
export function phasesAt(
  diagram: Diagram,
  re: number,
  ba: number,
  cu: number,
): { facet: number; phases: PhaseShare[] } {
  const weights = new Float64Array(3);
  const facet = locateFacet(diagram.facets, re, ba, cu, weights);
  const found = new Map<string, { share: number; composition: [number, number, number] }>();
  diagram.facets[facet]!.corners.forEach((corner, i) => {
    const weight = weights[i]!;
    if (weight <= SMALLEST_SHARE) return;
    const { name, shares } = diagram.points[corner]!;
    const entry = found.get(name) ?? { share: 0, composition: [0, 0, 0] };
    entry.share += weight;
    for (let k = 0; k < 3; k++) entry.composition[k]! += weight * shares[k]!;
    found.set(name, entry);
  });
  const phases = [...found]
    .map(([name, { share, composition }]) => ({
      name,
      share,
      composition: composition.map((x) => x / share) as [number, number, number],
    }))
    .sort((a, b) => (a.name < b.name ? -1 : 1));
  return { facet, phases };
}

/** Heights below this are rounding, J per mole of cations. */
const ROUNDING_J_PER_MOL = 1e-6;

/**
 * Height of every phase above the plane of the phases that are stable at a composition, J per mole of its cations: what an
 * offset must take off before the phase joins there. 0 for the stable ones, negative for one that is held back and would
 * form. Phases with a cation that the composition lacks are left out.
 */
export function heightsAbovePlane(
  diagram: Diagram,
  facet: number,
  shares: readonly [number, number, number],
): Record<string, number> {
  const { plane } = diagram.facets[facet]!;
  const heights: Record<string, number> = {};
  for (const point of diagram.points) {
    if (point.shares.some((x, k) => x > 0 && shares[k] === 0)) continue;
    const height = heightAbove(plane, point);
    const least = Math.min(heights[point.name] ?? Number.POSITIVE_INFINITY, height);
    heights[point.name] = Math.abs(least) < ROUNDING_J_PER_MOL ? 0 : least;
  }
  return heights;
}
