// Holds and ramps that a log shows, with what is not seen of their ends. s, K.
import {
  joined,
  type LinePiece,
  type LineSums,
  lineAt,
  lineUncertainty,
  slopeOf,
  straightPieces,
} from './log-lines.ts';
import type { LogSeries } from './log-series.ts';

export interface LoggedEnd {
  readonly atS: number;
  readonly standardUncertaintyS: number;
  /** the log begins, ends or pauses here: the hold may go on */
  readonly isUnseen: boolean;
}

export interface LoggedHold {
  readonly begin: LoggedEnd;
  readonly end: LoggedEnd;
  readonly meanK: number;
  /** from the scatter of batches of readings; the thermometer's own uncertainty is not in it */
  readonly standardUncertaintyK: number;
  readonly driftKPerS: number;
  /** readings first..last (not included) */
  readonly first: number;
  readonly last: number;
}

export interface LoggedRamp {
  readonly fromS: number;
  readonly toS: number;
  readonly fromK: number;
  readonly toK: number;
  readonly rateKPerS: number;
  readonly standardUncertaintyKPerS: number;
  /** 0: a step between two readings */
  readonly readings: number;
}

export interface LogShape {
  readonly holds: readonly LoggedHold[];
  readonly ramps: readonly LoggedRamp[];
  readonly pieces: readonly LinePiece[];
}

/** A hold changes by no more than this over a piece, K, or four times the noise. [common practice] */
const HOLD_K = 5;
/** A slow drift is a hold up to this change. [common practice] */
const DRIFT_K = 20;
const DRIFT_K_PER_S = 0.1 / 60;
/** A level piece beside a ramp of the same direction, steeper than this share of it, is part of the ramp. [common practice] */
const RAMP_SHARE = 0.3;
const LEAST_READINGS = 3;
const BATCHES = 8;
/** A larger distance of two lines where they follow each other is a step, K; or four times the noise. [common practice] */
const STEP_K = 1.5;

const durationOf = (piece: LinePiece, { timeS }: LogSeries): number =>
  timeS[piece.to - 1]! - timeS[piece.from]!;

/** Finds holds and ramps in each stretch between gaps; nothing is read across a gap. */
export function holdsAndRamps(series: LogSeries): LogShape {
  const holds: LoggedHold[] = [];
  const ramps: LoggedRamp[] = [];
  const all: LinePiece[] = [];
  for (let i = 1; i < series.bounds.length; i++) {
    const [from, to] = [series.bounds[i - 1]!, series.bounds[i]!];
    const pieces = straightPieces(series.timeS, series.temperatureK, from, to, series.noiseK);
    all.push(...pieces);
    const groups = groupedPieces(pieces, series);
    groups.forEach((group, at) => {
      if (group.isHold) holds.push(holdOf(group, groups[at - 1], groups[at + 1], series));
      else
        for (const piece of group.pieces)
          if (piece.sums.ss > 0 && Math.abs(slopeOf(piece.sums)) > 0) ramps.push(rampOf(piece, series));
      const next = groups[at + 1];
      if (next) ramps.push(...stepBetween(group, next, series));
    });
  }
  ramps.sort((one, other) => one.fromS - other.fromS);
  return { holds, ramps, pieces: all };
}

interface Group {
  isHold: boolean;
  pieces: LinePiece[];
  sums: LineSums;
}

const levelK = ({ noiseK }: LogSeries): number => Math.max(HOLD_K, 4 * noiseK);

/** Pieces that are level, one after another, as one hold; a chain of them that goes on rising is a ramp. */
function groupedPieces(pieces: readonly LinePiece[], series: LogSeries): Group[] {
  const level = levelK(series);
  const isLevel = pieces.map((piece) => {
    const slope = Math.abs(slopeOf(piece.sums));
    const changeK = slope * durationOf(piece, series);
    return changeK <= level || (slope <= DRIFT_K_PER_S && changeK <= DRIFT_K);
  });
  for (let pass = 0; pass < pieces.length; pass++) {
    let isChanged = false;
    pieces.forEach((piece, i) => {
      if (!isLevel[i]) return;
      const slope = slopeOf(piece.sums);
      const isPart = [i - 1, i + 1].some((k) => {
        const beside = pieces[k] === undefined || isLevel[k] ? 0 : slopeOf(pieces[k]!.sums);
        return beside * slope > 0 && Math.abs(slope) > RAMP_SHARE * Math.abs(beside);
      });
      if (!isPart) return;
      isLevel[i] = false;
      isChanged = true;
    });
    if (!isChanged) break;
  }
  const groups: Group[] = [];
  pieces.forEach((piece, i) => {
    const last = groups.at(-1);
    if (!isLevel[i] || !last?.isHold) {
      groups.push({ isHold: isLevel[i]!, pieces: [piece], sums: piece.sums });
      return;
    }
    const both = joined(last.sums, piece.sums);
    const isNear = Math.abs(piece.sums.meanK - last.sums.meanK) <= level;
    if (isNear) {
      last.pieces.push(piece);
      last.sums = both;
      return;
    }
    groups.push({ isHold: true, pieces: [piece], sums: piece.sums });
  });
  return groups.map((group, i) => ({ ...group, isHold: isTrueHold(group, groups, i, series) }));
}

/** Three readings or more, and not one of a chain of levels without a step between them. */
function isTrueHold(group: Group, groups: readonly Group[], i: number, series: LogSeries): boolean {
  if (!group.isHold || group.sums.n < LEAST_READINGS) return false;
  const level = levelK(series);
  const net =
    Math.abs(slopeOf(group.sums)) *
    (series.timeS[group.pieces.at(-1)!.to - 1]! - series.timeS[group.pieces[0]!.from]!);
  if (net > DRIFT_K && net > 2 * level) return false;
  return ![i - 1, i + 1].some((k) => {
    const beside = groups[k];
    if (!beside?.isHold || beside.sums.n < LEAST_READINGS) return false;
    const [left, right] = k < i ? [beside, group] : [group, beside];
    const boundary = series.timeS[right.pieces[0]!.from]!;
    const step = Math.abs(
      lineAt(right.pieces[0]!.sums, boundary) - lineAt(left.pieces.at(-1)!.sums, boundary),
    );
    return step < level / 2;
  });
}

function holdOf(
  group: Group,
  before: Group | undefined,
  after: Group | undefined,
  series: LogSeries,
): LoggedHold {
  const [firstPiece, lastPiece] = [group.pieces[0]!, group.pieces.at(-1)!];
  return {
    begin: before
      ? endBetween(before.pieces.at(-1)!, firstPiece, series)
      : unseen(series.timeS[firstPiece.from]!, series),
    end: after
      ? endBetween(lastPiece, after.pieces[0]!, series)
      : unseen(series.timeS[lastPiece.to - 1]!, series),
    meanK: group.sums.meanK,
    standardUncertaintyK: meanUncertainty(series.temperatureK, firstPiece.from, lastPiece.to, series.noiseK),
    driftKPerS: slopeOf(group.sums),
    first: firstPiece.from,
    last: lastPiece.to,
  };
}

const unseen = (atS: number, { typicalIntervalS }: LogSeries): LoggedEnd => ({
  atS,
  standardUncertaintyS: typicalIntervalS / Math.sqrt(12),
  isUnseen: true,
});

/** Where two lines meet; half way between their readings if there is a step between the lines, or they do not meet there. */
function endBetween(left: LinePiece, right: LinePiece, series: LogSeries): LoggedEnd {
  const { timeS, noiseK, typicalIntervalS } = series;
  const [lastS, nextS] = [timeS[left.to - 1]!, timeS[right.from]!];
  const apartS = Math.max(nextS - lastS, typicalIntervalS);
  const middleS = (lastS + nextS) / 2;
  const slopes = slopeOf(left.sums) - slopeOf(right.sums);
  const stepK = lineAt(right.sums, middleS) - lineAt(left.sums, middleS);
  const meetS = middleS + stepK / slopes;
  const slackS = 2 * apartS;
  const areLines = left.sums.ss > 0 && right.sums.ss > 0;
  const isBetween = meetS >= timeS[left.from]! - slackS && meetS <= timeS[right.to - 1]! + slackS;
  const isStep = Math.abs(stepK) > Math.max(STEP_K, 4 * noiseK, 2 * apartS * Math.abs(slopes));
  if (!areLines || !isBetween || isStep)
    return { atS: middleS, standardUncertaintyS: apartS / Math.sqrt(12), isUnseen: false };
  const fromLines =
    Math.hypot(lineUncertainty(left.sums, meetS, noiseK), lineUncertainty(right.sums, meetS, noiseK)) /
    Math.abs(slopes);
  return { atS: meetS, standardUncertaintyS: Math.hypot(fromLines, apartS / Math.sqrt(12)), isUnseen: false };
}

/** Uncertainty of a mean whose readings may go together: from the scatter of eight batches, at least the noise over root n. */
function meanUncertainty(values: Float64Array, from: number, to: number, noiseK: number): number {
  const n = to - from;
  const alone = noiseK / Math.sqrt(n);
  if (n < 2 * BATCHES) return Math.max(alone, deviationOf(values.subarray(from, to)) / Math.sqrt(n));
  const means = Array.from({ length: BATCHES }, (_, i) => {
    const [first, last] = [from + Math.floor((i * n) / BATCHES), from + Math.floor(((i + 1) * n) / BATCHES)];
    let sum = 0;
    for (let k = first; k < last; k++) sum += values[k]!;
    return sum / (last - first);
  });
  return Math.max(alone, deviationOf(means) / Math.sqrt(BATCHES));
}

function deviationOf(values: ArrayLike<number>): number {
  const n = values.length;
  let mean = 0;
  for (let i = 0; i < n; i++) mean += values[i]! / n;
  let squares = 0;
  for (let i = 0; i < n; i++) squares += (values[i]! - mean) ** 2;
  return n > 1 ? Math.sqrt(squares / (n - 1)) : 0;
}

function rampOf({ from, to, sums }: LinePiece, { timeS, noiseK }: LogSeries): LoggedRamp {
  const [fromS, toS] = [timeS[from]!, timeS[to - 1]!];
  return {
    fromS,
    toS,
    fromK: lineAt(sums, fromS),
    toK: lineAt(sums, toS),
    rateKPerS: slopeOf(sums),
    standardUncertaintyKPerS: noiseK / Math.sqrt(sums.ss),
    readings: to - from,
  };
}

/** A step between two pieces that no reading lies in. */
function stepBetween(left: Group, right: Group, series: LogSeries): LoggedRamp[] {
  const [leftPiece, rightPiece] = [left.pieces.at(-1)!, right.pieces[0]!];
  const [fromS, toS] = [series.timeS[leftPiece.to - 1]!, series.timeS[rightPiece.from]!];
  const [fromK, toK] = [lineAt(leftPiece.sums, fromS), lineAt(rightPiece.sums, toS)];
  const isExplained = [leftPiece, rightPiece].some(
    ({ sums }) => Math.abs(slopeOf(sums)) * (toS - fromS) > 0.5 * Math.abs(toK - fromK),
  );
  if (!(toS > fromS) || isExplained || Math.abs(toK - fromK) <= levelK(series)) return [];
  return [
    {
      fromS,
      toS,
      fromK,
      toK,
      rateKPerS: (toK - fromK) / (toS - fromS),
      standardUncertaintyKPerS: (Math.SQRT2 * series.noiseK) / (toS - fromS),
      readings: 0,
    },
  ];
}
