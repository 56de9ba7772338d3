// The likely path at the film, cut to what each question needs: fewer samples, where liquid is, the cooling. Pure.

/** Samples of the likely path at the film, as growth.path gives them. */
export interface FilmAlongPath {
  readonly timeS: readonly number[];
  readonly temperatureC: readonly number[];
  readonly log10Po2Atm: readonly number[];
}

/** A stretch of time. */
export interface Interval {
  readonly fromS: number;
  readonly toS: number;
}

/** Steps at which evaporation and uptake are still followed within a per cent. */
const STEP_K = 2;
const STEP_DECADES = 0.05;

const taken = (film: FilmAlongPath, indices: readonly number[]): FilmAlongPath => ({
  timeS: indices.map((i) => film.timeS[i]!),
  temperatureC: indices.map((i) => film.temperatureC[i]!),
  log10Po2Atm: indices.map((i) => film.log10Po2Atm[i]!),
});

/** How far a corner may stand off the straight line between the kept samples beside it, in steps. */
const CORNER_STEPS = 0.1;

/** Distance of two samples in steps, whichever of temperature and gas has moved more. */
const steps = (kelvin: number, decades: number): number =>
  Math.max(Math.abs(kelvin) / STEP_K, Math.abs(decades) / STEP_DECADES);

/** Samples without which the path would be cut short at a corner: the farthest off each straight stretch, again and again. */
function corners({ timeS, temperatureC, log10Po2Atm }: FilmAlongPath, within: number): Set<number> {
  const kept = new Set([0, timeS.length - 1]);
  const stretches: [number, number][] = [[0, timeS.length - 1]];
  for (let stretch = stretches.pop(); stretch; stretch = stretches.pop()) {
    const [from, to] = stretch;
    let [farthest, distance] = [-1, within];
    for (let i = from + 1; i < to; i++) {
      const spanS = timeS[to]! - timeS[from]!;
      const part = spanS > 0 ? (timeS[i]! - timeS[from]!) / spanS : 0;
      const off = (column: readonly number[]): number =>
        column[i]! - column[from]! - part * (column[to]! - column[from]!);
      const own = steps(off(temperatureC), off(log10Po2Atm));
      if (own > distance) [farthest, distance] = [i, own];
    }
    if (farthest < 0) continue;
    kept.add(farthest);
    stretches.push([from, farthest], [farthest, to]);
  }
  return kept;
}

/**
 * The path with fewer samples: corners stay, and between them a sample wherever temperature or gas has moved by a step; the step
 * is doubled until there are few enough.
 *
 * @param most samples
 */
export function thinned(film: FilmAlongPath, most: number): FilmAlongPath {
  const n = film.timeS.length;
  if (n <= most) return film;
  for (let factor = 1; ; factor *= 2) {
    const kept = corners(film, factor * CORNER_STEPS);
    let last = 0;
    for (let i = 1; i < n - 1; i++) {
      if (kept.has(i)) last = i;
      const kelvin = film.temperatureC[i + 1]! - film.temperatureC[last]!;
      const decades = film.log10Po2Atm[i + 1]! - film.log10Po2Atm[last]!;
      if (steps(kelvin, decades) <= factor) continue;
      kept.add(i);
      last = i;
    }
    if (kept.size <= most)
      return taken(
        film,
        [...kept].sort((a, b) => a - b),
      );
  }
}

/** Hottest sample: the last one within 1 K of the highest temperature. */
export function hottestIndex({ temperatureC }: FilmAlongPath): number {
  const top = temperatureC.reduce((most, each) => Math.max(most, each), Number.NEGATIVE_INFINITY);
  return temperatureC.findLastIndex((each) => each >= top - 1);
}

/** Middle of the time within 1 K of the highest temperature, s; within some stretches of the path where there are any. */
export function middleOfHottestS(film: FilmAlongPath, within: readonly Interval[] = []): number {
  const { timeS, temperatureC } = film;
  const inside = timeS.flatMap((atS, i) =>
    within.some(({ fromS, toS }) => atS >= fromS && atS <= toS) ? [i] : [],
  );
  const asked = inside.length > 0 ? inside : timeS.map((_, i) => i);
  const top = asked.reduce((most, i) => Math.max(most, temperatureC[i]!), Number.NEGATIVE_INFINITY);
  const hot = asked.filter((i) => temperatureC[i]! >= top - 1);
  return (timeS[hot[0]!]! + timeS[hot.at(-1)!]!) / 2;
}

/** From the end of the hottest stretch to the end; null where nothing follows it. */
export function coolingPart(film: FilmAlongPath): FilmAlongPath | null {
  const from = hottestIndex(film);
  if (from < 0 || from >= film.timeS.length - 1) return null;
  const indices = film.timeS.map((_, i) => i).slice(from);
  return taken(film, indices);
}

/** The path straight between samples at one time. */
export function filmAt(film: FilmAlongPath, atS: number): { temperatureC: number; log10Po2Atm: number } {
  const after = film.timeS.findIndex((timeS) => timeS > atS);
  if (after === 0) return { temperatureC: film.temperatureC[0]!, log10Po2Atm: film.log10Po2Atm[0]! };
  const j = after < 0 ? film.timeS.length - 1 : after;
  const i = after < 0 ? j : j - 1;
  const spanS = film.timeS[j]! - film.timeS[i]!;
  const part = spanS > 0 ? (atS - film.timeS[i]!) / spanS : 0;
  const between = (column: readonly number[]): number => column[i]! + part * (column[j]! - column[i]!);
  return { temperatureC: between(film.temperatureC), log10Po2Atm: between(film.log10Po2Atm) };
}

/** Where a column over time lies at or above a level, straight between its points. */
export function intervalsAbove(
  timeS: readonly number[],
  values: readonly number[],
  level: number,
): Interval[] {
  const found: { fromS: number; toS: number }[] = [];
  for (let i = 1; i < timeS.length; i++) {
    const [from, to] = [values[i - 1]!, values[i]!];
    const [startS, endS] = [timeS[i - 1]!, timeS[i]!];
    if (!(endS > startS) || (from < level && to < level)) continue;
    const crossS = to === from ? startS : startS + ((level - from) / (to - from)) * (endS - startS);
    const piece = { fromS: from >= level ? startS : crossS, toS: to >= level ? endS : crossS };
    const last = found.at(-1);
    if (last && last.toS === piece.fromS) last.toS = piece.toS;
    else if (piece.toS > piece.fromS) found.push(piece);
  }
  return found;
}

export const lengthS = (intervals: readonly Interval[]): number =>
  intervals.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0);
