// What a log did otherwise than its plan, as far as it matters and was seen. s, K, decades of oxygen pressure.
import { ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { type Alignment, LEAST_RAMP_K } from './log-alignment.ts';
import { firstAt, pieceCrossing } from './log-crossing.ts';
import type { LogDeviation, Tolerances } from './log-deviation.ts';
import type { LogShape } from './log-holds.ts';
import { type OxygenLog, oxygenDeviations, type PlaceOnLog } from './log-oxygen.ts';
import type { LogSeries } from './log-series.ts';
import { type LoggedStay, loggedStays, matchedStays, type PlannedStay, plannedStays } from './log-stays.ts';
import type { PlacedSegment } from './path.ts';

const SURE = 3;
/** An excursion must stand out of this many times the noise: one reading in 10^6 does so by chance [derived: normal tail]. */
const EXCURSION_DEVIATIONS = 5;
const LEAST_READINGS = 3;
const UNSEEN_SHARE = 0.3;

export interface LogSetting {
  readonly series: LogSeries;
  readonly shape: LogShape;
  readonly segments: readonly PlacedSegment[];
  readonly alignment: Alignment;
  readonly tolerances: Tolerances;
  /** of one reading of temperature, common to all */
  readonly temperatureUK: number;
  readonly oxygen: OxygenLog | null;
  /** the temperature before the first segment is a guess: its ramp is not judged */
  readonly isStartAssumed: boolean;
}

/** Deviations in the order of the plan. */
export function logDeviations(setting: LogSetting): LogDeviation[] {
  const { series, shape, segments, alignment, tolerances } = setting;
  const planned = plannedStays(segments);
  const logged = loggedStays(shape, series, planned, 2 * tolerances.temperatureK);
  const planS = segments.at(-1)!.endS;
  const matched = matchedStays(planned, logged, alignment.offsetS, planS);
  const place = placeOnLog(planned, matched, alignment);
  const unseen = unseenSegments(setting, place);
  const all = [
    ...planned.flatMap((stay, i) => stayDeviations(setting, stay, matched[i], unseen, place)),
    ...segments.flatMap((_, i) => rampDeviation(setting, i, planned, matched, unseen, place)),
    ...(setting.oxygen ? oxygenDeviations(setting.oxygen, segments, place, tolerances) : []),
  ].sort((one, other) => one.firstSegment - other.firstSegment || one.fromS - other.fromS);
  return [...all, ...[...unseen].map((i) => notSeen(segments, i, place))];
}

/**
 * The time on the log that a planned time stands for: counted on from the last recognised hold that began or ended before
 * it, as a controller counts; from the first one before that, and by the offset alone where none was recognised.
 */
function placeOnLog(
  planned: readonly PlannedStay[],
  matched: readonly (LoggedStay | undefined)[],
  { offsetS, standardUncertaintyS }: Alignment,
): PlaceOnLog {
  const anchors = planned.flatMap((stay, i): Anchor[] => {
    const found = matched[i];
    if (!found) return [];
    return [
      { planS: stay.startS, end: found.begin },
      { planS: stay.endS, end: found.end },
    ].flatMap(({ planS, end }) =>
      end.isUnseen ? [] : [{ planS, shiftS: end.atS - planS, u: end.standardUncertaintyS }],
    );
  });
  return (planS) => {
    const anchor = anchors.findLast((each) => each.planS <= planS) ?? anchors[0];
    return anchor
      ? { atS: planS + anchor.shiftS, standardUncertaintyS: anchor.u }
      : { atS: planS + offsetS, standardUncertaintyS };
  };
}

interface Anchor {
  readonly planS: number;
  readonly shiftS: number;
  readonly u: number;
}

function notSeen(segments: readonly PlacedSegment[], i: number, place: PlaceOnLog): LogDeviation {
  const { startS, endS } = segments[i]!;
  return {
    kind: 'not seen',
    firstSegment: i,
    lastSegment: i,
    size: null,
    planned: null,
    fromS: place(startS).atS,
    toS: place(startS).atS + endS - startS,
  };
}

/** Segments of which the log has fewer than three readings, or a gap over a third of their time. */
function unseenSegments({ series, segments }: LogSetting, place: PlaceOnLog): Set<number> {
  const found = new Set<number>();
  segments.forEach(({ startS, endS }, i) => {
    if (endS === startS) return;
    const fromS = place(startS).atS;
    const toS = fromS + endS - startS;
    const readings = firstAt(series.timeS, toS) - firstAt(series.timeS, fromS);
    const paused = series.gaps.reduce(
      (sum, gap) => sum + Math.max(0, Math.min(gap.toS, toS) - Math.max(gap.fromS, fromS)),
      0,
    );
    const outside =
      Math.max(0, series.timeS[0]! - fromS) +
      Math.max(0, toS - series.timeS.at(-1)! - series.typicalIntervalS);
    if (readings < LEAST_READINGS || paused + outside > UNSEEN_SHARE * (toS - fromS)) found.add(i);
  });
  return found;
}

function stayDeviations(
  setting: LogSetting,
  stay: PlannedStay,
  found: LoggedStay | undefined,
  unseen: ReadonlySet<number>,
  place: PlaceOnLog,
): LogDeviation[] {
  const { tolerances, temperatureUK } = setting;
  const at = { firstSegment: stay.firstSegment, lastSegment: stay.lastSegment };
  const segments = Array.from(
    { length: stay.lastSegment - stay.firstSegment + 1 },
    (_, i) => stay.firstSegment + i,
  );
  if (!found) {
    if (segments.some((i) => unseen.has(i))) return [];
    const fromS = place(stay.startS).atS;
    const toS = fromS + stay.endS - stay.startS;
    return [{ kind: 'segment missing', ...at, size: null, planned: null, fromS, toS }];
  }
  const deviations: LogDeviation[] = [];
  const [fromS, toS] = [found.begin.atS, found.end.atS];
  const offK = found.meanK - stay.temperatureK;
  const uK = Math.hypot(found.standardUncertaintyK, temperatureUK);
  if (Math.abs(offK) > Math.max(tolerances.temperatureK, SURE * uK))
    deviations.push({
      kind: offK > 0 ? 'hold too hot' : 'hold too cold',
      ...at,
      size: { value: offK, standardUncertainty: uK, unit: 'K' },
      planned: stay.temperatureK - ZERO_CELSIUS_K,
      fromS,
      toS,
    });
  const plannedS = stay.endS - stay.startS;
  const offS = toS - fromS - plannedS;
  const uS = Math.hypot(found.begin.standardUncertaintyS, found.end.standardUncertaintyS);
  const isOpen = found.begin.isUnseen || found.end.isUnseen;
  const passS = Math.max(tolerances.durationS, tolerances.duration * plannedS, SURE * uS);
  if (stay.isBounded && Math.abs(offS) > passS && !(isOpen && offS < 0))
    deviations.push({
      kind: offS > 0 ? 'hold too long' : 'hold too short',
      ...at,
      size: { value: offS, standardUncertainty: uS, unit: 's' },
      planned: plannedS,
      fromS,
      toS,
    });
  return [...deviations, ...excursions(setting, stay, found)];
}

/** 1: that temperature lies above the stay's; -1: below it, as before the first segment and after the last one. */
const sideOf = (temperatureC: number | undefined, { temperatureK }: PlannedStay): 1 | -1 =>
  temperatureC !== undefined && temperatureC + ZERO_CELSIUS_K > temperatureK ? 1 : -1;

/** Readings of a stay, as medians of three, that lie far above or below both the plan and the hold's mean. */
function excursions(setting: LogSetting, stay: PlannedStay, found: LoggedStay): LogDeviation[] {
  const { series, segments, tolerances, temperatureUK } = setting;
  const { timeS, temperatureK, noiseK } = series;
  const passK = Math.max(tolerances.temperatureK, EXCURSION_DEVIATIONS * noiseK, SURE * temperatureUK);
  const levelOf = (sign: number): number =>
    sign > 0 ? Math.max(stay.temperatureK, found.meanK) : Math.min(stay.temperatureK, found.meanK);
  const median = (i: number): number => {
    const [a, b, c] = [temperatureK[i - 1]!, temperatureK[i]!, temperatureK[i + 1]!];
    return Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
  };
  // the way to the hold and the way from it, on the side that the plan comes from and goes to, are no excursion
  const comesFrom = sideOf(segments[stay.firstSegment - 1]?.fromC, stay);
  const goesTo = sideOf(segments[stay.lastSegment + 1]?.toC, stay);
  const isOff = (i: number, side: number): boolean => side * (median(i) - found.meanK) > passK;
  let first = Math.max(found.first, 1);
  let last = Math.min(found.last, timeS.length - 1);
  while (first < last && isOff(first, comesFrom)) first++;
  while (last > first && isOff(last - 1, goesTo)) last--;
  return ([1, -1] as const).flatMap((sign): LogDeviation[] => {
    const level = levelOf(sign);
    const runs: { from: number; to: number; peak: number }[] = [];
    for (let i = first; i < last; i++) {
      const off = sign * (median(i) - level);
      if (off <= passK) continue;
      const run = runs.at(-1);
      if (run?.to === i - 1) {
        run.to = i;
        run.peak = Math.max(run.peak, off);
      } else runs.push({ from: i, to: i, peak: off });
    }
    const [largest] = runs.sort((one, other) => other.peak - one.peak);
    if (!largest) return [];
    const { peak } = largest;
    const [fromS, toS] = [timeS[largest.from]!, timeS[largest.to]!];
    return [
      {
        kind: sign > 0 ? 'overshoot' : 'dip',
        firstSegment: stay.firstSegment,
        lastSegment: stay.lastSegment,
        size: { value: sign * peak, standardUncertainty: Math.hypot(noiseK, temperatureUK), unit: 'K' },
        planned: stay.temperatureK - ZERO_CELSIUS_K,
        fromS,
        toS,
      },
    ];
  });
}

/** The rate between a fifth and four fifths of a ramp, beside the planned one. */
function rampDeviation(
  { series, shape, segments, tolerances, isStartAssumed }: LogSetting,
  i: number,
  planned: readonly PlannedStay[],
  matched: readonly (LoggedStay | undefined)[],
  unseen: ReadonlySet<number>,
  place: PlaceOnLog,
): LogDeviation[] {
  const { startS, endS, fromC, toC } = segments[i]!;
  const changeK = toC - fromC;
  if (Math.abs(changeK) < LEAST_RAMP_K || endS === startS || (i === 0 && isStartAssumed)) return [];
  const durationS = endS - startS;
  const slackS = 0.5 * durationS + 60;
  const before = planned.findIndex(({ lastSegment }) => lastSegment === i - 1);
  const after = planned.findIndex(({ firstSegment }) => firstSegment === i + 1);
  const leftS = matched[before]?.end.atS;
  const rightS = matched[after]?.begin.atS;
  const fromS = leftS ?? place(startS).atS;
  const toS = Math.max(rightS ?? fromS + durationS, fromS);
  const reachS =
    (toS - fromS) / 2 + (leftS !== undefined && rightS !== undefined ? 0.1 * (toS - fromS) : slackS);
  const crossing = (part: number) =>
    pieceCrossing(
      shape.pieces,
      series,
      fromC + part * changeK + ZERO_CELSIUS_K,
      changeK > 0,
      fromS + part * (toS - fromS),
      reachS,
    );
  const [low, high] = [crossing(0.2), crossing(0.8)];
  if (!low || !high || high.atS <= low.atS) {
    const isSeen = !unseen.has(i) && after < 0 && before < 0;
    return isSeen
      ? [{ kind: 'segment missing', firstSegment: i, lastSegment: i, size: null, planned: null, fromS, toS }]
      : [];
  }
  const spanS = high.atS - low.atS;
  const plannedRate = (changeK / durationS) * 60;
  const rate = ((0.6 * changeK) / spanS) * 60;
  const u = (Math.abs(rate) * Math.hypot(low.standardUncertaintyS, high.standardUncertaintyS)) / spanS;
  const off = Math.abs(rate) - Math.abs(plannedRate);
  if (Math.abs(Math.log(rate / plannedRate)) <= Math.log1p(tolerances.rate) || Math.abs(off) <= SURE * u)
    return [];
  return [
    {
      kind: off > 0 ? 'ramp too fast' : 'ramp too slow',
      firstSegment: i,
      lastSegment: i,
      size: { value: rate - plannedRate, standardUncertainty: u, unit: 'K/min' },
      planned: plannedRate,
      fromS: low.atS,
      toS: high.atS,
    },
  ];
}
