// When liquid is there along a path, as coarsening and growth rest on it: by the phases, or above a stated temperature. Pure.
import type { LiquidAlong } from '../path/path-request.ts';
import type { AnswerQuantity } from './answer-words.ts';
import { type FilmAlongPath, type Interval, intervalsAbove, lengthS } from './film-along-path.ts';

export interface LiquidTime {
  /** odds over time */
  readonly along: { readonly timeS: readonly number[]; readonly odds: readonly number[] };
  readonly liquidS: AnswerQuantity;
  /** where it is likely */
  readonly spans: readonly Interval[];
  /** by what, for a sentence */
  readonly by: string;
}

/** By the phases at equilibrium; null while they are asked. */
export function liquidByPhases(liquid: LiquidAlong | null): LiquidTime | null {
  if (!liquid) return null;
  const { timeS, odds, spans, liquidS } = liquid;
  const along = timeS.length > 0 ? { timeS, odds } : { timeS: [0], odds: [0] };
  const none = { value: 0, standardUncertainty: 0, unit: 's' };
  return {
    along,
    liquidS: liquidS ?? none,
    spans,
    by: 'mean over the ensemble',
  };
}

/** Above a stated temperature, whatever the phases say. */
export function liquidAbove(film: FilmAlongPath, aboveC: number): LiquidTime {
  const spans = intervalsAbove(film.timeS, film.temperatureC, aboveC);
  const edges = spans.flatMap(({ fromS, toS }): [number, number][] => [
    [fromS, 0],
    [fromS, 1],
    [toS, 1],
    [toS, 0],
  ]);
  const steps: [number, number][] = [[film.timeS[0]!, 0], ...edges];
  return {
    along: { timeS: steps.map(([timeS]) => timeS), odds: steps.map(([, odds]) => odds) },
    liquidS: { value: lengthS(spans), standardUncertainty: 0, unit: 's' },
    spans,
    by: `while the film is above ${aboveC} °C`,
  };
}
