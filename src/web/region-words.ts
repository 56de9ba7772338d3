// Where liquid and 123 live together, how wide that is and what else comes, from the answer of `equilibrium.fields`. Pure.
import type { FieldsAnswer } from '../charts/ternary/fields-on-triangle.ts';

/** Range of one cation over the compositions at or above the wanted odds, shares. */
interface Span {
  readonly low: number;
  readonly high: number;
}

export interface Region {
  readonly re: Span;
  readonly ba: Span;
  readonly cu: Span;
  /** share of the compositions asked about */
  readonly part: number;
}

/** Even odds: where a member taken at random has liquid with 123 as likely as not. */
export const EVEN_ODDS = 0.5;

/** The compositions with at least `wanted` odds of liquid with 123; null where there are none. */
export function regionOf(answer: FieldsAnswer, wanted = EVEN_ODDS): Region | null {
  const { re, ba, cu, oddsLiquidAnd123 } = answer;
  const inside = Array.from(oddsLiquidAnd123, (odds, i) => (odds >= wanted ? i : -1)).filter((i) => i >= 0);
  if (inside.length === 0) return null;
  const span = (of: ArrayLike<number>): Span => ({
    low: Math.min(...inside.map((i) => of[i]!)),
    high: Math.max(...inside.map((i) => of[i]!)),
  });
  return { re: span(re), ba: span(ba), cu: span(cu), part: inside.length / oddsLiquidAnd123.length };
}

/** What stands beside liquid and 123 in the median member, with its part of the compositions that have both. */
export function companions(
  { medianField, fieldNames }: FieldsAnswer,
  superconductor: string,
): { name: string; part: number }[] {
  const counts = new Map<string, number>();
  let total = 0;
  for (let i = 0; i < medianField.length; i++) {
    const phases = fieldNames[medianField[i]!]!.split(' + ');
    if (!phases.includes('liquid') || !phases.includes(superconductor)) continue;
    const others = phases.filter((name) => name !== 'liquid' && name !== superconductor).join(' + ');
    counts.set(others, (counts.get(others) ?? 0) + 1);
    total++;
  }
  return [...counts]
    .map(([name, count]) => ({ name: name || 'nothing else', part: count / total }))
    .sort((one, other) => other.part - one.part);
}
