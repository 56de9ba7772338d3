// When liquid appears and vanishes along a heat and gas path: where it is asked, and what the odds there say. Pure.
import { pressureText } from '../../charts/trade-text.ts';
import type { Segment } from '../../records/kinds.ts';
import { LIKELY } from '../../science/growth/path-liquid.ts';
import { COLDEST_ASKED_C, HOTTEST_ASKED_C } from '../../science/growth/path-places.ts';

/** One place of a path at which the phases are asked. */
export interface PathPlace {
  /** index into the path's segments */
  readonly segment: number;
  readonly timeS: number;
  readonly temperatureC: number;
  readonly po2Atm: number;
}

const STEP_K = 10;
const MOST_PLACES = 120;

/**
 * Places along a path, about one in 10 K and at least at both ends of each segment; none below 600 degC, none without oxygen.
 *
 * @param startC temperature before the first segment
 */
export function pathPlaces(startC: number, segments: readonly Segment[]): PathPlace[] {
  const hot = segments.reduce((sum, { toC }, i) => {
    const fromC = i === 0 ? startC : segments[i - 1]!.toC;
    return sum + Math.abs(toC - fromC);
  }, 0);
  const stepK = Math.max(STEP_K, hot / MOST_PLACES);
  const places: PathPlace[] = [];
  let timeS = 0;
  let fromC = startC;
  segments.forEach(({ toC, durationS, po2Atm }, segment) => {
    const pieces = Math.max(1, Math.ceil(Math.abs(toC - fromC) / stepK));
    for (let i = 0; i <= pieces; i++) {
      const temperatureC = fromC + ((toC - fromC) * i) / pieces;
      if (temperatureC < COLDEST_ASKED_C || temperatureC > HOTTEST_ASKED_C || po2Atm <= 0) continue;
      places.push({ segment, timeS: timeS + (durationS * i) / pieces, temperatureC, po2Atm });
    }
    timeS += durationS;
    fromC = toC;
  });
  return places;
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
  places: readonly PathPlace[],
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
  places: readonly PathPlace[],
  odds: readonly number[],
  segments: readonly Segment[],
): string[] {
  if (places.length === 0)
    return [`The path has no step above ${COLDEST_ASKED_C} °C with oxygen, so nothing was asked.`];
  const first = places[0]!;
  if (segments.every(({ durationS }) => durationS === 0))
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
