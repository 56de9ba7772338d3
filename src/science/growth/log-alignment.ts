// Where on a log's clock a planned path began: one offset for the whole path, nothing stretched. s, K.

import { ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { pieceCrossing } from './log-crossing.ts';
import type { LinePiece } from './log-lines.ts';
import type { LogSeries } from './log-series.ts';
import { columnAt, type PlacedSegment } from './path.ts';

export interface Alignment {
  /** time on the log at which the plan begins */
  readonly offsetS: number;
  readonly standardUncertaintyS: number;
  /** ramps whose half height the log crosses, which fix the offset; 0: nothing in the plan's temperature fixes it */
  readonly ramps: number;
  /** another offset that fits nearly as well; null if none does */
  readonly otherOffsetS: number | null;
}

/** Residuals beyond this count alike, K: one long mismatch must not pull the rest. */
const CAP_K = 100;
const POINTS = 800;
const OFFSETS = 3000;
/** A change of temperature that fixes a time, K. [common practice] */
export const LEAST_RAMP_K = 20;
/** Costs this close are no reason to prefer one offset, in parts of CAP_K. [common practice] */
const NEARLY_AS_GOOD = 0.02;

/** Corners of the plan's temperature over time. */
export interface PlanCorners {
  readonly timeS: readonly number[];
  readonly temperatureK: readonly number[];
}

export function planCorners(segments: readonly PlacedSegment[]): PlanCorners {
  const first = segments[0]!;
  return {
    timeS: [0, ...segments.map(({ endS }) => endS)],
    temperatureK: [first.fromC + ZERO_CELSIUS_K, ...segments.map(({ toC }) => toC + ZERO_CELSIUS_K)],
  };
}

/**
 * The offset with the least mean of |logged - planned|, each at most 100 K, over readings spread evenly in time; a reading
 * beside the plan counts half of that, and so does the part of the plan that no reading covers. It is then set on the ramps: the median of (time the log crosses half of a ramp -
 * the plan's). Its uncertainty: that of such a crossing, with the scatter between ramps in squares.
 *
 * Source: [derived: least absolute deviations of one shift].
 */
export function alignedToPlan(
  series: LogSeries,
  pieces: readonly LinePiece[],
  segments: readonly PlacedSegment[],
): Alignment {
  const corners = planCorners(segments);
  const planS = corners.timeS.at(-1)!;
  const startS = series.timeS[0]!;
  const endS = series.timeS.at(-1)!;
  const hasRamp = segments.some(({ fromC, toC }) => Math.abs(toC - fromC) >= LEAST_RAMP_K);
  if (!hasRamp)
    return {
      offsetS: startS,
      standardUncertaintyS: Math.max(planS, endS - startS) / Math.sqrt(12),
      ramps: 0,
      otherOffsetS: null,
    };
  const { best, bestCost, costs, stepS } = coarseOffset(series, corners, planS);
  const shifts = segments.flatMap(({ startS: from, endS: to, fromC, toC }) => {
    if (Math.abs(toC - fromC) < LEAST_RAMP_K) return [];
    const expectedS = best + (from + to) / 2;
    const level = (fromC + toC) / 2 + ZERO_CELSIUS_K;
    const withinS = Math.max(to - from, 0.05 * planS, 4 * stepS);
    const found = pieceCrossing(pieces, series, level, toC > fromC, expectedS, withinS);
    return found ? [{ shiftS: found.atS - (from + to) / 2, u: found.standardUncertaintyS }] : [];
  });
  const other = anotherOffset(costs, best, bestCost, stepS, 0.05 * (planS + endS - startS));
  if (shifts.length === 0)
    return {
      offsetS: best,
      standardUncertaintyS: Math.max(stepS, series.typicalIntervalS),
      ramps: 0,
      otherOffsetS: other,
    };
  const sorted = [...shifts].sort((a, b) => a.shiftS - b.shiftS);
  const middle = sorted[(sorted.length - 1) >> 1]!;
  const squares = shifts.reduce((sum, { shiftS }) => sum + (shiftS - middle.shiftS) ** 2, 0);
  const scatterS = shifts.length > 1 ? Math.sqrt(squares / (shifts.length - 1) / shifts.length) : 0;
  return {
    offsetS: middle.shiftS,
    standardUncertaintyS: Math.hypot(middle.u, scatterS),
    ramps: shifts.length,
    otherOffsetS: other,
  };
}

function coarseOffset(series: LogSeries, { timeS, temperatureK }: PlanCorners, planS: number) {
  const [startS, endS] = [series.timeS[0]!, series.timeS.at(-1)!];
  const rows = new Set<number>();
  let row = 0;
  for (let i = 0; i < POINTS; i++) {
    const atS = startS + ((endS - startS) * i) / (POINTS - 1);
    while (row + 1 < series.timeS.length && series.timeS[row + 1]! <= atS) row++;
    rows.add(row);
  }
  const points = [...rows];
  const grid = Float64Array.from({ length: 4 * POINTS + 1 }, (_, i) =>
    columnAt(timeS, temperatureK, (planS * i) / (4 * POINTS)),
  );
  const stepS = (planS + endS - startS) / OFFSETS;
  const costs: { offsetS: number; cost: number }[] = [];
  for (let k = 0; k <= OFFSETS; k++) {
    const offsetS = startS - planS + k * stepS;
    let cost = 0;
    for (const at of points) {
      const place = ((series.timeS[at]! - offsetS) / planS) * 4 * POINTS;
      if (!(place >= 0 && place <= 4 * POINTS)) cost += CAP_K / 2;
      else cost += Math.min(CAP_K, Math.abs(series.temperatureK[at]! - grid[Math.round(place)]!));
    }
    const seenS = Math.max(0, Math.min(endS, offsetS + planS) - Math.max(startS, offsetS));
    costs.push({ offsetS, cost: cost / points.length / CAP_K + (1 - seenS / planS) / 2 });
  }
  let bestAt = 0;
  costs.forEach(({ cost }, k) => {
    if (cost < costs[bestAt]!.cost) bestAt = k;
  });
  return { best: costs[bestAt]!.offsetS, bestCost: costs[bestAt]!.cost, costs, stepS };
}

/** The best offset that is a minimum of its own, clearly apart from the one taken. */
function anotherOffset(
  costs: readonly { offsetS: number; cost: number }[],
  best: number,
  bestCost: number,
  stepS: number,
  apartS: number,
): number | null {
  const others = costs.filter(
    ({ offsetS, cost }, k) =>
      Math.abs(offsetS - best) > Math.max(apartS, 3 * stepS) &&
      cost <= (costs[k - 1]?.cost ?? Number.POSITIVE_INFINITY) &&
      cost < (costs[k + 1]?.cost ?? Number.POSITIVE_INFINITY) &&
      cost < bestCost + NEARLY_AS_GOOD,
  );
  return others.sort((one, other) => one.cost - other.cost)[0]?.offsetS ?? null;
}
