// Catalogue entry: which compositions to try next, and why.
import { z } from 'zod';
import { VERDICTS } from '../../science/learning/facts.ts';
import { proposalRisks, proposalSentence } from '../../science/learning/proposal-words.ts';
import { DEFAULT_LENGTH, proposeCompositions } from '../../science/learning/proposals.ts';
import { cationsAtTernary } from '../../science/matter/cation-ratios.ts';
import { RARE_EARTHS } from '../../science/matter/elements.ts';
import { shortComputation } from '../computation.ts';
import { cationsSchema, type Flag, flagsSchema, numericArray } from '../schema.ts';

const MAX_COMPOSITIONS = 30_000;
const shareSchema = z.number().min(0).max(1);
const pointShape = { re: shareSchema, ba: shareSchema, cu: shareSchema };

export const learningNext = shortComputation({
  name: 'learning.next',
  version: 2,
  summary:
    'The next compositions to try: by the odds of the diagram, by distance, and by what passed before.',
  request: z.strictObject({
    rareEarth: z.enum(RARE_EARTHS),
    /** odds of liquid with 123 over the triangle, as `equilibrium.fields` gives them */
    fieldOdds: z.strictObject({
      compositions: z.array(z.strictObject(pointShape)).min(1).max(MAX_COMPOSITIONS),
      odds: numericArray({ max: MAX_COMPOSITIONS }),
      /** odds of liquid with 123 times the share of the cations that could end as 123, as `equilibrium.fields` gives it */
      usefulShares: numericArray({ max: MAX_COMPOSITIONS }).optional(),
    }),
    tried: z
      .array(
        z.strictObject({
          ...pointShape,
          outcome: z.enum(VERDICTS),
          /** why it fell short, in short; may be left out */
          reason: z.string().max(300).optional(),
          label: z.string().max(200),
        }),
      )
      .max(2000),
    count: z.number().int().min(1).max(20).optional(),
    /** part of the triangle; the whole of it if left out */
    region: z.strictObject({ cuMin: shareSchema, cuMax: shareSchema, reMax: shareSchema }).optional(),
    /** distance in the triangle (side 1) over which one film speaks for another; 0.06 if left out */
    lengthScale: z.number().min(0.005).max(1).optional(),
    temperatureC: z.number().min(400).max(1200),
    po2Atm: z.number().min(1e-9).max(10),
    /** energy that the melt was moved by for the odds, J per mole of cations; 0 if left out */
    meltOffsetJPerMol: z.number().min(-1e6).max(1e6).optional(),
    /** breaks ties only */
    seed: z
      .number()
      .int()
      .min(0)
      .max(2 ** 32),
  }),
  response: z.strictObject({
    proposals: z
      .array(
        z.strictObject({
          /** with the rare earth as 1 */
          cations: cationsSchema,
          ...pointShape,
          score: shareSchema,
          oddsLiquidAnd123: shareSchema,
          nearestTried: z
            .strictObject({ label: z.string(), distance: z.number(), outcome: z.enum(VERDICTS) })
            .nullable(),
          /** the score is their product */
          parts: z.strictObject({ field: shareSchema, space: shareSchema, evidence: shareSchema }),
          sentence: z.string(),
          couldGoWrong: z.string(),
        }),
      )
      .max(20),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [],
  cost: 'interactive',
  example: {
    rareEarth: 'Y',
    fieldOdds: {
      compositions: [
        { re: 0.05, ba: 0.35, cu: 0.6 },
        { re: 0.1, ba: 0.35, cu: 0.55 },
        { re: 0.1, ba: 0.25, cu: 0.65 },
        { re: 0.3, ba: 0.3, cu: 0.4 },
      ],
      odds: [0.7, 0.6, 0.5, 0],
    },
    tried: [
      { re: 0.167, ba: 0.333, cu: 0.5, outcome: 'cannot say', label: 'F1' },
      {
        re: 0.06,
        ba: 0.34,
        cu: 0.6,
        outcome: 'falls short',
        reason: 'CuO should be absent and is present.',
        label: 'F2',
      },
    ],
    count: 2,
    temperatureC: 850,
    po2Atm: 1e-3,
    seed: 1,
  },
  run(request) {
    const {
      rareEarth,
      fieldOdds,
      temperatureC,
      po2Atm,
      meltOffsetJPerMol = 0,
      count = 3,
      lengthScale = DEFAULT_LENGTH,
    } = request;
    const { proposals, isFieldLeftOut } = proposeCompositions({
      ...fieldOdds,
      tried: request.tried.map((one) => ({ ...one, reason: one.reason ?? '' })),
      count,
      region: request.region,
      lengthScale,
      seed: request.seed,
    });
    const flags: Flag[] = [];
    if (isFieldLeftOut) {
      flags.push({
        code: 'ALL_ODDS_ZERO',
        message: `No composition has odds of liquid with 123 at ${temperatureC} degC and ${po2Atm} atm O2; these fill the triangle without the diagram's help. Try another temperature or pressure first.`,
      });
    }
    if (proposals.length < count) {
      flags.push({
        code: 'FEWER_PROPOSALS',
        message: `${proposals.length} of ${count} proposals: no further composition has odds above 0 and is not tried or proposed already.`,
      });
    }
    const setting = { rareEarth, temperatureC, po2Atm, lengthScale, isFieldLeftOut, meltOffsetJPerMol };
    return {
      proposals: proposals.map((proposal) => {
        const { re, ba, cu, score, oddsLiquidAnd123, parts, nearest } = proposal;
        return {
          cations: cationsAtTernary({ re: 1, ba: ba / re, cu: cu / re }, { [rareEarth]: 1 }),
          re,
          ba,
          cu,
          score,
          oddsLiquidAnd123,
          nearestTried: nearest && {
            label: nearest.tried.label,
            distance: nearest.distance,
            outcome: nearest.tried.outcome,
          },
          parts,
          sentence: proposalSentence(proposal, setting),
          couldGoWrong: proposalRisks(proposal, setting),
        };
      }),
      flags,
    };
  },
});
