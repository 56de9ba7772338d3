// What a series asks of a film, and the facts about a piece that answer it. A fact is a reduced number or a phase.
import { z } from 'zod';
import { recordIdSchema } from './common.ts';

/** Facts that are numbers, with the unit each is kept in. */
export const FACT_UNITS = {
  cAxisAngstrom: 'angstrom',
  breadth005Deg: 'deg',
  rockingWidthDeg: 'deg',
  tcOnsetK: 'K',
  tcMidpointK: 'K',
  tcZeroK: 'K',
  tcMagneticOnsetK: 'K',
  transitionWidthK: 'K',
  jcAPerM2: 'A/m2',
  icPerWidthAPerM: 'A/m',
  nValue: '1',
  thicknessNm: 'nm',
  depositionRateNmPerS: 'nm/s',
  conversionRateNmPerS: 'nm/s',
  overallRateNmPerS: 'nm/s',
  cracksPerMm: '1/mm',
} as const;
export type FactName = keyof typeof FACT_UNITS;
const factNameSchema = z.enum(Object.keys(FACT_UNITS) as [FactName, ...FactName[]]);

/** Condition a fact belongs to; angles are from the film normal (c axis). */
export const factConditionSchema = z.strictObject({
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
  measurementId: recordIdSchema.optional(),
  /** a bound stands where a value would be a lie: `Ic > 4.1 A` */
  bound: z.enum(['above', 'below']).optional(),
});
export type Fact = z.infer<typeof factSchema>;

/** What a diffraction scan, or a person, says of one phase. */
export const phaseFactSchema = z.strictObject({
  phase: z.string().max(60),
  answer: z.enum(['present', 'absent', 'cannot say']),
  origin: z.enum(['measured', 'typed']),
  measurementId: recordIdSchema.optional(),
});
export type PhaseFact = z.infer<typeof phaseFactSchema>;

export const factsSchema = z.strictObject({
  numbers: z.array(factSchema).max(500),
  phases: z.array(phaseFactSchema).max(100),
});
export type Facts = z.infer<typeof factsSchema>;

/** One thing a series asks. `ofBenchmark`: the wanted value is this share of the benchmark's own. */
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
export type Criterion = z.infer<typeof criterionSchema>;

export const VERDICTS = ['passes', 'falls short', 'cannot say'] as const;
export type VerdictOutcome = (typeof VERDICTS)[number];
