// What checks of the equilibrium ask of the program: short ways to a field, a reaction and a melt. degC, atm.
import { fieldName } from '../../src/science/equilibrium/assemblage.ts';
import { diagramOf, tieTrianglesOf } from '../../src/science/equilibrium/diagram.ts';
import { D_BA, D_RE, MELT_NUMBERS, OMEGA } from '../../src/science/equilibrium/melt.ts';
import { PUBLISHED_COUNT, publishedMembers } from '../../src/science/equilibrium/members.ts';
import { GAS_CONSTANT, oxygenStateAt, ZERO_CELSIUS_K } from '../../src/science/equilibrium/oxygen.ts';
import {
  type Conditions,
  type Member,
  type PhaseSystem,
  phaseSystem,
} from '../../src/science/equilibrium/phase-system.ts';
import { pointEquilibrium } from '../../src/science/equilibrium/point-equilibrium.ts';
import { radiusBeyondY } from '../../src/science/equilibrium/rare-earth-shift.ts';
import { type ReactionPoint, reactionPoint } from '../../src/science/equilibrium/reaction.ts';
import {
  type RareEarth,
  type SolidId,
  solidGrandPotentialJPerMol,
  solidRecord,
} from '../../src/science/equilibrium/solids.ts';

export const MEMBERS: readonly Member[] = publishedMembers(0, PUBLISHED_COUNT);
export const AIR = 0.21;

export const median = (values: readonly number[]): number => {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
};

/** Share of members of which something holds. */
export const shareOfMembers = (holds: (member: Member) => boolean, members = MEMBERS): number =>
  members.filter(holds).length / members.length;

/** The x at which a claim stops being true, between one where it is and one where it is not. */
export function turningPoint(isTrue: (x: number) => boolean, trueAt: number, falseAt: number): number {
  let [yes, no] = [trueAt, falseAt];
  for (let i = 0; i < 40; i++) {
    const middle = (yes + no) / 2;
    if (isTrue(middle)) yes = middle;
    else no = middle;
  }
  return (yes + no) / 2;
}

/** Omega of one formula by the table, or by a member's numbers, J/mol. */
export const omegaOf = (id: SolidId, temperatureK: number, po2Atm: number, member?: Member): number =>
  solidGrandPotentialJPerMol(solidRecord(id), member?.solids ?? {}, oxygenStateAt(temperatureK, po2Atm));

export function systemAt(
  member: Member,
  temperatureC: number,
  po2Atm: number,
  more: Partial<Conditions> = {},
): PhaseSystem {
  const rareEarth = more.rareEarth ?? 'Y';
  return phaseSystem(member, {
    rareEarth,
    temperatureK: temperatureC + ZERO_CELSIUS_K,
    po2Atm,
    radiusBeyondYAngstrom: radiusBeyondY({ [rareEarth]: 1 }),
    ...more,
  });
}

/** Sorted names of the phases at amounts of RE, Ba and Cu. */
export function fieldAt(system: PhaseSystem, [re, ba, cu]: readonly [number, number, number]): string {
  const sum = re + ba + cu;
  return fieldName(pointEquilibrium(system, [re / sum, ba / sum, cu / sum]).phases);
}

/** True where some tie triangle holds all the phases. */
export function areTied(system: PhaseSystem, names: readonly string[]): boolean {
  return tieTrianglesOf(diagramOf(system)).some(({ phases }) => names.every((name) => phases.includes(name)));
}

/** A reaction in one member in air or at another pO2. */
export const reactionOf = (
  member: Member,
  names: readonly string[],
  po2Atm = AIR,
  rareEarth: RareEarth = 'Y',
  radiusBeyondYAngstrom = radiusBeyondY({ [rareEarth]: 1 }),
): ReactionPoint | undefined =>
  reactionPoint(member, { rareEarth, radiusBeyondYAngstrom }, names, { po2Atm });

/** True where four solids meet at 850 degC at some pO2 with nothing lower. */
export function meetStably(member: Member, names: readonly string[]): boolean {
  const found = reactionPoint(member, { rareEarth: 'Y' }, names, { temperatureK: 850 + ZERO_CELSIUS_K });
  return found !== undefined && found.lowerPhases.length === 0;
}

/** RE share of a melt of a fixed Ba to Cu ratio that is saturated with a solid, a share of cations; NaN where none is. */
export function saturatedReShare(system: PhaseSystem, solid: string, baOverBaCu: number): number {
  const i = system.names.indexOf(solid);
  const n = new Float64Array(MELT_NUMBERS);
  const excess = (lnY: number): number => {
    const y = Math.exp(lnY);
    const b = (1 - y) * baOverBaCu;
    system.search.melt.evaluate(y, b, n);
    const cu = n[OMEGA]! - y * n[D_RE]! - b * n[D_BA]!;
    return cu + system.shares[3 * i]! * n[D_RE]! + system.shares[3 * i + 1]! * n[D_BA]! - system.heights[i]!;
  };
  const [low, high] = [Math.log(1e-6), Math.log(0.15)];
  if (!(excess(low) < 0 && excess(high) > 0)) return Number.NaN;
  return Math.exp(turningPoint((lnY) => excess(lnY) < 0, low, high));
}

/** Enthalpy of dissolution in a 3:5 melt from the slope of ln y against 1/T, kJ per mole of RE. */
export function dissolutionKJPerMol(
  member: Member,
  solid: string,
  po2Atm: number,
  [fromC, toC]: readonly [number, number],
  rareEarth: RareEarth = 'Y',
): number {
  const [cold, hot] = [fromC, toC].map((temperatureC) =>
    Math.log(saturatedReShare(systemAt(member, temperatureC, po2Atm, { rareEarth }), solid, 3 / 8)),
  ) as [number, number];
  return (-GAS_CONSTANT * (hot - cold)) / (1 / (toC + ZERO_CELSIUS_K) - 1 / (fromC + ZERO_CELSIUS_K)) / 1000;
}
