// A series as pages and reports see it, with what is old marked so.

import { CATALOGUE } from '../computations/catalogue.ts';
import type { AnyRecord } from '../logbook/reader.ts';
import { filmRows, type PieceState } from '../records/film-rows.ts';
import type { Analysis, RecordKind, StoredRecord, Verdict } from '../records/kinds.ts';
import type { AnalysisSummary, SeriesView, VerdictSummary } from '../records/series-view.ts';
import { effectiveVersion } from '../runner/effective-version.ts';
import { isSameOnWire } from '../runner/wire.ts';
import { benchmarkState, verdictRequest } from './judge.ts';
import { proposalsRequest } from './propose.ts';
import { isAskedTheSame, subjectFrom } from './reduction.ts';

/** Effective version of an entry by name; undefined for one that the catalogue no longer has. */
export function versionNow(name: string): string | undefined {
  const entry = CATALOGUE.find((each) => each.name === name);
  return entry && effectiveVersion(entry);
}

function ofKind<Kind extends RecordKind>(records: readonly AnyRecord[], kind: Kind): StoredRecord<Kind>[] {
  return records.filter((record) => record.kind === kind) as unknown as StoredRecord<Kind>[];
}

/** The last record of each key; records come oldest first. */
function newestBy<R extends { body: unknown }>(records: readonly R[], key: (record: R) => string): R[] {
  return [...new Map(records.map((record) => [key(record), record])).values()];
}

/** An analysis without the curves that it drew. */
function analysisSummary(record: StoredRecord<'analysis'>): AnalysisSummary {
  const {
    measurementId,
    computation,
    version,
    effectiveVersion: madeWith,
    failure,
    facts,
    response,
  } = record.body as Analysis;
  const flags = (response as { flags?: AnalysisSummary['flags'] } | null)?.flags ?? [];
  return {
    id: record.id,
    measurementId,
    computation,
    version,
    effectiveVersion: madeWith,
    isStale: versionNow(computation) !== madeWith,
    failure,
    facts,
    flags,
    madeAt: record.createdAt,
  };
}

function verdictSummary(record: StoredRecord<'verdict'>): VerdictSummary {
  const {
    pieceId,
    stateTreatmentId,
    computation,
    version,
    effectiveVersion: madeWith,
    response,
  } = record.body as Verdict;
  return {
    id: record.id,
    pieceId,
    stateTreatmentId,
    computation,
    version,
    effectiveVersion: madeWith,
    isStale: versionNow(computation) !== madeWith,
    outcome: (response as { outcome: VerdictSummary['outcome'] }).outcome,
    response,
    madeAt: record.createdAt,
  };
}

/**
 * Puts a series together from its live records.
 *
 * @param records every live record of the series, oldest first, the series itself included
 */
export function seriesViewFrom(records: readonly AnyRecord[]): SeriesView {
  const [series] = ofKind(records, 'series');
  if (!series) throw new Error('A series view needs the series.');
  const verdictRecords = newestBy(
    ofKind(records, 'verdict'),
    ({ body }) => `${body.pieceId} ${body.stateTreatmentId}`,
  );
  const analysisRecords = newestBy(ofKind(records, 'analysis'), ({ body }) => body.measurementId);
  const proposals = ofKind(records, 'proposals').at(-1) ?? null;
  const lots = ofKind(records, 'lot');
  const view = {
    series,
    lots,
    targets: ofKind(records, 'target'),
    runs: ofKind(records, 'run'),
    films: ofKind(records, 'film'),
    pieces: ofKind(records, 'piece'),
    treatments: ofKind(records, 'treatment'),
    measurements: ofKind(records, 'measurement'),
    typedFacts: ofKind(records, 'typedFacts'),
    literaturePoints: ofKind(records, 'literaturePoint'),
    pathPlans: ofKind(records, 'pathPlan'),
    powders: ofKind(records, 'powder'),
    chambers: ofKind(records, 'chamber'),
    analyses: analysisRecords.map(analysisSummary),
    verdicts: verdictRecords.map(verdictSummary),
    proposals,
    proposalsAreStale: false,
  } as SeriesView;
  // an analysis is old, too, when the film or the piece was corrected after it
  const byId = new Map(records.map((record) => [record.id, record]));
  view.analyses = view.analyses.map((analysis, i) => {
    const { measurementId, request } = analysisRecords[i]!.body;
    const measurement = byId.get(measurementId) as StoredRecord<'measurement'> | undefined;
    const piece = byId.get(measurement?.body.pieceId ?? '') as StoredRecord<'piece'> | undefined;
    const film = byId.get(piece?.body.filmId ?? '') as StoredRecord<'film'> | undefined;
    if (!measurement || !piece || !film) return analysis;
    const treatment = byId.get(measurement.body.stateTreatmentId ?? '') as
      | StoredRecord<'treatment'>
      | undefined;
    const subject = subjectFrom(
      measurementId,
      measurement.body,
      piece.body,
      film.body,
      series.body,
      treatment?.body ?? null,
    );
    return { ...analysis, isStale: analysis.isStale || !isAskedTheSame(subject, request) };
  });
  // a verdict is old, too, when what it would be asked now is not what it was asked, or is asked of old numbers
  const states = filmRows(view).flatMap((row) => row.states);
  const benchmark = benchmarkState(view);
  const isOnOldNumbers = (state: PieceState): boolean =>
    state.oldMeasurementIds.length + (benchmark?.oldMeasurementIds.length ?? 0) > 0;
  view.verdicts = view.verdicts.map((verdict, i) => {
    const state = states.find(
      (each) => each.piece.id === verdict.pieceId && each.stateTreatmentId === verdict.stateTreatmentId,
    );
    const isSame =
      state !== undefined &&
      !isOnOldNumbers(state) &&
      isSameOnWire(verdictRequest(view, state, benchmark), verdictRecords[i]!.body.request);
    return { ...verdict, isStale: verdict.isStale || !isSame };
  });
  if (proposals) {
    const { computation, effectiveVersion: madeWith, request } = proposals.body;
    const { fieldOdds: _odds, count: _count, ...asked } = request as Record<string, unknown>;
    const {
      fieldOdds: _now,
      count: _same,
      ...would
    } = proposalsRequest(view, 0, { compositions: [], odds: [], usefulShares: [] });
    view.proposalsAreStale =
      versionNow(computation) !== madeWith ||
      filmRows(view).some(({ best }) => best?.verdict && isOnOldNumbers(best)) ||
      !isSameOnWire(asked, would);
  }
  return view;
}
