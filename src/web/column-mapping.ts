// The column-mapping step: which column is which quantity, while it is being answered. Pure.
import type { FileLook } from '../api/contract.ts';
import type { ColumnMapping, MeasurementKind } from '../records/kinds.ts';

/** One quantity that a kind of measurement may hold; which unit a file may state it in. */
export interface RoleChoice {
  role: string;
  isRequired: boolean;
  units: string[];
}

export interface MappingDraft {
  kind: MeasurementKind | null;
  block: number;
  /** by role; column null: not in this file */
  columns: Record<string, { column: number | null; unit: string }>;
}

const ROLE_WORDS: Record<string, string> = {
  twoThetaDeg: 'Angle 2θ',
  counts: 'Counts',
  temperatureK: 'Temperature',
  resistanceOhm: 'Resistance',
  momentAmpereM2: 'Moment',
  currentA: 'Current',
  voltageV: 'Voltage',
  fieldT: 'Field',
  timeS: 'Time',
  pressurePa: 'Pressure',
  log10PressurePa: 'Logarithm of the pressure',
};

/** A role in words. */
export const roleText = (role: string): string => ROLE_WORDS[role] ?? role;

export function draftOf(mapping: ColumnMapping | null): MappingDraft {
  return mapping
    ? {
        kind: mapping.kind,
        block: mapping.block,
        columns: Object.fromEntries(
          mapping.columns.map(({ role, column, unit }) => [role, { column, unit }]),
        ),
      }
    : { kind: null, block: 0, columns: {} };
}

/** The draft with a column chosen; its unit is the one that the file states, if the role may have it. */
export function withColumn(
  draft: MappingDraft,
  choice: RoleChoice,
  column: number | null,
  statedUnit: string,
): MappingDraft {
  const unit = choice.units.includes(statedUnit)
    ? statedUnit
    : choice.units.length === 1
      ? choice.units[0]!
      : '';
  return { ...draft, columns: { ...draft.columns, [choice.role]: { column, unit } } };
}

/** The mapping that a draft stands for, or what is still to be said. */
export function mappingFrom(
  draft: MappingDraft,
  choices: readonly RoleChoice[],
): { mapping: ColumnMapping } | { faults: string[] } {
  const { kind, block } = draft;
  if (!kind) return { faults: ['Say what was measured.'] };
  const faults: string[] = [];
  const columns: ColumnMapping['columns'] = [];
  for (const { role, isRequired, units } of choices) {
    const { column = null, unit = '' } = draft.columns[role] ?? {};
    if (column === null) {
      if (isRequired) faults.push(`${roleText(role)}: choose its column.`);
      continue;
    }
    if (unit === '' && units.length > 0 && !units.includes(''))
      faults.push(`${roleText(role)}: choose its unit.`);
    const twin = columns.find((other) => other.column === column);
    if (twin)
      faults.push(`Column ${column + 1} is taken as ${roleText(twin.role)} and as ${roleText(role)}.`);
    columns.push({ role, column, unit });
  }
  return faults.length > 0 ? { faults } : { mapping: { kind, block, columns } };
}

/** A column of a file as it is offered: its number, heading and unit. */
export function columnText({ headings, units }: FileLook['blocks'][number], column: number): string {
  const unit = units[column] ? ` (${units[column]})` : '';
  return `${column + 1}: ${headings[column] || 'no heading'}${unit}`;
}

/** A mapping in one line: `resistance: Temperature in K, Resistance in ohm`. */
export function mappingText(mapping: ColumnMapping): string {
  const columns = mapping.columns.map(({ role, column, unit }) => {
    return `${roleText(role)} from column ${column + 1}${unit ? ` in ${unit}` : ''}`;
  });
  return `${mapping.block > 0 ? `table ${mapping.block + 1}: ` : ''}${columns.join(', ')}`;
}
