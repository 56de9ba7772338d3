// Sentences of the columnar reader's faults and warnings, from what was found. Pure.
import { type ReadFailure, type ReadWarning, readFailure, readWarning, shown } from '../errors.ts';
import type { FinishedClock } from './clock-column.ts';
import type { Grammar } from './grammar.ts';
import type { FoundHeadings } from './headings.ts';

/** A field as a message shows it. */
export function splitFieldText(bytes: Uint8Array, start: number, end: number): string {
  return shown(new TextDecoder().decode(bytes.subarray(start, end)).trim());
}

export function delimiterWords({ delimiter, decimalMark }: Grammar): string {
  return `${delimiter === 'none' ? 'nothing' : delimiter} with decimal ${decimalMark === '.' ? 'point' : 'comma'}`;
}

export function doubtFailure(text: string, line: number, column: number): ReadFailure {
  const sentence = `Line ${line} holds "${text}", in which a mark may part thousands or decimals.`;
  return readFailure('READ_NUMBER_DOUBT', sentence, line, column);
}

export function numberFailure(
  text: string,
  field: number,
  line: number,
  column: number,
  grammar: Grammar,
): ReadFailure {
  const expected = grammar.isMarkKnown
    ? `a number with a decimal ${grammar.decimalMark === '.' ? 'point' : 'comma'}`
    : 'a number';
  const sentence = `Line ${line}, column ${column} (field ${field + 1}): "${text}" found, ${expected} expected.`;
  return readFailure('READ_NUMBER', sentence, line, column);
}

const MOST_LINES_NAMED = 5;

/** How a column of clock stamps was read. */
export function clockSentence(
  { place, firstText, midnights }: FinishedClock,
  nameOf: (column: number) => string,
): string {
  const beside = place.date < 0 ? '' : `, with the dates of column ${place.date + 1},`;
  const lines = midnights.slice(0, MOST_LINES_NAMED).join(', ');
  const more = midnights.length > MOST_LINES_NAMED ? ` and ${midnights.length - MOST_LINES_NAMED} more` : '';
  const passed =
    midnights.length === 0
      ? ''
      : ` It passes midnight before line${midnights.length > 1 ? 's' : ''} ${lines}${more}.`;
  return `${nameOf(place.time)}${beside} is a clock: read as seconds since "${firstText}".${passed}`;
}

/** What is odd about the headings found for the block that begins at `firstLine`. */
export function headingsWarning(found: FoundHeadings, firstLine: number): ReadWarning | undefined {
  if (found.mismatch !== undefined) {
    const { line, count } = found.mismatch;
    const columns = found.headings.length;
    const sentence = `Line ${line} has ${count} fields, the rows under it have ${columns}: no headings were taken.`;
    return readWarning('READ_HEADINGS_COUNT', sentence, line);
  }
  if (found.line === undefined) {
    const sentence = `The block from line ${firstLine} on has no line of headings.`;
    return readWarning('READ_NO_HEADINGS', sentence, firstLine);
  }
  if (found.numbers > 0 && found.numbers * 2 >= found.headings.length) {
    const sentence = `Line ${found.line} was taken as headings; ${found.numbers} of them are numbers.`;
    return readWarning('READ_HEADINGS_NUMERIC', sentence, found.line);
  }
  return undefined;
}
