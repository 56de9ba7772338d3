// When a film holds liquid along a heat and gas path, asked of every member of the ensemble. s, shares of cations.
import {
  type CationShares,
  deviation,
  medianIndex,
  memberEquilibria,
  shareOf,
} from '../equilibrium/assemblage.ts';
import { type Conditions, LIQUID, type Member, superconductorName } from '../equilibrium/phase-system.ts';
import type { PathSamples } from './path.ts';
import { isAsked, type PathPlace, pathPlaces, placeAt, stepsApart } from './path-places.ts';

/** Odds of liquid at which it is said to be there. */
export const LIKELY = 0.5;

/** The most places there are once crossings are refined, and the share of them that the path is first laid out in. */
const MOST_PLACES = 150;
const FIRST_SHARE = 0.75;
/** A large ensemble is asked at fewer places: so many minima together, but never fewer places than these. */
const MOST_MINIMA = 9000;
const LEAST_PLACES = 40;
/** A crossing is settled within this part of a step of 10 K or 0.25 decade, or this part of the path's time. */
const SETTLED_STEPS = 0.1;
const SETTLED_SHARE = 1e-3;

/** What the members say at one place. */
interface Asked {
  /** liquid share of each member, of the triangle's cations; 0 without liquid */
  readonly shares: Float64Array;
  /** 1: this member has liquid and 123 */
  readonly has123: Uint8Array;
}

export interface LiquidPlace extends PathPlace {
  /** share of the members with liquid */
  readonly odds: number;
  readonly oddsWith123: number;
  /** of the median member, and its standard deviation over the members */
  readonly share: number;
  readonly shareU: number;
}

export interface LiquidSpan {
  readonly fromS: number;
  readonly toS: number;
  /** in which it begins */
  readonly segment: number;
}

interface Time {
  readonly value: number;
  readonly standardUncertainty: number;
}

export interface PathLiquid {
  /** where the phases were asked; none below 600 degC or without oxygen */
  readonly places: readonly LiquidPlace[];
  /** mean time with liquid over the members */
  readonly liquidS: Time;
  readonly liquidWith123S: Time;
  /** where the odds are at least even */
  readonly spans: readonly LiquidSpan[];
  /** places left out: too cold, too hot or without oxygen */
  readonly unasked: number;
}

/** Conditions but for temperature and gas. */
export type FilmConditions = Omit<Conditions, 'temperatureK' | 'po2Atm'>;

/**
 * Odds of liquid along a path, place by place, and the time that each member spends with it. Between neighbouring places a member
 * that changes does so halfway; intervals that move the mean time most are halved until they are settled. The uncertainty of a
 * time is the standard deviation over the members and, in squares, that of where in its interval each crossing lies
 * (width over sqrt(12)).
 *
 * @param path     as the film sees it
 * @param shares   RE, Ba and Cu of the film, sum 1; the same all along
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_HELD_BACK
 * Source: [derived]; the phases as memberEquilibria.
 * Range: equilibrium at every moment: no undercooling and no time to melt; composition that does not drift.
 */
export function liquidAlong(
  path: PathSamples,
  segments: readonly { readonly startS: number; readonly endS: number }[],
  members: readonly Member[],
  conditions: FilmConditions,
  shares: CationShares,
): PathLiquid {
  const name123 = superconductorName(conditions.rareEarth);
  const nothing: Asked = {
    shares: new Float64Array(members.length),
    has123: new Uint8Array(members.length),
  };
  const known = new Map<string, Asked>(); // a hold is the same place twice
  const ask = (place: PathPlace): Asked => {
    if (!isAsked(place)) return nothing;
    const key = `${place.temperatureK.toFixed(6)} ${place.log10Po2Atm.toFixed(9)}`;
    const before = known.get(key);
    if (before) return before;
    const found = memberEquilibria(
      members,
      { ...conditions, temperatureK: place.temperatureK, po2Atm: 10 ** place.log10Po2Atm },
      shares,
    ).map(({ point }) => point.phases);
    const answer: Asked = {
      shares: Float64Array.from(found, (phases) => shareOf(phases, LIQUID)),
      has123: Uint8Array.from(found, (phases) =>
        Number(phases.some(({ name }) => name === LIQUID) && phases.some(({ name }) => name === name123)),
      ),
    };
    known.set(key, answer);
    return answer;
  };
  const most = Math.min(MOST_PLACES, Math.max(LEAST_PLACES, MOST_MINIMA / members.length));
  const first = pathPlaces(path, segments, Math.round(FIRST_SHARE * most));
  const asked = first.map((place) => ({ place, answer: ask(place) }));
  refine(path, asked, ask, most);
  const places = asked.map(({ place, answer }): LiquidPlace => {
    const count = answer.shares.reduce((sum, share) => sum + Number(share > 0), 0);
    return {
      ...place,
      odds: count / members.length,
      oddsWith123: answer.has123.reduce((sum, has) => sum + has, 0) / members.length,
      share: answer.shares[medianIndex(answer.shares)]!,
      shareU: deviation([...answer.shares]),
    };
  });
  const there = places.filter(isAsked);
  return {
    places: there,
    liquidS: timeOf(asked, members.length, ({ shares: found }, m) => found[m]! > 0),
    liquidWith123S: timeOf(asked, members.length, ({ has123 }, m) => has123[m] === 1),
    spans: likelySpans(places),
    unasked: places.length - there.length,
  };
}

type AskedPlaces = { place: PathPlace; answer: Asked }[];

/** Share of the members that change between two answers. */
function changing(from: Asked, to: Asked): number {
  let count = 0;
  for (let m = 0; m < from.shares.length; m++)
    count += Number(from.shares[m]! > 0 !== to.shares[m]! > 0 || from.has123[m] !== to.has123[m]);
  return count / from.shares.length;
}

/** Halves the interval in which most members times seconds are unsettled, again and again. */
function refine(path: PathSamples, asked: AskedPlaces, ask: (place: PathPlace) => Asked, most: number): void {
  const wholeS = path.timeS.at(-1)! - path.timeS[0]!;
  while (asked.length < most) {
    let worst = -1;
    let largest = 0;
    for (let i = 1; i < asked.length; i++) {
      const [from, to] = [asked[i - 1]!, asked[i]!];
      const seconds = to.place.timeS - from.place.timeS;
      if (seconds <= SETTLED_SHARE * wholeS || stepsApart(from.place, to.place) <= SETTLED_STEPS) continue;
      const unsettled = seconds * changing(from.answer, to.answer);
      if (unsettled > largest) [worst, largest] = [i, unsettled];
    }
    if (worst < 0) return;
    const [from, to] = [asked[worst - 1]!.place, asked[worst]!.place];
    const place = placeAt(path, to.segment, (from.timeS + to.timeS) / 2);
    asked.splice(worst, 0, { place, answer: ask(place) });
  }
}

function timeOf(
  asked: Readonly<AskedPlaces>,
  count: number,
  has: (answer: Asked, member: number) => boolean,
): Time {
  const times = new Float64Array(count);
  const variances = new Float64Array(count);
  for (let i = 1; i < asked.length; i++) {
    const seconds = asked[i]!.place.timeS - asked[i - 1]!.place.timeS;
    if (seconds === 0) continue;
    for (let m = 0; m < count; m++) {
      const ends = Number(has(asked[i - 1]!.answer, m)) + Number(has(asked[i]!.answer, m));
      times[m]! += (ends / 2) * seconds;
      if (ends === 1) variances[m]! += seconds ** 2 / 12;
    }
  }
  const value = times.reduce((sum, time) => sum + time, 0) / count;
  const crossing = variances.reduce((sum, variance) => sum + variance, 0) / count;
  return { value, standardUncertainty: Math.hypot(deviation([...times]), Math.sqrt(crossing)) };
}

/** Where the odds are at least even, straight between the places; none where they were not asked. */
function likelySpans(places: readonly LiquidPlace[]): LiquidSpan[] {
  const spans: { fromS: number; toS: number; segment: number }[] = [];
  for (let i = 1; i < places.length; i++) {
    const [from, to] = [places[i - 1]!, places[i]!];
    if (to.timeS === from.timeS || (from.odds < LIKELY && to.odds < LIKELY)) continue;
    const crossingS = from.timeS + ((LIKELY - from.odds) / (to.odds - from.odds)) * (to.timeS - from.timeS);
    const fromS = from.odds < LIKELY ? crossingS : from.timeS;
    const toS = to.odds < LIKELY ? crossingS : to.timeS;
    const last = spans.at(-1);
    if (last && last.toS >= fromS) last.toS = toS;
    else spans.push({ fromS, toS, segment: to.segment });
  }
  return spans;
}
