// Headings, units, comments and shape of a block, from the lines above it. Pure.
import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { type Delimiter, splitText } from '../text/fields.ts';
import { type DecimalMark, NUMBER, NumberText } from '../text/number-text.ts';
import { findUnit, type Heading, partHeading, unitsOfLine } from '../units.ts';
import type { ClockPlace } from './clock-column.ts';
import type { Grammar } from './grammar.ts';

/** A line above a block: its text without comment mark, and its number. */
export interface HeaderLine {
  readonly text: string;
  readonly line: number;
  readonly isComment: boolean;
}

/** Lines of text looked at above a block, from below, for one that has a heading a column. */
const LINES_LOOKED_AT = 4;
const MAX_KEY = 80;
const MAX_VALUE = 500;
const COMMENT_MARKS = /^\s*(?:#+|%+|;+|!+|\/\/+|')\s?/;

/** A line of text, its comment mark taken off. */
export function headerLine(whole: string, line: number): HeaderLine {
  const text = whole.replace(COMMENT_MARKS, '');
  return { text, line, isComment: text !== whole };
}

export interface FoundHeadings {
  readonly headings: readonly string[];
  readonly units: readonly string[];
  /** line that the headings were read from; undefined if there are none */
  readonly line?: number;
  /** that line and, if it has one, the line of units under it */
  readonly lines: readonly number[];
  /** fields of that line that are numbers */
  readonly numbers: number;
  /** headings of the nearest line, if their number is not that of the columns */
  readonly mismatch?: { line: number; count: number };
}

const number = (): NumberText => new NumberText();
const isNumber = (text: string, mark: DecimalMark): boolean => {
  const bytes = utf8ToBytes(text);
  return number().read(bytes, 0, bytes.length, mark, false) === NUMBER;
};

/** Every way of parting a line that gives exactly `columns` fields; padding of empty fields is cut. */
function fieldsOfLine(text: string, delimiter: Delimiter, columns: number): string[] | undefined {
  const ways: string[][] = [];
  const add = (fields: string[]): void => {
    let filled = fields.length;
    while (filled > 0 && fields[filled - 1] === '') filled--;
    if (filled <= columns && fields.length >= columns) ways.push(fields.slice(0, columns));
  };
  if (delimiter === 'none') add([text.trim()]);
  add(splitText(text, delimiter));
  if (delimiter === 'blanks') {
    add(
      text
        .trim()
        .split(/\t+/)
        .map((field) => field.trim()),
    );
    add(text.trim().split(/\s{2,}/));
    // `T (K)  R (ohm)`: a unit in brackets belongs to the word before it
    add(
      splitText(text, 'blanks').reduce<string[]>((fields, word) => {
        const last = fields.length - 1;
        if (/^[([{<]/.test(word) && last >= 0) fields[last] += ` ${word}`;
        else fields.push(word);
        return fields;
      }, []),
    );
    if (text.includes(',')) add(text.split(',').map((field) => field.trim()));
  }
  return ways.find((fields) => fields.some((field) => /\p{L}|\u00b0/u.test(field)));
}

/**
 * Headings and units of a block: the lowest of the few lines of text above it that has one field a column; a line of
 * units alone belongs to the line above it. A line `key: value` or `key = value` is no line of headings.
 */
export function findHeadings(
  above: readonly HeaderLine[],
  delimiter: Delimiter,
  mark: DecimalMark,
  columns: number,
): FoundHeadings {
  const none = {
    headings: Array<string>(columns).fill(''),
    units: Array<string>(columns).fill(''),
    numbers: 0,
    lines: [],
  };
  const texts = above.filter(({ text }) => /[\p{L}\u00b0]/u.test(text)).slice(-LINES_LOOKED_AT);
  let mismatch: { line: number; count: number } | undefined;
  for (let at = texts.length - 1; at >= 0; at--) {
    const { text, line } = texts[at]!;
    const fields = fieldsOfLine(text, delimiter, columns);
    const numbers = fields === undefined ? 0 : fields.filter((field) => isNumber(field, mark)).length;
    if (fields === undefined || (columns <= 2 && numbers > 0) || isPair(text, columns)) {
      const count = splitText(text, delimiter).filter((field) => field !== '').length;
      if (at === texts.length - 1 && delimiter !== 'blanks' && count > 1) mismatch = { line, count };
      continue;
    }
    const units = unitsOfLine(fields);
    const named = at > 0 ? fieldsOfLine(texts[at - 1]!.text, delimiter, columns) : undefined;
    if (units !== undefined && named !== undefined && !isPair(texts[at - 1]!.text, columns)) {
      const parts = named.map(partHeading);
      return {
        headings: parts.map(({ name }) => name),
        units: units.map((unit, i) => unit || parts[i]!.unit),
        line: texts[at - 1]!.line,
        lines: [texts[at - 1]!.line, line],
        numbers: 0,
      };
    }
    const parts: Heading[] =
      units === undefined ? fields.map(partHeading) : units.map((unit) => ({ name: '', unit }));
    return {
      headings: parts.map(({ name }) => name),
      units: parts.map(({ unit }) => unit),
      line,
      lines: [line],
      numbers,
    };
  }
  return mismatch === undefined ? none : { ...none, mismatch };
}

/**
 * The same where a clock may take two columns: one heading over date and time, parted by blanks like the rest, stands
 * over the time.
 */
export function findClockHeadings(
  above: readonly HeaderLine[],
  { delimiter, decimalMark }: Pick<Grammar, 'delimiter' | 'decimalMark'>,
  columns: number,
  clocks: readonly ClockPlace[],
): FoundHeadings {
  const found = findHeadings(above, delimiter, decimalMark, columns);
  const date = clocks.find((clock) => clock.date === clock.time - 1)?.date;
  if (found.line !== undefined || date === undefined || delimiter !== 'blanks') return found;
  const fewer = findHeadings(above, delimiter, decimalMark, columns - 1);
  if (fewer.line === undefined) return found;
  return {
    ...fewer,
    headings: fewer.headings.toSpliced(date, 0, ''),
    units: fewer.units.toSpliced(date, 0, ''),
  };
}

/** `key: value` or `key = value`, which could pass for two headings. */
function isPair(text: string, columns: number): boolean {
  return columns <= 3 && /^[^:=]{1,80}[:=](?!$)/.test(text.trim());
}

/** The pair in a line `key: value`, `key = value` or `key<delimiter>value`, cut to a bounded length. */
export function pairOf(text: string): { key: string; value: string } | undefined {
  if (text.length > 2 * MAX_VALUE) return undefined;
  const pair = /^\s*([^:=\t;,]{1,80}?)\s*(?:[:=]|\t+|;|,)\s*(.*\S)\s*$/.exec(text);
  if (pair === null) return undefined;
  const key = pair[1]!.replace(/^["']|["']$/g, '').trim();
  const value = pair[2]!.replace(/[;,\t\s]+$/, '').replace(/^"(.*)"$/, '$1');
  if (!/\p{L}/u.test(key) || value === '') return undefined;
  return { key: key.slice(0, MAX_KEY), value: value.slice(0, MAX_VALUE) };
}

/**
 * Text by which two files of one kind know each other: number of columns and a digest of headings and units, in any
 * case and spelling of the units; no number of the block goes in. Without headings it ends in `-unnamed`.
 */
export function blockShape(headings: readonly string[], units: readonly string[]): string {
  if (headings.every((heading) => heading === '') && units.every((unit) => unit === '')) {
    return `${headings.length}-unnamed`;
  }
  const plain = headings.map((heading, i) => [
    heading.normalize('NFKC').toLowerCase().replace(/\s+/g, ' ').trim(),
    findUnit(units[i]!)?.symbol ?? units[i]!.normalize('NFKC').trim(),
  ]);
  return `${headings.length}-${bytesToHex(sha256(utf8ToBytes(JSON.stringify(plain)))).slice(0, 32)}`;
}
