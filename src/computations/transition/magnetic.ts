// transition.magnetic: transition temperatures from a small-field moment against temperature.
import { z } from 'zod';
import { magneticTransition } from '../../science/transition/magnetic.ts';
import { shortComputation } from '../computation.ts';
import { flagsSchema, numericArray, quantitySchema } from '../schema.ts';
import {
  MAX_ROWS,
  optionalQuantitySchema,
  optionsSchema,
  partsSchema,
  sweepRow,
  sweepsSchema,
} from './transition-schema.ts';

export const transitionMagnetic = shortComputation({
  name: 'transition.magnetic',
  version: 2,
  summary: 'Onset, midpoint and 10-90 % width of a diamagnetic transition, with uncertainty.',
  request: z.strictObject({
    temperatureK: numericArray({ allowsMissing: true, max: MAX_ROWS }),
    momentAmpereM2: numericArray({ allowsMissing: true, max: MAX_ROWS }),
    options: optionsSchema.omit({ zeroShare: true }).optional(),
  }),
  response: z.strictObject({
    onset: optionalQuantitySchema,
    t90: optionalQuantitySchema,
    t50: optionalQuantitySchema,
    t10: optionalQuantitySchema,
    width: optionalQuantitySchema,
    transitions: partsSchema,
    shielding: z.strictObject({ moment: quantitySchema, fromK: z.number(), toK: z.number() }).nullable(),
    baseline: z
      .strictObject({
        interceptAmpereM2: z.number(),
        slopeAmpereM2PerK: z.number(),
        fromK: z.number(),
        toK: z.number(),
        scatterAmpereM2: z.number(),
      })
      .nullable(),
    sweeps: sweepsSchema,
    flags: flagsSchema,
  }),
  uses: [],
  tables: [],
  cost: 'interactive',
  example: {
    temperatureK: [20, 40, 60, 70, 78, 82, 84, 85, 86, 87, 88, 89, 90, 91, 92, 94, 96, 98, 100],
    momentAmpereM2: [
      -1e-6, -1e-6, -9.98e-7, -9.95e-7, -9.9e-7, -9.7e-7, -9.3e-7, -8.6e-7, -6.9e-7, -4.4e-7, -2.1e-7, -8e-8,
      -2e-8, -1e-9, 0, 1e-9, 0, -1e-9, 0,
    ],
  },
  run({ temperatureK, momentAmpereM2, options }) {
    const { baseline, sweeps, ...rest } = magneticTransition(temperatureK, momentAmpereM2, options);
    return {
      ...rest,
      baseline: baseline && {
        interceptAmpereM2: baseline.intercept,
        slopeAmpereM2PerK: baseline.slopePerK,
        fromK: baseline.fromK,
        toK: baseline.toK,
        scatterAmpereM2: baseline.scatter,
      },
      sweeps: sweeps.map(sweepRow),
    };
  },
});
