// What growth.evaporation takes and gives.
import { z } from 'zod';
import { ensembleFields } from '../equilibrium/request.ts';
import { cationsSchema, flagsSchema, numericArray, numericResult, quantitySchema } from '../schema.ts';
import { MAX_PATH_SAMPLES, optionalQuantitySchema, pathSchema, statedSchema } from './growth-schema.ts';

/** One number for the whole path, or one a sample. */
const alongSchema = z.union([z.number(), numericArray({ max: MAX_PATH_SAMPLES })]);

export const requestSchema = z.strictObject({
  cations: cationsSchema,
  thicknessNm: statedSchema,
  path: pathSchema,
  /**
   * of BaO against the pure oxide, and of copper against the stablest of CuO, Cu2O and Cu; 1 if left out: an upper bound;
   * 'equilibrium': those of the film's cations along the path, asked of the ensemble
   */
  activities: z
    .union([
      z.literal('equilibrium'),
      z.strictObject({
        ba: alongSchema.optional(),
        cu: alongSchema.optional(),
        baRelativeU: z.number().optional(),
        cuRelativeU: z.number().optional(),
      }),
    ])
    .optional(),
  /** of activities 'equilibrium' alone */
  ...ensembleFields,
  /** instead of activities: potentials as equilibrium.assemblage gives them, against BaO and CuO at the same pO2 */
  potentialsJPerMol: z.strictObject({ ba: alongSchema, cu: alongSchema }).optional(),
  sticking: statedSchema.describe('0 to 1; 1 if left out').optional(),
  /** gas above the film that vapour must diffuse through */
  gasLayer: z
    .strictObject({
      thicknessMm: z.number(),
      totalPressurePa: z.number(),
      diffusivityM2PerS: z.number().describe('at 293 K and 1 atm; 2e-5 if left out').optional(),
    })
    .optional(),
  waterPa: z.number().optional(),
  /** of the falling law: activity goes as this power of the cation fraction; 1 if left out */
  activityExponent: z.number().optional(),
  temperatureUK: z.number().optional(),
  log10Po2U: z.number().optional(),
  /** log10 pO2 in atm of a surface held more reducing than the gas; copper metal's balance if left out */
  reducedLog10Po2Atm: z.number().optional(),
  /** films measured before and after a path: this one if a pair names none */
  pairs: z
    .array(
      z.strictObject({
        before: cationsSchema,
        after: cationsSchema,
        relativeRatioU: z.number().optional(),
        thicknessNm: z.number().optional(),
        path: pathSchema.optional(),
      }),
    )
    .max(40)
    .optional(),
});

const sharesSchema = z.strictObject({
  constant: quantitySchema,
  firstOrder: quantitySchema,
  falling: quantitySchema,
});
const boundSchema = z.strictObject({
  ba1939: sharesSchema,
  ba1968: sharesSchema,
  cu: sharesSchema,
});
const ratioSchema = z
  .strictObject({ before: z.number(), after1939: optionalQuantitySchema, after1968: optionalQuantitySchema })
  .nullable();
const fittedSchema = z.strictObject({
  /** measured loss over the first-order bound; above 1 evaporation by this line cannot explain it */
  scale: optionalQuantitySchema,
  chiSquared: z.number().nullable(),
  degreesOfFreedom: z.number().int(),
  /** share that this path would take by the fit */
  loss: optionalQuantitySchema,
});

export const responseSchema = z.strictObject({
  amounts: z.strictObject({ reMolPerM2: z.number(), baMolPerM2: z.number(), cuMolPerM2: z.number() }),
  /** surface in balance with the gas and the activities asked for */
  equilibrium: boundSchema,
  /** surface held more reducing than the gas */
  reduced: boundSchema.extend({
    /** log10 pO2 in atm that the surface must have at the hottest point of the path */
    needsLog10Po2Atm: z.number(),
  }),
  /** fitted to measured compositions; null without pairs */
  empirical: z
    .strictObject({
      ba1939: fittedSchema,
      ba1968: fittedSchema,
      cu: fittedSchema,
      pairs: z
        .array(
          z.strictObject({
            baLoss: z.number(),
            cuLoss: z.number(),
            /** log10 pO2 at the surface at which copper alone would evaporate so much; null if nothing could */
            cuNeedsLog10Po2Atm: z.number().nullable(),
          }),
        )
        .max(40),
    })
    .nullable(),
  /** no loss of rare earth is established; null with a flag */
  reLoss: optionalQuantitySchema,
  /** with activities 'equilibrium': medians over the members and their relative uncertainty; null otherwise */
  activities: z
    .strictObject({
      timeS: numericResult(),
      ba: numericResult(),
      cu: numericResult(),
      baRelativeU: z.number().min(0),
      cuRelativeU: z.number().min(0),
    })
    .nullable(),
  /** by the first-order loss of the equilibrium bound */
  ratios: z.strictObject({ baPerRe: ratioSchema, cuPerRe: ratioSchema }),
  flags: flagsSchema,
});
