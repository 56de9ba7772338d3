// The records: lot -> target -> run -> film -> piece -> treatment -> state, and what is measured and concluded.
// A parent is a record's `...Id` field; `PARENT_FIELD` says which.
import { z } from 'zod';
import { MEASUREMENT_KINDS, type MeasurementKind } from '../formats/curves/schema.ts';
import {
  cationRatioSchema,
  labelSchema,
  noteSchema,
  pressureReadingSchema,
  recordIdSchema,
  sha256Schema,
  statedSchema,
  temperatureReadingSchema,
  whenSchema,
} from './common.ts';
import { criterionSchema, factSchema, factsSchema, phaseFactSchema } from './criteria.ts';

/** not stated: a table of past films may not say */
const routeSchema = z.enum(['in situ', 'ex situ', 'not stated']);

export const seriesSchema = z.strictObject({
  label: labelSchema,
  aim: z.string().max(2000),
  /** true: every page that shows it says that the data are invented */
  isInvented: z.boolean(),
  rareEarths: z
    .array(z.string().regex(/^[A-Z][a-z]?$/))
    .min(1)
    .max(8),
  /** condition the triangle opens at: surface temperature and oxygen partial pressure */
  growth: z.strictObject({
    temperatureC: z.number().min(400).max(1200),
    po2Atm: z.number().min(1e-9).max(10),
    /** set free by the grower where films melt below the bulk line; 0 is the published diagram */
    meltOffsetJPerMol: z.number().min(-20_000).max(20_000).default(0),
  }),
  coil: z
    .strictObject({ temperatureK: z.number().min(1).max(100), fieldT: z.number().min(0).max(50) })
    .nullable(),
  criteria: z.array(criterionSchema).max(40),
  benchmarkPieceId: recordIdSchema.nullable(),
  controlPieceId: recordIdSchema.nullable(),
  note: noteSchema,
});
export type Series = z.infer<typeof seriesSchema>;

export const lotSchema = z.strictObject({
  label: labelSchema,
  formula: z.string().min(1).max(100),
  lotNumber: z.string().max(100),
  /** mass fraction of the named formula in the dried powder */
  purity: z.number().gt(0).max(1).nullable(),
  /** of one metal, whatever compounds hold it, as a mass fraction of the dried powder; stands in place of purity */
  assay: z
    .strictObject({
      cation: z.string().regex(/^[A-Z][a-z]?$/),
      massFraction: z.number().gt(0).max(1),
      standardUncertainty: z.number().min(0).max(1),
    })
    .nullable()
    .default(null),
  /** null: not asked yet; a purity on a metals basis is no mass fraction of the compound */
  isMetalsBasis: z.boolean().nullable().default(null),
  lossOnDrying: z.number().min(0).lt(1),
  /** temperature at which the loss was measured */
  dryingC: z.number().min(0).max(1500).nullable().default(null),
  note: noteSchema,
});
export type Lot = z.infer<typeof lotSchema>;

/** One step of a heat and gas path; it ends at `toC` after `durationS`, in the gas named. */
export const segmentSchema = z.strictObject({
  kind: z.enum(['ramp', 'hold', 'gas change', 'cool']),
  toC: z.number().min(-273.15).max(2000),
  durationS: z.number().min(0).max(1e7),
  po2Atm: z.number().min(0).max(1000),
  gas: z.string().max(100),
});
export type Segment = z.infer<typeof segmentSchema>;

export const targetSchema = z.strictObject({
  label: labelSchema,
  cations: cationRatioSchema,
  totalMassG: z.number().positive().max(10_000).nullable(),
  lotIds: z.array(recordIdSchema).max(20),
  /** what the batch entry answered when the sheet was made; kept with its version */
  sheet: z
    .strictObject({
      computation: z.string(),
      version: z.number().int(),
      request: z.unknown(),
      response: z.unknown(),
    })
    .nullable(),
  sinterGas: z.string().max(100),
  /** firing as a path; what it leaves of oxygen is kept as it was answered */
  sintering: z
    .strictObject({
      segments: z.array(segmentSchema).min(1).max(60),
      oxygen: z
        .strictObject({
          computation: z.string(),
          version: z.number().int(),
          request: z.unknown(),
          response: z.unknown(),
        })
        .nullable(),
    })
    .nullable()
    .default(null),
  /** where the ratio is wanted in the film: what was wanted there, and the target that was answered for it */
  filmAim: z
    .strictObject({
      wanted: z.unknown(),
      computation: z.string(),
      version: z.number().int(),
      request: z.unknown(),
      response: z.unknown(),
    })
    .nullable()
    .default(null),
  note: noteSchema,
});
export type Target = z.infer<typeof targetSchema>;

/** A powder of the user's own in the library that all series share. */
export const powderSchema = z.strictObject({
  label: labelSchema,
  formula: z.string().min(1).max(100),
  /** how it is dried before weighing */
  drying: z.string().max(300),
  /** hazard statements of its safety data sheet, such as H302 */
  hazardCodes: z.array(z.string().regex(/^(EUH)?H?[0-9]{3}[A-Za-z]{0,3}$/)).max(20),
  caution: z.string().max(500),
  /** where the codes stand, with its date */
  source: z.string().max(300),
  note: noteSchema,
});
export type Powder = z.infer<typeof powderSchema>;

/** What stands between a commanded path and the film; shared by all series. */
export const chamberSchema = z.strictObject({
  label: labelSchema,
  volumeL: statedSchema.nullable(),
  oxygenFlowSccm: statedSchema.nullable(),
  /** 0 with the pump shut off while filling */
  pumpingWhileFillingLPerS: statedSchema.nullable(),
  pumpingLPerS: statedSchema.nullable(),
  gasC: z.number().min(-200).max(1000).nullable(),
  thermalLagS: statedSchema.nullable(),
  /** where its temperature is read, and surface minus reading */
  temperaturePlace: temperatureReadingSchema.shape.place,
  offsetK: statedSchema.nullable(),
  pressureKind: pressureReadingSchema.shape.kind,
  gauge: pressureReadingSchema.shape.gauge,
  oxygenShare: pressureReadingSchema.shape.oxygenShare,
  note: noteSchema,
});
export type Chamber = z.infer<typeof chamberSchema>;

/** A heat and gas path as it is commanded, before any piece has gone through it. */
export const pathPlanSchema = z.strictObject({
  label: labelSchema,
  route: routeSchema,
  /** film ratio it is meant for */
  cations: cationRatioSchema.nullable(),
  thicknessNm: statedSchema.nullable(),
  substrate: z.string().max(200),
  chamberId: recordIdSchema.nullable(),
  start: z.strictObject({
    temperatureC: z.number().min(-273.15).max(2000),
    po2Atm: z.number().min(0).max(1000),
  }),
  /** as growth.path takes them */
  segments: z
    .array(
      z.strictObject({
        kind: z.enum(['ramp', 'hold', 'gas', 'deposit', 'cool']),
        toC: z.number().min(-273.15).max(2000).optional(),
        rateKPerMin: z.number().positive().max(1e6).optional(),
        durationS: z.number().min(0).max(1e7).optional(),
        toPo2Atm: z.number().min(0).max(1000).optional(),
        thicknessNm: z.number().positive().max(1e6).optional(),
      }),
    )
    .min(1)
    .max(60),
  note: noteSchema,
});
export type PathPlan = z.infer<typeof pathPlanSchema>;

export const runSchema = z.strictObject({
  label: labelSchema,
  targetId: recordIdSchema.nullable(),
  startedAt: whenSchema.nullable(),
  route: routeSchema,
  source: z.enum(['pulsed laser', 'evaporation', 'sputtering', 'other']),
  energyAtTargetMj: statedSchema.nullable(),
  energyBeforeWindowMj: statedSchema.nullable(),
  energyAfterWindowMj: statedSchema.nullable(),
  spotAreaMm2: statedSchema.nullable(),
  distanceMm: z.number().positive().max(1000).nullable(),
  repetitionHz: z.number().positive().max(10_000).nullable(),
  pulses: z.number().int().min(0).max(1e9).nullable(),
  pulsesSinceResurfacing: z.number().int().min(0).max(1e9).nullable(),
  /** pulses on the shuttered target before the film */
  preAblationPulses: z.number().int().min(0).max(1e9).nullable().default(null),
  /** of a source other than a laser */
  rateNmPerS: statedSchema.nullable().default(null),
  chamberId: recordIdSchema.nullable().default(null),
  basePressurePa: z.number().positive().max(1e5).nullable(),
  temperature: temperatureReadingSchema.nullable(),
  pressure: pressureReadingSchema.nullable(),
  mounting: z.string().max(200),
  isWindowCleaned: z.boolean().nullable(),
  note: noteSchema,
});
export type Run = z.infer<typeof runSchema>;

export const filmSchema = z.strictObject({
  label: labelSchema,
  /** null: received from elsewhere */
  runId: recordIdSchema.nullable(),
  /** wanted or measured film ratio; null: the target's */
  cations: cationRatioSchema.nullable(),
  substrate: z.string().min(1).max(200),
  substrateLot: z.string().max(100),
  position: z.string().max(100),
  thicknessNm: statedSchema.nullable(),
  depositionRateNmPerS: statedSchema.nullable(),
  conversionRateNmPerS: statedSchema.nullable(),
  overallRateNmPerS: statedSchema.nullable(),
  note: noteSchema,
});
export type Film = z.infer<typeof filmSchema>;

export const pieceSchema = z.strictObject({
  label: labelSchema,
  filmId: recordIdSchema,
  /** full in-plane sides */
  lengthMm: z.number().positive().max(1e6).nullable(),
  widthMm: z.number().positive().max(1e4).nullable(),
  note: noteSchema,
});
export type Piece = z.infer<typeof pieceSchema>;

/** A heat and gas path; after it the piece is in a new state, named by this record. */
export const treatmentSchema = z.strictObject({
  label: labelSchema,
  pieceId: recordIdSchema,
  startedAt: whenSchema.nullable(),
  segments: z.array(segmentSchema).min(1).max(200),
  /** the plan it was driven by, and the chamber */
  planId: recordIdSchema.nullable().default(null),
  chamberId: recordIdSchema.nullable().default(null),
  note: noteSchema,
});
export type Treatment = z.infer<typeof treatmentSchema>;

export { MEASUREMENT_KINDS, type MeasurementKind };

/** What a person said of a file's text, where the file alone does not tell. */
export const readingAnswersSchema = z.strictObject({
  delimiter: z.enum(['tab', 'semicolon', 'comma', 'blanks']).optional(),
  decimalMark: z.enum(['.', ',']).optional(),
  /** leave rows out that have too few or too many columns; the record says so */
  wholeRows: z.boolean().optional(),
  /** whether dates such as 01/03/2026 state the day or the month first */
  dateOrder: z.enum(['day first', 'month first']).optional(),
});
export type ReadingAnswers = z.infer<typeof readingAnswersSchema>;

/** The same of a table of past films: blanks stand inside its cells, and every row of it is read. */
export const tableReadingSchema = readingAnswersSchema
  .omit({ wholeRows: true, dateOrder: true })
  .extend({ delimiter: z.enum(['tab', 'semicolon', 'comma']).optional() });
export type TableReading = z.infer<typeof tableReadingSchema>;

/** Which column of a file is which quantity, and in which unit the file states it. */
export const columnMappingSchema = z.strictObject({
  kind: z.enum(MEASUREMENT_KINDS),
  block: z.number().int().min(0).max(999),
  columns: z
    .array(
      z.strictObject({
        role: z.string().min(1).max(40),
        column: z.number().int().min(0).max(999),
        unit: z.string().max(20),
      }),
    )
    .min(1)
    .max(20),
  reading: readingAnswersSchema.optional(),
});
export type ColumnMapping = z.infer<typeof columnMappingSchema>;

/** What a reduction needs besides the file; which fields matter depends on the kind. */
export const measurementSettingsSchema = z.strictObject({
  anode: z.enum(['Cu', 'Co', 'Mo']).optional(),
  wavelengthAngstrom: z.number().min(0.1).max(3).optional(),
  temperatureK: z.number().min(0).max(400).optional(),
  fieldT: z.number().min(-100).max(100).optional(),
  thetaDeg: z.number().min(-90).max(90).optional(),
  tapDistanceM: z.number().positive().max(100).optional(),
  bridgeWidthM: z.number().positive().max(1).optional(),
  criterionVPerM: z.number().positive().max(1).optional(),
  /** standard uncertainty of the film's temperature in a transition curve; 0.1 K if left out */
  thermometerUncertaintyK: z.number().min(0).max(20).optional(),
  /** of which gas the pressure of a chamber log is; total if left out */
  pressureKind: pressureReadingSchema.shape.kind.optional(),
  /** share of O2 in the gas whose total pressure was logged */
  oxygenShare: z.number().min(0).max(1).optional(),
});
export type MeasurementSettings = z.infer<typeof measurementSettingsSchema>;

/** A file taken of a piece in a state. `stateTreatmentId` null: as it left the run. */
export const measurementSchema = z.strictObject({
  label: labelSchema,
  pieceId: recordIdSchema,
  stateTreatmentId: recordIdSchema.nullable(),
  fileName: z.string().min(1).max(255),
  fileSha256: sha256Schema,
  fileBytes: z.number().int().min(0),
  reader: z.strictObject({ name: z.string(), version: z.number().int() }),
  mapping: columnMappingSchema,
  settings: measurementSettingsSchema,
  /** the mapped columns in SI, as a stored table */
  columns: z.strictObject({
    blob: sha256Schema,
    roles: z.array(z.string().max(40)).max(20),
    rows: z.number().int(),
  }),
  warnings: z.array(z.string().max(1000)).max(200),
  takenAt: whenSchema.nullable(),
  note: noteSchema,
});
export type Measurement = z.infer<typeof measurementSchema>;

/** What a catalogue entry answered for a measurement, kept with what it was asked. */
export const analysisSchema = z.strictObject({
  measurementId: recordIdSchema,
  computation: z.string().max(80),
  effectiveVersion: z.string().max(80),
  version: z.number().int(),
  request: z.unknown(),
  response: z.unknown(),
  /** null: it worked */
  failure: z.strictObject({ code: z.string(), message: z.string() }).nullable(),
  facts: factsSchema,
});
export type Analysis = z.infer<typeof analysisSchema>;

/** Numbers typed for a piece without a raw file. */
export const typedFactsSchema = z.strictObject({
  pieceId: recordIdSchema,
  stateTreatmentId: recordIdSchema.nullable(),
  numbers: z.array(factSchema).max(100),
  phases: z.array(phaseFactSchema).max(50),
  /** cation ratio measured of the film, with standard uncertainties of the amounts */
  composition: z
    .strictObject({
      cations: cationRatioSchema,
      standardUncertainties: z.record(z.string().regex(/^[A-Z][a-z]?$/), z.number().min(0).max(1e6)),
      method: z.enum(['EDX', 'WDS', 'ICP-OES', 'RBS', 'XPS', 'other']),
      /** what it was measured against; '' where without */
      standard: z.string().max(200),
    })
    .nullable()
    .default(null),
  source: z.string().max(300),
  note: noteSchema,
});
export type TypedFacts = z.infer<typeof typedFactsSchema>;

export const verdictSchema = z.strictObject({
  pieceId: recordIdSchema,
  stateTreatmentId: recordIdSchema.nullable(),
  computation: z.string().max(80),
  effectiveVersion: z.string().max(80),
  version: z.number().int(),
  request: z.unknown(),
  response: z.unknown(),
});
export type Verdict = z.infer<typeof verdictSchema>;

export const proposalsSchema = z.strictObject({
  seriesId: recordIdSchema,
  computation: z.string().max(80),
  effectiveVersion: z.string().max(80),
  version: z.number().int(),
  request: z.unknown(),
  response: z.unknown(),
});
export type Proposals = z.infer<typeof proposalsSchema>;

/** A column mapping remembered for the next file of the same shape. */
export const rememberedMappingSchema = z.strictObject({
  /** what makes two files alike: the digest of their column headings, as the reader prints it */
  shape: z.string().min(1).max(200),
  mapping: columnMappingSchema,
  settings: measurementSettingsSchema,
});
export type RememberedMapping = z.infer<typeof rememberedMappingSchema>;

/** A published observation at one temperature and oxygen pressure that a user adds: which phases stood there, by whom. */
export const literaturePointSchema = z.strictObject({
  label: labelSchema,
  temperatureC: z.number().min(-273.15).max(2000),
  po2Atm: z.number().positive().max(1000),
  /** as the source names them */
  phases: z.string().trim().min(1).max(300),
  /** authors, journal, year: where it can be read again */
  source: z.string().trim().min(1).max(500),
  note: noteSchema,
});
export type LiteraturePoint = z.infer<typeof literaturePointSchema>;

export const RECORD_SCHEMAS = {
  series: seriesSchema,
  lot: lotSchema,
  target: targetSchema,
  run: runSchema,
  film: filmSchema,
  piece: pieceSchema,
  treatment: treatmentSchema,
  measurement: measurementSchema,
  analysis: analysisSchema,
  typedFacts: typedFactsSchema,
  verdict: verdictSchema,
  proposals: proposalsSchema,
  rememberedMapping: rememberedMappingSchema,
  literaturePoint: literaturePointSchema,
  powder: powderSchema,
  chamber: chamberSchema,
  pathPlan: pathPlanSchema,
} as const;
export type RecordKind = keyof typeof RECORD_SCHEMAS;
export const RECORD_KINDS = Object.keys(RECORD_SCHEMAS) as RecordKind[];
export interface RecordBodies {
  series: Series;
  lot: Lot;
  target: Target;
  run: Run;
  film: Film;
  piece: Piece;
  treatment: Treatment;
  measurement: Measurement;
  analysis: Analysis;
  typedFacts: TypedFacts;
  verdict: Verdict;
  proposals: Proposals;
  rememberedMapping: RememberedMapping;
  literaturePoint: LiteraturePoint;
  powder: Powder;
  chamber: Chamber;
  pathPlan: PathPlan;
}

/** Body field that names the record a record hangs on; series-wide records have none. */
export const PARENT_FIELD: Partial<Record<RecordKind, string>> = {
  run: 'targetId',
  film: 'runId',
  piece: 'filmId',
  treatment: 'pieceId',
  measurement: 'pieceId',
  analysis: 'measurementId',
  typedFacts: 'pieceId',
  verdict: 'pieceId',
};

/** A record as it is stored and sent. */
export interface StoredRecord<Kind extends RecordKind = RecordKind> {
  readonly id: string;
  readonly kind: Kind;
  /** the series it belongs to; its own id for a series; null for what all series share */
  readonly seriesId: string | null;
  readonly revision: number;
  readonly body: RecordBodies[Kind];
  readonly createdAt: string;
  readonly updatedAt: string;
  readonly by: string;
  readonly isDeleted: boolean;
}
