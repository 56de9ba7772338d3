// Schema parts that the entries of growth share: stated numbers, paths, and what a table's tag means for a flag.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import {
  checkSamples,
  type PathSamples,
  type PathSegment,
  type PlacedSegment,
  placeSegments,
  samplePath,
} from '../../science/growth/path.ts';
import type { StatedNumber } from '../../science/numerics/propagate.ts';
import { type Flag, numericArray, type Quantity, quantitySchema } from '../schema.ts';

/** A number as a person states it: alone, or with its standard uncertainty; the unit is in the field's name. */
export const statedSchema = z.union([
  z.number(),
  z.strictObject({ value: z.number(), standardUncertainty: z.number().min(0).nullable() }),
]);
export type Stated = z.infer<typeof statedSchema>;

/** The number with its uncertainty; null where none was stated. */
export function stated(input: Stated): StatedNumber {
  return typeof input === 'number' ? { value: input, standardUncertainty: null } : input;
}

export const optionalQuantitySchema = quantitySchema.nullable();

/** A quantity, or null where the number is not finite. */
export function quantityOf(value: number, standardUncertainty: number, unit: string): Quantity | null {
  return Number.isFinite(value) && Number.isFinite(standardUncertainty)
    ? { value, standardUncertainty: Math.abs(standardUncertainty), unit }
    : null;
}

/** One flag that names all fields without a stated uncertainty, so that the results' are lower bounds. */
export function notStatedFlags(inputs: Readonly<Record<string, StatedNumber>>): Flag[] {
  const bare = Object.entries(inputs)
    .filter(([, { standardUncertainty }]) => standardUncertainty === null)
    .map(([name]) => name);
  return bare.length === 0
    ? []
    : [
        {
          code: 'UNCERTAINTY_NOT_STATED',
          message: `No uncertainty is stated of ${bare.join(', ')}; it adds nothing, so the uncertainties shown are lower bounds.`,
        },
      ];
}

interface TaggedRecord {
  readonly id: string;
  readonly tag: string;
}

/** One flag that names the table rows known from memory alone, or not established at all. */
export function memoryFlags(records: readonly TaggedRecord[]): Flag[] {
  const weak = records.filter(({ tag }) => !tag.startsWith('[looked-up') && !tag.startsWith('[derived'));
  return weak.length === 0
    ? []
    : [
        {
          code: 'MEMORY_INPUT',
          message: `Not looked up in print: ${weak.map(({ id, tag }) => `${id} ${tag}`).join(', ')}. State your own number where you have one.`,
        },
      ];
}

export const segmentSchema = z.strictObject({
  kind: z.enum(['ramp', 'hold', 'gas', 'deposit', 'cool']),
  toC: z.number().optional(),
  rateKPerMin: z.number().optional(),
  durationS: z.number().optional(),
  toPo2Atm: z.number().optional(),
  thicknessNm: z.number().optional(),
});
export const startSchema = z.strictObject({ temperatureC: z.number(), po2Atm: z.number() });
export const segmentsSchema: z.ZodType<PathSegment[], unknown> = z.array(segmentSchema).min(1).max(60);

export const MAX_PATH_SAMPLES = 40_000;

/** A path as segments, or as samples in columns (a log, or what growth.path gave). */
export const pathSchema = z.union([
  z.strictObject({ start: startSchema, segments: segmentsSchema }),
  z.strictObject({
    timeS: numericArray({ max: MAX_PATH_SAMPLES }),
    temperatureC: numericArray({ max: MAX_PATH_SAMPLES }),
    log10Po2Atm: numericArray({ max: MAX_PATH_SAMPLES }),
  }),
]);
export type PathRequest = z.infer<typeof pathSchema>;

/** Checked samples of a requested path, with its segments where it was given so. */
export function samplesOf(path: PathRequest): PathSamples & { segments: PlacedSegment[] } {
  if ('segments' in path) {
    const segments = placeSegments(path.start, path.segments);
    return { ...samplePath(segments, path.start), segments };
  }
  const samples = {
    timeS: path.timeS,
    temperatureK: path.temperatureC.map((temperatureC) => temperatureC + ZERO_CELSIUS_K),
    log10Po2Atm: path.log10Po2Atm,
  };
  checkSamples(samples);
  return { ...samples, segments: [] };
}

/** A small heat path for examples: up at low pressure, oxygen let in, a hold, down. */
export const EXAMPLE_PATH = {
  start: { temperatureC: 400, po2Atm: 1e-5 },
  segments: [
    { kind: 'ramp', toC: 850, rateKPerMin: 300 },
    { kind: 'hold', durationS: 30 },
    { kind: 'gas', toPo2Atm: 2e-4 },
    { kind: 'hold', durationS: 60 },
    { kind: 'cool', toC: 450, rateKPerMin: 60 },
  ],
} as const;
