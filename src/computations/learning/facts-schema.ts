// Schemas of facts and criteria as the catalogue takes them; the records build theirs on these.
import { z } from 'zod';
import { FACT_UNITS, type FactName } from '../../science/learning/facts.ts';

const factNameSchema = z.enum(Object.keys(FACT_UNITS) as [FactName, ...FactName[]]);

/** Condition a fact belongs to; angles are from the film normal (c axis). */
const factConditionSchema = z.strictObject({
  temperatureK: z.number().min(0).max(400).optional(),
  fieldT: z.number().min(0).max(100).optional(),
  thetaDeg: z.number().min(-90).max(90).optional(),
});

/** One number known about a piece in a state. */
export const factSchema = z.strictObject({
  name: factNameSchema,
  at: factConditionSchema.optional(),
  value: z.number(),
  /** null: not stated, as for a typed number */
  standardUncertainty: z.number().min(0).nullable(),
  origin: z.enum(['measured', 'typed']),
  /** how it was got, as a person says it: `transport, 1 uV/cm`, `magnetisation loop, extended Bean` */
  method: z.string().max(120),
  /** measurement it was read from; absent for a typed number of a record */
  measurementId: z.string().max(60).optional(),
  /** a bound stands where a value would be a lie: `Ic > 4.1 A` */
  bound: z.enum(['above', 'below']).optional(),
});

/** What a diffraction scan, or a person, says of one phase. */
export const phaseFactSchema = z.strictObject({
  phase: z.string().max(60),
  answer: z.enum(['present', 'absent', 'cannot say']),
  origin: z.enum(['measured', 'typed']),
  measurementId: z.string().max(60).optional(),
});

export const factsSchema = z.strictObject({
  numbers: z.array(factSchema).max(500),
  phases: z.array(phaseFactSchema).max(100),
});

/** One thing a series asks. `relativeTo` benchmark: the wanted value is this share of the benchmark's own. */
export const criterionSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('number'),
    fact: factNameSchema,
    at: factConditionSchema.optional(),
    comparison: z.enum(['at least', 'at most']),
    wanted: z.number().positive(),
    relativeTo: z.enum(['nothing', 'benchmark']),
  }),
  z.strictObject({
    kind: z.literal('phase'),
    phase: z.string().max(60),
    wanted: z.enum(['present', 'absent']),
  }),
]);
