// When liquid appears and vanishes along a recorded heat and gas path, in sentences. Pure.
import { pressureText } from '../../charts/trade-text.ts';
import type { Segment } from '../../records/kinds.ts';
import { LIKELY } from '../../science/growth/path-liquid.ts';
import { COLDEST_ASKED_C } from '../../science/growth/path-places.ts';
import { recordedPath } from '../drafts/recorded-path.ts';
import type { LiquidAlong } from '../path/path-request.ts';

/** One place of a path at which the phases were asked. */
export interface AskedPlace {
  /** index of the recorded step */
  readonly segment: number;
  readonly timeS: number;
  readonly temperatureC: number;
  readonly po2Atm: number;
}

/** A run says one temperature and one gas, and not how long the film was there. */
export const isOnePlace = (segments: readonly Segment[]): boolean =>
  segments.every(({ durationS }) => durationS === 0);

/** Time that stands for one place of the plane, whose odds do not hang on it. */
const ANY_S = 1;
/** Asked in place of a vacuum, which no path is planned in; nothing is asked of the phases there. */
const VACUUM_ATM = 1e-15;

/** What growth.path is asked of recorded steps, and which of them each of its steps comes from. */
export function recordedAsk(
  segments: readonly Segment[],
  startC: number,
): { request: object; stepOf: readonly number[] } {
  const isPlace = isOnePlace(segments);
  const timed = segments.map((segment) => ({
    ...segment,
    durationS: isPlace ? ANY_S : segment.durationS,
    po2Atm: segment.po2Atm > 0 ? segment.po2Atm : VACUUM_ATM,
  }));
  const { start, segments: steps, stepOf } = recordedPath(timed, startC);
  return { request: { start, segments: steps }, stepOf };
}

/** The places of an answer, by recorded step. */
export function askedPlaces(
  { timeS, temperatureC, log10Po2Atm, segment }: LiquidAlong,
  stepOf: readonly number[],
): AskedPlace[] {
  return timeS.map((atS, i) => ({
    segment: stepOf[segment[i]!]!,
    timeS: atS,
    temperatureC: temperatureC[i]!,
    po2Atm: 10 ** log10Po2Atm[i]!,
  }));
}

/** A moment of a path, no finer than it is known. */
function momentText(timeS: number): string {
  if (timeS < 120) return `${Math.round(timeS)} s`;
  return timeS < 3 * 3600 ? `${(timeS / 60).toFixed(1)} min` : `${(timeS / 3600).toFixed(1)} h`;
}

/** Where the odds of liquid cross the level, between two neighbouring places. */
interface Crossing {
  readonly isAppearing: boolean;
  readonly segment: number;
  readonly timeS: number;
  readonly temperatureC: number;
  readonly po2Atm: number;
  /** the gas changes between the two places at one temperature */
  readonly isByGas: boolean;
}

/** Crossings of the level along the places, in order; a path that begins above it begins with an appearance. */
export function crossingsOf(
  places: readonly AskedPlace[],
  odds: readonly number[],
  level = LIKELY,
): Crossing[] {
  return places.flatMap((place, i): Crossing[] => {
    const now = odds[i]!;
    const before = i === 0 ? 0 : odds[i - 1]!;
    const isAppearing = now >= level && before < level;
    if (!isAppearing && !(now < level && before >= level)) return [];
    const last = places[i - 1];
    const part = last && now !== before ? (level - before) / (now - before) : 1;
    const between = (from: number, to: number): number => from + part * (to - from);
    return [
      {
        isAppearing,
        segment: place.segment,
        timeS: last ? between(last.timeS, place.timeS) : place.timeS,
        temperatureC: last ? between(last.temperatureC, place.temperatureC) : place.temperatureC,
        po2Atm: place.po2Atm,
        isByGas: last !== undefined && last.po2Atm !== place.po2Atm,
      },
    ];
  });
}

/** Sentences that say when liquid appears and vanishes along a path. */
export function pathSentences(
  places: readonly AskedPlace[],
  odds: readonly number[],
  segments: readonly Segment[],
): string[] {
  if (places.length === 0)
    return [`The path has no step above ${COLDEST_ASKED_C} °C with oxygen, so nothing was asked.`];
  const first = places[0]!;
  if (isOnePlace(segments))
    return [
      `At ${Math.round(first.temperatureC)} °C and ${pressureText(first.po2Atm)} the odds of liquid are ${Math.round(100 * odds[0]!)} %; the record does not say how it came there.`,
    ];
  const crossings = crossingsOf(places, odds);
  if (crossings.length === 0) {
    const best = odds.reduce((top, value, i) => (value > odds[top]! ? i : top), 0);
    const at = places[best]!;
    return [
      `Liquid is never likely along this path: its odds are highest, ${Math.round(100 * odds[best]!)} %, at ${Math.round(at.temperatureC)} °C and ${pressureText(at.po2Atm)} (step ${at.segment + 1}).`,
    ];
  }
  const sentences = crossings.map(({ isAppearing, segment, timeS, temperatureC, po2Atm, isByGas }) => {
    const how = isByGas ? `when the gas becomes ${pressureText(po2Atm)}` : `in ${pressureText(po2Atm)}`;
    return `Liquid ${isAppearing ? 'becomes likely' : 'is likely gone'} at ${Math.round(temperatureC)} °C ${how}, ${momentText(timeS)} after the start (step ${segment + 1}, ${segments[segment]!.kind}).`;
  });
  if (crossings.at(-1)!.isAppearing)
    sentences.push('It is still likely where the path ends or leaves what is asked.');
  return sentences;
}
