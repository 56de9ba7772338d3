// A path beside what was logged, and the time that a series spends above a level. s, K, decades.
import { DomainError } from '../errors.ts';
import { checkOrder, columnAt, type PathSamples, type PlacedSegment } from './path.ts';

export interface TimeAbove {
  readonly timeS: number;
  /** from where in its interval each crossing lies: width/sqrt(12) each, added in squares */
  readonly standardUncertaintyS: number;
  readonly intervals: readonly { readonly fromS: number; readonly toS: number }[];
}

/**
 * Time that a series lies at or above a level, straight between its samples.
 *
 * @param values NaN where it is not known; such an interval is not counted
 * Source: [derived]; uncertainty of a crossing [common practice: rectangular over its interval].
 */
export function timeAbove(timeS: ArrayLike<number>, values: ArrayLike<number>, level: number): TimeAbove {
  if (values.length !== timeS.length)
    throw new DomainError(
      'GROWTH_LENGTHS',
      `${timeS.length} times but ${values.length} values of the series.`,
    );
  checkOrder(timeS, 'series.timeS');
  let variance = 0;
  const intervals: { fromS: number; toS: number }[] = [];
  for (let i = 1; i < timeS.length; i++) {
    const [t0, t1, v0, v1] = [timeS[i - 1]!, timeS[i]!, values[i - 1]!, values[i]!];
    if (Number.isNaN(v0) || Number.isNaN(v1) || (v0 < level && v1 < level) || t1 === t0) continue;
    const crossing = t0 + ((level - v0) / (v1 - v0)) * (t1 - t0);
    const isCrossed = v0 < level !== v1 < level;
    if (isCrossed) variance += (t1 - t0) ** 2 / 12;
    const fromS = v0 < level ? crossing : t0;
    const toS = v1 < level ? crossing : t1;
    const last = intervals.at(-1);
    if (last && last.toS === fromS) last.toS = toS;
    else intervals.push({ fromS, toS });
  }
  return {
    timeS: intervals.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0),
    standardUncertaintyS: Math.sqrt(variance),
    intervals,
  };
}

/** Columns of a log; NaN where a reading is missing. */
export interface PathLog {
  readonly timeS: ArrayLike<number>;
  readonly temperatureK?: ArrayLike<number> | undefined;
  readonly log10Po2Atm?: ArrayLike<number> | undefined;
}

export interface Deviation {
  /** logged minus commanded */
  readonly value: number;
  readonly atS: number;
  /** index of the segment; -1 past the end */
  readonly segment: number;
}

export interface ColumnComparison {
  readonly largest: Deviation | null;
  readonly rootMeanSquare: number | null;
  readonly readings: number;
  readonly missing: number;
  /** longest time between two readings in a row, and where it begins */
  readonly longestGapS: number;
  readonly gapFromS: number;
  /** segments with fewer than three readings in them: too coarse to say what happened there */
  readonly unseenSegments: readonly number[];
}

const LEAST_READINGS = 3; // both ends and one between

/**
 * Logged minus commanded at the log's own times.
 *
 * @throws DomainError GROWTH_LENGTHS, PATH_ORDER
 */
export function compareColumn(
  path: PathSamples,
  segments: readonly PlacedSegment[],
  timeS: ArrayLike<number>,
  logged: ArrayLike<number>,
  commanded: ArrayLike<number>,
): ColumnComparison {
  if (logged.length !== timeS.length)
    throw new DomainError(
      'GROWTH_LENGTHS',
      `${timeS.length} times but ${logged.length} readings in the log.`,
    );
  checkOrder(timeS, 'log.timeS');
  let largest: Deviation | null = null;
  let squares = 0;
  let missing = 0;
  const readS: number[] = [];
  for (let i = 0; i < timeS.length; i++) {
    const atS = timeS[i]!;
    const value = logged[i]! - columnAt(path.timeS, commanded, atS);
    if (Number.isNaN(value)) {
      missing++;
      continue;
    }
    readS.push(atS);
    squares += value ** 2;
    if (!largest || Math.abs(value) > Math.abs(largest.value))
      largest = {
        value,
        atS,
        segment: segments.findIndex(({ startS, endS }) => atS >= startS && atS <= endS),
      };
  }
  let [longestGapS, gapFromS] = [0, 0];
  readS.forEach((atS, i) => {
    if (i > 0 && atS - readS[i - 1]! > longestGapS)
      [longestGapS, gapFromS] = [atS - readS[i - 1]!, readS[i - 1]!];
  });
  return {
    largest,
    rootMeanSquare: readS.length > 0 ? Math.sqrt(squares / readS.length) : null,
    readings: readS.length,
    missing,
    longestGapS,
    gapFromS,
    unseenSegments: segments.flatMap(({ startS, endS }, i) =>
      endS > startS && readS.filter((atS) => atS >= startS && atS <= endS).length < LEAST_READINGS ? [i] : [],
    ),
  };
}
