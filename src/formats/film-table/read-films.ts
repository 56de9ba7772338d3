// From the text cells of a table to films in SI, with a question for every cell that makes no sense. A dry run: pure.
import { isCation, isRareEarth } from '../../science/matter/elements.ts';
import { elementAmounts, parseFormula } from '../../science/matter/formula.ts';
import { type ReadFailure, readFailure, shown } from '../errors.ts';
import { MISSING, NUMBER, NumberText } from '../text/number-text.ts';
import { findUnit } from '../units.ts';
import { cellWithUnit } from './cell-unit.ts';
import { disagreementsOf, rowsByFilm } from './rows-of-film.ts';
import {
  FILM_FIELDS,
  type FilmField,
  type FilmTableColumn,
  type FilmTableMapping,
  type TableDoubt,
  type TableFilm,
  type TextTable,
  unitsOfFilmField,
} from './schema.ts';

const MAX_DOUBTS = 1000;
const MAX_LABEL = 200;

/** Values of a 123 film beyond which a cell is left out with a doubt, in the field's unit. [common practice] */
const PLAUSIBLE: Partial<Record<FilmField, { min: number; max: number; unit: string; hint: string }>> = {
  temperatureC: { min: 300, max: 1200, unit: 'degC', hint: 'Is it in K, or the wrong column?' },
  po2Pa: { min: 1e-6, max: 1e7, unit: 'Pa', hint: 'Is the unit right?' },
  thicknessNm: { min: 2, max: 20_000, unit: 'nm', hint: 'Is it in um?' },
  overallRateNmPerS: { min: 1e-3, max: 1e4, unit: 'nm/s', hint: 'Is the unit right?' },
  tcMidpointK: { min: 0, max: 100, unit: 'K', hint: 'Is it in degC, or the wrong column?' },
  tcOnsetK: { min: 0, max: 100, unit: 'K', hint: 'Is it in degC, or the wrong column?' },
  transitionWidthK: { min: 0, max: 60, unit: 'K', hint: 'Is it the wrong column?' },
  jcAPerM2: { min: 0, max: 1e12, unit: 'A/m2', hint: 'Is it in A/m2 or A/cm2?' },
};
/** SI to the unit that a field is kept in, and the shift after it. */
const FIELD_SCALE: Partial<Record<FilmField, { perSi: number; shift: number }>> = {
  temperatureC: { perSi: 1, shift: -273.15 },
  thicknessNm: { perSi: 1e9, shift: 0 },
  overallRateNmPerS: { perSi: 1e9, shift: 0 },
};
/** How far shares in per cent, or as fractions, may be from their sum, as a part of it. */
const SUM_TOLERANCE = 0.015;
/** A phase said not to be there, in English or German. */
const DENIED = /^(no|not|without|kein|keine|ohne)\b|\b(absent|not seen|none|nicht)\b/i;

class FilmRows {
  readonly doubts: TableDoubt[] = [];
  readonly #table: TextTable;
  readonly #columns: readonly FilmTableColumn[];
  readonly #number = new NumberText();
  readonly #encoder = new TextEncoder();

  /** that of bare ratios, if no column names one */
  readonly #usualRareEarth: string | null;
  #saidWhoseRatio = false;

  constructor(table: TextTable, columns: readonly FilmTableColumn[], usualRareEarth: string | null) {
    this.#table = table;
    this.#columns = columns;
    this.#usualRareEarth = usualRareEarth;
  }

  films(): TableFilm[] {
    const seen = new Map<string, number>();
    const films = this.#table.rows.flatMap((_, i) => {
      const row = i + 1;
      const label = this.#text(row, 'label');
      if (label === null) {
        this.#doubt(row, this.#column('label'), 'a film label', 'This row names no film and was left out.');
        return [];
      }
      const pieceLabel = this.#text(row, 'pieceLabel');
      const key = JSON.stringify([label.toLowerCase(), pieceLabel?.toLowerCase() ?? null]);
      const earlier = seen.get(key);
      if (earlier !== undefined) {
        const what = pieceLabel === null ? `film ${label}` : `piece ${pieceLabel} of film ${label}`;
        const expected = 'one row a film or piece';
        this.#doubt(
          row,
          this.#column('label'),
          expected,
          `Rows ${earlier} and ${row} both speak of ${shown(what)}.`,
        );
      } else {
        seen.set(key, row);
      }
      return [this.#film(row, label, pieceLabel)];
    });
    for (const rows of rowsByFilm(films)) this.#doubtDisagreements(rows);
    return films;
  }

  /** Film, ratio, substrate and growth are said once a row, but are the film's. */
  #doubtDisagreements(rows: readonly TableFilm[]): void {
    for (const { field, taken, other } of disagreementsOf(rows)) {
      const column = field === 'cations' ? this.#cationColumn() : this.#column(field);
      const what = field === 'cations' ? 'cation ratio' : FILM_FIELDS[field].label;
      const message =
        `Film ${shown(rows[0]!.label)}, ${what}: row ${taken.row} says ${shown(taken.text)}, ` +
        `row ${other.row} says ${shown(other.text)}. That of row ${taken.row} is recorded; correct the other.`;
      this.#doubt(other.row, column, 'the same in each row of a film', message);
    }
  }

  #cationColumn(): FilmTableColumn | undefined {
    return this.#column('formula') ?? this.#column('amountBa');
  }

  /** A question about a whole column: row 0. */
  doubtColumn({ column }: FilmTableColumn, found: string, expected: string, message: string): void {
    this.doubts.push({ row: 0, column: this.#table.headings[column]!, found, expected, message });
  }

  #film(row: number, label: string, pieceLabel: string | null): TableFilm {
    const jcColumns = this.#columns.filter(({ field }) => field === 'jcAPerM2');
    const notes = this.#columns
      .filter(({ field }) => field === 'note')
      .map(({ column }) => this.#cell(row, column));
    return {
      row,
      label,
      pieceLabel,
      cations: this.#cations(row),
      substrate: this.#text(row, 'substrate'),
      route: this.#route(row),
      temperatureC: this.#value(row, 'temperatureC'),
      po2Pa: this.#value(row, 'po2Pa'),
      thicknessNm: this.#value(row, 'thicknessNm'),
      overallRateNmPerS: this.#value(row, 'overallRateNmPerS'),
      tcMidpointK: this.#value(row, 'tcMidpointK'),
      tcOnsetK: this.#value(row, 'tcOnsetK'),
      transitionWidthK: this.#value(row, 'transitionWidthK'),
      jc: jcColumns.flatMap((column) => {
        const jcAPerM2 = this.#valueOf(row, column);
        return jcAPerM2 === null ? [] : [{ jcAPerM2, at: column.at ?? null }];
      }),
      phases: this.#phases(row),
      note: notes.filter(Boolean).join('\n') || null,
    };
  }

  /** Phases seen. What is denied (`no CuO`) is not taken as seen, and asked: the table cannot say absent. */
  #phases(row: number): string[] {
    const named = (this.#text(row, 'phases') ?? '')
      .split(/[,;+&|]/)
      .map((phase) => phase.trim())
      .filter(Boolean);
    const denied = named.filter((phase) => DENIED.test(phase));
    if (denied.length > 0) {
      const message = `"${denied.join(', ')}" is not taken as a phase that was seen; absence is for a scan to say.`;
      this.#doubt(row, this.#column('phases'), 'phases that were seen', message);
    }
    return named.filter((phase) => !DENIED.test(phase));
  }

  #column(field: FilmField): FilmTableColumn | undefined {
    return this.#columns.find((each) => each.field === field);
  }

  #cell(row: number, column: number): string {
    return this.#table.rows[row - 1]![column]!;
  }

  #text(row: number, field: FilmField): string | null {
    const column = this.#column(field);
    if (column === undefined) return null;
    const cell = this.#cell(row, column.column);
    if (cell.length > MAX_LABEL && field !== 'phases') {
      this.#doubt(
        row,
        column,
        `at most ${MAX_LABEL} characters`,
        `The ${FILM_FIELDS[field].label} is too long; it was cut.`,
      );
    }
    return cell.slice(0, field === 'phases' ? undefined : MAX_LABEL) || null;
  }

  #doubt(row: number, column: FilmTableColumn | undefined, expected: string, message: string): void {
    if (this.doubts.length >= MAX_DOUBTS) return;
    const heading = column === undefined ? '' : this.#table.headings[column.column]!;
    const found = column === undefined ? '' : shown(this.#cell(row, column.column));
    this.doubts.push({ row, column: heading, found, expected, message });
  }

  /** A cell's number as written; null if missing or, with a question, unreadable. */
  #plainNumber(row: number, column: FilmTableColumn): number | null {
    return this.#numberIn(row, column, this.#cell(row, column.column).replace(/\s*%$/, ''));
  }

  #numberIn(row: number, column: FilmTableColumn, cell: string): number | null {
    const bytes = this.#encoder.encode(cell);
    const mark = this.#table.decimalMark ?? '.';
    const kind = this.#number.read(bytes, 0, bytes.length, mark, false);
    if (kind === NUMBER) return this.#number.value;
    if (kind !== MISSING) {
      const expected = `a number with a decimal ${mark === '.' ? 'point' : 'comma'}`;
      this.#doubt(row, column, expected, 'This is no number; it was left empty, not taken as zero.');
    }
    return null;
  }

  #value(row: number, field: FilmField): number | null {
    const column = this.#column(field);
    return column === undefined ? null : this.#valueOf(row, column);
  }

  #valueOf(row: number, column: FilmTableColumn): number | null {
    // `150 mTorr`, `1108 K`: a unit in the cell goes before the heading's
    const found = cellWithUnit(this.#cell(row, column.column));
    const own = found && unitsOfFilmField(column.field).includes(found.unit.symbol) ? found : null;
    const stated = own ? this.#numberIn(row, column, own.number) : this.#plainNumber(row, column);
    if (stated === null) return null;
    const unit = own?.unit ?? findUnit(column.unit)!;
    const { perSi, shift } = FIELD_SCALE[column.field] ?? { perSi: 1, shift: 0 };
    // twelve digits: 790 degC stays 790 on its way through kelvin
    const value = Number(((stated * unit.factor + unit.offset) * perSi + shift).toPrecision(12));
    const range = PLAUSIBLE[column.field];
    if (range !== undefined && !(value >= range.min && value <= range.max)) {
      const message =
        `${shown(String(stated))} ${unit.symbol} is ${value.toPrecision(3)} ${range.unit}. ${range.hint} ` +
        'It was left out: correct the unit of the column, or the cell.';
      this.#doubt(row, column, `${range.min} to ${range.max} ${range.unit}`, message);
      return null;
    }
    return value;
  }

  #route(row: number): 'in situ' | 'ex situ' | null {
    const text = this.#text(row, 'route');
    if (text === null) return null;
    const route = /^\s*(in|ex)[\s_-]*situ/i.exec(text)?.[1]?.toLowerCase();
    if (route === undefined) {
      this.#doubt(
        row,
        this.#column('route'),
        'in situ or ex situ',
        'The route is neither; it was left empty.',
      );
      return null;
    }
    return route === 'in' ? 'in situ' : 'ex situ';
  }

  /** Rare earths of a cell, in parts of 1: `Y`, `Y0.5Gd0.5`; null with a question if it names none. */
  #rareEarths(row: number): Record<string, number> | null {
    const column = this.#column('rareEarth');
    const text = this.#text(row, 'rareEarth');
    if (column === undefined || text === null) return null;
    const amounts = amountsOf(text);
    const symbols = Object.keys(amounts ?? {});
    const wrong = symbols.find((symbol) => !isRareEarth(symbol));
    if (amounts === null || symbols.length === 0 || wrong !== undefined) {
      const message = wrong === undefined ? 'This names no rare earth.' : `${shown(wrong)} is no rare earth.`;
      this.#doubt(row, column, 'a rare earth such as Y, Gd or Y0.5Gd0.5', message);
      return null;
    }
    const sum = symbols.reduce((total, symbol) => total + amounts[symbol]!, 0);
    return Object.fromEntries(symbols.map((symbol) => [symbol, amounts[symbol]! / sum]));
  }

  #cations(row: number): Record<string, number> | null {
    const formula = this.#column('formula');
    const text = this.#text(row, 'formula');
    if (formula !== undefined && text !== null) return this.#cationsOfText(row, formula, text);
    const columns = (['amountRe', 'amountBa', 'amountCu'] as const).map((field) => this.#column(field));
    if (columns.some((column) => column === undefined)) return null;
    const amounts = columns.map((column) => this.#plainNumber(row, column!));
    if (amounts.every((amount) => amount === null)) return null;
    if (amounts.some((amount) => amount === null || amount < 0)) {
      const at = amounts.findIndex((amount) => amount === null || amount < 0);
      this.#doubt(
        row,
        columns[at],
        'an amount of each of RE, Ba and Cu',
        'One amount is missing or negative; no ratio was taken.',
      );
      return null;
    }
    const sum = amounts.reduce<number>((total, amount) => total + amount!, 0);
    if (columns.every((column) => column!.unit === '%') && Math.abs(sum - 100) > 100 * SUM_TOLERANCE) {
      this.#doubt(
        row,
        columns[0],
        'amounts that add up to 100 %',
        `RE, Ba and Cu add up to ${sum.toPrecision(4)} %.`,
      );
    } else if (amounts.every((amount) => amount! < 1) && Math.abs(sum - 1) > SUM_TOLERANCE) {
      this.#doubt(
        row,
        columns[0],
        'fractions that add up to 1',
        `RE, Ba and Cu add up to ${sum.toPrecision(4)}.`,
      );
    }
    return this.#ratio(row, columns[0]!, amounts as number[]);
  }

  #cationsOfText(row: number, column: FilmTableColumn, text: string): Record<string, number> | null {
    const parts = text.split(/\s*[:/]\s*/);
    const isRatio = parts.length === 3 && parts.every((part) => /^\d{1,6}([.,]\d{1,6})?$/.test(part));
    if (isRatio)
      return this.#ratio(
        row,
        column,
        parts.map((part) => Number(part.replace(',', '.'))),
      );
    const amounts = amountsOf(text.replace(/(\d),(\d)/g, '$1.$2'));
    const cations = Object.entries(amounts ?? {}).filter(([symbol]) => isCation(symbol));
    const isOpen = 'RE' in (amounts ?? {});
    if (amounts === null || cations.length === 0 || (isOpen && this.#column('rareEarth') === undefined)) {
      const expected = 'a formula such as YBa2.3Cu3.8 or a ratio such as 1:2.3:3.8';
      this.#doubt(row, column, expected, 'No cations could be read from this.');
      return null;
    }
    if (!isOpen) return Object.fromEntries(cations);
    const rareEarths = this.#rareEarths(row);
    if (rareEarths === null) return null;
    const others = cations.filter(([symbol]) => symbol !== 'RE');
    const chosen = Object.entries(rareEarths).map(([symbol, part]) => [symbol, part * amounts.RE!]);
    return Object.fromEntries([...chosen, ...others]);
  }

  #ratio(
    row: number,
    column: FilmTableColumn,
    [re, ba, cu]: readonly number[],
  ): Record<string, number> | null {
    if (re! + ba! + cu! <= 0) {
      this.#doubt(row, column, 'an amount above 0', 'All three amounts are zero; no ratio was taken.');
      return null;
    }
    const isNamed = this.#column('rareEarth') !== undefined;
    if (!isNamed && !this.#saidWhoseRatio) {
      this.#saidWhoseRatio = true;
      const message =
        this.#usualRareEarth === null
          ? 'No column says which rare earth a bare ratio is of; no bare ratio was taken.'
          : `No column says which rare earth a bare ratio is of: taken as ${this.#usualRareEarth}, that of the series.`;
      this.#doubt(row, column, 'a column of rare earths', message);
    }
    const usual = this.#usualRareEarth === null ? null : { [this.#usualRareEarth]: 1 };
    const rareEarths = isNamed ? this.#rareEarths(row) : usual;
    if (rareEarths === null) return null;
    const shares = Object.entries(rareEarths).map(([symbol, part]) => [symbol, part * re!]);
    return { ...Object.fromEntries(shares), Ba: ba!, Cu: cu! };
  }
}

/** Elements of a formula; null if it cannot be read as one. */
function amountsOf(text: string): Record<string, number> | null {
  try {
    return elementAmounts(parseFormula(text));
  } catch {
    return null;
  }
}

/** Films of a table with the questions that its cells raise. */
export interface FilmsOfTable {
  readonly ok: true;
  readonly films: readonly TableFilm[];
  readonly doubts: readonly TableDoubt[];
}

/**
 * Films and pieces of a table by a mapping of its columns: temperatures in degC, pO2 in Pa, lengths in nm, rates in nm/s,
 * Jc in A/m2. A column whose unit is still '' is not read but asked (row 0). A cell that is no number is left empty and
 * asked, never zero; so is a value that no film has, which would else lead the ranking.
 *
 * @param usualRareEarth that of bare ratios such as 1:2:3 where no column names one; null if not known
 * @returns the films, or a fault of the mapping: TABLE_COLUMN, TABLE_FIELD or MAP_UNIT
 */
export function readFilms(
  table: TextTable,
  mapping: FilmTableMapping,
  usualRareEarth: string | null = null,
): FilmsOfTable | ReadFailure {
  for (const [i, { field, column, unit }] of mapping.columns.entries()) {
    if (column >= table.headings.length) {
      const sentence = `Column ${column + 1} was chosen for ${field}; the table has ${table.headings.length}.`;
      return readFailure('TABLE_COLUMN', sentence);
    }
    const definition = FILM_FIELDS[field];
    if (!('isRepeated' in definition) && mapping.columns.findIndex((each) => each.field === field) !== i) {
      return readFailure('TABLE_FIELD', `Two columns were chosen for ${field}.`);
    }
    const units = unitsOfFilmField(field);
    if (unit !== '' && units.length > 0 && !units.includes(findUnit(unit)?.symbol ?? '')) {
      const sentence = `"${shown(unit)}" is no unit of ${definition.label}; accepted are ${units.join(', ')}.`;
      return readFailure('MAP_UNIT', sentence);
    }
  }
  if (!mapping.columns.some(({ field }) => field === 'label')) {
    return readFailure('TABLE_FIELD', 'No column was chosen for the film label.');
  }
  const isAsked = ({ field, unit }: FilmTableColumn): boolean =>
    unit === '' && unitsOfFilmField(field).length > 0;
  const rows = new FilmRows(
    table,
    mapping.columns.filter((column) => !isAsked(column)),
    usualRareEarth,
  );
  for (const column of mapping.columns) {
    const heading = shown(table.headings[column.column]!);
    if (isAsked(column)) {
      const expected = unitsOfFilmField(column.field).join(', ');
      rows.doubtColumn(column, 'no unit', expected, `"${heading}" was not read: in which unit is it?`);
    } else if (column.field === 'jcAPerM2' && (column.at ?? null) === null) {
      const message = `"${heading}" does not say at which temperature and field it was measured.`;
      rows.doubtColumn(column, heading, 'a temperature and a field, such as 77 K, 0 T', message);
    }
  }
  const films = rows.films();
  return { ok: true, films, doubts: rows.doubts };
}
