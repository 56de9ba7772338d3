// Catalogue entry: the target for a wanted film.
import { z } from 'zod';
import { filmFromTarget, targetForFilm } from '../../science/target/transfer.ts';
import { shortComputation } from '../computation.ts';
import { type Cations, cationsSchema, type Flag, flagsSchema } from '../schema.ts';
import { amountsSchema, factorsSchema, lossesSchema } from './transfer-schema.ts';

/** Beyond this a factor moves the target so far that the factors themselves may change. */
const LARGE_STEP = 0.2;

export const targetInvert = shortComputation({
  name: 'target.invert',
  version: 2,
  summary: 'Target ratio that gives a wanted film ratio, by transfer factors and losses.',
  request: z.strictObject({
    film: z.strictObject({ cations: cationsSchema }),
    factors: factorsSchema,
    losses: lossesSchema,
  }),
  response: z.strictObject({
    /** with the sum of the film's amounts */
    target: z.strictObject({ cations: amountsSchema }),
    targetU: amountsSchema,
    /** the film that this target gives by the same factors: the one asked for */
    filmBack: z.strictObject({ cations: amountsSchema }),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [],
  cost: 'instant',
  example: {
    film: { cations: { Y: 1, Ba: 2, Cu: 3 } },
    factors: {
      Y: { value: 1, standardUncertainty: 0 },
      Ba: { value: 0.95, standardUncertainty: 0.02 },
      Cu: { value: 1.04, standardUncertainty: 0.02 },
    },
    losses: { Cu: { value: 0.01, standardUncertainty: 0.005 } },
  },
  run({ film, factors, losses = {} }) {
    const target = targetForFilm(film.cations, factors, losses);
    const back = filmFromTarget(target.ratio, factors, losses);
    const flags: Flag[] = [
      ...unusedFlags('factors', factors, film.cations),
      ...unusedFlags('losses', losses, film.cations),
    ];
    for (const symbol of Object.keys(target.ratio)) {
      const change = target.ratio[symbol]! / film.cations[symbol]! - 1;
      if (Math.abs(change) > LARGE_STEP)
        flags.push({
          code: 'LARGE_STEP',
          message: `${symbol} is moved by ${(100 * change).toFixed(0)} %: so far from the film the factors themselves may change. Make this target, measure its film, and fit again.`,
        });
    }
    return {
      target: { cations: target.ratio },
      targetU: target.ratioU,
      filmBack: { cations: back.ratio },
      flags,
    };
  },
});

/** Says which elements were given a factor or a loss though the film does not hold them. */
function unusedFlags(field: string, given: Readonly<Record<string, unknown>>, film: Cations): Flag[] {
  const unused = Object.keys(given).filter((symbol) => !((film[symbol] ?? 0) > 0));
  if (unused.length === 0) return [];
  return [
    {
      code: 'NOT_IN_FILM',
      message: `${field} names ${unused.join(', ')}, which the film asked for does not hold: not used. If the film is meant to hold ${unused.length > 1 ? 'them' : 'it'}, add the amount.`,
    },
  ];
}
