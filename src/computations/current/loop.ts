// current.loop: critical current density against field from a magnetisation loop.
import { z } from 'zod';
import { magnetisationLoop } from '../../science/current/loop.ts';
import { shortComputation } from '../computation.ts';
import { flagsSchema, numericArray, quantitySchema } from '../schema.ts';

const MAX_ROWS = 50_000;
const MAX_FIELDS = 500;
const lengthM = z.number().positive().max(1e6);

export const currentLoop = shortComputation({
  name: 'current.loop',
  version: 2,
  summary: 'Jc against field from a magnetisation loop of a rectangular film piece (extended Bean model).',
  request: z.strictObject({
    fieldT: numericArray({ allowsMissing: true, max: MAX_ROWS }),
    momentAmpereM2: numericArray({ allowsMissing: true, max: MAX_ROWS }),
    /** full sides, in either order */
    shape: z.strictObject({ kind: z.literal('rectangle'), aM: lengthM, bM: lengthM, thicknessM: lengthM }),
    /** standard uncertainties: of each length, and of one moment reading */
    uncertainties: z
      .strictObject({
        aM: z.number().min(0).max(1).optional(),
        bM: z.number().min(0).max(1).optional(),
        thicknessM: z.number().min(0).max(1).optional(),
        momentAmpereM2: z.number().min(0).max(1).optional(),
      })
      .optional(),
    temperatureK: z.number().positive().max(400).optional(),
    /** fields to answer at; round ones where left out */
    atFieldsT: z.array(z.number().min(0).max(100)).max(MAX_FIELDS).optional(),
  }),
  response: z.strictObject({
    points: z
      .array(z.strictObject({ fieldT: z.number(), jc: quantitySchema, isRounded: z.boolean() }))
      .max(MAX_FIELDS),
    selfFieldT: z.number().nullable(),
    background: z.strictObject({ slopeAmpereM2PerT: quantitySchema, offsetAmpereM2: z.number() }).nullable(),
    noiseAmpereM2: z.number(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [],
  cost: 'interactive',
  example: {
    fieldT: [
      2, 1.75, 1.5, 1.25, 1, 0.75, 0.5, 0.25, 0, -0.25, -0.5, -0.75, -1, -1.25, -1.5, -1.75, -2, -1.75, -1.5,
      -1.25, -1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1, 1.25, 1.5, 1.75, 2,
    ],
    momentAmpereM2: [
      3.0e-5, 3.3e-5, 3.7e-5, 4.2e-5, 4.9e-5, 5.9e-5, 7.4e-5, 1.02e-4, 1.48e-4, 1.02e-4, 7.4e-5, 5.9e-5,
      4.9e-5, 4.2e-5, 3.7e-5, 3.3e-5, 3.0e-5, -3.3e-5, -3.7e-5, -4.2e-5, -4.9e-5, -5.9e-5, -7.4e-5, -1.02e-4,
      -1.48e-4, -1.02e-4, -7.4e-5, -5.9e-5, -4.9e-5, -4.2e-5, -3.7e-5, -3.3e-5, -3.0e-5,
    ],
    shape: { kind: 'rectangle', aM: 4e-3, bM: 6e-3, thicknessM: 5e-7 },
    uncertainties: { aM: 4e-5, bM: 4e-5, thicknessM: 1e-8 },
    temperatureK: 77,
  },
  run: magnetisationLoop,
});
