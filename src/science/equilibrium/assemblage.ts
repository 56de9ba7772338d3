// Odds of each phase field at one composition, over the members of the ensemble. Shares of cations, J per mole of cations.
import { oxygenStateAt } from './oxygen.ts';
import {
  type Conditions,
  checkPhaseNames,
  LIQUID,
  type Member,
  type PhaseSystem,
  phaseSystem,
} from './phase-system.ts';
import { type PhaseShare, type PointEquilibrium, pointEquilibrium } from './point-equilibrium.ts';

/** RE, Ba, Cu shares that sum to 1. */
export type CationShares = readonly [number, number, number];

/** Middle 95 % of the members. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

export interface Assemblage {
  /** probability of each field; the key is its sorted phase names joined by ' + ' */
  readonly odds: Record<string, number>;
  /** the median member's phases, with the standard deviation of each share over the members */
  readonly phases: readonly (PhaseShare & { readonly shareU: number })[];
  readonly liquidShare: { readonly value: number; readonly standardUncertainty: number };
  readonly liquidInterval: Interval;
  /** height of every phase above the plane of the median member's stable phases, J per mole of cations */
  readonly driving: Record<string, number>;
  /** chemical potentials of REO1.5, BaO and CuO in the median member, J per mole, from the oxides at this pO2 */
  readonly potentials: readonly [number, number, number];
  /** Cu+ share of the copper in the median member's liquid; null without liquid */
  readonly cuprousShare: number | null;
}

export const FIELD_JOINT = ' + ';

/** Sorted names of the phases there, each once, joined. */
export function fieldName(phases: readonly { readonly name: string }[]): string {
  return [...new Set(phases.map(({ name }) => name))].sort().join(FIELD_JOINT);
}

/** Share of all cations that a phase holds, split or not. */
export function shareOf(phases: readonly PhaseShare[], name: string): number {
  return phases.reduce((sum, phase) => sum + (phase.name === name ? phase.share : 0), 0);
}

/** Shares that differ by less than this differ by rounding. */
const ROUNDING_SHARE = 1e-9;

/** Standard deviation over the members; 0 where they differ by rounding. */
export function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const spread = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
  return spread < ROUNDING_SHARE ? 0 : spread;
}

/** Index of the lower median: the member in the middle by value, ties by index. */
export function medianIndex(values: ArrayLike<number>): number {
  const middle = Math.floor((values.length - 1) / 2);
  let isSorted = true; // as it is where no member, or every one, has the phase alike
  for (let i = 1; i < values.length && isSorted; i++) isSorted = values[i - 1]! <= values[i]!;
  if (isSorted) return middle;
  const order = Array.from(values, (_, i) => i).sort((a, b) => values[a]! - values[b]! || a - b);
  return order[middle]!;
}

/** Middle 95 % of some values: the 2.5 % and 97.5 % points, between neighbours by their distance. */
export function interval95(values: readonly number[]): Interval {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (part: number): number => {
    const place = part * (sorted.length - 1);
    const below = Math.floor(place);
    const above = Math.min(sorted.length - 1, below + 1);
    return sorted[below]! + (place - below) * (sorted[above]! - sorted[below]!);
  };
  return { low: at(0.025), high: at(0.975) };
}

/** Takes a melt's share of a cation that is absent down to nothing, J per mole. */
const ABSENT_J_PER_MOL = 1.5e5;
/** Heights below this are rounding, J per mole of cations. */
const ROUNDING_J_PER_MOL = 1e-4;

/**
 * Height of every phase above the plane of the phases that are stable at a composition, J per mole of its cations: what an offset
 * must take off before the phase joins there. 0 for the stable ones, negative for one that is held back and would form. Phases
 * with a cation that the composition lacks are left out.
 */
function heightsAbovePlane(
  { names, shares, heights, search }: PhaseSystem,
  { plane }: PointEquilibrium,
  composition: CationShares,
): Record<string, number> {
  const found: Record<string, number> = {};
  const rounded = (height: number): number => (Math.abs(height) < ROUNDING_J_PER_MOL ? 0 : height);
  names.forEach((name, i) => {
    const own = [shares[3 * i]!, shares[3 * i + 1]!, shares[3 * i + 2]!];
    if (own.some((share, k) => share > 0 && composition[k] === 0)) return;
    const above = heights[i]! - own.reduce((sum, share, k) => sum + (share > 0 ? share * plane[k]! : 0), 0);
    found[name] = rounded(Math.min(found[name] ?? Number.POSITIVE_INFINITY, above));
  });
  // a melt may hold no cation that is not there: its potential, that of a trace, is taken far down
  const floorPlane = plane.map((potential, k) =>
    composition[k] === 0 ? potential - ABSENT_J_PER_MOL : potential,
  );
  const floor = search.valleys(floorPlane, [], Number.POSITIVE_INFINITY)[0];
  if (floor !== undefined) found[LIQUID] = rounded(floor.height);
  return found;
}

/**
 * Every member's minimum at one composition.
 *
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_HELD_BACK
 */
export function memberEquilibria(
  members: readonly Member[],
  conditions: Conditions,
  shares: CationShares,
): { system: PhaseSystem; point: PointEquilibrium }[] {
  checkPhaseNames(conditions);
  const oxygen = oxygenStateAt(conditions.temperatureK, conditions.po2Atm);
  return members.map((member) => {
    const system = phaseSystem(member, conditions, oxygen);
    return { system, point: pointEquilibrium(system, shares) };
  });
}

/**
 * Odds, phases and distances at one composition, each member minimised exactly; the odds are shares of members. The uncertainty of
 * a share is its standard deviation over the members, an absent phase counted as 0.
 *
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_HELD_BACK
 */
export function assemblageAt(
  members: readonly Member[],
  conditions: Conditions,
  shares: CationShares,
): Assemblage {
  const found = memberEquilibria(members, conditions, shares);
  const odds: Record<string, number> = {};
  for (const { point } of found) {
    const field = fieldName(point.phases);
    odds[field] = (odds[field] ?? 0) + 1;
  }
  for (const field of Object.keys(odds)) odds[field]! /= members.length;
  const liquidShares = found.map(({ point }) => shareOf(point.phases, LIQUID));
  const { system, point } = found[medianIndex(liquidShares)]!;
  return {
    odds,
    phases: point.phases.map((phase) => ({
      ...phase,
      shareU: deviation(found.map(({ point: other }) => shareOf(other.phases, phase.name))),
    })),
    liquidShare: { value: shareOf(point.phases, LIQUID), standardUncertainty: deviation(liquidShares) },
    liquidInterval: interval95(liquidShares),
    driving: heightsAbovePlane(system, point, shares),
    potentials: point.plane,
    cuprousShare: point.cuprousShares[0] ?? null,
  };
}
