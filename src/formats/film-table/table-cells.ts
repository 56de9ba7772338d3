// The cells of a table by what their columns mean, with the doubts that they raise. Pure.
import { shown } from '../errors.ts';
import { MISSING, NUMBER, NumberText } from '../text/number-text.ts';
import {
  FILM_FIELDS,
  type FilmField,
  type FilmTableColumn,
  type TableDoubt,
  type TextTable,
} from './schema.ts';

const MAX_DOUBTS = 1000;
const MAX_LABEL = 200;

/** Rows count from 1. */
export class TableCells {
  readonly doubts: TableDoubt[] = [];
  readonly table: TextTable;
  readonly #columns: readonly FilmTableColumn[];
  readonly #number = new NumberText();
  readonly #encoder = new TextEncoder();

  constructor(table: TextTable, columns: readonly FilmTableColumn[]) {
    this.table = table;
    this.#columns = columns;
  }

  column(field: FilmField): FilmTableColumn | undefined {
    return this.#columns.find((each) => each.field === field);
  }

  columnsOf(field: FilmField): FilmTableColumn[] {
    return this.#columns.filter((each) => each.field === field);
  }

  heading({ column }: FilmTableColumn): string {
    return this.table.headings[column]!;
  }

  cell(row: number, { column }: FilmTableColumn): string {
    return this.table.rows[row - 1]![column]!;
  }

  text(row: number, field: FilmField): string | null {
    const column = this.column(field);
    if (column === undefined) return null;
    const cell = this.cell(row, column);
    if (cell.length > MAX_LABEL && field !== 'phases') {
      const message = `The ${FILM_FIELDS[field].label} is too long; it was cut.`;
      this.doubt(row, column, `at most ${MAX_LABEL} characters`, message);
    }
    return cell.slice(0, field === 'phases' ? undefined : MAX_LABEL) || null;
  }

  /** A cell's number as written; null if missing or, with a question, unreadable. */
  plainNumber(row: number, column: FilmTableColumn): number | null {
    return this.numberIn(row, column, this.cell(row, column).replace(/\s*%$/, ''));
  }

  numberIn(row: number, column: FilmTableColumn, cell: string): number | null {
    const bytes = this.#encoder.encode(cell);
    const mark = this.table.decimalMark ?? '.';
    const kind = this.#number.read(bytes, 0, bytes.length, mark, false);
    if (kind === NUMBER) return this.#number.value;
    if (kind !== MISSING) {
      const expected = `a number with a decimal ${mark === '.' ? 'point' : 'comma'}`;
      this.doubt(row, column, expected, 'This is no number; it was left empty, not taken as zero.');
    }
    return null;
  }

  doubt(row: number, column: FilmTableColumn | undefined, expected: string, message: string): void {
    if (this.doubts.length >= MAX_DOUBTS) return;
    const heading = column === undefined ? '' : this.heading(column);
    const found = column === undefined ? '' : shown(this.cell(row, column));
    this.doubts.push({ row, column: heading, found, expected, message });
  }

  /** A question about a whole column: row 0. */
  doubtColumn(column: FilmTableColumn, found: string, expected: string, message: string): void {
    this.doubts.push({ row: 0, column: this.heading(column), found, expected, message });
  }

  /** What no column of the mapping reads, if anything stands in it; so that nothing is lost unseen. */
  doubtUnread(mapped: readonly FilmTableColumn[]): void {
    const read = new Set(mapped.map(({ column }) => column));
    for (const [i, heading] of this.table.headings.entries()) {
      const filled = read.has(i) ? undefined : this.table.rows.find((cells) => cells[i] !== '');
      if (filled === undefined) continue;
      const message = `Column ${i + 1} is not read: choose what it means, or it is left out.`;
      this.doubts.push({
        row: 0,
        column: heading,
        found: shown(filled[i]!),
        expected: 'a meaning, or to be left out',
        message,
      });
    }
  }
}
