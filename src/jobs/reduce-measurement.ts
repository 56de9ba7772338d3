// Reduces a measurement through the catalogue: the answer, or why there is none.
import type { Reader } from '../logbook/reader.ts';
import type { Analysis, Measurement } from '../records/kinds.ts';
import { CarriedDomainError } from '../runner/browser.ts';
import { findComputationOrThrow } from '../runner/find-computation.ts';
import type { Runner } from '../runner/runner.ts';
import { DomainError } from '../science/errors.ts';
import { factsOf, type ReductionSubject, reductionRequest, subjectFrom } from './reduction.ts';
import { versionNow } from './series-view.ts';

/** Numbers of an answer that are kept with it, curves included; more would not fit a record. */
const MOST_NUMBERS = 500_000;
const THINNER = 'Export the file with fewer points, or one sweep at a time, and read it in again.';

function numbersIn(value: unknown): number {
  if (typeof value !== 'object' || value === null) return 1;
  if (Array.isArray(value) && typeof value[0] !== 'object') return value.length;
  return Object.values(value).reduce<number>((sum, part) => sum + numbersIn(part), 0);
}

/** The records that a reduction rests on. */
export async function subjectOf(
  read: Reader,
  measurementId: string,
  measurement: Measurement,
): Promise<ReductionSubject> {
  const piece = await read.findOrThrow('piece', measurement.pieceId);
  const film = await read.findOrThrow('film', piece.body.filmId);
  const series = await read.findOrThrow('series', piece.seriesId!);
  const { stateTreatmentId } = measurement;
  const treatment = stateTreatmentId === null ? null : await read.findOrThrow('treatment', stateTreatmentId);
  return subjectFrom(measurementId, measurement, piece.body, film.body, series.body, treatment?.body ?? null);
}

/** Columns at hand, for a measurement whose table is not in the store yet. */
interface ColumnsAtHand {
  columns: readonly Float64Array[];
}

function withNumbers(
  request: Record<string, unknown>,
  blob: string,
  { columns }: ColumnsAtHand,
): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(request).map(([field, value]) => {
      const reference = value as { blob?: string; column?: number } | null;
      const isColumn =
        typeof value === 'object' && reference?.blob === blob && typeof reference.column === 'number';
      return [field, isColumn ? columns[reference!.column!] : value];
    }),
  );
}

/**
 * Asks the entry that reduces this kind of measurement. A refusal in words becomes the analysis' failure, since the
 * measurement is worth keeping without it.
 */
export async function reduceMeasurement(
  runner: Runner,
  subject: ReductionSubject,
  atHand?: ColumnsAtHand,
): Promise<Analysis> {
  const { measurement, measurementId } = subject;
  const asked = reductionRequest(subject);
  const computation = asked.computation;
  const base = {
    measurementId,
    computation,
    version: findComputationOrThrow(computation).version,
    effectiveVersion: versionNow(computation)!,
  };
  const failed = (code: string, message: string, request: unknown = null): Analysis => ({
    ...base,
    request,
    response: null,
    failure: { code, message },
    facts: { numbers: [], phases: [] },
  });
  if (!asked.ok) return failed(asked.code, asked.message);
  const { request } = asked;
  try {
    const numbers = atHand ? withNumbers(request, measurement.columns.blob, atHand) : request;
    const response = (await runner.run(computation, numbers)) as Record<string, unknown>;
    const facts = factsOf(subject, response);
    const count = numbersIn(response);
    if (count <= MOST_NUMBERS) return { ...base, request, response, failure: null, facts };
    const message = `The answer holds ${count} numbers; ${MOST_NUMBERS} are the most that are kept with a measurement. ${THINNER}`;
    return failed('ANALYSIS_TOO_LARGE', message, request);
  } catch (error) {
    if (error instanceof DomainError || error instanceof CarriedDomainError) {
      return failed(error.code, `${error.sentence} ${error.remedy}`, request);
    }
    throw error;
  }
}
