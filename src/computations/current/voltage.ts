// current.voltage: critical current and exponent from a voltage-current curve.
import { z } from 'zod';
import { DEFAULT_CRITERION_V_PER_M, voltageCurve } from '../../science/current/voltage.ts';
import { shortComputation } from '../computation.ts';
import { flagsSchema, numericArray, numericResult, quantitySchema } from '../schema.ts';

const MAX_ROWS = 20_000;
const optionalQuantitySchema = quantitySchema.nullable();
const lengthU = z.number().min(0).max(1).optional();

export const currentVoltage = shortComputation({
  name: 'current.voltage',
  version: 2,
  summary: 'Critical current, exponent and Jc of a bridge or tape from voltage against current, or a bound.',
  request: z.strictObject({
    timeS: numericArray({ allowsMissing: true, max: MAX_ROWS }).optional(),
    currentA: numericArray({ allowsMissing: true, max: MAX_ROWS }),
    voltageV: numericArray({ allowsMissing: true, max: MAX_ROWS }),
    tapDistanceM: z.number().positive().max(1e6),
    widthM: z.number().positive().max(1e6).optional(),
    thicknessM: z.number().positive().max(1e6).optional(),
    /** standard uncertainties, m */
    tapDistanceU: lengthU,
    widthU: lengthU,
    thicknessU: lengthU,
    criterionVPerM: z.number().min(1e-9).max(1).default(DEFAULT_CRITERION_V_PER_M),
    temperatureK: z.number().positive().max(400).optional(),
  }),
  response: z.strictObject({
    reached: z.boolean(),
    ic: optionalQuantitySchema,
    n: optionalQuantitySchema,
    jc: optionalQuantitySchema,
    icPerWidthAPerM: optionalQuantitySchema,
    icAbove: z.number().nullable(),
    offset: optionalQuantitySchema,
    ohmic: optionalQuantitySchema,
    drift: optionalQuantitySchema,
    shunt: optionalQuantitySchema,
    crossing: optionalQuantitySchema,
    fitWindow: z.strictObject({ fromVPerM: z.number(), toVPerM: z.number() }).nullable(),
    noiseV: z.number(),
    curve: numericResult({ allowsMissing: true, max: MAX_ROWS }),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [],
  cost: 'interactive',
  example: {
    currentA: [0, 0.1, 0.2, 0.3, 0.32, 0.34, 0.36, 0.37, 0.38, 0.39, 0.4, 0.41, 0.42],
    voltageV: [1e-9, -1e-9, 0, 1e-9, 1e-9, 2.2e-9, 7e-9, 1.5e-8, 2.8e-8, 5.2e-8, 1.01e-7, 1.84e-7, 3.4e-7],
    tapDistanceM: 1e-3,
    widthM: 5e-5,
    thicknessM: 2.5e-7,
    widthU: 1e-6,
    thicknessU: 1e-8,
    temperatureK: 77,
  },
  run: voltageCurve,
});
