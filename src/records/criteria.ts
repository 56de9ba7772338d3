// What a series asks of a film, and the facts about a piece that answer it, as records hold them: a fact names the
// measurement record it was read from.
import { z } from 'zod';
import {
  criterionSchema,
  factSchema as judgedFactSchema,
  phaseFactSchema as judgedPhaseFactSchema,
} from '../computations/learning/facts-schema.ts';
import { FACT_UNITS, type FactName, VERDICTS, type VerdictOutcome } from '../science/learning/facts.ts';
import { recordIdSchema } from './common.ts';

export type { FactName, VerdictOutcome };
export { criterionSchema, FACT_UNITS, VERDICTS };

export const factSchema = judgedFactSchema.extend({ measurementId: recordIdSchema.optional() });
export type Fact = z.infer<typeof factSchema>;

export const phaseFactSchema = judgedPhaseFactSchema.extend({ measurementId: recordIdSchema.optional() });
export type PhaseFact = z.infer<typeof phaseFactSchema>;

export const factsSchema = z.strictObject({
  numbers: z.array(factSchema).max(500),
  phases: z.array(phaseFactSchema).max(100),
});
export type Facts = z.infer<typeof factsSchema>;

export type Criterion = z.infer<typeof criterionSchema>;
