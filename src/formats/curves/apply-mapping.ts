// From a block of a file to a curve in SI, by a mapping that says which column is what and in which unit. Pure.
import type { ColumnarBlock } from '../columnar/schema.ts';
import { type ReadFailure, type ReadWarning, readFailure, readWarning, shown } from '../errors.ts';
import type { Unit } from '../units.ts';
import { temperatureDoubt } from './chamber-log.ts';
import { isCurveRole, unitOfRole, unitsFor } from './roles.ts';
import {
  type ColumnMapping,
  CURVE_ROLES,
  type CurveRole,
  MEASUREMENT_KINDS,
  ROLES_OF_KIND,
} from './schema.ts';

/** Instruments by the SCPI standard write 9.9e37 for overload and 9.91e37 for not a number
 * [memory: SCPI Consortium 1999, SCPI-99, volume 1, section 7.2.1]. */
const OVERRANGE = 9.89e37;

/** Values beyond which a unit is doubted; wide, since only a wrong unit should fall out. [common practice] */
const PLAUSIBLE: Partial<Record<CurveRole, { min: number; max: number; unit: string; hint: string }>> = {
  temperatureK: { min: 0, max: 2500, unit: 'K', hint: 'Is this in degrees Celsius, or the wrong column?' },
  fieldT: { min: -60, max: 60, unit: 'T', hint: 'Is this in Oe?' },
  twoThetaDeg: { min: -10, max: 180, unit: 'deg', hint: 'Is this the angle?' },
  counts: { min: 0, max: 1e12, unit: 'counts', hint: 'Has a background been taken off?' },
  momentAmpereM2: { min: -1, max: 1, unit: 'A m2', hint: 'Is this in emu?' },
  currentA: { min: -2e4, max: 2e4, unit: 'A', hint: 'Is this in mA?' },
  voltageV: { min: -1e3, max: 1e3, unit: 'V', hint: 'Is this in uV?' },
  pressurePa: { min: 0, max: 1.1e6, unit: 'Pa', hint: 'Is this in Pa?' },
  log10PressurePa: {
    min: -12,
    max: 6.05,
    unit: 'in log10 of Pa',
    hint: 'Is this the pressure itself, or the logarithm in another unit?',
  },
  resistanceOhm: { min: -1e8, max: 1e8, unit: 'ohm', hint: 'Is this an overload of the meter?' },
};

/** A mapped curve: columns of one length, one a role, in SI (2theta in degrees); NaN only in an optional role. */
export interface Curve {
  readonly roles: readonly CurveRole[];
  readonly columns: readonly Float64Array[];
  readonly rows: number;
}

export type AppliedMapping =
  | { readonly ok: true; readonly value: Curve; readonly warnings: readonly ReadWarning[] }
  | ReadFailure;

interface Chosen {
  role: CurveRole;
  column: number;
  unit: Unit;
}

/**
 * The curve that a mapping takes from the blocks of a file: SI = value x factor + offset of the unit named.
 * Rows in which a required role has no number are left out, with a warning; values no measurement gives are kept, with a
 * warning that names the unit.
 *
 * @returns the curve, or a fault: MAP_BLOCK, MAP_ROLE, MAP_COLUMN, MAP_UNIT (also where the unit is still '') or MAP_NO_ROWS
 */
export function applyMapping(blocks: readonly ColumnarBlock[], mapping: ColumnMapping): AppliedMapping {
  const block = blocks[mapping.block];
  if (block === undefined) {
    return readFailure(
      'MAP_BLOCK',
      `Block ${mapping.block + 1} was asked for; the file has ${blocks.length}.`,
    );
  }
  const chosen = chosenColumns(block, mapping);
  if (!Array.isArray(chosen)) return chosen;
  const warnings: ReadWarning[] = [];
  const { optional } = ROLES_OF_KIND[mapping.kind];
  const columns = chosen.map(({ column, unit, role }) => {
    const { si, overranges } = inSi(block.columns[column]!, unit);
    if (overranges > 0) {
      const sentence = `${overranges} values of ${CURVE_ROLES[role].word} are the overload mark 9.9e37; taken as missing.`;
      warnings.push(readWarning('MAP_OVERRANGE', sentence, block.firstLine));
    }
    return si;
  });
  const required = columns.filter((_, i) => !optional.includes(chosen[i]!.role));
  const whole: number[] = [];
  for (let row = 0; row < block.rows; row++) {
    if (required.every((column) => !Number.isNaN(column[row]!))) whole.push(row);
  }
  if (whole.length === 0) {
    const words = chosen.map(({ role }) => CURVE_ROLES[role].word).join(' and ');
    return readFailure(
      'MAP_NO_ROWS',
      `No row of block ${mapping.block + 1} has a number for ${words}.`,
      block.firstLine,
    );
  }
  if (whole.length < block.rows) {
    const sentence = `${block.rows - whole.length} of ${block.rows} rows lack a number and were left out.`;
    warnings.push(readWarning('MAP_MISSING_VALUES', sentence, block.firstLine));
  }
  const kept = whole.length === block.rows ? columns : columns.map((column) => pick(column, whole));
  chosen.forEach(({ role, unit }, i) => {
    const warning = rangeWarning(role, kept[i]!, unit, block.firstLine);
    if (warning !== undefined) warnings.push(warning);
    if (mapping.kind !== 'chamber log') return;
    const doubt = temperatureDoubt(role, kept[i]!, unit.symbol);
    if (doubt !== undefined) warnings.push(readWarning('MAP_RANGE', doubt, block.firstLine));
  });
  const isBack = mapping.kind === 'chamber log' ? timeGoesBack(chosen, kept, block) : null;
  if (isBack !== null) return isBack;
  return {
    ok: true,
    value: { roles: chosen.map(({ role }) => role), columns: kept, rows: whole.length },
    warnings,
  };
}

function chosenColumns(block: ColumnarBlock, mapping: ColumnMapping): Chosen[] | ReadFailure {
  if (!MEASUREMENT_KINDS.includes(mapping.kind)) {
    const sentence = `The kind "${shown(String(mapping.kind))}" is not one of ${MEASUREMENT_KINDS.join(', ')}.`;
    return readFailure('MAP_ROLE', sentence);
  }
  const { oneOf, optional } = ROLES_OF_KIND[mapping.kind];
  const allowed = [...new Set([...oneOf.flat(), ...optional])];
  const chosen: Chosen[] = [];
  for (const { role, column, unit: text } of mapping.columns) {
    if (!isCurveRole(role) || !allowed.includes(role)) {
      const sentence = `"${shown(role)}" is no role of a ${mapping.kind}; its roles are ${allowed.join(', ')}.`;
      return readFailure('MAP_ROLE', sentence);
    }
    if (chosen.some((other) => other.role === role)) {
      return readFailure('MAP_ROLE', `The role ${role} was given twice.`);
    }
    const clock = block.clocks.find((each) => each.column === column && role === 'timeS');
    if (clock?.fault) return clock.fault;
    if (block.columns[column] === undefined || block.textColumns.includes(column)) {
      const what =
        block.columns[column] === undefined ? `the block has ${block.columns.length}` : 'it holds text';
      return readFailure(
        'MAP_COLUMN',
        `Column ${column + 1} was chosen for ${role}; ${what}.`,
        block.firstLine,
      );
    }
    const unit = unitOfRole(role, text);
    if (unit === undefined) {
      const found = text === '' ? `No unit is stated for ${role}` : `"${shown(text)}" is no unit of ${role}`;
      const accepted = unitsFor(role).map(({ symbol }) => symbol);
      return readFailure('MAP_UNIT', `${found}; accepted are ${accepted.join(', ')}.`, block.firstLine);
    }
    chosen.push({ role, column, unit });
  }
  if (!oneOf.some((set) => set.every((role) => chosen.some((column) => column.role === role)))) {
    const sets = oneOf.map((set) => set.join(' + ')).join(', or ');
    return readFailure('MAP_ROLE', `A ${mapping.kind} needs ${sets}.`);
  }
  return chosen;
}

function inSi(column: Float64Array, { factor, offset }: Unit): { si: Float64Array; overranges: number } {
  let overranges = 0;
  const si = new Float64Array(column.length);
  for (let i = 0; i < column.length; i++) {
    const isOver = Math.abs(column[i]!) >= OVERRANGE;
    if (isOver) overranges++;
    si[i] = isOver ? Number.NaN : column[i]! * factor + offset;
  }
  return { si, overranges };
}

function pick(column: Float64Array, rows: readonly number[]): Float64Array {
  return Float64Array.from(rows, (row) => column[row]!);
}

function rangeWarning(
  role: CurveRole,
  column: Float64Array,
  unit: Unit,
  line: number,
): ReadWarning | undefined {
  const plausible = PLAUSIBLE[role];
  if (plausible === undefined) return undefined;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (const value of column) {
    if (value < lowest) lowest = value;
    if (value > highest) highest = value;
  }
  if (lowest >= plausible.min && highest <= plausible.max) return undefined;
  const range = `${lowest.toPrecision(4)} to ${highest.toPrecision(4)} ${plausible.unit}`;
  const sentence =
    `The ${CURVE_ROLES[role].word} runs from ${range}, read in ${unit.symbol}; ` +
    `${plausible.min} to ${plausible.max} ${plausible.unit} was expected. ${plausible.hint}`;
  return readWarning('MAP_RANGE', sentence, line);
}

/** A log whose times fall cannot be laid over a path; a clock that does was refused before. */
function timeGoesBack(
  chosen: readonly Chosen[],
  columns: readonly Float64Array[],
  block: ColumnarBlock,
): ReadFailure | null {
  const at = chosen.findIndex(({ role }) => role === 'timeS');
  const timeS = columns[at]!;
  const { column, unit } = chosen[at]!;
  for (let row = 1; row < timeS.length; row++) {
    if (timeS[row]! >= timeS[row - 1]!) continue;
    const [before, found] = [timeS[row - 1]!, timeS[row]!].map((value) =>
      String(Number((value / unit.factor).toPrecision(12))),
    );
    const sentence =
      `The time in column ${column + 1} goes back from ${before} to ${found} ${unit.symbol} ` +
      `at row ${row + 1} of the block that begins at line ${block.firstLine}; times that never fall were expected.`;
    return readFailure('MAP_TIME_BACK', sentence, block.firstLine);
  }
  return null;
}
