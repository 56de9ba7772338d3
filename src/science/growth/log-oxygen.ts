// The logged oxygen pressure beside the planned one: how much, and when it changed. s, decades of atm.
import { firstAt, nearestCrossing } from './log-crossing.ts';
import type { LogDeviation, Tolerances } from './log-deviation.ts';
import type { PlacedSegment } from './path.ts';

/** Readings of log10 of pO2 in atm, none missing. */
export interface OxygenLog {
  readonly timeS: Float64Array;
  readonly log10Po2Atm: Float64Array;
  /** of one reading, common to all, decades */
  readonly standardUncertainty: number;
  readonly longestIntervalS: number;
}

/** Below this a plan means a vacuum, whose pressure is no target, atm. [common practice] */
export const VACUUM_ATM = 1e-12;
/** A change that fixes a time, decades. */
const LEAST_CHANGE = 0.3;
/** Part of a segment in which the gas may still settle. */
const SETTLING = 0.2;
const SURE = 3;
const LEAST_READINGS = 3;
const LARGEST_WAIT = 0.5;

/** The time on the log that a planned time stands for. */
export type PlaceOnLog = (planS: number) => { atS: number; standardUncertaintyS: number };

export function oxygenDeviations(
  log: OxygenLog,
  segments: readonly PlacedSegment[],
  place: PlaceOnLog,
  tolerances: Tolerances,
): LogDeviation[] {
  return [
    ...levels(segments).flatMap((level) => levelDeviation(log, level, place, tolerances)),
    ...segments.flatMap((_, i) => changeDeviation(log, segments, i, place, tolerances)),
  ];
}

interface Level {
  readonly first: number;
  readonly last: number;
  readonly startS: number;
  readonly endS: number;
  readonly log10Po2: number;
}

/** Segments one after another at one oxygen pressure. */
function levels(segments: readonly PlacedSegment[]): Level[] {
  const found: Level[] = [];
  segments.forEach(({ fromPo2Atm, toPo2Atm, startS, endS }, i) => {
    if (fromPo2Atm !== toPo2Atm || endS === startS || toPo2Atm <= VACUUM_ATM) return;
    const log10Po2 = Math.log10(toPo2Atm);
    const before = found.at(-1);
    if (before?.endS === startS && before.log10Po2 === log10Po2)
      found[found.length - 1] = { ...before, last: i, endS };
    else found.push({ first: i, last: i, startS, endS, log10Po2 });
  });
  return found;
}

/** Median over a level after its first fifth; 1.2533 s/sqrt(n) is its uncertainty [derived: median of a normal sample]. */
function levelDeviation(
  { timeS, log10Po2Atm, standardUncertainty }: OxygenLog,
  { first, last, startS, endS, log10Po2 }: Level,
  place: PlaceOnLog,
  tolerances: Tolerances,
): LogDeviation[] {
  // readings that may belong to the level before or after by the offset's uncertainty are left out
  const { atS, standardUncertaintyS } = place(startS);
  const fromS = atS + Math.max(SETTLING * (endS - startS), 2 * standardUncertaintyS);
  const toS = place(endS).atS - 2 * standardUncertaintyS;
  const values = log10Po2Atm.slice(firstAt(timeS, fromS), firstAt(timeS, toS)).sort();
  const n = values.length;
  if (n < LEAST_READINGS) return [];
  const median = values[n >> 1]!;
  const spread = (values[Math.floor(0.84 * (n - 1))]! - values[Math.ceil(0.16 * (n - 1))]!) / 2;
  const u = Math.hypot((1.2533 * spread) / Math.sqrt(n), standardUncertainty);
  const off = median - log10Po2;
  if (Math.abs(off) <= Math.max(tolerances.log10Po2, SURE * u)) return [];
  return [
    {
      kind: off > 0 ? 'too much oxygen' : 'too little oxygen',
      firstSegment: first,
      lastSegment: last,
      size: { value: off, standardUncertainty: u, unit: '1' },
      planned: log10Po2,
      fromS,
      toS,
    },
  ];
}

/** When the log crosses half of a planned change of gas, in decades. */
function changeDeviation(
  log: OxygenLog,
  segments: readonly PlacedSegment[],
  i: number,
  place: PlaceOnLog,
  tolerances: Tolerances,
): LogDeviation[] {
  const { kind, fromPo2Atm, toPo2Atm, startS, endS } = segments[i]!;
  if (kind !== 'gas' || Math.min(fromPo2Atm, toPo2Atm) <= VACUUM_ATM) return [];
  const [from, to] = [Math.log10(fromPo2Atm), Math.log10(toPo2Atm)];
  if (Math.abs(to - from) < LEAST_CHANGE) return [];
  const planS = segments.at(-1)!.endS;
  const { atS, standardUncertaintyS } = place(startS);
  const expectedS = atS + (endS - startS) / 2;
  const found = nearestCrossing(
    log.timeS,
    log.log10Po2Atm,
    (from + to) / 2,
    to > from,
    expectedS,
    LARGEST_WAIT * planS,
    log.longestIntervalS,
    0,
  );
  if (!found) return [];
  const off = found.atS - expectedS;
  const u = Math.hypot(found.standardUncertaintyS, standardUncertaintyS);
  if (Math.abs(off) <= Math.max(tolerances.timeS, SURE * u)) return [];
  return [
    {
      kind: off > 0 ? 'oxygen late' : 'oxygen early',
      firstSegment: i,
      lastSegment: i,
      size: { value: off, standardUncertainty: u, unit: 's' },
      planned: expectedS,
      fromS: Math.min(expectedS, found.atS),
      toS: Math.max(expectedS, found.atS),
    },
  ];
}
