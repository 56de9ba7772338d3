// When the grammar found could as well be another one: the file is refused, with what to say. Pure.
import { FORMAT_CODES, type ReadFailure, readFailure } from '../errors.ts';
import { doubtFailure } from './faults.ts';
import type { Candidate } from './grammar.ts';
import type { FoundHeadings } from './headings.ts';

/** Every decimal mark found has three digits after it, so that it may part thousands. */
function hasOnlyGroups({ grammar, marks, sureMarks }: Candidate): boolean {
  return !grammar.isMarkKnown && marks > 0 && sureMarks === 0;
}

/** Points that may part thousands, beside a delimiter that is used where the decimal mark is a comma. */
export function hasOnlyGroupedPoints(best: Candidate): boolean {
  return hasOnlyGroups(best) && best.grammar.decimalMark === '.' && best.grammar.delimiter === 'semicolon';
}

/**
 * Why the best grammar may not be taken unasked: a number with two kinds of mark, commas that may part thousands, or
 * commas that may part columns or decimals (`1,5` without a heading, `1,5,2,5` under two headings, `1,5` in a single
 * column).
 *
 * @param isOpen nothing in the file or the options has settled the delimiter before
 */
export function grammarDoubt(
  best: Candidate,
  found: FoundHeadings,
  first: number,
  isOpen: boolean,
): ReadFailure | null {
  if (best.firstDoubt !== null) return doubtFailure(best.firstDoubt.text, best.firstDoubt.line, 1);
  const { delimiter, decimalMark, isMarkKnown } = best.grammar;
  if (hasOnlyGroups(best) && decimalMark === ',') {
    const sentence =
      `In every number with a comma from line ${first} on, three digits follow it (1,234): ` +
      'it may part decimals or thousands.';
    return readFailure('READ_DECIMAL_DOUBT', sentence, first, 1);
  }
  if (!isOpen || isMarkKnown) return null;
  const isOneColumn = best.columns === 1 && decimalMark === ',' && best.marks > 0;
  const isPairOrNumber = best.columns === 2 && found.line === undefined;
  const isTwiceTheHeadings = found.mismatch !== undefined && found.mismatch.count * 2 === best.columns;
  const isOfCommas = delimiter === 'comma' && best.marks === 0 && (isPairOrNumber || isTwiceTheHeadings);
  if (!isOneColumn && !isOfCommas) return null;
  const sentence = `From line ${first} on, a comma may part two whole numbers or be the decimal mark of one.`;
  return readFailure('READ_DECIMAL_DOUBT', sentence, first, 1, FORMAT_CODES.READ_DELIMITER_CHANGED);
}
