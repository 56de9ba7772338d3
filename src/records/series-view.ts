// A series as a page or a report sees it: every live record, with each analysis cut down to what it concluded.
import { z } from 'zod';
import { recordIdSchema, whenSchema } from './common.ts';
import { factsSchema, VERDICTS } from './criteria.ts';
import {
  chamberSchema,
  filmSchema,
  literaturePointSchema,
  lotSchema,
  measurementSchema,
  pathPlanSchema,
  pieceSchema,
  powderSchema,
  proposalsSchema,
  runSchema,
  seriesSchema,
  targetSchema,
  treatmentSchema,
  typedFactsSchema,
} from './kinds.ts';

/** A record of one kind as it is sent. */
export function storedRecordSchema<Body extends z.ZodType>(body: Body) {
  return z.strictObject({
    id: recordIdSchema,
    kind: z.string(),
    seriesId: recordIdSchema.nullable(),
    revision: z.number().int().min(1),
    body,
    createdAt: whenSchema,
    updatedAt: whenSchema,
    by: z.string(),
    isDeleted: z.boolean(),
  });
}

/** What an analysis concluded, without the curves it drew. */
export const analysisSummarySchema = z.strictObject({
  id: recordIdSchema,
  measurementId: recordIdSchema,
  computation: z.string(),
  version: z.number().int(),
  effectiveVersion: z.string(),
  /** the science, the film, the piece or a setting has changed since */
  isStale: z.boolean(),
  failure: z.strictObject({ code: z.string(), message: z.string() }).nullable(),
  facts: factsSchema,
  flags: z.array(z.strictObject({ code: z.string(), message: z.string() })),
  madeAt: whenSchema,
});
export type AnalysisSummary = z.infer<typeof analysisSummarySchema>;

export const verdictSummarySchema = z.strictObject({
  id: recordIdSchema,
  pieceId: recordIdSchema,
  stateTreatmentId: recordIdSchema.nullable(),
  computation: z.string(),
  version: z.number().int(),
  effectiveVersion: z.string(),
  /** the science, a fact, a criterion or the benchmark has changed since */
  isStale: z.boolean(),
  outcome: z.enum(VERDICTS),
  response: z.unknown(),
  madeAt: whenSchema,
});
export type VerdictSummary = z.infer<typeof verdictSummarySchema>;

export const seriesViewSchema = z.strictObject({
  series: storedRecordSchema(seriesSchema),
  lots: z.array(storedRecordSchema(lotSchema)),
  targets: z.array(storedRecordSchema(targetSchema)),
  runs: z.array(storedRecordSchema(runSchema)),
  films: z.array(storedRecordSchema(filmSchema)),
  pieces: z.array(storedRecordSchema(pieceSchema)),
  treatments: z.array(storedRecordSchema(treatmentSchema)),
  measurements: z.array(storedRecordSchema(measurementSchema)),
  typedFacts: z.array(storedRecordSchema(typedFactsSchema)),
  literaturePoints: z.array(storedRecordSchema(literaturePointSchema)),
  pathPlans: z.array(storedRecordSchema(pathPlanSchema)),
  /** what all series share */
  powders: z.array(storedRecordSchema(powderSchema)),
  chambers: z.array(storedRecordSchema(chamberSchema)),
  /** the newest of each measurement */
  analyses: z.array(analysisSummarySchema),
  /** the newest of each piece and state */
  verdicts: z.array(verdictSummarySchema),
  /** the newest; null before the first */
  proposals: storedRecordSchema(proposalsSchema).nullable(),
  proposalsAreStale: z.boolean(),
});
export type SeriesView = z.infer<typeof seriesViewSchema>;
