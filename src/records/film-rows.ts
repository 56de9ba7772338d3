// One row a film: what was made, what it is, whether it passes, and its rank. Pure.

import type { FactCondition } from '../science/learning/facts.ts';
import { findFact } from '../science/learning/find-fact.ts';
import type { CationRatio } from './common.ts';
import type { Fact, FactName, PhaseFact, VerdictOutcome } from './criteria.ts';
import type { SeriesView, VerdictSummary } from './series-view.ts';

export type FilmRecord = SeriesView['films'][number];
export type PieceRecord = SeriesView['pieces'][number];

/** A piece in a state with all that is known about it. */
export interface PieceState {
  piece: PieceRecord;
  /** null: as it left the run */
  stateTreatmentId: string | null;
  numbers: Fact[];
  phases: PhaseFact[];
  /** measurements whose reduction is old: their numbers and phases may be other ones now */
  oldMeasurementIds: string[];
  verdict: VerdictSummary | null;
}

export interface FilmRow {
  film: FilmRecord;
  run: SeriesView['runs'][number] | null;
  target: SeriesView['targets'][number] | null;
  /** the film's own ratio, else its target's */
  cations: CationRatio | null;
  route: string;
  temperatureC: number | null;
  po2Atm: number | null;
  states: PieceState[];
  /** the state that speaks for the film: of each piece the last that was measured, of these the best verdict */
  best: PieceState | null;
  outcome: VerdictOutcome;
  /** 1 is first; films without a verdict come last */
  rank: number;
}

/** How a fact of the film record is said to be known. */
const FILM_METHOD = 'written in the film record';

const NITROGEN: FactCondition = { temperatureK: 77, fieldT: 0 };
const OUTCOME_ORDER: Record<VerdictOutcome, number> = { passes: 0, 'cannot say': 1, 'falls short': 2 };

function statesOf(view: SeriesView, piece: PieceRecord): PieceState[] {
  const treatments = view.treatments.filter((treatment) => treatment.body.pieceId === piece.id);
  const film = view.films.find((each) => each.id === piece.body.filmId);
  const stateIds: (string | null)[] = [null, ...treatments.map((treatment) => treatment.id)];
  return stateIds.map((stateTreatmentId) => {
    const measurements = view.measurements.filter(
      (each) => each.body.pieceId === piece.id && each.body.stateTreatmentId === stateTreatmentId,
    );
    const analyses = view.analyses.filter((each) => measurements.some(({ id }) => id === each.measurementId));
    const typed = view.typedFacts.filter(
      (each) => each.body.pieceId === piece.id && each.body.stateTreatmentId === stateTreatmentId,
    );
    const numbers = [
      ...analyses.flatMap((each) => each.facts.numbers),
      ...typed.flatMap((each) => each.body.numbers),
      ...(film ? filmFacts(film) : []),
    ];
    return {
      piece,
      stateTreatmentId,
      numbers,
      phases: [
        ...analyses.flatMap((each) => each.facts.phases),
        ...typed.flatMap((each) => each.body.phases),
      ],
      oldMeasurementIds: analyses.filter(({ isStale }) => isStale).map((each) => each.measurementId),
      verdict:
        view.verdicts.find(
          (each) => each.pieceId === piece.id && each.stateTreatmentId === stateTreatmentId,
        ) ?? null,
    };
  });
}

/** Thickness and rates written down for a film, as facts. */
export function filmFacts(film: FilmRecord): Fact[] {
  const { thicknessNm, depositionRateNmPerS, conversionRateNmPerS, overallRateNmPerS } = film.body;
  const stated = { thicknessNm, depositionRateNmPerS, conversionRateNmPerS, overallRateNmPerS };
  return Object.entries(stated).flatMap(([name, number]) =>
    number === null
      ? []
      : [
          {
            name: name as FactName,
            value: number.value,
            standardUncertainty: number.standardUncertainty,
            origin: 'typed' as const,
            method: FILM_METHOD,
          },
        ],
  );
}

/** Is anything known of the state beyond what is written down for the whole film? */
export function isInformed({ numbers, phases }: PieceState): boolean {
  return phases.length > 0 || numbers.some(({ method }) => method !== FILM_METHOD);
}

/** The last informed state of each piece, in the order of the pieces. */
export function lastStates(states: readonly PieceState[]): PieceState[] {
  return [...new Map(states.filter(isInformed).map((state) => [state.piece.id, state])).values()];
}

/**
 * One row a film in rank order: passes, cannot say, falls short; inside each by Jc at the coil's condition, then by Jc at
 * 77 K, then by label.
 */
export function filmRows(view: SeriesView): FilmRow[] {
  const coil = view.series.body.coil;
  const rows = view.films.map((film): FilmRow => {
    const run = view.runs.find(({ id }) => id === film.body.runId) ?? null;
    const target = view.targets.find(({ id }) => id === run?.body.targetId) ?? null;
    const pieces = view.pieces.filter((piece) => piece.body.filmId === film.id);
    const states = pieces.flatMap((piece) => statesOf(view, piece));
    const best =
      lastStates(states).sort(
        (one, other) =>
          OUTCOME_ORDER[one.verdict?.outcome ?? 'cannot say'] -
            OUTCOME_ORDER[other.verdict?.outcome ?? 'cannot say'] ||
          other.numbers.length - one.numbers.length,
      )[0] ?? null;
    const reading = run?.body.temperature;
    const pressure = run?.body.pressure;
    return {
      film,
      run,
      target,
      cations: film.body.cations ?? target?.body.cations ?? null,
      route: run?.body.route ?? '',
      temperatureC: reading ? reading.valueC + (reading.offsetK?.value ?? 0) : null,
      po2Atm: pressure
        ? (pressure.valuePa / 101_325) * (pressure.kind === 'total' ? pressure.oxygenShare : 1)
        : null,
      states,
      best,
      outcome: best?.verdict?.outcome ?? 'cannot say',
      rank: 0,
    };
  });
  const jc = (row: FilmRow, at: FactCondition): number =>
    findFact(row.best?.numbers ?? [], 'jcAPerM2', at)?.fact.value ?? Number.NEGATIVE_INFINITY;
  rows.sort((one, other) => {
    const hasVerdict = Number(other.best?.verdict != null) - Number(one.best?.verdict != null);
    const coilJc = coil ? jc(other, coil) - jc(one, coil) : 0;
    const nitrogenJc = jc(other, NITROGEN) - jc(one, NITROGEN);
    return (
      hasVerdict ||
      OUTCOME_ORDER[one.outcome] - OUTCOME_ORDER[other.outcome] ||
      (Number.isNaN(coilJc) ? 0 : coilJc) ||
      (Number.isNaN(nitrogenJc) ? 0 : nitrogenJc) ||
      one.film.body.label.localeCompare(other.film.body.label, 'en', { numeric: true })
    );
  });
  return rows.map((row, i) => ({ ...row, rank: i + 1 }));
}
