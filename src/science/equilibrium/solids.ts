// Grand potentials of the condensed compounds at fixed T and pO2. J per mole of formula, K, atm.
import type { RARE_EARTHS } from '../matter/elements.ts';
import { THERMO_SOLIDS } from '../tables/thermo-solids.ts';
import type { OxygenState } from './oxygen.ts';

/** Rare earths that phases are named with; Y counts as one. */
export type RareEarth = (typeof RARE_EARTHS)[number];

export type SolidId = (typeof THERMO_SOLIDS.records)[number]['id'];

/** One compound of the tables. */
export interface SolidRecord {
  readonly id: SolidId;
  readonly formula: string;
  readonly re: number;
  readonly ba: number;
  readonly cu: number;
  readonly cuprous: number;
  readonly excessO2Mol: number;
  readonly aJPerMol: number;
  readonly bJPerMolK: number;
  readonly tLnTJPerMolK: number;
  readonly sigmaJPerMol: number;
  readonly rareEarths?: readonly string[];
  readonly tag: string;
}

export const SOLID_RECORDS: readonly SolidRecord[] = THERMO_SOLIDS.records;

export function solidRecord(id: SolidId): SolidRecord {
  return SOLID_RECORDS.find((record) => record.id === id)!;
}

/** A + B T that a member of the ensemble gives a compound instead of the table's. */
export interface SolidShift {
  readonly aJPerMol: number;
  readonly bJPerMolK: number;
}
export type SolidValues = Partial<Record<SolidId, SolidShift>>;

/** The compounds that exist for a rare earth: those of every one and those that name it. */
export function solidsOf(rareEarth: RareEarth): readonly SolidRecord[] {
  return SOLID_RECORDS.filter((record) => record.rareEarths?.includes(rareEarth) ?? true);
}

/** The compound's formula with the rare earth in it, which is the phase's name. */
export function phaseName(record: SolidRecord, rareEarth: RareEarth): string {
  return record.formula.replace('{RE}', rareEarth);
}

/**
 * Grand potential of one formula at fixed T and pO2: Omega = G - n(O2) R T ln p, from RE2O3, BaO, CuO and O2, where G is the
 * table's A + B T + C T ln T, Cu+ costs the cuprous step, and 123 takes up the oxygen that balances with the gas.
 *
 * @param values A + B T that replace the table's, by compound
 * @returns J per mole of formula
 * Range: the tables' own, about 970 to 1220 K for the compounds near 123.
 */
export function solidGrandPotentialJPerMol(
  record: SolidRecord,
  values: SolidValues,
  oxygen: OxygenState,
): number {
  const { temperatureK } = oxygen;
  const { aJPerMol, bJPerMolK } = values[record.id] ?? record;
  let omega = aJPerMol + bJPerMolK * temperatureK;
  if (record.tLnTJPerMolK !== 0) omega += record.tLnTJPerMolK * temperatureK * Math.log(temperatureK);
  if (record.cuprous > 0) omega += record.cuprous * oxygen.cuprousStepJPerMol;
  if (record.excessO2Mol > 0) omega -= record.excessO2Mol * oxygen.oxygenPotentialJPerMol;
  if (record.id === 'cu') omega += oxygen.metalStepJPerMol;
  if (record.id === '123') omega += oxygen.oxygenUptakeJPerMol;
  return omega;
}
