// Odds that a true value meets a wanted one, from what was measured. Pure.
import { normalCdf } from '../numerics/normal-distribution.ts';
import type { FactName } from './facts.ts';

/** Odds from which a criterion is met: one standard uncertainty clear of the wanted value. Argued in docs/science/learning.md. */
const PASS_ODDS = normalCdf(1);
/** Odds down to which it is missed. */
const FALL_SHORT_ODDS = 1 - PASS_ODDS;

/** Relative scatter of Jc between runs of one recipe, until a series has repeats of its own [common practice: 15 to 30 %]. */
export const PRIOR_RUN_SCATTER = 0.2;
/** Facts that scatter with the run's current density. */
export const SCATTERING_FACTS: ReadonlySet<FactName> = new Set(['jcAPerM2', 'icPerWidthAPerM'] as const);

/**
 * Standard uncertainty taken for a number that states none: of the size that such numbers have in a film laboratory
 * [common practice]; film currents are dominated by thickness and width, 5 to 10 %. Its use is always flagged.
 */
const UNSTATED_UNCERTAINTY: Readonly<Record<FactName, { absolute?: number; relative?: number }>> = {
  cAxisAngstrom: { absolute: 0.01 },
  breadth005Deg: { relative: 0.1 },
  rockingWidthDeg: { relative: 0.1 },
  tcOnsetK: { absolute: 0.5 },
  tcMidpointK: { absolute: 0.5 },
  tcZeroK: { absolute: 0.5 },
  tcMagneticOnsetK: { absolute: 0.5 },
  transitionWidthK: { absolute: 0.3 },
  jcAPerM2: { relative: 0.1 },
  icPerWidthAPerM: { relative: 0.05 },
  nValue: { relative: 0.1 },
  thicknessNm: { relative: 0.07 },
  depositionRateNmPerS: { relative: 0.1 },
  conversionRateNmPerS: { relative: 0.1 },
  overallRateNmPerS: { relative: 0.1 },
  cracksPerMm: { relative: 0.3 },
};

export function unstatedUncertainty(name: FactName, value: number): number {
  const { absolute = 0, relative = 0 } = UNSTATED_UNCERTAINTY[name];
  return Math.max(absolute, relative * Math.abs(value));
}

/** A value with its standard uncertainty; `bound` where only a side of it is known. */
export interface UncertainValue {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly bound?: 'above' | 'below' | undefined;
}

export interface MeetingOdds {
  /** odds that the wanted value is met; for a bound the odds at the bound itself */
  readonly odds: number;
  /** `exact`, or what the odds bound: with `least` they are at least this, with `most` at most; `open` says nothing */
  readonly side: 'exact' | 'least' | 'most' | 'open';
}

/**
 * Odds that x >= w (or x <= w) for independent normal x and w: Phi((x - w)/sqrt(u_x^2 + u_w^2)), mirrored for `at
 * most`. Without any uncertainty (two bounds) 1 or 0. A bound on x or w makes the odds a bound: x above a limit can only
 * raise the odds of `at least`, w above one can only lower them.
 *
 * Source: [derived: GUM, difference of two normal variables]; the conformance probability of JCGM 106:2012 [memory].
 */
export function meetingOdds(
  measured: UncertainValue,
  wanted: UncertainValue,
  comparison: 'at least' | 'at most',
): MeetingOdds {
  const sign = comparison === 'at least' ? 1 : -1;
  const margin = sign * (measured.value - wanted.value);
  const uncertainty = Math.hypot(measured.standardUncertainty, wanted.standardUncertainty);
  const odds = uncertainty > 0 ? normalCdf(margin / uncertainty) : Number(margin >= 0);
  const directions = new Set<number>();
  if (measured.bound) directions.add(sign * (measured.bound === 'above' ? 1 : -1));
  if (wanted.bound) directions.add(-sign * (wanted.bound === 'above' ? 1 : -1));
  if (directions.size === 0) return { odds, side: 'exact' };
  if (directions.size === 2) return { odds, side: 'open' };
  return { odds, side: directions.has(1) ? 'least' : 'most' };
}

/** What odds decide. */
export function outcomeOf({ odds, side }: MeetingOdds): 'passes' | 'falls short' | 'cannot say' {
  if (odds >= PASS_ODDS - 1e-9 && (side === 'exact' || side === 'least')) return 'passes';
  if (odds <= FALL_SHORT_ODDS + 1e-9 && (side === 'exact' || side === 'most')) return 'falls short';
  return 'cannot say';
}
