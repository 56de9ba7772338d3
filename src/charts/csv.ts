// A chart's table, and its text as comma-separated values. RFC 4180: CRLF, quotes doubled.

export type Cell = number | string | null;

export interface Column {
  readonly name: string;
  /** '' where there is none, as for a label */
  readonly unit: string;
  /** NaN and null: missing */
  readonly values: ArrayLike<Cell>;
}

export interface Table {
  readonly columns: readonly Column[];
}

/** Signs with which a spreadsheet begins a formula. */
const FORMULA_START = /^[=+\-@\t\r]/;

function quoted(text: string): string {
  return /[",\r\n]/.test(text) || text !== text.trim() ? `"${text.replaceAll('"', '""')}"` : text;
}

function cellText(cell: Cell | undefined): string {
  if (typeof cell === 'number') {
    return Number.isNaN(cell) ? '' : String(cell);
  }
  if (cell === null || cell === undefined) {
    return '';
  }
  // A text that a spreadsheet would run as a formula gets an apostrophe, which the spreadsheet shows as text.
  return quoted(FORMULA_START.test(cell) ? `'${cell}` : cell);
}

/**
 * The table as CSV: one header line with units in brackets, one line a row, missing cells empty.
 * Numbers are written in full (shortest text that reads back as the same number).
 */
export function csvText(table: Table): string {
  const { columns } = table;
  const header = columns.map(({ name, unit }) => cellText(unit === '' ? name : `${name} (${unit})`));
  const n = Math.max(0, ...columns.map(({ values }) => values.length));
  const lines = [header.join(',')];
  for (let i = 0; i < n; i++) {
    lines.push(columns.map(({ values }) => cellText(values[i])).join(','));
  }
  return `${lines.join('\r\n')}\r\n`;
}
