// transition.resistive: transition temperatures from resistance against temperature.
import { z } from 'zod';
import { resistiveTransition } from '../../science/transition/resistive.ts';
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

export const transitionResistive = shortComputation({
  name: 'transition.resistive',
  version: 2,
  summary: 'Onset, midpoint, zero and 10-90 % width of a resistive transition, with uncertainty.',
  request: z.strictObject({
    temperatureK: numericArray({ allowsMissing: true, max: MAX_ROWS }),
    resistanceOhm: numericArray({ allowsMissing: true, max: MAX_ROWS }),
    options: optionsSchema.optional(),
  }),
  response: z.strictObject({
    onset: optionalQuantitySchema,
    t90: optionalQuantitySchema,
    t50: optionalQuantitySchema,
    t10: optionalQuantitySchema,
    zero: optionalQuantitySchema,
    width: optionalQuantitySchema,
    transitions: partsSchema,
    background: z
      .strictObject({ resistance: quantitySchema, share: z.number(), fromK: z.number(), toK: z.number() })
      .nullable(),
    baseline: z
      .strictObject({
        interceptOhm: z.number(),
        slopeOhmPerK: z.number(),
        fromK: z.number(),
        toK: z.number(),
        scatterOhm: z.number(),
      })
      .nullable(),
    zeroLevelOhm: z.number().nullable(),
    sweeps: sweepsSchema,
    flags: flagsSchema,
  }),
  uses: [],
  tables: [],
  cost: 'interactive',
  example: {
    temperatureK: [80, 82, 84, 86, 87, 88, 88.5, 89, 89.5, 90, 90.5, 91, 92, 93, 94, 95, 96, 98, 100],
    resistanceOhm: [
      0.001, 0, 0.002, 0.001, 0, 0.01, 0.4, 3, 12, 27, 41, 50, 55.6, 56.5, 57, 57.5, 58, 59, 60,
    ],
  },
  run({ temperatureK, resistanceOhm, options }) {
    const { baseline, sweeps, ...rest } = resistiveTransition(temperatureK, resistanceOhm, options);
    return {
      ...rest,
      baseline: baseline && {
        interceptOhm: baseline.intercept,
        slopeOhmPerK: baseline.slopePerK,
        fromK: baseline.fromK,
        toK: baseline.toK,
        scatterOhm: baseline.scatter,
      },
      sweeps: sweeps.map(sweepRow),
    };
  },
});
