// Guesses which column of a block is what, from headings, units and how the numbers run; what it cannot tell it asks.
import type { ColumnarBlock } from '../columnar/schema.ts';
import { shown } from '../errors.ts';
import { findUnit } from '../units.ts';
import { isCommanded, logPressureUnit, temperatureDoubt } from './chamber-log.ts';
import { isCurveRole, unitOfRole } from './roles.ts';
import { type ColumnMapping, CURVE_ROLES, type CurveRole, type MeasurementKind } from './schema.ts';

export interface MappingGuess {
  /** null: nothing to go by; a unit '' in it must be asked before the mapping can be applied */
  readonly mapping: ColumnMapping | null;
  /** questions for the person, in words; empty if all is stated by the file */
  readonly doubts: readonly string[];
  /** 1: headings and units state it; 0: no guess */
  readonly confidence: number;
}

/** Words of a heading, any case, that name a quantity; then single letters, in their case. [common practice] */
const WORDS: Record<CurveRole, RegExp> = {
  twoThetaDeg: /2\s*-?\s*(theta|th\b|\u03b8)|two\s*-?\s*theta|\bangle\b|\bwinkel\b|^(theta|\u03b8)$/i,
  counts: /count|intens|z\u00e4hl|pulses|\bcps\b/i,
  temperatureK: /temp/i,
  resistanceOhm: /resist(ance)?\b|widerstand/i,
  voltageV: /volt|spannung/i,
  currentA: /\bcurr(ent)?\b|\bstrom\b/i,
  fieldT: /field|\bfeld\b|\bmu0\s*h\b|\u00b50\s*h|\u03bc0\s*h/i,
  momentAmpereM2: /moment/i,
  timeS: /\btime\b|\bzeit\b|elapsed/i,
  pressurePa: /press|druck|vacuum|vakuum|gauge|^p(?![a-z])/i,
  log10PressurePa: /(?!)/, // known by its heading and unit together: logPressureUnit
};
const LETTERS: Record<string, CurveRole> = {
  T: 'temperatureK',
  R: 'resistanceOhm',
  V: 'voltageV',
  U: 'voltageV',
  I: 'currentA',
  B: 'fieldT',
  H: 'fieldT',
  m: 'momentAmpereM2',
  M: 'momentAmpereM2',
  t: 'timeS',
};
/** Headings of columns that say how sure another one is. */
const UNCERTAINTY = /\berr(or)?\b|std|sigma|uncert|deviation|\bfehler\b|\+\/?-|^d[A-Z]/i;

/** Columns of a log, which are looked for only where a block is no other kind. */
const LOG_ROLES: readonly CurveRole[] = ['timeS', 'temperatureK', 'pressurePa'];
const CURVE_ROLES_ALONE = (Object.keys(CURVE_ROLES) as CurveRole[]).filter(
  (role) => role !== 'pressurePa' && role !== 'log10PressurePa',
);

interface Found {
  role: CurveRole;
  column: number;
  unit: string;
}

/** The role that a heading and its unit name; undefined if none, or if they contradict each other. */
function roleOf(
  heading: string,
  unitText: string,
  roles: readonly CurveRole[],
): CurveRole | 'contradiction' | undefined {
  if (UNCERTAINTY.test(heading) && !/^druck/i.test(heading)) return undefined;
  const byWord = roles.find((role) => WORDS[role].test(heading));
  const letter = LETTERS[heading.trim()];
  const named = byWord ?? (letter !== undefined && roles.includes(letter) ? letter : undefined);
  const unit = findUnit(unitText);
  if (unit === undefined) return named;
  const byUnit = roles.filter((role) => CURVE_ROLES[role].dimension === unit.dimension);
  if (named === undefined) return byUnit[0];
  if (byUnit.includes(named)) return named;
  // a single letter is weaker than a unit: `M (V)`, `I (counts)`
  if (byWord === undefined && byUnit.length > 0) return byUnit[0];
  return 'contradiction';
}

function spanOf(column: Float64Array): { min: number; max: number } {
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (const value of column) {
    if (value < min) min = value;
    if (value > max) max = value;
  }
  return { min, max };
}

/** Whether a column runs through values, rather than holding one up to drift and noise. */
function isSwept(column: Float64Array): boolean {
  const { min, max } = spanOf(column);
  return max - min > 0.05 * Math.max(Math.abs(min), Math.abs(max));
}

function kindOf(block: ColumnarBlock, found: readonly Found[], doubts: string[]): MeasurementKind | null {
  const column = (role: CurveRole): Float64Array | undefined => {
    const at = found.find((each) => each.role === role)?.column;
    return at === undefined ? undefined : block.columns[at];
  };
  const has = (...roles: CurveRole[]): boolean => roles.every((role) => column(role) !== undefined);
  const swept = (role: CurveRole): boolean => has(role) && isSwept(column(role)!);
  if (has('twoThetaDeg', 'counts')) return 'diffraction scan';
  if (has('momentAmpereM2')) {
    if (swept('temperatureK') && swept('fieldT')) {
      doubts.push('Both temperature and field change in this block: is it a magnetic transition or a loop?');
      return null;
    }
    if (swept('fieldT') || (has('fieldT') && !has('temperatureK'))) return 'magnetisation loop';
    if (has('temperatureK')) return 'magnetic transition';
  }
  if (has('temperatureK', 'resistanceOhm')) return 'resistance';
  if (has('temperatureK', 'voltageV', 'currentA'))
    return swept('temperatureK') ? 'resistance' : 'current-voltage';
  if (has('currentA', 'voltageV')) return 'current-voltage';
  return null;
}

const ROLES_TAKEN: Record<MeasurementKind, readonly CurveRole[]> = {
  'diffraction scan': ['twoThetaDeg', 'counts'],
  resistance: ['temperatureK', 'resistanceOhm'],
  'magnetic transition': ['temperatureK', 'momentAmpereM2'],
  'current-voltage': ['currentA', 'voltageV', 'timeS'],
  'magnetisation loop': ['fieldT', 'momentAmpereM2'],
  'chamber log': ['timeS', 'temperatureK', 'pressurePa', 'log10PressurePa'],
};

/** The unit as it may stand in the mapping; '' with a question where the file states none that fits. */
function settledUnit(block: ColumnarBlock, { role, column, unit }: Found, doubts: string[]): string {
  const stated = unitOfRole(role, unit);
  const heading = block.headings[column] ?? '';
  const name = `Column ${column + 1} ("${shown(heading)}")`;
  const { min, max } = spanOf(block.columns[column]!);
  if (role === 'twoThetaDeg') {
    const isTheta = /^(theta|\u03b8)$/i.test(heading);
    if (isTheta && (stated === undefined || stated.symbol.endsWith('2theta'))) {
      doubts.push(`${name}: is this theta or 2theta?`);
      return stated?.symbol.startsWith('rad') ? 'rad theta' : 'deg theta';
    }
    // no angle of a scan in radians exceeds 2 pi
    if (stated === undefined && unit === '' && max > 2 * Math.PI) return 'deg 2theta';
  }
  if (role === 'counts' && stated === undefined && unit === '') {
    if (/count|z\u00e4hl|pulses/i.test(heading)) return 'counts';
    const isWhole = min >= 0 && block.columns[column]!.every((value) => !(value % 1));
    doubts.push(
      `${name} states no unit: are these ${isWhole ? 'counts' : 'counts, counts/s or arbitrary units'}?`,
    );
    return isWhole ? 'counts' : '';
  }
  if (stated !== undefined) return stated.symbol;
  const found = unit === '' ? 'states no unit' : `is in "${shown(unit)}", which is no unit of it`;
  doubts.push(`${name} ${found}: in which unit is the ${CURVE_ROLES[role].word}?`);
  return '';
}

/** Two unnamed columns that look like a scan: an even rising angle and intensities that are not negative. */
function unnamedScan(block: ColumnarBlock, blockIndex: number): MappingGuess | null {
  if (block.columns.length < 2 || block.rows < 20 || block.headings.some((heading) => heading !== ''))
    return null;
  const [angles, counts] = block.columns as [Float64Array, Float64Array];
  const step = (angles[block.rows - 1]! - angles[0]!) / (block.rows - 1);
  const isEven = angles.every((angle, i) => Math.abs(angle - angles[0]! - i * step) < 0.1 * step);
  const { min, max } = spanOf(angles);
  if (!(step > 0 && step < 1 && isEven && min >= 0 && max > 2 * Math.PI && max <= 170)) return null;
  if (!(spanOf(counts).min >= 0)) return null;
  const columns = [
    { role: 'twoThetaDeg', column: 0, unit: 'deg 2theta' },
    { role: 'counts', column: 1, unit: counts.every((value) => value % 1 === 0) ? 'counts' : '' },
  ];
  return {
    mapping: { kind: 'diffraction scan', block: blockIndex, columns },
    doubts: [
      'The columns have no headings; they run like a diffraction scan. Is it one, in degrees of 2theta and counts?',
    ],
    confidence: 0.3,
  };
}

/** The columns whose headings and units name one of the roles, the first of each; a doubt where two name one. */
function foundColumns(
  block: ColumnarBlock,
  comments: Readonly<Record<string, string>>,
  roles: readonly CurveRole[],
  doubts: string[],
): Found[] {
  const isLog = roles === LOG_ROLES;
  const found: Found[] = [];
  const hasReading = block.headings.some(
    (heading, column) =>
      !isCommanded(heading) && roleOf(heading, block.units[column] ?? '', roles) === 'temperatureK',
  );
  block.headings.forEach((heading, column) => {
    const isClock = isLog && block.clocks.some((clock) => clock.column === column);
    if (block.textColumns.includes(column) && !isClock) return;
    if (isLog && hasReading && isCommanded(heading)) return;
    const stated = block.units[column] ?? '';
    const said = stated === '' && Object.hasOwn(comments, heading) ? comments[heading]! : stated;
    const unit = findUnit(said) === undefined ? stated : said;
    const logUnit = isLog ? logPressureUnit(heading, unit) : undefined;
    const role = isClock ? 'timeS' : logUnit ? 'log10PressurePa' : roleOf(heading, unit, roles);
    if (role === 'contradiction') {
      if (isLog) return; // a voltage of the gauge, a flow: not asked for
      doubts.push(
        `Column ${column + 1} is headed "${shown(heading)}" but its unit is ${shown(unit)}: what is it?`,
      );
    } else if (role !== undefined) {
      const other = found.find((each) => each.role === role);
      const settled = isClock ? 's' : (logUnit ?? unit);
      if (other === undefined) found.push({ role, column, unit: settled });
      else if (role === 'timeS') {
        // elapsed time with its unit before the clock, the clock before a bare number
        if (isLog && findUnit(other.unit) === undefined && settled !== '')
          Object.assign(other, { column, unit: settled });
        else if (
          isLog &&
          isClockColumn(block, other.column) &&
          findUnit(unit)?.dimension === 'time' &&
          !isClock
        )
          Object.assign(other, { column, unit: settled });
      } else if (isCurveRole(role)) {
        const columns = `columns ${other.column + 1} and ${column + 1}`;
        doubts.push(`The ${CURVE_ROLES[role].word} stands in ${columns}: is the first the right one?`);
      }
    }
  });
  return found;
}

/** no resistance of a superconductor is taken hotter, K [common practice] */
const HOTTEST_OF_RESISTANCE_K = 500;

/** Voltage and current beside a temperature that no measurement of a transition has: of the heater, more likely. */
function isHeaterSupply(block: ColumnarBlock, found: readonly Found[]): boolean {
  if (found.some(({ role }) => role === 'resistanceOhm')) return false;
  const temperature = found.find(({ role }) => role === 'temperatureK');
  const unit = temperature && unitOfRole('temperatureK', temperature.unit);
  if (!temperature || !unit) return false;
  return spanOf(block.columns[temperature.column]!).max * unit.factor + unit.offset > HOTTEST_OF_RESISTANCE_K;
}

const isClockColumn = (block: ColumnarBlock, column: number): boolean =>
  block.clocks.some((clock) => clock.column === column);

/** A log has a time and a temperature; of pressure and its logarithm the first. */
function logColumns(block: ColumnarBlock, found: Found[]): Found[] | null {
  const has = (role: CurveRole): boolean => found.some((each) => each.role === role);
  if (!has('timeS') || !has('temperatureK') || block.rows < 2) return null;
  return has('pressurePa') ? found.filter(({ role }) => role !== 'log10PressurePa') : found;
}

/** Questions on units that the file states but its numbers contradict. */
function unitDoubts(block: ColumnarBlock, columns: readonly Found[]): string[] {
  return columns.flatMap(({ role, column, unit: symbol }) => {
    const unit = unitOfRole(role, symbol);
    if (unit === undefined) return [];
    const si = block.columns[column]!.map((value) => value * unit.factor + unit.offset);
    const { max } = spanOf(si);
    const doubt =
      role === 'pressurePa' && max > HIGHEST_PA
        ? `The pressure reaches ${(max / unit.factor).toPrecision(4)} read in ${symbol}, more than a chamber holds; is this in Pa?`
        : temperatureDoubt(role, si, symbol);
    return doubt === undefined
      ? []
      : [`Column ${column + 1} ("${shown(block.headings[column] ?? '')}"): ${doubt}`];
  });
}

/** ten atmospheres [common practice: no growth chamber holds more] */
const HIGHEST_PA = 1.1e6;

/**
 * The mapping that headings and units suggest, with every question they leave open. A unit is never guessed: where the
 * file states none it is '' in the mapping and asked. Two columns of one quantity: the first is taken and the question
 * put.
 *
 * @param block      one block of a file
 * @param blockIndex its place in the file, from 0
 * @param comments   pairs of the file's header lines: `T: K` gives column T its unit if the heading has none
 */
export function guessMapping(
  block: ColumnarBlock,
  blockIndex: number,
  comments: Readonly<Record<string, string>> = {},
): MappingGuess {
  let doubts: string[] = [];
  let found = foundColumns(block, comments, CURVE_ROLES_ALONE, doubts);
  // `I` beside an angle is an intensity
  const angle = found.find(({ role }) => role === 'twoThetaDeg');
  const letterI = found.find(
    ({ role, unit, column }) => role === 'currentA' && unit === '' && block.headings[column] === 'I',
  );
  if (angle !== undefined && letterI !== undefined) letterI.role = 'counts';
  let kind = kindOf(block, found, doubts);
  if (kind === null || isHeaterSupply(block, found)) {
    const ofLog: string[] = [];
    const columns = logColumns(block, foundColumns(block, comments, LOG_ROLES, ofLog));
    const others = found.filter(({ role }) => !LOG_ROLES.includes(role));
    if (columns !== null && !others.some(({ role }) => role === 'momentAmpereM2')) {
      if (others.length > 0) {
        const words = others.map(({ role }) => CURVE_ROLES[role].word).join(' and ');
        ofLog.push(`Beside time and temperature it holds ${words}: is it the log of a chamber?`);
      }
      kind = 'chamber log';
      found = columns;
      doubts = ofLog;
    }
  }
  if (kind === null) {
    const scan = found.length === 0 ? unnamedScan(block, blockIndex) : null;
    if (scan !== null) return scan;
    return {
      mapping: null,
      doubts: [...doubts, 'What was measured, and which columns hold it?'],
      confidence: 0,
    };
  }
  const isOfVoltage = kind === 'resistance' && !found.some(({ role }) => role === 'resistanceOhm');
  const taken: readonly CurveRole[] = isOfVoltage
    ? ['temperatureK', 'voltageV', 'currentA']
    : ROLES_TAKEN[kind];
  const needed = new Set(taken);
  const kept = found.filter(({ role }) => needed.has(role));
  const ownDoubts = doubts.length;
  const columns = kept.map((each) => ({
    role: each.role,
    column: each.column,
    unit: settledUnit(block, each, doubts),
  }));
  // where time is optional, a time without a unit is left out rather than asked
  const isTimeNeeded = kind === 'chamber log';
  const usable = columns.filter(({ role, unit }) => isTimeNeeded || role !== 'timeS' || unit !== '');
  if (kind === 'chamber log') doubts.push(...unitDoubts(block, columns));
  const asked = doubts.length;
  const confidence = asked === 0 ? 1 : ownDoubts === asked ? 0.7 : 0.5;
  return { mapping: { kind, block: blockIndex, columns: usable }, doubts, confidence };
}
