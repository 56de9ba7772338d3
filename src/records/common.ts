// Parts that the records' schemas share.
import { z } from 'zod';

export const recordIdSchema = z.uuid({ version: 'v7' });
/** The lab's own name of a thing, kept as written. */
export const labelSchema = z.string().trim().min(1).max(200);
export const noteSchema = z.string().max(20_000);
export const whenSchema = z.iso.datetime();
export const sha256Schema = z.string().regex(/^[0-9a-f]{64}$/);
/** A typed number with its standard uncertainty; null uncertainty means not stated. */
export const statedSchema = z.strictObject({
  value: z.number(),
  standardUncertainty: z.number().min(0).nullable(),
});
export type Stated = z.infer<typeof statedSchema>;

/** Amount of each cation, any common factor. */
export const cationRatioSchema = z
  .record(z.string().regex(/^[A-Z][a-z]?$/), z.number().min(0).max(1e6))
  .refine((cations) => Object.values(cations).some((amount) => amount > 0), {
    message: 'at least one cation must be above 0',
  });
export type CationRatio = z.infer<typeof cationRatioSchema>;

/** Where a temperature was read; computations take the surface's, this plus the offset. */
export const temperatureReadingSchema = z.strictObject({
  valueC: z.number().min(-273.15).max(2000),
  place: z.enum(['heater block', 'thermocouple on substrate', 'pyrometer', 'surface']),
  /** surface minus reading */
  offsetK: statedSchema.nullable(),
});
export type TemperatureReading = z.infer<typeof temperatureReadingSchema>;

/** What a gauge said and of which gas; pO2 is derived from it. */
export const pressureReadingSchema = z.strictObject({
  valuePa: z.number().positive().max(1e7),
  kind: z.enum(['total', 'oxygen partial']),
  gauge: z.string().max(100),
  /** share of O2 in the gas, 0 to 1 */
  oxygenShare: z.number().min(0).max(1),
});
export type PressureReading = z.infer<typeof pressureReadingSchema>;
