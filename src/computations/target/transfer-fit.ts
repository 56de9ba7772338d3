// Catalogue entry: transfer factors from earlier pairs of target and film.
import { z } from 'zod';
import { isRareEarth } from '../../science/matter/elements.ts';
import { pairDoubts } from '../../science/target/pair-doubts.ts';
import { fitTransfer } from '../../science/target/transfer.ts';
import { shortComputation } from '../computation.ts';
import { cationsSchema, type Flag, flagsSchema } from '../schema.ts';
import { factorsSchema } from './transfer-schema.ts';

const relativeSchema = z.union([z.number(), cationsSchema]);
/** Below this probability the films scatter more than was stated. */
const UNLIKELY = 0.05;

export const targetTransferFit = shortComputation({
  name: 'target.transferFit',
  version: 3,
  summary:
    'How each element goes from target to film, fitted from measured pairs, with what the next film may have.',
  request: z.strictObject({
    pairs: z
      .array(
        z.strictObject({
          label: z.string().max(200),
          target: cationsSchema,
          film: cationsSchema,
          /** relative standard uncertainty of each amount: 0.02 is 2 % */
          filmRelativeU: relativeSchema,
          targetRelativeU: relativeSchema.optional(),
        }),
      )
      .min(1)
      .max(500),
    /** element whose factor is set to 1; the rare earth that the pairs hold if left out */
    reference: z.string().max(2).optional(),
  }),
  response: z.strictObject({
    reference: z.string(),
    factors: factorsSchema,
    /** holds the next film's factor with 95 % */
    nextFilm: z.record(z.string(), z.strictObject({ low: z.number(), high: z.number() })),
    /** of ln factor, in the order of `factors` */
    correlations: z.array(z.array(z.number())),
    chiSquared: z.number().min(0),
    degreesOfFreedom: z.number().int().min(0),
    probability: z.number().min(0).max(1).nullable(),
    residuals: z.array(z.strictObject({ label: z.string(), inU: z.record(z.string(), z.number()) })),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [],
  cost: 'instant',
  example: {
    pairs: [
      {
        label: 'film 1',
        target: { Y: 1, Ba: 2, Cu: 3 },
        film: { Y: 1, Ba: 1.9, Cu: 3.1 },
        filmRelativeU: 0.02,
      },
      {
        label: 'film 2',
        target: { Y: 1, Ba: 2.2, Cu: 3.5 },
        film: { Y: 1, Ba: 2.12, Cu: 3.58 },
        filmRelativeU: 0.02,
      },
      {
        label: 'film 3',
        target: { Y: 1, Ba: 2.4, Cu: 4 },
        film: { Y: 1, Ba: 2.27, Cu: 4.2 },
        filmRelativeU: 0.02,
      },
    ],
  },
  run({ pairs, reference }) {
    const shared = Object.keys(pairs[0]!.target).filter((symbol) =>
      pairs.every(({ target, film }) => (target[symbol] ?? 0) > 0 && (film[symbol] ?? 0) > 0),
    );
    const chosen = reference ?? shared.find(isRareEarth) ?? shared[0] ?? 'Y';
    const given = pairs.map((pair) => ({ ...pair, targetRelativeU: pair.targetRelativeU ?? 0 }));
    const fit = fitTransfer(given, chosen);
    const flags: Flag[] = [
      {
        code: 'FACTORS_ARE_LOCAL',
        message:
          'Factors belong to this machine, fluence, pressure and about this target: take one step, measure, and fit again.',
      },
      ...pairDoubts(given),
    ];
    if (fit.degreesOfFreedom === 0)
      flags.push({
        code: 'NO_SCATTER_KNOWN',
        message:
          'One pair an element: nothing says how much films differ from each other; the interval rests on the stated uncertainties.',
      });
    else if (fit.probability !== null && fit.probability < UNLIKELY)
      flags.push({
        code: 'FILMS_SCATTER',
        message: `Films differ by more than was stated (chi squared ${fit.chiSquared.toPrecision(3)} for ${fit.degreesOfFreedom} degrees of freedom): all uncertainties were made larger by ${Math.sqrt(fit.chiSquared / fit.degreesOfFreedom).toPrecision(3)}.`,
      });
    const { correlations, residuals } = fit;
    return {
      reference: fit.reference,
      factors: { ...fit.factors },
      nextFilm: { ...fit.nextFilm },
      correlations: correlations.map((row) => [...row]),
      chiSquared: fit.chiSquared,
      degreesOfFreedom: fit.degreesOfFreedom,
      probability: fit.probability,
      residuals: residuals.map(({ label, inU }) => ({ label, inU: { ...inU } })),
      flags,
    };
  },
});
