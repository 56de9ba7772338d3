// Places along a heat and gas path at which a question that takes time is asked. s, K, log10 of pO2 in atm.
import { ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { columnAt, type PathSamples } from './path.ts';

/** Below this no melt of the system is near, and nothing is asked. [common practice] */
export const COLDEST_ASKED_C = 600;
/** What the diagram can be asked at most, degC. */
export const HOTTEST_ASKED_C = 1400;
/** Gas with less oxygen than this counts as without, atm: the least that the diagram can be asked. */
const LEAST_ASKED_ATM = 1e-12;

/** Neighbouring places differ by no more than one of these. */
const STEP_K = 10;
const STEP_DECADES = 0.25;

/** A place of a path. */
export interface PathPlace {
  /** index of its segment */
  readonly segment: number;
  readonly timeS: number;
  readonly temperatureK: number;
  readonly log10Po2Atm: number;
}

/** A stretch of time of a path, as a segment is. */
interface Stretch {
  readonly startS: number;
  readonly endS: number;
}

/** Is a place hot enough and has it oxygen enough to be asked about? */
export function isAsked({ temperatureK, log10Po2Atm }: Omit<PathPlace, 'segment' | 'timeS'>): boolean {
  const temperatureC = temperatureK - ZERO_CELSIUS_K;
  return (
    temperatureC >= COLDEST_ASKED_C &&
    temperatureC <= HOTTEST_ASKED_C &&
    log10Po2Atm >= Math.log10(LEAST_ASKED_ATM)
  );
}

/** How far two places lie apart, in steps of 10 K or 0.25 decade. */
export function stepsApart(
  from: Pick<PathPlace, 'temperatureK' | 'log10Po2Atm'>,
  to: Pick<PathPlace, 'temperatureK' | 'log10Po2Atm'>,
): number {
  return Math.max(
    Math.abs(to.temperatureK - from.temperatureK) / STEP_K,
    Math.abs(to.log10Po2Atm - from.log10Po2Atm) / STEP_DECADES,
  );
}

/** The place of a path at a time inside a segment. */
export function placeAt(path: PathSamples, segment: number, timeS: number): PathPlace {
  return {
    segment,
    timeS,
    temperatureK: columnAt(path.timeS, path.temperatureK, timeS),
    log10Po2Atm: columnAt(path.timeS, path.log10Po2Atm, timeS),
  };
}

/** Samples of one segment; where it begins with a step, from after the step. */
function samplesOf(path: PathSamples, { startS, endS }: Stretch): Omit<PathPlace, 'segment'>[] {
  const found: Omit<PathPlace, 'segment'>[] = [];
  const { timeS, temperatureK, log10Po2Atm } = path;
  const sample = (i: number) => ({
    timeS: timeS[i]!,
    temperatureK: temperatureK[i]!,
    log10Po2Atm: log10Po2Atm[i]!,
  });
  let first = 0;
  while (first + 1 < timeS.length && timeS[first + 1]! <= startS) first++; // the last sample at the start, after any step
  for (let i = first; i < timeS.length && timeS[i]! <= endS; i++) {
    found.push(sample(i));
    if (timeS[i] === endS) break; // before a step that follows
  }
  return found;
}

/**
 * Places along a path: both ends of every segment, and between them so many that neighbours are no more than 10 K and 0.25 decade
 * apart, followed along the samples. With more than `most`, all steps are widened alike. Segments without a duration are left out.
 *
 * @param path     as the film sees it
 * @param segments in order, at least one
 * @returns places in order; two at the same time where one segment ends and the next begins
 */
export function pathPlaces(path: PathSamples, segments: readonly Stretch[], most: number): PathPlace[] {
  const stretches = segments.flatMap((stretch, segment) => {
    if (!(stretch.endS > stretch.startS)) return [];
    const samples = samplesOf(path, stretch);
    const along = new Float64Array(samples.length);
    for (let i = 1; i < samples.length; i++)
      along[i] = along[i - 1]! + stepsApart(samples[i - 1]!, samples[i]!);
    return [{ segment, samples, along }];
  });
  const steps = stretches.reduce((sum, { along }) => sum + along.at(-1)!, 0);
  const widened = Math.max(1, steps / Math.max(1, most - 2 * stretches.length));
  return stretches.flatMap(({ segment, samples, along }) => {
    const pieces = Math.max(1, Math.ceil(along.at(-1)! / widened - 1e-9));
    const first = { segment, ...samples[0]! };
    const last = { segment, ...samples.at(-1)! };
    const between: PathPlace[] = [];
    let i = 1;
    for (let piece = 1; piece < pieces; piece++) {
      const at = (along.at(-1)! * piece) / pieces;
      while (along[i]! < at) i++;
      const part = (at - along[i - 1]!) / (along[i]! - along[i - 1]!);
      const [from, to] = [samples[i - 1]!, samples[i]!];
      between.push({
        segment,
        timeS: from.timeS + part * (to.timeS - from.timeS),
        temperatureK: from.temperatureK + part * (to.temperatureK - from.temperatureK),
        log10Po2Atm: from.log10Po2Atm + part * (to.log10Po2Atm - from.log10Po2Atm),
      });
    }
    return [first, ...between, last];
  });
}
