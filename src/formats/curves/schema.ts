// Kinds of measurement, the columns each needs, and how a file's columns are named for them. SI inside; 2theta in degrees.
import type { ColumnarOptions } from '../columnar/schema.ts';
import type { Dimension } from '../units.ts';

export const MEASUREMENT_KINDS = [
  'diffraction scan',
  'resistance',
  'magnetic transition',
  'current-voltage',
  'magnetisation loop',
  'chamber log',
] as const;
export type MeasurementKind = (typeof MEASUREMENT_KINDS)[number];

export const CURVE_ROLES = {
  twoThetaDeg: { dimension: 'scan angle', word: 'angle 2theta' },
  counts: { dimension: 'counts', word: 'intensity' },
  temperatureK: { dimension: 'temperature', word: 'temperature' },
  resistanceOhm: { dimension: 'resistance', word: 'resistance' },
  voltageV: { dimension: 'voltage', word: 'voltage' },
  currentA: { dimension: 'current', word: 'current' },
  fieldT: { dimension: 'field', word: 'field' },
  momentAmpereM2: { dimension: 'moment', word: 'moment' },
  timeS: { dimension: 'time', word: 'time' },
  pressurePa: { dimension: 'pressure', word: 'pressure' },
  log10PressurePa: { dimension: 'log pressure', word: 'logarithm of the pressure' },
} as const satisfies Record<string, { dimension: Dimension; word: string }>;
export type CurveRole = keyof typeof CURVE_ROLES;

/** Roles a kind may be given: one of the sets in full, and any of the optional ones. */
export interface KindRoles {
  readonly oneOf: readonly (readonly CurveRole[])[];
  readonly optional: readonly CurveRole[];
}

export const ROLES_OF_KIND: Record<MeasurementKind, KindRoles> = {
  'diffraction scan': { oneOf: [['twoThetaDeg', 'counts']], optional: [] },
  resistance: {
    oneOf: [
      ['temperatureK', 'resistanceOhm'],
      ['temperatureK', 'voltageV', 'currentA'],
    ],
    optional: ['timeS'],
  },
  'magnetic transition': { oneOf: [['temperatureK', 'momentAmpereM2']], optional: ['timeS'] },
  'current-voltage': { oneOf: [['currentA', 'voltageV']], optional: ['timeS'] },
  'magnetisation loop': { oneOf: [['fieldT', 'momentAmpereM2']], optional: ['timeS'] },
  'chamber log': { oneOf: [['timeS', 'temperatureK']], optional: ['pressurePa', 'log10PressurePa'] },
};

/** Which column of a block is which quantity, and in which unit the file states it; '' where that must be asked. */
export interface ColumnMapping {
  kind: MeasurementKind;
  block: number;
  columns: { role: string; column: number; unit: string }[];
  /** what a person said of the text, where the file alone does not tell */
  reading?: ColumnarOptions | undefined;
}

/** What a file's name and header lines say of how it was taken. */
export interface FileSettings {
  anode?: 'Cu' | 'Co' | 'Mo';
  wavelengthAngstrom?: number;
  temperatureK?: number;
  fieldT?: number;
  thetaDeg?: number;
  tapDistanceM?: number;
  bridgeWidthM?: number;
}
