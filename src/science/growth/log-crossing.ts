// When a logged series crosses a level: between two readings next to each other, never across a gap. s.
import { type LinePiece, lineAt, lineUncertainty, slopeOf } from './log-lines.ts';
import type { LogSeries } from './log-series.ts';

export interface Crossing {
  readonly atS: number;
  /** from where between its two readings it lies (width/sqrt(12)) and from their noise */
  readonly standardUncertaintyS: number;
}

/** Readings averaged before a level is looked for, so that noise does not cross it many times. */
const AVERAGED = 3;

/**
 * The crossing of a level in one direction nearest to a time; undefined if there is none within the reach.
 *
 * @param timeS   times that never fall, s
 * @param values  readings, none missing
 * @param longestS no crossing is read between readings further apart
 * @param noise   standard deviation of one reading
 */
export function nearestCrossing(
  timeS: ArrayLike<number>,
  values: ArrayLike<number>,
  level: number,
  isRising: boolean,
  nearS: number,
  withinS: number,
  longestS: number,
  noise: number,
): Crossing | undefined {
  let best: Crossing | undefined;
  const n = timeS.length;
  const mean = (i: number): number => {
    let sum = 0;
    let count = 0;
    for (let k = Math.max(0, i - 1); k <= Math.min(n - 1, i + 1); k++) {
      if (Math.abs(timeS[k]! - timeS[i]!) > longestS) continue;
      sum += values[k]!;
      count++;
    }
    return count === AVERAGED ? sum / count : values[i]!;
  };
  for (let i = Math.max(1, firstAt(timeS, nearS - withinS)); i < n; i++) {
    const [fromS, toS] = [timeS[i - 1]!, timeS[i]!];
    if (fromS > nearS + withinS) break;
    if (toS - fromS > longestS) continue;
    const [a, b] = [mean(i - 1), mean(i)];
    if (!(isRising ? a < level && b >= level : a > level && b <= level)) continue;
    const atS = fromS + ((level - a) / (b - a)) * (toS - fromS);
    if (best && Math.abs(best.atS - nearS) <= Math.abs(atS - nearS)) continue;
    const slope = toS > fromS ? Math.abs(b - a) / (toS - fromS) : Number.POSITIVE_INFINITY;
    best = { atS, standardUncertaintyS: Math.hypot((toS - fromS) / Math.sqrt(12), noise / slope) };
  }
  return best;
}

/** First index with a time at or after atS. */
export function firstAt(timeS: ArrayLike<number>, atS: number): number {
  let low = 0;
  let high = timeS.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (timeS[middle]! < atS) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * The same of a log's temperature, on the straight pieces that were found in it, so that noise crosses no level twice; a
 * step between two pieces counts too.
 */
export function pieceCrossing(
  pieces: readonly LinePiece[],
  { timeS, noiseK, longestIntervalS }: LogSeries,
  levelK: number,
  isRising: boolean,
  nearS: number,
  withinS: number,
): Crossing | undefined {
  let best: Crossing | undefined;
  const offer = (crossing: Crossing): void => {
    const away = Math.abs(crossing.atS - nearS);
    if (away <= withinS && !(best && Math.abs(best.atS - nearS) <= away)) best = crossing;
  };
  const isCrossed = (a: number, b: number): boolean =>
    isRising ? a < levelK && b >= levelK : a > levelK && b <= levelK;
  pieces.forEach((piece, i) => {
    const { sums } = piece;
    const [fromS, toS] = [timeS[piece.from]!, timeS[piece.to - 1]!];
    const slope = slopeOf(sums);
    if (isCrossed(lineAt(sums, fromS), lineAt(sums, toS))) {
      const atS = sums.meanS + (levelK - sums.meanK) / slope;
      offer({ atS, standardUncertaintyS: lineUncertainty(sums, atS, noiseK) / Math.abs(slope) });
    }
    const next = pieces[i + 1];
    const nextS = next ? timeS[next.from]! : Number.POSITIVE_INFINITY;
    if (!next || nextS - toS > longestIntervalS) return;
    const [a, b] = [lineAt(sums, toS), lineAt(next.sums, nextS)];
    if (isCrossed(a, b))
      offer({
        atS: toS + ((levelK - a) / (b - a)) * (nextS - toS),
        standardUncertaintyS: (nextS - toS) / Math.sqrt(12),
      });
  });
  return best;
}
