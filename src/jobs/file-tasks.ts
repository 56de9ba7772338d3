// Reading files: what runs in a worker thread, since a file of 20 MB takes seconds.
import { columnarReader } from '../formats/columnar/read.ts';
import type { Columnar, ColumnarBlock } from '../formats/columnar/schema.ts';
import { applyMapping } from '../formats/curves/apply-mapping.ts';
import { guessMapping } from '../formats/curves/guess-mapping.ts';
import { settingsFromFile } from '../formats/curves/settings.ts';
import type { ReadFailure, ReadWarning } from '../formats/errors.ts';
import { guessFilmColumns } from '../formats/film-table/guess-columns.ts';
import { filmTableReader } from '../formats/film-table/read.ts';
import { readFilms } from '../formats/film-table/read-films.ts';
import type { FilmTableMapping, TableDoubt, TableFilm } from '../formats/film-table/schema.ts';
import type { ColumnMapping, MeasurementSettings, ReadingAnswers, TableReading } from '../records/kinds.ts';

/** Rows shown before anything is decided. */
const FIRST_ROWS = 8;
/** Blocks looked at; a file of more is shown by its first ones. */
const MOST_BLOCKS = 50;

export interface LookedBlock {
  headings: string[];
  units: string[];
  rows: number;
  shape: string;
  firstRows: (number | null)[][];
}
export interface LookedFile {
  blocks: LookedBlock[];
  headerLines: string[];
  /** the first block's guess that has one */
  mapping: ColumnMapping | null;
  doubts: string[];
  settings: MeasurementSettings;
  warnings: string[];
}
export interface ReadCurve {
  /** SI, one a role */
  columns: Float64Array[];
  roles: string[];
  warnings: string[];
  reader: { name: string; version: number };
}

export interface ReadTable {
  headings: string[];
  rowCount: number;
  firstRows: string[][];
  mapping: FilmTableMapping;
  films: readonly TableFilm[];
  doubts: readonly TableDoubt[];
}

export type FileOutcome<T> = ({ ok: true } & T) | { ok: false; failure: ReadFailure };

/** How files are read: by the pool's threads, or here. */
export interface FileTasks {
  look(bytes: Uint8Array, fileName: string, reading?: ReadingAnswers): Promise<FileOutcome<LookedFile>>;
  readCurve(bytes: Uint8Array, mapping: ColumnMapping): Promise<FileOutcome<ReadCurve>>;
  /** a table of past films; with the mapping that its headings suggest if none is given */
  readTable(
    bytes: Uint8Array,
    mapping: FilmTableMapping | null,
    usualRareEarth: string | null,
    reading?: TableReading,
  ): Promise<FileOutcome<ReadTable>>;
}

const warningText = ({ message, line }: ReadWarning): string =>
  line === undefined ? message : `Line ${line}: ${message}`;

function parse(
  bytes: Uint8Array,
  reading: ReadingAnswers = {},
): { ok: true; value: Columnar; warnings: string[] } | { ok: false; failure: ReadFailure } {
  const open = columnarReader.open(reading);
  open.push(bytes);
  const result = open.end();
  if (!result.ok) return { ok: false, failure: result };
  return { ok: true, value: result.value, warnings: result.warnings.map(warningText) };
}

function lookedBlock(block: ColumnarBlock): LookedBlock {
  const shown = Math.min(block.rows, FIRST_ROWS);
  return {
    headings: [...block.headings],
    units: [...block.units],
    rows: block.rows,
    shape: block.shape,
    firstRows: Array.from({ length: shown }, (_, row) =>
      block.columns.map((column) => (Number.isNaN(column[row]!) ? null : column[row]!)),
    ),
  };
}

/** Why the clock that a mapping goes by cannot be read; null if it can. */
function clockFault(
  blocks: readonly ColumnarBlock[],
  mapping: { block: number; columns: readonly { role: string; column: number }[] } | null,
): ReadFailure | null {
  const time = mapping?.columns.find(({ role }) => role === 'timeS');
  if (!mapping || !time) return null;
  return blocks[mapping.block]?.clocks.find(({ column }) => column === time.column)?.fault ?? null;
}

/** What a file holds and what it seems to be. */
export function lookAtBytes(
  bytes: Uint8Array,
  fileName: string,
  reading?: ReadingAnswers,
): FileOutcome<LookedFile> {
  const parsed = parse(bytes, reading);
  if (!parsed.ok) return parsed;
  const { blocks, comments } = parsed.value;
  const guesses = blocks.map((block, i) => guessMapping(block, i, comments));
  const guess = guesses.find(({ mapping }) => mapping !== null) ?? guesses[0];
  const fault = clockFault(blocks, guess?.mapping ?? null);
  if (fault) return { ok: false, failure: fault };
  const warnings = [...parsed.warnings];
  if (blocks.length > 1) {
    const chosen = (guess?.mapping?.block ?? 0) + 1;
    warnings.push(
      `The file has ${blocks.length} blocks; block ${chosen} is read. Read it in again for another block.`,
    );
  }
  return {
    ok: true,
    blocks: blocks.slice(0, MOST_BLOCKS).map(lookedBlock),
    headerLines: [...(blocks[0]?.headerLines ?? [])],
    mapping: guess?.mapping ? ({ ...guess.mapping, ...(reading ? { reading } : {}) } as ColumnMapping) : null,
    doubts: [...(guess?.doubts ?? [])],
    settings: settingsFromFile(fileName, comments),
    warnings,
  };
}

/** Where a file states voltage and current instead of a resistance, their quotient is its column. */
function withResistance(columns: Float64Array[], roles: string[]): void {
  const [voltage, current] = [columns[roles.indexOf('voltageV')], columns[roles.indexOf('currentA')]];
  if (roles.includes('resistanceOhm') || !voltage || !current) return;
  columns.push(voltage.map((volts, i) => (current[i] === 0 ? Number.NaN : volts / current[i]!)));
  roles.push('resistanceOhm');
}

/** A file's mapped columns in SI. */
export function readCurveBytes(bytes: Uint8Array, mapping: ColumnMapping): FileOutcome<ReadCurve> {
  const parsed = parse(bytes, mapping.reading);
  if (!parsed.ok) return parsed;
  const applied = applyMapping(parsed.value.blocks, mapping);
  if (!applied.ok) return { ok: false, failure: applied };
  const columns = [...applied.value.columns];
  const roles: string[] = [...applied.value.roles];
  if (mapping.kind === 'resistance') withResistance(columns, roles);
  return {
    ok: true,
    columns,
    roles,
    warnings: [...parsed.warnings, ...applied.warnings.map(warningText)],
    reader: { name: columnarReader.name, version: columnarReader.version },
  };
}

/** The films of a table, and what is doubtful about them. */
export function readTableBytes(
  bytes: Uint8Array,
  given: FilmTableMapping | null,
  usualRareEarth: string | null,
  reading?: TableReading,
): FileOutcome<ReadTable> {
  const open = filmTableReader.open(reading);
  open.push(bytes);
  const read = open.end();
  if (!read.ok) return { ok: false, failure: read };
  const table = read.value;
  const guess = guessFilmColumns(table);
  const mapping = given ?? guess.mapping;
  const films = readFilms(table, mapping, usualRareEarth);
  if (!films.ok) return { ok: false, failure: films };
  return {
    ok: true,
    headings: [...table.headings],
    rowCount: table.rows.length,
    firstRows: table.rows.slice(0, FIRST_ROWS).map((row) => [...row]),
    mapping,
    films: films.films,
    doubts: [...(given === null ? guess.doubts : []), ...films.doubts],
  };
}
