// Catalogue entry: what one slipped weighing would have done, and which slip explains a ratio that was found.
import { z } from 'zod';
import { ATOMIC_WEIGHTS_TABLE } from '../../science/tables/atomic-weights.ts';
import { explainBySlip, slipped } from '../../science/target/slip.ts';
import { shortComputation } from '../computation.ts';
import { cationsSchema, type Flag, flagsSchema } from '../schema.ts';
import { assaySchema } from './powder-schema.ts';
import { amountsSchema } from './transfer-schema.ts';

/** An explanation less likely than this is no explanation. */
const UNLIKELY = 0.05;
/** Share of a mass beyond which nobody slips. */
const LARGE_SLIP = 0.2;

export const targetSlip = shortComputation({
  name: 'target.slip',
  version: 2,
  summary: 'Ratio of a target after one weighing slipped, and the slip that explains a measured ratio best.',
  request: z.strictObject({
    precursors: z
      .array(
        z.strictObject({
          formula: z.string().min(1).max(400),
          /** this or assay, as in target.batch */
          purity: z.number().optional(),
          assay: assaySchema.optional(),
          lossOnDrying: z.number(),
          /** as planned, or as written down */
          massMg: z.number(),
        }),
      )
      .min(1)
      .max(20),
    /** weighed less planned */
    slipMg: z.number().optional(),
    /** ratio found in the target, with its standard uncertainties */
    found: z.strictObject({ cations: cationsSchema, u: amountsSchema }).optional(),
  }),
  response: z.strictObject({
    planned: amountsSchema,
    /** for each powder, if it alone was off by slipMg; shares of cations */
    slips: z.array(z.strictObject({ formula: z.string(), errorMg: z.number(), shares: amountsSchema })),
    /** best first; formula '' is no slip at all */
    explanations: z.array(
      z.strictObject({
        formula: z.string(),
        errorMg: z.number(),
        errorU: z.number().nullable(),
        shares: amountsSchema,
        chiSquared: z.number(),
        degreesOfFreedom: z.number(),
        probability: z.number(),
      }),
    ),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [ATOMIC_WEIGHTS_TABLE],
  cost: 'instant',
  example: {
    precursors: [
      { formula: 'Y2O3', purity: 0.9999, lossOnDrying: 0.004, massMg: 8500 },
      { formula: 'BaCO3', purity: 0.998, lossOnDrying: 0.001, massMg: 29700 },
      { formula: 'CuO', purity: 0.999, lossOnDrying: 0.001, massMg: 17950 },
    ],
    slipMg: -20,
    found: { cations: { Y: 1, Ba: 2, Cu: 2.9 }, u: { Y: 0.01, Ba: 0.02, Cu: 0.03 } },
  },
  run({ precursors, slipMg, found }) {
    const masses = precursors.map(({ massMg }) => massMg);
    const flags: Flag[] = [];
    if (slipMg === undefined && found === undefined)
      flags.push({
        code: 'NOTHING_ASKED',
        message: 'Neither slipMg nor found is given: only the plan is answered.',
      });
    const slips =
      slipMg === undefined
        ? []
        : precursors.flatMap(({ formula, massMg }, i) => {
            if (massMg + slipMg >= 0) return [slipped(precursors, masses, i, slipMg)];
            flags.push({
              code: 'SLIP_TOO_LARGE',
              message: `${formula}: ${-slipMg} mg short of ${massMg} mg is more than there is.`,
            });
            return [];
          });
    const explanations = found ? explainBySlip(precursors, masses, found.cations, found.u) : [];
    const unseen = precursors.filter(
      (powder) => !explanations.some(({ formula }) => formula === powder.formula),
    );
    if (found && unseen.length > 0)
      flags.push({
        code: 'POWDER_NOT_SEEN',
        message: `The analysis holds no cation of ${unseen.map(({ formula }) => formula).join(', ')}: a slip of it would not show.`,
      });
    const best = explanations[0];
    const none = explanations.at(-1);
    for (const { formula, errorMg, probability } of explanations) {
      const planned = precursors.find((powder) => powder.formula === formula)?.massMg;
      if (planned === undefined || probability < UNLIKELY || Math.abs(errorMg) <= LARGE_SLIP * planned)
        continue;
      flags.push({
        code: 'SLIP_IS_LARGE',
        message: `${formula}: ${Math.round(errorMg)} mg is over a fifth of its mass; a wrong powder or a wrong analysis is likelier than a slip of the balance.`,
      });
    }
    if (none && none.probability >= UNLIKELY)
      flags.push({
        code: 'NO_SLIP_NEEDED',
        message: `What was found agrees with the plan (probability ${none.probability.toPrecision(2)}): no slip is needed.`,
      });
    else if (best && best.probability < UNLIKELY)
      flags.push({
        code: 'NO_SLIP_EXPLAINS',
        message: 'No single slip explains what was found: look for two, a wrong powder, or the analysis.',
      });
    else if (
      explanations.filter(({ formula, probability }) => formula !== '' && probability >= UNLIKELY).length > 1
    )
      flags.push({
        code: 'SLIPS_ALIKE',
        message: 'Several slips explain it as well: the data cannot tell them apart.',
      });
    return {
      planned: slipped(precursors, masses, 0, 0).shares,
      slips,
      explanations: explanations.map((each) => ({
        formula: each.formula,
        errorMg: each.errorMg,
        errorU: Number.isFinite(each.errorU) ? each.errorU : null,
        shares: each.shares,
        chiSquared: each.chiSquared,
        degreesOfFreedom: each.degreesOfFreedom,
        probability: each.probability,
      })),
      flags,
    };
  },
});
