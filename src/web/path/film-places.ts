// Places along the likely path at the film at which the phases are asked, and the stretches with liquid that follow. Pure.
import { LIKELY } from '../../science/growth/path-liquid.ts';
import type { PathPlace } from '../plane/path-odds.ts';
import type { LiquidSpan, PathAnswer } from './path-request.ts';

/** Below this no melt of the system is near, and nothing is asked. [common practice] */
export const COLDEST_ASKED_C = 600;
const HOTTEST_ASKED_C = 1400;
const STEP_K = 10;
const STEP_DECADES = 0.2;
/** The phases are not asked finer than this, however fine the samples are. */
const MOST_PLACES = 120;

/** Index of the step that a moment belongs to: the last that has begun. */
function stepAt(segments: PathAnswer['segments'], timeS: number): number {
  for (let i = segments.length - 1; i > 0; i--) if (timeS > segments[i]!.startS) return i;
  return 0;
}

/** Samples of the path at the film where it has moved by 10 K or 0.2 decades, and the ends of its steps. */
export function filmPlaces(answer: PathAnswer): PathPlace[] {
  const { timeS, filmTemperatureC, filmLog10Po2Atm, segments } = answer;
  const ends = new Set(segments.flatMap(({ startS, endS }) => [startS, endS]));
  const pick = (coarseness: number): PathPlace[] => {
    const places: PathPlace[] = [];
    let [lastC, lastLog] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
    for (let i = 0; i < timeS.length; i++) {
      const [atC, log] = [filmTemperatureC[i]!, filmLog10Po2Atm[i]!];
      if (atC < COLDEST_ASKED_C || atC > HOTTEST_ASKED_C) continue;
      const isMoved =
        Math.abs(atC - lastC) >= STEP_K * coarseness || Math.abs(log - lastLog) >= STEP_DECADES * coarseness;
      if (!isMoved && !ends.has(timeS[i]!)) continue;
      places.push({
        segment: stepAt(segments, timeS[i]!),
        timeS: timeS[i]!,
        temperatureC: Number(atC.toFixed(2)),
        po2Atm: Number((10 ** log).toPrecision(5)),
      });
      [lastC, lastLog] = [atC, log];
    }
    return places;
  };
  let coarseness = 1;
  let places = pick(coarseness);
  while (places.length > MOST_PLACES && coarseness < 64) {
    coarseness *= 2;
    places = pick(coarseness);
  }
  return places;
}

/** Stretches in which the odds are at least even, straight between the places. */
export function likelySpans(places: readonly PathPlace[], odds: readonly number[]): LiquidSpan[] {
  const spans: { fromS: number; toS: number; segment: number }[] = [];
  let open: { fromS: number; segment: number } | null = null;
  places.forEach((place, i) => {
    const [now, before] = [odds[i]!, i === 0 ? null : odds[i - 1]!];
    const last = places[i - 1];
    const crossingS =
      before === null || !last || before === now
        ? place.timeS
        : last.timeS + ((LIKELY - before) / (now - before)) * (place.timeS - last.timeS);
    if (now >= LIKELY && open === null) open = { fromS: crossingS, segment: place.segment };
    else if (now < LIKELY && open !== null) {
      spans.push({ ...open, toS: crossingS });
      open = null;
    }
  });
  if (open !== null)
    spans.push({ ...(open as { fromS: number; segment: number }), toS: places.at(-1)!.timeS });
  return spans;
}
