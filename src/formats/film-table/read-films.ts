// From the text cells of a table to films in SI, with a question for every cell that makes no sense. A dry run: pure.
import { type ReadFailure, readFailure, shown } from '../errors.ts';
import { findUnit } from '../units.ts';
import { RowCations } from './cations-of-row.ts';
import { cellWithUnit } from './cell-unit.ts';
import { areOneMixture } from './heading-elements.ts';
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
import { TableCells } from './table-cells.ts';

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
/** A phase said not to be there, in English or German. */
const DENIED = /^(no|not|without|kein|keine|ohne)\b|\b(absent|not seen|none|nicht)\b/i;

class FilmRows {
  readonly #cells: TableCells;
  readonly #cations: RowCations;

  constructor(cells: TableCells, usualRareEarth: string | null) {
    this.#cells = cells;
    this.#cations = new RowCations(cells, usualRareEarth);
  }

  films(): TableFilm[] {
    const seen = new Map<string, number>();
    this.#cations.doubtIncomplete();
    const films = this.#cells.table.rows.flatMap((_, i) => {
      const row = i + 1;
      const label = this.#cells.text(row, 'label');
      if (label === null) {
        this.#cells.doubt(
          row,
          this.#cells.column('label'),
          'a film label',
          'This row names no film and was left out.',
        );
        return [];
      }
      const pieceLabel = this.#cells.text(row, 'pieceLabel');
      const key = JSON.stringify([label.toLowerCase(), pieceLabel?.toLowerCase() ?? null]);
      const earlier = seen.get(key);
      if (earlier !== undefined) {
        const what = pieceLabel === null ? `film ${label}` : `piece ${pieceLabel} of film ${label}`;
        const expected = 'one row a film or piece';
        this.#cells.doubt(
          row,
          this.#cells.column('label'),
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
      const column = field === 'cations' ? this.#cationColumn() : this.#cells.column(field);
      const what = field === 'cations' ? 'cation ratio' : FILM_FIELDS[field].label;
      const message =
        `Film ${shown(rows[0]!.label)}, ${what}: row ${taken.row} says ${shown(taken.text)}, ` +
        `row ${other.row} says ${shown(other.text)}. That of row ${taken.row} is recorded; correct the other.`;
      this.#cells.doubt(other.row, column, 'the same in each row of a film', message);
    }
  }

  #cationColumn(): FilmTableColumn | undefined {
    return this.#cells.column('formula') ?? this.#cells.column('amountBa');
  }

  #film(row: number, label: string, pieceLabel: string | null): TableFilm {
    const jcColumns = this.#cells.columnsOf('jcAPerM2');
    const notes = this.#cells.columnsOf('note').map((column) => this.#cells.cell(row, column));
    return {
      row,
      label,
      pieceLabel,
      cations: this.#cations.cations(row),
      substrate: this.#cells.text(row, 'substrate'),
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
    const named = (this.#cells.text(row, 'phases') ?? '')
      .split(/[,;+&|]/)
      .map((phase) => phase.trim())
      .filter(Boolean);
    const denied = named.filter((phase) => DENIED.test(phase));
    if (denied.length > 0) {
      const message = `"${denied.join(', ')}" is not taken as a phase that was seen; absence is for a scan to say.`;
      this.#cells.doubt(row, this.#cells.column('phases'), 'phases that were seen', message);
    }
    return named.filter((phase) => !DENIED.test(phase));
  }

  #value(row: number, field: FilmField): number | null {
    const column = this.#cells.column(field);
    return column === undefined ? null : this.#valueOf(row, column);
  }

  #valueOf(row: number, column: FilmTableColumn): number | null {
    // `150 mTorr`, `1108 K`: a unit in the cell goes before the heading's
    const found = cellWithUnit(this.#cells.cell(row, column));
    const own = found && unitsOfFilmField(column.field).includes(found.unit.symbol) ? found : null;
    const stated = own ? this.#cells.numberIn(row, column, own.number) : this.#cells.plainNumber(row, column);
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
      this.#cells.doubt(row, column, `${range.min} to ${range.max} ${range.unit}`, message);
      return null;
    }
    return value;
  }

  #route(row: number): 'in situ' | 'ex situ' | null {
    const text = this.#cells.text(row, 'route');
    if (text === null) return null;
    const route = /^\s*(in|ex)[\s_-]*situ/i.exec(text)?.[1]?.toLowerCase();
    if (route === undefined) {
      this.#cells.doubt(
        row,
        this.#cells.column('route'),
        'in situ or ex situ',
        'The route is neither; it was left empty.',
      );
      return null;
    }
    return route === 'in' ? 'in situ' : 'ex situ';
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
 * Jc in A/m2. A column whose unit is still '' is not read but asked (row 0); so is one
 * that the mapping leaves out though something stands in it. A cell that is no number is left empty and
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
    const other = mapping.columns.find((each) => each.field === field);
    if (!('isRepeated' in definition) && other !== mapping.columns[i]) {
      const rivals = mapping.columns.filter((each) => each.field === field);
      const isMixture =
        field === 'amountRe' && areOneMixture(rivals.map((each) => table.headings[each.column]!));
      if (!isMixture) return readFailure('TABLE_FIELD', `Two columns were chosen for ${field}.`);
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
  const cells = new TableCells(
    table,
    mapping.columns.filter((column) => !isAsked(column)),
  );
  for (const column of mapping.columns) {
    const heading = shown(table.headings[column.column]!);
    if (isAsked(column)) {
      const expected = unitsOfFilmField(column.field).join(', ');
      cells.doubtColumn(column, 'no unit', expected, `"${heading}" was not read: in which unit is it?`);
    } else if (column.field === 'jcAPerM2' && (column.at ?? null) === null) {
      const message = `"${heading}" does not say at which temperature and field it was measured.`;
      cells.doubtColumn(column, heading, 'a temperature and a field, such as 77 K, 0 T', message);
    }
  }
  const films = new FilmRows(cells, usualRareEarth).films();
  cells.doubtUnread(mapping.columns);
  return { ok: true, films, doubts: cells.doubts };
}
