// How a film is marked by its verdict: the same on every chart.
import type { MarkTarget, SymbolMark } from './scene.ts';
import { VERDICT_LOOKS, type VerdictName } from './theme.ts';

export const VERDICT_NAMES = Object.keys(VERDICT_LOOKS) as VerdictName[];

/** The mark of a film, and the ring around it where it is the benchmark. */
export function verdictMarks(
  verdict: VerdictName,
  x: number,
  y: number,
  radius: number,
  isBenchmark: boolean,
  target?: MarkTarget,
): SymbolMark[] {
  const { shape, role, isFilled } = VERDICT_LOOKS[verdict];
  const mark: SymbolMark = {
    kind: 'symbol',
    shape,
    x,
    y,
    radius,
    hasHalo: true,
    fill: isFilled ? role : verdict === 'cannot say' ? 'background' : undefined,
    stroke: role,
    strokeWidth: isFilled ? 1 : 2.25,
    target,
  };
  const ring: SymbolMark = {
    kind: 'symbol',
    shape: 'circle',
    x,
    y,
    radius: radius + 4,
    stroke: 'accent',
    strokeWidth: 2,
    hasHalo: true,
  };
  return isBenchmark ? [ring, mark] : [mark];
}
