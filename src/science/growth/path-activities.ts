// Activities of BaO and of copper along a path, from the equilibrium of the film's cations. s, K, log10 of pO2 in atm.
import { type CationShares, deviation, memberEquilibria } from '../equilibrium/assemblage.ts';
import type { Member } from '../equilibrium/phase-system.ts';
import {
  activitiesOfPotentials,
  fluxesAlong,
  type SurfaceChemistry,
  surfaceLog10Po2At,
} from './evaporation.ts';
import type { PathSamples } from './path.ts';
import type { FilmConditions } from './path-liquid.ts';
import { isAsked, type PathPlace, pathPlaces, stepsApart } from './path-places.ts';

/** A potential of a member that lies above that of the pure oxide by rounding. */
const MOST_ACTIVITY = 1;

export interface PathActivities {
  /** median over the members, one a sample */
  readonly activityBaO: Float64Array;
  readonly activityCu: Float64Array;
  /** standard deviation over the members of the logarithm of what evaporates over the path, weighted by the flux */
  readonly relativeUBa: number;
  readonly relativeUCu: number;
  readonly places: readonly PathPlace[];
  /** where neither temperature nor gas could be asked, of all places laid out */
  readonly unasked: number;
}

/**
 * Activities over a path: each member is asked at places along it and followed straight in the logarithm between them; a sample
 * takes the median of the members. Where a place cannot be asked (below 600 degC, above 1400 degC, without oxygen) the nearest in
 * time that could be stands for it; 1 where none could.
 *
 * @param surface the pO2 at the surface where it is held below the gas
 * @param most    places that are asked at most, about
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_HELD_BACK
 * Source: [derived: a = exp(mu/(R T)), mu from memberEquilibria]. Range: as the equilibrium; composition that does not drift.
 */
export function activitiesAlong(
  path: PathSamples,
  surface: SurfaceChemistry['surfaceLog10Po2'],
  members: readonly Member[],
  conditions: FilmConditions,
  shares: CationShares,
  most: number,
): PathActivities {
  const n = path.timeS.length;
  const atSurface: PathSamples = {
    ...path,
    log10Po2Atm: path.log10Po2Atm.map((_, i) => surfaceLog10Po2At(path, i, surface)),
  };
  const laid = pathPlaces(atSurface, stretchesOf(atSurface), most);
  const places = laid.filter(isAsked);
  const known = new Map<string, Logs>();
  const logs = places.map((place) => {
    const key = `${place.temperatureK.toFixed(6)} ${place.log10Po2Atm.toFixed(9)}`;
    const found = known.get(key) ?? logsAt(place, members, conditions, shares);
    known.set(key, found);
    return found;
  });
  const activityBaO = new Float64Array(n).fill(1);
  const activityCu = new Float64Array(n).fill(1);
  if (places.length === 0)
    return { activityBaO, activityCu, relativeUBa: 0, relativeUCu: 0, places, unasked: laid.length };
  const unit = fluxesAlong(path, {
    activityBaO,
    activityCu,
    waterPa: 0,
    sticking: 1,
    layer: null,
    surfaceLog10Po2: surface,
  });
  const doses = { ba: new Float64Array(members.length), cu: new Float64Array(members.length) };
  const now = { ba: new Float64Array(members.length), cu: new Float64Array(members.length) };
  const medians = { ba: new Float64Array(n), cu: new Float64Array(n) };
  let next = 0; // first place after the sample
  for (let i = 0; i < n; i++) {
    const timeS = path.timeS[i]!;
    while (next < places.length && places[next]!.timeS < timeS) next++;
    // at a step two places stand at one time: the one that is nearer in temperature and gas
    while (
      next + 1 < places.length &&
      places[next + 1]!.timeS === timeS &&
      stepsApart(sampleAt(atSurface, i), places[next + 1]!) <
        stepsApart(sampleAt(atSurface, i), places[next]!)
    )
      next++;
    const to = Math.min(next, places.length - 1);
    const isBetween = next > 0 && next < places.length && places[next]!.timeS > timeS;
    const from = isBetween ? next - 1 : to;
    const gapS = places[to]!.timeS - places[from]!.timeS;
    const part = gapS > 0 ? (timeS - places[from]!.timeS) / gapS : 1;
    const seconds = ((path.timeS[i + 1] ?? timeS) - (path.timeS[i - 1] ?? timeS)) / 2;
    for (const element of ['ba', 'cu'] as const) {
      const flux = (element === 'ba' ? unit.ba1968 : unit.cu)[i]! * seconds;
      for (let m = 0; m < members.length; m++) {
        const log = (1 - part) * logs[from]![element][m]! + part * logs[to]![element][m]!;
        now[element][m] = log;
        doses[element][m]! += flux * Math.exp(log);
      }
      medians[element][i] = Math.min(MOST_ACTIVITY, Math.exp(median(now[element])));
    }
  }
  const scatter = (found: Float64Array): number =>
    found.every((dose) => dose > 0) ? deviation(Array.from(found, Math.log)) : 0;
  return {
    activityBaO: medians.ba,
    activityCu: medians.cu,
    relativeUBa: scatter(doses.ba),
    relativeUCu: scatter(doses.cu),
    places,
    unasked: laid.length - places.length,
  };
}

const sampleAt = ({ temperatureK, log10Po2Atm }: PathSamples, i: number) => ({
  temperatureK: temperatureK[i]!,
  log10Po2Atm: log10Po2Atm[i]!,
});

/** Logarithms of the activities, one a member. */
interface Logs {
  readonly ba: Float64Array;
  readonly cu: Float64Array;
}

function logsAt(
  { temperatureK, log10Po2Atm }: PathPlace,
  members: readonly Member[],
  conditions: FilmConditions,
  shares: CationShares,
): Logs {
  const po2Atm = 10 ** log10Po2Atm;
  const found = memberEquilibria(members, { ...conditions, temperatureK, po2Atm }, shares).map(
    ({ point: { plane } }) => activitiesOfPotentials(temperatureK, po2Atm, plane[1], plane[2]),
  );
  return {
    ba: Float64Array.from(found, ({ activityBaO }) => Math.min(0, Math.log(activityBaO))),
    cu: Float64Array.from(found, ({ activityCu }) => Math.min(0, Math.log(activityCu))),
  };
}

/** The stretches between the steps of a sampled path. */
function stretchesOf({ timeS }: PathSamples): { startS: number; endS: number }[] {
  const stretches: { startS: number; endS: number }[] = [];
  let startS = timeS[0]!;
  for (let i = 1; i < timeS.length; i++) {
    const isLast = i === timeS.length - 1;
    if (timeS[i]! > timeS[i - 1]! && !isLast) continue;
    if (timeS[i]! > startS) stretches.push({ startS, endS: timeS[i]! });
    startS = timeS[i]!;
  }
  return stretches;
}

/** Middle of some values: the mean of the two middle ones of an even count. */
function median(values: Float64Array): number {
  const sorted = values.toSorted();
  const middle = sorted.length / 2;
  return sorted.length % 2 === 1 ? sorted[Math.floor(middle)]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
