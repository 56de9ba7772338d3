// One film as a story: its pieces, their states one after another, and every fact with where it came from. Pure.
import type { Fact, PhaseFact } from './criteria.ts';
import { filmFacts } from './film-rows.ts';
import type { AnalysisSummary, SeriesView, VerdictSummary } from './series-view.ts';

type Part<
  Name extends 'films' | 'runs' | 'targets' | 'pieces' | 'treatments' | 'measurements' | 'typedFacts',
> = SeriesView[Name][number];

/** Where a fact came from, as its row says it. */
export interface Origin {
  /** measurement it was read from; null for a typed number */
  measurement: Part<'measurements'> | null;
  /** typed facts it stands in; null where it was read, or stands in the film's record */
  typed: Part<'typedFacts'> | null;
  /** what its analysis rests on has changed since */
  isStale: boolean;
}

export interface StoryFact extends Origin {
  fact: Fact;
}
export interface StoryPhase extends Origin {
  fact: PhaseFact;
}

export interface StoryMeasurement {
  measurement: Part<'measurements'>;
  analysis: AnalysisSummary | null;
}

export interface StoryState {
  /** null: as it left the run */
  treatment: Part<'treatments'> | null;
  measurements: StoryMeasurement[];
  facts: StoryFact[];
  phases: StoryPhase[];
  verdict: VerdictSummary | null;
}

export interface StoryPiece {
  piece: Part<'pieces'>;
  states: StoryState[];
}

export interface FilmStory {
  film: Part<'films'>;
  run: Part<'runs'> | null;
  target: Part<'targets'> | null;
  pieces: StoryPiece[];
}

function stateOf(
  view: SeriesView,
  film: Part<'films'>,
  pieceId: string,
  treatment: Part<'treatments'> | null,
): StoryState {
  const isHere = ({ body }: { body: { pieceId: string; stateTreatmentId: string | null } }) =>
    body.pieceId === pieceId && body.stateTreatmentId === (treatment?.id ?? null);
  const measurements = view.measurements.filter(isHere).map((measurement) => ({
    measurement,
    analysis: view.analyses.find((each) => each.measurementId === measurement.id) ?? null,
  }));
  const typed = view.typedFacts.filter(isHere);
  const read = measurements.flatMap(({ measurement, analysis }) =>
    analysis
      ? [{ origin: { measurement, typed: null, isStale: analysis.isStale }, facts: analysis.facts }]
      : [],
  );
  const written = typed.map((record) => ({
    origin: { measurement: null, typed: record, isStale: false },
    facts: record.body,
  }));
  const sources = [...read, ...written];
  return {
    treatment,
    measurements,
    facts: [
      ...sources.flatMap(({ origin, facts }) => facts.numbers.map((fact) => ({ ...origin, fact }))),
      ...filmFacts(film).map((fact) => ({ measurement: null, typed: null, isStale: false, fact })),
    ],
    phases: sources.flatMap(({ origin, facts }) => facts.phases.map((fact) => ({ ...origin, fact }))),
    verdict:
      view.verdicts.find(
        (each) => each.pieceId === pieceId && each.stateTreatmentId === (treatment?.id ?? null),
      ) ?? null,
  };
}

/** The story of a film; undefined where the series has no such film (any more). */
export function filmStory(view: SeriesView, filmId: string): FilmStory | undefined {
  const film = view.films.find(({ id }) => id === filmId);
  if (!film) return undefined;
  const run = view.runs.find(({ id }) => id === film.body.runId) ?? null;
  return {
    film,
    run,
    target: view.targets.find(({ id }) => id === run?.body.targetId) ?? null,
    pieces: view.pieces
      .filter(({ body }) => body.filmId === filmId)
      .map((piece) => ({
        piece,
        states: [null, ...view.treatments.filter(({ body }) => body.pieceId === piece.id)].map((treatment) =>
          stateOf(view, film, piece.id, treatment),
        ),
      })),
  };
}
