// The contract beside the catalogue: what each route takes and answers. The server and the typed client rest on it.
import { z } from 'zod';
import { recordIdSchema, sha256Schema, whenSchema } from '../records/common.ts';
import {
  analysisSchema,
  columnMappingSchema,
  MEASUREMENT_KINDS,
  measurementSchema,
  measurementSettingsSchema,
  readingAnswersSchema,
  tableReadingSchema,
} from '../records/kinds.ts';
import { storedRecordSchema, verdictSummarySchema } from '../records/series-view.ts';

/** Header that every request which changes something must carry; a foreign page cannot set it. */
export const CHANGE_HEADER = 'x-peritect';
/** Largest file taken, in bytes. */
export const MAX_FILE_BYTES = 20 * 1024 * 1024;

/** Every answer that is not a success. */
export const problemSchema = z.strictObject({
  code: z.string(),
  /** what is wrong, where, what was found and expected */
  sentence: z.string(),
  /** what to do next */
  remedy: z.string(),
  /** the record as it stands, where an old revision was refused */
  current: z.unknown().optional(),
});
export type Problem = z.infer<typeof problemSchema>;

export const anyRecordSchema = storedRecordSchema(z.unknown());

export const seriesListSchema = z.array(
  z.strictObject({
    id: recordIdSchema,
    label: z.string(),
    isInvented: z.boolean(),
    filmCount: z.number().int(),
  }),
);

export const createRequestSchema = z.strictObject({
  id: recordIdSchema,
  changeId: recordIdSchema,
  /** null for what all series share; a series names itself */
  seriesId: recordIdSchema.nullable(),
  body: z.unknown(),
});
export const reviseRequestSchema = z.strictObject({ changeId: recordIdSchema, body: z.unknown() });
export const changeRequestSchema = z.strictObject({ changeId: recordIdSchema });

export const revisionSchema = z.strictObject({
  revision: z.number().int(),
  changeId: recordIdSchema,
  at: whenSchema,
  by: z.string(),
  isDeleted: z.boolean(),
  body: z.unknown(),
});
export const changeSchema = z.strictObject({
  id: recordIdSchema,
  at: whenSchema,
  by: z.string(),
  /** in words: `imported D07-b_RT.txt` */
  what: z.string(),
  /** the change that this one took back */
  undoes: recordIdSchema.nullable(),
  isUndone: z.boolean(),
});

export const fileSchema = z.strictObject({ sha256: sha256Schema, bytes: z.number().int() });

/** A look at a file before anything is recorded. */
export const fileLookRequestSchema = z.strictObject({
  sha256: sha256Schema,
  fileName: z.string().min(1).max(255),
  seriesId: recordIdSchema,
  reading: readingAnswersSchema.optional(),
});
export const fileLookSchema = z.strictObject({
  blocks: z.array(
    z.strictObject({
      headings: z.array(z.string()),
      units: z.array(z.string()),
      rows: z.number().int(),
      shape: z.string(),
      /** first rows as numbers, a row an array; null where a number is missing */
      firstRows: z.array(z.array(z.number().nullable())),
    }),
  ),
  headerLines: z.array(z.string()),
  mapping: columnMappingSchema.nullable(),
  mappingIs: z.enum(['remembered', 'guessed', 'unknown']),
  settings: measurementSettingsSchema,
  /** questions to be answered before the mapping can be trusted */
  doubts: z.array(z.string()),
  warnings: z.array(z.string()),
  pieceId: recordIdSchema.nullable(),
  /** how the piece was found, or why not */
  pieceNote: z.string(),
});
export type FileLook = z.infer<typeof fileLookSchema>;
/** Units a role may be stated in, for the column-mapping step. */
export const rolesSchema = z.array(
  z.strictObject({
    kind: z.enum(MEASUREMENT_KINDS),
    roles: z.array(z.strictObject({ role: z.string(), isRequired: z.boolean(), units: z.array(z.string()) })),
  }),
);

export const importRequestSchema = z.strictObject({
  /** the measurement's id, made by the caller */
  id: recordIdSchema,
  changeId: recordIdSchema,
  seriesId: recordIdSchema,
  pieceId: recordIdSchema,
  stateTreatmentId: recordIdSchema.nullable(),
  fileSha256: sha256Schema,
  fileName: z.string().min(1).max(255),
  mapping: columnMappingSchema,
  settings: measurementSettingsSchema,
  /** use this mapping for the next file of the same shape */
  isRemembered: z.boolean(),
});
export type ImportRequest = z.infer<typeof importRequestSchema>;
export const importAnswerSchema = z.strictObject({
  measurement: storedRecordSchema(measurementSchema),
  analysis: storedRecordSchema(analysisSchema),
});

/** One measurement with its curve and its newest analysis whole. */
export const measurementViewSchema = z.strictObject({
  measurement: storedRecordSchema(measurementSchema),
  analysis: storedRecordSchema(analysisSchema).nullable(),
  isStale: z.boolean(),
  roles: z.array(z.string()),
  /** one array a role, SI */
  columns: z.array(z.array(z.number().nullable())),
});
export type MeasurementView = z.infer<typeof measurementViewSchema>;
export const reduceRequestSchema = z.strictObject({
  changeId: recordIdSchema,
  settings: measurementSettingsSchema,
});

/** What a past-films table's columns mean; the formats layer checks the fields. */
export const tableRequestSchema = z.strictObject({
  seriesId: recordIdSchema,
  sha256: sha256Schema,
  fileName: z.string().min(1).max(255),
  /** null: guess it */
  mapping: z.unknown(),
  /** what a person answered where the text can be read in two ways */
  reading: tableReadingSchema.optional(),
});
export const tableLookSchema = z.strictObject({
  headings: z.array(z.string()),
  rowCount: z.number().int(),
  firstRows: z.array(z.array(z.string())),
  /** fields a column may mean */
  fields: z.array(z.strictObject({ field: z.string(), label: z.string(), units: z.array(z.string()) })),
  mapping: z.unknown(),
  films: z.array(z.unknown()),
  doubts: z.array(
    z.strictObject({
      row: z.number().int(),
      column: z.string(),
      found: z.string(),
      expected: z.string(),
      message: z.string(),
    }),
  ),
});
export const tableImportRequestSchema = tableRequestSchema.extend({ changeId: recordIdSchema });
export const tableImportAnswerSchema = z.strictObject({
  changeId: recordIdSchema,
  filmCount: z.number().int(),
  pieceCount: z.number().int(),
});

export const judgeRequestSchema = z.strictObject({
  changeId: recordIdSchema,
  /** null: every piece that has a fact */
  pieceIds: z.array(recordIdSchema).max(1000).nullable(),
});
export const judgeAnswerSchema = z.strictObject({ verdicts: z.array(verdictSummarySchema) });

export const proposeRequestSchema = z.strictObject({
  changeId: recordIdSchema,
  count: z.number().int().min(1).max(10),
});

export const jobSchema = z.strictObject({
  id: recordIdSchema,
  computation: z.string(),
  state: z.enum(['running', 'done', 'failed', 'cancelled']),
  done: z.number().int(),
  total: z.number().int(),
  response: z.unknown().optional(),
  problem: problemSchema.optional(),
});

export const computationListSchema = z.array(
  z.strictObject({
    name: z.string(),
    version: z.number().int(),
    effectiveVersion: z.string(),
    summary: z.string(),
    cost: z.enum(['instant', 'interactive', 'long']),
  }),
);
