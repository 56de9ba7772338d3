// The stays of a plan at one temperature beside the holds of a log: which is which. s, K.
import { ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import type { LoggedEnd, LoggedHold, LogShape } from './log-holds.ts';
import { type LinePiece, lineAt, slopeOf } from './log-lines.ts';
import type { LogSeries } from './log-series.ts';
import type { PlacedSegment } from './path.ts';

/** Segments one after another in which the planned temperature stands. */
export interface PlannedStay {
  readonly firstSegment: number;
  readonly lastSegment: number;
  readonly startS: number;
  readonly endS: number;
  readonly temperatureK: number;
  /** a ramp stands before it, and after it, so that its length is a matter of the plan */
  readonly isBounded: boolean;
}

/** A hold of the log, with the approach to it and what lies between its parts. */
export interface LoggedStay {
  readonly begin: LoggedEnd;
  readonly end: LoggedEnd;
  readonly meanK: number;
  readonly standardUncertaintyK: number;
  /** readings first..last (not included) */
  readonly first: number;
  readonly last: number;
}

/** An approach to a hold, as an overshoot that settles, lies within this of it, K. [common practice] */
const APPROACH_K = 30;
/** A piece steeper than this share of the ramp beyond it, and of its direction, is that ramp. [common practice] */
const RAMP_SHARE = 0.3;
/** The plan's nearest two stays part what is one of them: this share of their distance. */
const PART_OF_DISTANCE = 0.4;
const MATCH_K = 30;
const FARTHEST_K = 150;
const COST_OF_MISSING = 2;

export function plannedStays(segments: readonly PlacedSegment[]): PlannedStay[] {
  const stays: PlannedStay[] = [];
  segments.forEach((segment, i) => {
    if (segment.fromC !== segment.toC || segment.endS === segment.startS) return;
    const last = stays.at(-1);
    const temperatureK = segment.fromC + ZERO_CELSIUS_K;
    const isSame = last?.endS === segment.startS && last.temperatureK === temperatureK;
    if (last && isSame) stays[stays.length - 1] = { ...last, lastSegment: i, endS: segment.endS };
    else
      stays.push({
        firstSegment: i,
        lastSegment: i,
        startS: segment.startS,
        endS: segment.endS,
        temperatureK,
        isBounded: true,
      });
  });
  return stays.map((stay) => ({
    ...stay,
    isBounded: stay.startS > 0 && stay.endS < segments.at(-1)!.endS,
  }));
}

/**
 * Holds with their approaches; holds of one temperature one after another are one stay, with what lies between, be it a level of its
 * own that is not far and shorter than what it parts. Where the plan has two stays of one temperature in a row, what lies between
 * must be near too.
 */
export function loggedStays(
  { holds, pieces }: LogShape,
  series: LogSeries,
  planned: readonly PlannedStay[],
  sameK: number,
): LoggedStay[] {
  const apart = planned
    .slice(1)
    .map((stay, i) => Math.abs(stay.temperatureK - planned[i]!.temperatureK))
    .filter((distance) => distance > 0);
  const nearK = Math.min(APPROACH_K, PART_OF_DISTANCE * Math.min(...apart, Number.POSITIVE_INFINITY));
  const isTaken = (index: number, own: LoggedHold): boolean =>
    holds.some((hold) => hold !== own && index >= hold.first && index < hold.last);
  const widened = holds.map((hold): LoggedStay => {
    let { first, last, begin, end } = hold;
    const lies = (at: LinePiece): boolean =>
      Math.abs(lineAt(at.sums, series.timeS[at.from]!) - hold.meanK) <= nearK &&
      Math.abs(lineAt(at.sums, series.timeS[at.to - 1]!) - hold.meanK) <= nearK;
    // a ramp that noise or a lag cuts into pieces is no approach, however short its last piece
    const isRamp = (at: LinePiece, next: (piece: LinePiece) => LinePiece | undefined): boolean => {
      const slope = slopeOf(at.sums);
      let steepest = 0;
      for (let beyond = next(at); beyond && slopeOf(beyond.sums) * slope > 0; beyond = next(beyond))
        steepest = Math.max(steepest, Math.abs(slopeOf(beyond.sums)));
      return Math.abs(slope) > RAMP_SHARE * steepest && steepest > 0;
    };
    const before = ({ from }: LinePiece) => pieces.find(({ to }) => to === from);
    const after = ({ to }: LinePiece) => pieces.find(({ from }) => from === to);
    for (let piece = pieces.find(({ to }) => to === first); piece; ) {
      if (series.bounds.includes(first) || isTaken(piece.from, hold) || !lies(piece) || isRamp(piece, before))
        break;
      first = piece.from;
      begin = approached(between(series, first), hold.begin);
      piece = before(piece);
    }
    for (let piece = pieces.find(({ from }) => from === last); piece; ) {
      if (series.bounds.includes(last) || isTaken(piece.to - 1, hold) || !lies(piece) || isRamp(piece, after))
        break;
      last = piece.to;
      end = approached(between(series, last), hold.end);
      piece = after(piece);
    }
    const { meanK, standardUncertaintyK } = hold;
    return { begin, end, first, last, meanK, standardUncertaintyK };
  });
  const isTwice = apart.length + 1 < planned.length;
  const stays: LoggedStay[] = [];
  for (const stay of widened) {
    const at = stays.findLastIndex(({ meanK }) => Math.abs(meanK - stay.meanK) <= sameK);
    const before = stays[at];
    if (!before || !isOneStay(before, stay, stays.slice(at + 1), series, nearK, isTwice)) {
      stays.push(stay);
      continue;
    }
    const [n, m] = [before.last - before.first, stay.last - stay.first];
    stays.splice(at, stays.length - at, {
      begin: before.begin,
      end: stay.end,
      first: before.first,
      last: stay.last,
      meanK: (n * before.meanK + m * stay.meanK) / (n + m),
      standardUncertaintyK:
        Math.hypot(n * before.standardUncertaintyK, m * stay.standardUncertaintyK) / (n + m),
    });
  }
  return stays;
}

const lengthS = ({ begin, end }: LoggedStay): number => end.atS - begin.atS;

/** Are two levels of one temperature parts of one stay, with levels between them? */
function isOneStay(
  before: LoggedStay,
  after: LoggedStay,
  levels: readonly LoggedStay[],
  { temperatureK }: LogSeries,
  nearK: number,
  isTwicePlanned: boolean,
): boolean {
  const isNear = (kelvin: number): boolean => Math.abs(kelvin - before.meanK) <= nearK;
  if (isTwicePlanned && !temperatureK.subarray(before.last, after.first).every(isNear)) return false;
  const partedS = after.begin.atS - before.end.atS;
  return (
    levels.length === 0 ||
    (levels.every(({ meanK }) => isNear(meanK)) && partedS < lengthS(before) + lengthS(after))
  );
}

/** Where in an approach a hold begins is a matter of taste: rectangular over it. */
const approached = (end: LoggedEnd, own: LoggedEnd): LoggedEnd => ({
  ...end,
  standardUncertaintyS: Math.hypot(end.standardUncertaintyS, (end.atS - own.atS) / Math.sqrt(12)),
});

function between(series: LogSeries, index: number): LoggedEnd {
  const [fromS, toS] = [series.timeS[index - 1], series.timeS[index]];
  if (fromS === undefined || toS === undefined || series.bounds.includes(index))
    return {
      atS: (toS ?? fromS)!,
      standardUncertaintyS: series.typicalIntervalS / Math.sqrt(12),
      isUnseen: true,
    };
  return { atS: (fromS + toS) / 2, standardUncertaintyS: (toS - fromS) / Math.sqrt(12), isUnseen: false };
}

/**
 * The logged stay of each planned one, in order; undefined where none is it. The pairing with the least sum of distances in
 * temperature, length and time.
 */
export function matchedStays(
  planned: readonly PlannedStay[],
  logged: readonly LoggedStay[],
  offsetS: number,
  planS: number,
): (LoggedStay | undefined)[] {
  const [n, m] = [planned.length, logged.length];
  const cost = Array.from({ length: n + 1 }, () => new Float64Array(m + 1));
  for (let i = 1; i <= n; i++) cost[i]![0] = i * COST_OF_MISSING;
  const pairCost = (i: number, k: number): number => {
    const plan = planned[i]!;
    const log = logged[k]!;
    const apartK = Math.abs(log.meanK - plan.temperatureK);
    if (apartK > FARTHEST_K) return Number.POSITIVE_INFINITY;
    const ratio = (log.end.atS - log.begin.atS + 5) / (plan.endS - plan.startS + 5);
    const late = Math.abs((log.begin.atS + log.end.atS - plan.startS - plan.endS) / 2 - offsetS);
    return apartK / MATCH_K + 0.5 * Math.abs(Math.log(ratio)) + late / (0.25 * planS + 60);
  };
  for (let i = 1; i <= n; i++)
    for (let k = 1; k <= m; k++)
      cost[i]![k] = Math.min(
        cost[i - 1]![k]! + COST_OF_MISSING,
        cost[i]![k - 1]!,
        cost[i - 1]![k - 1]! + pairCost(i - 1, k - 1),
      );
  const found: (LoggedStay | undefined)[] = Array(n).fill(undefined);
  for (let [i, k] = [n, m]; i > 0 && k > 0; ) {
    if (cost[i]![k] === cost[i - 1]![k - 1]! + pairCost(i - 1, k - 1)) {
      found[i - 1] = logged[k - 1];
      i--;
      k--;
    } else if (cost[i]![k] === cost[i]![k - 1]) k--;
    else i--;
  }
  return found;
}
