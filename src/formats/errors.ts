// Faults and warnings of the readers: the codes with their remedies, and the sentence made from them. Pure.

/** Every code of `formats/`, with what to do next. docs/errors.md is made from this list. */
export const FORMAT_CODES = {
  READ_EMPTY: 'Export it again; the program that wrote it may have been stopped.',
  READ_BINARY: 'Export the data as text (comma, tab or blank separated) from the program that made the file.',
  READ_TOO_LARGE: 'Split the file, or export fewer points.',
  READ_LINE_TOO_LONG: 'Check that this is the measured data as text, with one row a line.',
  READ_TOO_MANY_COLUMNS: 'Export only the columns that matter, or write the table turned by a quarter.',
  READ_TOO_MANY_BLOCKS: 'Split the file, or export the scans as one table.',
  READ_NO_NUMBERS:
    'Check that this is the measured data; rows of numbers with the same number of columns are read.',
  READ_COLUMN_COUNT:
    'Nothing was imported; export it again, or import the whole rows only (the record will say so).',
  READ_NUMBER:
    'Nothing was imported; an unreadable number is not zero. Correct it, or write NaN where nothing was measured.',
  READ_NUMBER_DOUBT:
    'Export without thousands separators, or say which mark is the decimal mark when importing.',
  READ_DECIMAL_DOUBT: 'Say which mark is the decimal mark when importing.',
  READ_DELIMITER_CHANGED: 'Say how the columns are parted when importing, or split the file.',
  READ_POINT_AS_DECIMAL: 'Check the numbers shown; if the points part thousands, say so when importing.',
  READ_ROWS_LEFT_OUT: 'Export the file again if the rows matter.',
  READ_NUMBERS_IN_HEADER: 'Check that no measured row is among them.',
  READ_TEXT_BETWEEN: 'Choose the block that you want.',
  READ_TEXT_COLUMN: 'Nothing to do unless the column was meant to hold numbers.',
  READ_CLOCK_COLUMN: 'Nothing to do unless the clock was set while it ran.',
  READ_CLOCK: 'Correct the stamp, or leave it empty where nothing was read.',
  READ_CLOCK_BACK:
    'A clock set back, as at the end of summer time, is not corrected: split the file there, or write elapsed seconds.',
  READ_DATE_DOUBT: 'Say whether the day or the month stands first when importing.',
  READ_HEADINGS_COUNT: 'Say what each column is when importing.',
  READ_NO_HEADINGS: 'Say what each column is when importing.',
  READ_HEADINGS_NUMERIC: 'Check that this line is not a damaged row.',
  READ_ENCODING: 'Check the headings for wrong letters; the numbers are not affected.',
  READ_JSON: 'Export the document again; it may be cut short or edited by hand.',
  READ_JSON_DEPTH: 'Check that this is a document written by Peritect.',
  READ_JSON_FORMAT: 'Check that this is a document written by Peritect, not by another program.',
  READ_JSON_VERSION: 'Bring Peritect up to date, then read it again.',
  WRITE_JSON: 'A fault in Peritect: please report what was being written.',
  MAP_BLOCK: 'Choose one of the blocks of the file.',
  MAP_COLUMN: 'Choose one of the columns of the block.',
  MAP_ROLE: 'Give each role of the kind of measurement one column.',
  MAP_UNIT: 'Choose one of the units listed for the role.',
  MAP_NO_ROWS: 'Choose the columns that hold the measured numbers.',
  MAP_TIME_BACK: 'Split the file where the time begins anew, or choose the column of elapsed time.',
  MAP_MISSING_VALUES: 'Nothing to do unless the values were measured.',
  MAP_OVERRANGE: 'Measure again on a wider range if the points matter.',
  MAP_RANGE: 'Check the unit chosen for this column.',
  TABLE_NO_ROWS: 'Give a table with one line of headings and one row a film or piece.',
  TABLE_COLUMN: 'Choose one of the columns of the table.',
  TABLE_FIELD: 'Give each field at most one column.',
  TABLE_QUOTE: 'Close the quotation mark, or export the table again.',
  TABLE_TOO_LARGE: 'Split the table.',
} as const satisfies Record<string, string>;

export type FormatCode = keyof typeof FORMAT_CODES;

/** Something odd that does not stop the import; it reaches the record. */
export interface ReadWarning {
  readonly code: FormatCode;
  readonly message: string;
  readonly line?: number;
}

/** Why nothing was imported; `line` and `column` (a character's place) count from 1, 0 where there is none. */
export interface ReadFailure {
  readonly ok: false;
  readonly code: FormatCode;
  readonly message: string;
  /** the message's two parts: what is wrong, and what to do next */
  readonly sentence: string;
  readonly remedy: string;
  readonly line: number;
  readonly column: number;
}

/** The failure made from a sentence that says what was found and what was expected; the code adds the remedy. */
export function readFailure(
  code: FormatCode,
  sentence: string,
  line = 0,
  column = 0,
  remedy: string = FORMAT_CODES[code],
): ReadFailure {
  return { ok: false, code, message: `${sentence} ${remedy}`, sentence, remedy, line, column };
}

/** The warning made from a sentence; the code adds what to do. */
export function readWarning(code: FormatCode, sentence: string, line?: number): ReadWarning {
  const message = `${sentence} ${FORMAT_CODES[code]}`;
  return line === undefined ? { code, message } : { code, message, line };
}

/** A piece of a file as a message may show it: one line, no control characters, at most `max` characters. */
export function shown(text: string, max = 60): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is taken out
  const clean = text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u202a-\u202e\u2066-\u2069]+/g, ' ');
  return clean.length > max ? `${clean.slice(0, max)}...` : clean;
}
