// Every phase that may stand at one T and pO2 in one member of the ensemble. J per mole of cations, shares of cations.
import { DomainError } from '../errors.ts';
import { Melt, type MeltParameters } from './melt.ts';
import { MeltSearch } from './melt-search.ts';
import { type OxygenState, oxygenStateAt } from './oxygen.ts';
import { shiftPart } from './rare-earth-shift.ts';
import {
  phaseName,
  type RareEarth,
  type SolidId,
  type SolidRecord,
  type SolidValues,
  solidGrandPotentialJPerMol,
  solidRecord,
  solidsOf,
} from './solids.ts';

export const LIQUID = 'liquid';

/** One possible set of the published numbers. */
export interface Member {
  readonly solids: SolidValues;
  readonly melt: MeltParameters;
  /** J per mole of 123 that raise its peritectic in air by 1 K when taken off its energy */
  readonly jPerMolPerKelvin: number;
  /** how fast that peritectic rises with the radius of the rare earth, K per angstrom */
  readonly peritecticKPerAngstrom: number;
}

/** Where the phases are asked for, and what the caller moves in them. */
export interface Conditions {
  readonly rareEarth: RareEarth;
  readonly temperatureK: number;
  readonly po2Atm: number;
  /** added to a phase's grand potential, J per mole of cations, by phase name */
  readonly offsetsJPerMol?: Readonly<Record<string, number>>;
  /** phases that may not form */
  readonly heldBack?: readonly string[];
  /** mean radius of the rare earths less that of Y, angstrom; 0 if left out */
  readonly radiusBeyondYAngstrom?: number;
}

/** The solids as columns, and the melt. */
export interface PhaseSystem {
  readonly names: readonly string[];
  /** three shares a solid: RE, Ba, Cu */
  readonly shares: Float64Array;
  /** energy of each solid, J per mole of cations */
  readonly heights: Float64Array;
  /** 0: held back */
  readonly isFree: Uint8Array;
  readonly search: MeltSearch;
  readonly isMeltFree: boolean;
}

/** Names a diagram of this rare earth knows, sorted. */
export function phaseNamesOf(rareEarth: RareEarth): string[] {
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

/** What all rare earths share: records, names and shares of the solids. */
interface SolidColumns {
  readonly records: readonly SolidRecord[];
  readonly names: readonly string[];
  readonly shares: Float64Array;
  readonly cations: readonly number[];
}

const COLUMNS = new Map<RareEarth, SolidColumns>();

function columnsOf(rareEarth: RareEarth): SolidColumns {
  let columns = COLUMNS.get(rareEarth);
  if (columns === undefined) {
    const records = solidsOf(rareEarth);
    const cations = records.map(({ re, ba, cu }) => re + ba + cu);
    const shares = Float64Array.from(
      records.flatMap(({ re, ba, cu }, i) => [re, ba, cu].map((amount) => amount / cations[i]!)),
    );
    columns = { records, names: records.map((record) => phaseName(record, rareEarth)), shares, cations };
    COLUMNS.set(rareEarth, columns);
  }
  return columns;
}

/**
 * The phases of one member at the conditions.
 *
 * @param oxygen state of the gas there; worked out here if left out
 */
export function phaseSystem(member: Member, conditions: Conditions, oxygen?: OxygenState): PhaseSystem {
  const {
    rareEarth,
    temperatureK,
    po2Atm,
    offsetsJPerMol = {},
    heldBack = [],
    radiusBeyondYAngstrom = 0,
  } = conditions;
  const gas = oxygen ?? oxygenStateAt(temperatureK, po2Atm);
  const { records, names, shares, cations } = columnsOf(rareEarth);
  const heights = new Float64Array(records.length);
  const isFree = new Uint8Array(records.length).fill(1);
  records.forEach((record, i) => {
    let omega = solidGrandPotentialJPerMol(record, member.solids, gas);
    if (record.id === '123' && radiusBeyondYAngstrom !== 0)
      omega -=
        radiusBeyondYAngstrom *
        member.peritecticKPerAngstrom *
        member.jPerMolPerKelvin *
        shiftPart(temperatureK, po2Atm);
    heights[i] = omega / cations[i]! + (offsetsJPerMol[names[i]!] ?? 0);
    if (heldBack.includes(names[i]!)) isFree[i] = 0;
  });
  const melt = new Melt(member.melt, gas, offsetsJPerMol[LIQUID] ?? 0);
  return {
    names,
    shares,
    heights,
    isFree,
    search: new MeltSearch(melt),
    isMeltFree: !heldBack.includes(LIQUID),
  };
}
