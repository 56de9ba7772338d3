// Verdicts from records: what each piece in a state is judged by, asked of the catalogue, stored with what was asked.
import type { Facts } from '../records/criteria.ts';
import { filmRows, isInformed, type PieceState } from '../records/film-rows.ts';
import type { SeriesView } from '../records/series-view.ts';

function factsOfState(state: PieceState): Facts {
  return { numbers: state.numbers, phases: state.phases };
}

/**
 * The state that speaks for the series' benchmark: the last that was measured; null where none is named or measured. What
 * is written down for the film belongs to every state, a treatment not yet measured among them, and makes none speak.
 */
export function benchmarkState(view: SeriesView): PieceState | null {
  const { benchmarkPieceId } = view.series.body;
  if (benchmarkPieceId === null) return null;
  const states = filmRows(view)
    .flatMap((row) => row.states)
    .filter((state) => state.piece.id === benchmarkPieceId && isInformed(state));
  return states.at(-1) ?? null;
}

/** How the benchmark was grown unlike a piece, in words: substrate, thickness by over 10 %. */
function differencesFrom(view: SeriesView, state: PieceState, benchmark: PieceState): string[] {
  const filmOf = (of: PieceState) => view.films.find(({ id }) => id === of.piece.body.filmId)?.body;
  const [film, other] = [filmOf(state), filmOf(benchmark)];
  if (!film || !other) return [];
  const differences: string[] = [];
  if (film.substrate !== other.substrate) {
    differences.push(`substrate ${film.substrate}, the benchmark's ${other.substrate}`);
  } else if (film.substrateLot !== other.substrateLot) {
    differences.push(
      `substrate lot ${film.substrateLot || 'not stated'}, the benchmark's ${other.substrateLot || 'not stated'}`,
    );
  }
  const [thickness, otherThickness] = [film.thicknessNm?.value, other.thicknessNm?.value];
  if (
    thickness !== undefined &&
    otherThickness !== undefined &&
    Math.abs(thickness / otherThickness - 1) > 0.1
  ) {
    differences.push(
      `thickness ${Math.round(thickness)} nm, the benchmark's ${Math.round(otherThickness)} nm`,
    );
  }
  return differences;
}

/**
 * What `learning.verdict` is asked of a piece in a state.
 *
 * @param benchmark what `benchmarkState` answers for the view: once a view, not once a state
 */
export function verdictRequest(
  view: SeriesView,
  state: PieceState,
  benchmark: PieceState | null,
): Record<string, unknown> {
  const isBenchmark = benchmark !== null && benchmark.piece.id === state.piece.id;
  return {
    criteria: view.series.body.criteria,
    facts: factsOfState(state),
    benchmark: benchmark ? factsOfState(benchmark) : null,
    differences: benchmark && !isBenchmark ? differencesFrom(view, state, benchmark) : [],
  };
}
