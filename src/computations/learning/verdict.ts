// Catalogue entry: does a piece pass, and why or why not.
import { z } from 'zod';
import { VERDICTS } from '../../science/learning/facts.ts';
import { judge } from '../../science/learning/verdict.ts';
import { shortComputation } from '../computation.ts';
import { flagsSchema, quantitySchema } from '../schema.ts';
import { criterionSchema, factsSchema } from './facts-schema.ts';

const shareSchema = z.number().min(0).max(1);

export const learningVerdict = shortComputation({
  name: 'learning.verdict',
  version: 2,
  summary:
    'Passes, falls short or cannot say: each criterion with its odds, the reason and what would decide.',
  request: z.strictObject({
    criteria: z.array(criterionSchema).max(40),
    facts: factsSchema,
    benchmark: factsSchema.nullable(),
    /** how the benchmark was grown unlike the piece; named in the reasons */
    differences: z.array(z.string().max(300)).max(20).optional(),
    /** relative scatter of Jc between runs of one recipe; 0.2 if left out */
    runToRunScatter: z.strictObject({ relative: z.number().min(0).max(5) }).optional(),
  }),
  response: z.strictObject({
    outcome: z.enum(VERDICTS),
    /** of all criteria together; cannotSay is what only a missing number can settle */
    odds: z.strictObject({ passes: shareSchema, fallsShort: shareSchema, cannotSay: shareSchema }),
    reasons: z
      .array(
        z.strictObject({
          criterionIndex: z.number().int().min(0),
          outcome: z.enum(VERDICTS),
          /** that this piece meets the criterion, from the uncertainty of the measurement; null where none can be claimed */
          odds: shareSchema.nullable(),
          /** that another run of the recipe would; null where the scatter of runs is not known */
          oddsWithScatter: shareSchema.nullable(),
          measured: quantitySchema.nullable(),
          /** null for a phase, and where the benchmark lacks the number */
          wanted: z.strictObject({ value: z.number(), unit: z.string() }).nullable(),
          sentence: z.string(),
          /** the measurement that would decide, where it cannot be said */
          wouldDecide: z.string().nullable(),
        }),
      )
      .max(40),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [],
  cost: 'instant',
  example: {
    criteria: [
      {
        kind: 'number',
        fact: 'jcAPerM2',
        at: { temperatureK: 77, fieldT: 0 },
        comparison: 'at least',
        wanted: 0.8,
        relativeTo: 'benchmark',
      },
      { kind: 'number', fact: 'tcZeroK', comparison: 'at least', wanted: 89, relativeTo: 'nothing' },
      { kind: 'phase', phase: 'CuO', wanted: 'absent' },
    ],
    facts: {
      numbers: [
        {
          name: 'jcAPerM2',
          at: { temperatureK: 77.3, fieldT: 0 },
          value: 2.4e10,
          standardUncertainty: 2e9,
          origin: 'measured',
          method: 'transport, 1 uV/cm',
        },
        {
          name: 'tcZeroK',
          value: 89.1,
          standardUncertainty: null,
          origin: 'typed',
          method: 'resistance, zero',
        },
      ],
      phases: [{ phase: 'CuO', answer: 'absent', origin: 'measured' }],
    },
    benchmark: {
      numbers: [
        {
          name: 'jcAPerM2',
          at: { temperatureK: 77, fieldT: 0 },
          value: 2.5e10,
          standardUncertainty: 1.5e9,
          origin: 'measured',
          method: 'transport, 1 uV/cm',
        },
      ],
      phases: [],
    },
    differences: ['thickness 620 nm, the benchmark 500 nm'],
  },
  run({ criteria, facts, benchmark, differences = [], runToRunScatter }) {
    const { outcome, odds, reasons, doubts } = judge({
      criteria,
      facts,
      benchmark,
      differences,
      runScatter: runToRunScatter?.relative,
    });
    return { outcome, odds, reasons: [...reasons], flags: [...doubts] };
  },
});
