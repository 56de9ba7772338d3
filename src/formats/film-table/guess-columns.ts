// Guesses what the columns of a table of films mean, from their headings. A unit that is not stated is asked.
import { isRareEarth } from '../../science/matter/elements.ts';
import { shown } from '../errors.ts';
import { findUnit } from '../units.ts';
import { areOneMixture, elementOfAmounts, nameAndUnit, rareEarthOfRatios } from './heading-elements.ts';
import {
  FILM_FIELDS,
  type FilmField,
  type FilmTableColumn,
  type FilmTableMapping,
  type TableDoubt,
  type TextTable,
  unitsOfFilmField,
} from './schema.ts';

/** Words of headings, the first that fits counts; order: the narrower before the wider. [common practice] */
const HEADINGS: readonly (readonly [RegExp, FilmField])[] = [
  [/^(piece|part|chip|cut)\b/i, 'pieceLabel'],
  [/^(film|sample|specimen|label|id|name)( (id|no\.?|number|label|name))?$/i, 'label'],
  [/formula|composition|cation|stoich|\bre ?: ?ba/i, 'formula'],
  [/^(re|rare[ -]?earth|ln)( (amount|share|content))?$/i, 'rareEarth'],
  [
    /^(t(_?s)?|t[ _-]?\(?(growth|dep|sub|heater)\w*\.?\)?|(growth|dep(osition|\.)?|sub(strate|\.)?|heater)[ _-]?t|((growth|dep(osition|\.)?|sub(strate|\.)?|heater)[ _-]?)?temp(erature|\.)?( t)?)$/i,
    'temperatureC',
  ],
  [/substrate|^tape$/i, 'substrate'],
  [/route|in[ -]?situ|ex[ -]?situ/i, 'route'],
  [/width|^(d|delta ?|\u0394 ?)t_?c\b/i, 'transitionWidthK'],
  [/onset|^t_?c[ _,-]*on\b/i, 'tcOnsetK'],
  // a Tc that is said to be another than the midpoint is none
  [/^t_?c\b(?!.*(zero|offset|end|r ?= ?0|\b0\b|mag))|midpoint|critical temp|transition temp/i, 'tcMidpointK'],
  [/^j_?c\b|critical current dens/i, 'jcAPerM2'],
  [/p_?\(?o_?2\)?|oxygen|pressure/i, 'po2Pa'],
  [/thick|^d$/i, 'thicknessNm'],
  [/rate/i, 'overallRateNmPerS'],
  [/phase|impurit/i, 'phases'],
  [/note|remark|comment/i, 'note'],
];

function fieldOf(table: TextTable, column: number): FilmField | undefined {
  const heading = table.headings[column]!;
  const element = elementOfAmounts(heading);
  if (element === 'Ba') return 'amountBa';
  if (element === 'Cu') return 'amountCu';
  // a Y without Ba and Cu beside it, or with an X, may be a place
  const isBeside = (symbol: string) => table.headings.some((each) => elementOfAmounts(each) === symbol);
  const isPlace = element === 'Y' && table.headings.some((each) => /^x$/i.test(nameAndUnit(each).name));
  if (element !== null && !isPlace && isBeside('Ba') && isBeside('Cu')) return 'amountRe';
  if (rareEarthOfRatios(heading) !== null) return 'formula';
  const { name } = nameAndUnit(heading);
  const field = HEADINGS.find(([words]) => words.test(name))?.[1];
  if (field !== 'rareEarth') return field;
  const filled = table.rows.map((row) => row[column]!).filter((cell) => cell !== '');
  const namesOne = filled.some((cell) => isRareEarth(/^[A-Z][a-z]?/.exec(cell)?.[0] ?? ''));
  return !namesOne && filled.every((cell) => /^[\d.,\s%eE+-]+$/.test(cell)) ? 'amountRe' : 'rareEarth';
}

/** Temperature and field of a Jc, if its heading states both. */
function conditionOf(heading: string): { temperatureK: number; fieldT: number } | null {
  const temperature = /(\d{1,3}(?:[.,]\d{1,2})?)\s?K\b/.exec(heading)?.[1];
  const field = /self|\bs\.?f\b/i.test(heading) ? '0' : /(\d{1,2}(?:[.,]\d{1,3})?)\s?T\b/.exec(heading)?.[1];
  if (temperature === undefined || field === undefined) return null;
  const temperatureK = Number(temperature.replace(',', '.'));
  const fieldT = Number(field.replace(',', '.'));
  return temperatureK <= 400 ? { temperatureK, fieldT } : null;
}

const columnDoubt = (column: string, found: string, expected: string, message: string): TableDoubt => ({
  row: 0,
  column,
  found,
  expected,
  message,
});

/**
 * The mapping that the headings suggest (elements too: `Y at%` beside Ba and Cu); columns that say nothing are
 * left out, and `readFilms` lists them. A unit or condition that a heading does not
 * state stays open ('' or null), and `readFilms` asks for it.
 */
export function guessFilmColumns(table: TextTable): { mapping: FilmTableMapping; doubts: TableDoubt[] } {
  const columns: FilmTableColumn[] = [];
  const doubts: TableDoubt[] = [];
  table.headings.forEach((heading, column) => {
    const field = fieldOf(table, column);
    if (field === undefined) return;
    const definition = FILM_FIELDS[field];
    const other = columns.find((each) => each.field === field);
    const rivals = columns.filter((each) => each.field === field).map((each) => table.headings[each.column]!);
    const isRepeated =
      'isRepeated' in definition || (field === 'amountRe' && areOneMixture([...rivals, heading]));
    if (other !== undefined && !isRepeated) {
      const message = `Columns "${shown(table.headings[other.column]!)}" and "${shown(heading)}" may both be the ${definition.label}; the first was taken.`;
      doubts.push(columnDoubt(heading, heading, `one column for the ${definition.label}`, message));
      return;
    }
    const units = unitsOfFilmField(field);
    const { unit } = nameAndUnit(heading);
    const stated = units.includes(findUnit(unit)?.symbol ?? '') ? findUnit(unit)!.symbol : '';
    const isAmount = field.startsWith('amount');
    const entry: FilmTableColumn = { field, column, unit: isAmount && stated === '' ? '1' : stated };
    if (field === 'jcAPerM2') entry.at = conditionOf(heading);
    columns.push(entry);
  });
  if (!columns.some(({ field }) => field === 'label')) {
    doubts.push(columnDoubt('', 'none', 'a column of film labels', 'No column is headed as the film label.'));
  }
  return { mapping: { columns }, doubts };
}
