// A line or a point of phases standing together, over the members. degC, atm.
import { type Interval, interval95 } from './assemblage.ts';
import { ZERO_CELSIUS_K } from './oxygen.ts';
import type { Conditions, Member } from './phase-system.ts';
import { type ReactionAt, type ReactionPoint, reactionPoint } from './reaction.ts';

export interface ReactionAnswer {
  /** median over the members that have the reaction */
  readonly temperatureC: number;
  readonly po2Atm: number;
  /** standard deviation of the temperature, or of log10 pO2, whichever was sought */
  readonly spread: number;
  readonly interval: Interval;
  /** share of members in which the phases meet at all */
  readonly foundOdds: number;
  /** share of members, of those that meet, in which nothing lies lower there */
  readonly stableOdds: number;
  /** phases that lie lower, with the share of members in which they do */
  readonly lowerPhases: Readonly<Record<string, number>>;
  /** median of each share of the melt's cations; null without melt */
  readonly meltShares: readonly [number, number, number] | null;
  readonly meltIntervals: readonly [Interval, Interval, Interval] | null;
  readonly cuprousShare: number | null;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half]! : (sorted[half - 1]! + sorted[half]!) / 2;
}

function deviation(values: readonly number[]): number {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  return Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
}

/**
 * Where phases stand together in the members that have it, one of T and pO2 given.
 *
 * @returns undefined where no member has it
 * @throws DomainError EQUILIBRIUM_PHASE_UNKNOWN, EQUILIBRIUM_REACTION
 */
export function reactionOver(
  members: readonly Member[],
  conditions: Omit<Conditions, 'temperatureK' | 'po2Atm'>,
  names: readonly string[],
  at: ReactionAt,
): ReactionAnswer | undefined {
  const found = members
    .map((member) => reactionPoint(member, conditions, names, at))
    .filter((point): point is ReactionPoint => point !== undefined);
  if (found.length === 0) return undefined;
  const isTemperatureSought = 'po2Atm' in at;
  const temperatures = found.map(({ temperatureK }) => temperatureK - ZERO_CELSIUS_K);
  const decades = found.map(({ po2Atm }) => Math.log10(po2Atm));
  const sought = isTemperatureSought ? temperatures : decades;
  const lowerPhases: Record<string, number> = {};
  for (const { lowerPhases: lower } of found)
    for (const name of lower) lowerPhases[name] = (lowerPhases[name] ?? 0) + 1 / found.length;
  const melts = found.flatMap(({ melt }) => (melt ? [melt] : []));
  const shares = [0, 1, 2].map((k) => melts.map(({ composition }) => composition[k]!));
  return {
    temperatureC: median(temperatures),
    po2Atm: 10 ** median(decades),
    spread: deviation(sought),
    interval: interval95(isTemperatureSought ? temperatures : found.map(({ po2Atm }) => po2Atm)),
    foundOdds: found.length / members.length,
    stableOdds: found.filter(({ lowerPhases: lower }) => lower.length === 0).length / found.length,
    lowerPhases,
    meltShares: melts.length > 0 ? (shares.map(median) as [number, number, number]) : null,
    meltIntervals: melts.length > 0 ? (shares.map(interval95) as [Interval, Interval, Interval]) : null,
    cuprousShare: melts.length > 0 ? median(melts.map(({ cuprousShare }) => cuprousShare)) : null,
  };
}
