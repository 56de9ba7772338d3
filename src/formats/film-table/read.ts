// Reads a table of past films as text cells: quoted fields with line ends in them, any delimiter, encoding, decimal mark.
import { type ReadFailure, readFailure, shown } from '../errors.ts';
import type { OpenReader, Reader, ReadResult } from '../reader.ts';
import { LineText, TextBytes } from '../text/encoding.ts';
import { type DecimalMark, DOUBT, MISSING, NUMBER, NumberText } from '../text/number-text.ts';
import { cellWithUnit } from './cell-unit.ts';
import type { TableDelimiter, TextTable } from './schema.ts';
import * as bounds from './schema.ts';

export interface FilmTableOptions {
  /** a person has said which; found by consistency if left out */
  readonly delimiter?: TableDelimiter;
  readonly decimalMark?: DecimalMark;
}

/** share of cells that are numbers in a column of numbers */
const NUMBERS_OF_COLUMN = 0.7;
const MARKS: Record<TableDelimiter, string> = { tab: '\t', semicolon: ';', comma: ',' };

/** One record of a table with the line that it begins in. */
interface TableRecord {
  cells: string[];
  line: number;
}

/** Records of a delimited text by RFC 4180, with the delimiter given; a failure if a quotation mark stays open. */
export function recordsOf(text: string, mark: string): TableRecord[] | ReadFailure {
  const records: TableRecord[] = [];
  let record: TableRecord = { cells: [], line: 1 };
  let line = 1;
  let at = 0;
  const endRecord = (): void => {
    records.push(record);
    record = { cells: [], line };
  };
  while (at < text.length) {
    let first = at;
    while (text[first] === ' ') first++;
    let cell = '';
    if (text[first] === '"') {
      const opened = line;
      at = first + 1;
      for (;;) {
        const close = text.indexOf('"', at);
        if (close < 0) {
          return readFailure(
            'TABLE_QUOTE',
            `A quotation mark opened in line ${opened} is not closed.`,
            opened,
            1,
          );
        }
        const inside = text.slice(at, close);
        line += inside.match(/\r\n|\r|\n/g)?.length ?? 0;
        cell += inside;
        at = close + 1;
        if (text[at] !== '"') break;
        cell += '"';
        at++;
      }
    }
    let end = at;
    while (end < text.length && text[end] !== mark && text[end] !== '\n' && text[end] !== '\r') end++;
    cell += text.slice(at, end);
    record.cells.push(cell.trim());
    at = end + 1;
    if (end >= text.length) break;
    if (text[end] === mark) {
      if (at >= text.length) record.cells.push('');
      continue;
    }
    if (text[end] === '\r' && text[at] === '\n') at++;
    line++;
    endRecord();
  }
  if (record.cells.length > 0) endRecord();
  return records;
}

const filledOf = (cells: readonly string[]): number => cells.findLastIndex((cell) => cell !== '') + 1;

/** The line of headings and the rows under it; undefined if no line has two headings. */
function tableAt(records: readonly TableRecord[]): { head: TableRecord; rows: TableRecord[] } | undefined {
  const filled = records.filter(({ cells }) => filledOf(cells) > 0);
  const widest = filled.reduce((most, { cells }) => Math.max(most, filledOf(cells)), 0);
  const headAt = filled.findIndex(
    ({ cells }) => cells.filter((cell) => /\p{L}/u.test(cell)).length >= 2 && 2 * filledOf(cells) > widest,
  );
  if (headAt < 0) return undefined;
  return { head: filled[headAt]!, rows: filled.slice(headAt + 1) };
}

/** Votes of the columns of numbers for a decimal mark. */
function decimalMarkOf(
  headings: readonly string[],
  rows: readonly TableRecord[],
): DecimalMark | null | ReadFailure {
  const number = new NumberText();
  const encoder = new TextEncoder();
  const first: Record<DecimalMark, { cell: string; line: number } | undefined> = {
    '.': undefined,
    ',': undefined,
  };
  let onlyGrouped: { cell: string; line: number } | undefined;
  for (let column = 0; column < headings.length; column++) {
    const seen = { cells: 0, numbers: 0 };
    const own: typeof first = { '.': undefined, ',': undefined };
    let grouped: typeof onlyGrouped;
    for (const { cells, line } of rows) {
      const written = cells[column] ?? '';
      const cell = cellWithUnit(written)?.number ?? written;
      const bytes = encoder.encode(cell);
      if (number.read(bytes, 0, bytes.length, '.', false) === MISSING) continue;
      seen.cells++;
      let isNumber = false;
      for (const mark of ['.', ','] as const) {
        const kind = number.read(bytes, 0, bytes.length, mark, false);
        isNumber ||= kind === NUMBER || kind === DOUBT;
        if (kind !== NUMBER || !number.sawMark) continue;
        if (mark === ',' && number.couldBeGrouped) grouped ??= { cell, line };
        else own[mark] ??= { cell, line };
      }
      if (isNumber) seen.numbers++;
    }
    // a column of dates or remarks has no say
    if (seen.numbers < NUMBERS_OF_COLUMN * seen.cells) continue;
    for (const mark of ['.', ','] as const) first[mark] ??= own[mark];
    onlyGrouped ??= grouped;
  }
  const point = first['.'];
  const comma = first[','];
  if (point !== undefined && comma !== undefined) {
    const sentence = `Line ${point.line} holds ${shown(point.cell)} and line ${comma.line} holds ${shown(comma.cell)}.`;
    return readFailure('READ_NUMBER_DOUBT', sentence, comma.line, 1);
  }
  if (point === undefined && comma === undefined && onlyGrouped !== undefined) {
    const sentence = `Line ${onlyGrouped.line} holds ${shown(onlyGrouped.cell)}: it may part decimals or thousands.`;
    return readFailure('READ_DECIMAL_DOUBT', sentence, onlyGrouped.line, 1);
  }
  return point !== undefined ? '.' : comma !== undefined ? ',' : null;
}

function tableOf(text: string, options: FilmTableOptions): Omit<TextTable, 'encoding'> | ReadFailure {
  const delimiters: TableDelimiter[] = options.delimiter
    ? [options.delimiter]
    : ['tab', 'semicolon', 'comma'];
  let firstFault: ReadFailure | undefined;
  let best: { delimiter: TableDelimiter; head: TableRecord; rows: TableRecord[] } | undefined;
  for (const delimiter of delimiters) {
    const records = recordsOf(text, MARKS[delimiter]);
    if (!Array.isArray(records)) {
      firstFault ??= records;
      continue;
    }
    const found = tableAt(records);
    if (found === undefined) continue;
    if (best === undefined || filledOf(found.head.cells) > filledOf(best.head.cells))
      best = { delimiter, ...found };
  }
  if (best === undefined) {
    return firstFault ?? readFailure('TABLE_NO_ROWS', 'No line of at least two headings was found.', 1, 1);
  }
  const { delimiter, head, rows } = best;
  const width = filledOf(head.cells);
  if (rows.length === 0) {
    return readFailure(
      'TABLE_NO_ROWS',
      `No rows stand under the headings of line ${head.line}.`,
      head.line,
      1,
    );
  }
  if (rows.length > bounds.MAX_TABLE_ROWS || width > bounds.MAX_TABLE_COLUMNS) {
    const sentence =
      `The table has ${rows.length} rows and ${width} columns; at most ${bounds.MAX_TABLE_ROWS} rows and ` +
      `${bounds.MAX_TABLE_COLUMNS} columns are read.`;
    return readFailure('TABLE_TOO_LARGE', sentence, head.line, 1);
  }
  for (const { cells, line } of rows) {
    if (cells.length < width || filledOf(cells) > width) {
      const has = Math.max(filledOf(cells), Math.min(cells.length, width));
      const sentence = `Line ${line} has ${has} columns, the headings of line ${head.line} have ${width}.`;
      return readFailure(
        'READ_COLUMN_COUNT',
        sentence,
        line,
        1,
        'Nothing was imported; export the table again.',
      );
    }
    const long = cells.findIndex((cell) => cell.length > bounds.MAX_CELL);
    if (long >= 0) {
      const sentence = `Field ${long + 1} of line ${line} has ${cells[long]!.length} characters.`;
      return readFailure('TABLE_TOO_LARGE', sentence, line, 1);
    }
  }
  const headings = head.cells.slice(0, width);
  const decimalMark = options.decimalMark ?? decimalMarkOf(headings, rows);
  if (decimalMark !== null && typeof decimalMark === 'object') return decimalMark;
  return {
    headings: headings.map((heading) => heading.replace(/\s+/g, ' ').slice(0, 200)),
    rows: rows.map(({ cells }) => cells.slice(0, width)),
    lines: rows.map(({ line }) => line),
    delimiter,
    decimalMark,
  };
}

class FilmTableReading implements OpenReader<TextTable> {
  bytesRead = 0;
  #failure: ReadFailure | null = null;
  #result: ReadResult<TextTable> | null = null;
  readonly #options: FilmTableOptions;
  readonly #pieces: Uint8Array[] = [];
  readonly #text = new TextBytes((bytes) => {
    this.#pieces.push(bytes.slice());
  });

  constructor(options: FilmTableOptions) {
    this.#options = options;
  }

  get failure(): ReadFailure | null {
    return this.#failure;
  }

  push(bytes: Uint8Array): void {
    if (this.#failure !== null || this.#result !== null) return;
    const room = bounds.MAX_TABLE_BYTES - this.bytesRead;
    this.bytesRead += bytes.length;
    this.#text.push(bytes.subarray(0, Math.max(room, 0)));
    this.#failure ??= this.#text.failure;
    if (bytes.length > room) {
      const sentence = `The table is larger than ${bounds.MAX_TABLE_BYTES / 1e6} MB, the most that is read.`;
      this.#failure ??= readFailure('READ_TOO_LARGE', sentence);
    }
  }

  end(): ReadResult<TextTable> {
    this.#result ??= this.#finish();
    return this.#result;
  }

  #finish(): ReadResult<TextTable> {
    if (this.#failure !== null) return this.#failure;
    if (this.bytesRead === 0) return readFailure('READ_EMPTY', 'The file is empty: it has 0 bytes.');
    this.#text.end();
    this.#failure ??= this.#text.failure;
    if (this.#failure !== null) return this.#failure;
    const bytes = joined(this.#pieces);
    const zero = bytes.indexOf(0);
    if (zero >= 0) {
      this.#failure = readFailure('READ_BINARY', `Byte ${zero + 1} is zero: this is not text.`, 1, 1);
      return this.#failure;
    }
    const letters = new LineText();
    const table = tableOf(letters.decode(bytes), this.#options);
    if ('ok' in table) {
      this.#failure = table;
      return table;
    }
    const encoding = this.#text.encoding === 'utf-8' && letters.sawLatin ? 'latin-1' : this.#text.encoding;
    return { ok: true, value: { ...table, encoding }, warnings: [] };
  }
}

function joined(pieces: readonly Uint8Array[]): Uint8Array {
  const whole = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}

/** The reader of tables of past films: bytes in, text cells out. See docs/guide/files.md. */
export const filmTableReader: Reader<TextTable, FilmTableOptions> = {
  name: 'film-table',
  version: 1,
  maxBytes: bounds.MAX_TABLE_BYTES,
  open: (options = {}) => new FilmTableReading(options),
};
