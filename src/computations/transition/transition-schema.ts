// Schema parts that both transition entries share.
import { z } from 'zod';
import type { SweepReading } from '../../science/transition/curve.ts';
import { quantitySchema } from '../schema.ts';

/** Longest curve that is read; a sweep has hundreds to thousands of rows. */
export const MAX_ROWS = 20_000;

export const optionsSchema = z.strictObject({
  /** share of the normal line at the onset */
  onsetShare: z.number().min(0.5).max(0.999).optional(),
  /** share of the normal line at which the resistance counts as zero; never below three times the noise */
  zeroShare: z.number().min(1e-5).max(0.1).optional(),
  /** standard uncertainty of the thermometer's scale, K */
  temperatureStandardUncertaintyK: z.number().min(0).max(20).optional(),
});

export const optionalQuantitySchema = quantitySchema.nullable();

export const partsSchema = z.array(z.strictObject({ t50: quantitySchema, share: z.number() })).max(20);

export const sweepsSchema = z
  .array(
    z.strictObject({
      direction: z.enum(['warming', 'cooling']),
      nRows: z.number().int(),
      onset: optionalQuantitySchema,
      t90: optionalQuantitySchema,
      t50: optionalQuantitySchema,
      t10: optionalQuantitySchema,
      width: optionalQuantitySchema,
    }),
  )
  .max(200);

/** One sweep as the response shows it. */
export function sweepRow({
  direction,
  nRows,
  onset,
  t90,
  t50,
  t10,
  width,
}: SweepReading): z.infer<typeof sweepsSchema>[number] {
  return { direction, nRows, onset, t90, t50, t10, width };
}
