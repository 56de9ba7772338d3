// Catalogue entry: where phases stand together at one pO2 or one temperature, with the melt there.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { shortComputation } from '../computation.ts';
import { flagsSchema, quantitySchema } from '../schema.ts';
import { checkEnds, reactionAt, reactionPhasesSchema, reactionRareEarthSchema } from './reaction-schema.ts';
import { EQUILIBRIUM_TABLES, ensembleFields } from './request.ts';

const intervalSchema = z.strictObject({ low: z.number(), high: z.number() });
const oddsSchema = z.number().min(0).max(1);

export const equilibriumInvariant = shortComputation({
  name: 'equilibrium.invariant',
  version: 1,
  summary: 'Temperature, or oxygen pressure, at which phases stand together, and the melt that they make.',
  request: z
    .strictObject({
      phases: reactionPhasesSchema,
      rareEarth: reactionRareEarthSchema,
      po2Atm: z.number().optional(),
      temperatureC: z.number().optional(),
      ...ensembleFields,
    })
    .refine(({ po2Atm, temperatureC }) => (po2Atm === undefined) !== (temperatureC === undefined), {
      message: 'give one of po2Atm and temperatureC; the other is the answer',
    }),
  response: z.strictObject({
    /** median over the members; null where no member has it */
    temperatureC: quantitySchema.nullable(),
    /** log10 of pO2 in atm, as a quantity */
    log10Po2Atm: quantitySchema.nullable(),
    /** middle 95 % of the members, of the one that was sought, degC or atm */
    interval: intervalSchema.nullable(),
    foundOdds: oddsSchema,
    stableOdds: oddsSchema,
    melt: z
      .strictObject({
        re: z.number(),
        ba: z.number(),
        cu: z.number(),
        intervals: z.strictObject({ re: intervalSchema, ba: intervalSchema, cu: intervalSchema }),
        cuprousShare: oddsSchema,
      })
      .nullable(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: EQUILIBRIUM_TABLES,
  cost: 'interactive',
  example: { phases: ['YBa2Cu3O7', 'Y2BaCuO5', 'liquid'], po2Atm: 0.21, members: 6 },
  run(request) {
    const { po2Atm, temperatureC } = request;
    checkEnds(temperatureC === undefined ? [] : [temperatureC], po2Atm === undefined ? [] : [po2Atm]);
    const at = po2Atm === undefined ? { temperatureK: temperatureC! + ZERO_CELSIUS_K } : { po2Atm };
    const { answer, doubtsAt } = reactionAt(request, at);
    if (answer === undefined) {
      return {
        temperatureC: null,
        log10Po2Atm: null,
        interval: null,
        foundOdds: 0,
        stableOdds: 0,
        melt: null,
        flags: [
          {
            code: 'REACTION_NOT_FOUND',
            message: `No member has ${request.phases.join(' + ')} together there, stable or not.`,
          },
        ],
      };
    }
    const isTemperatureSought = po2Atm !== undefined;
    const { meltShares, meltIntervals } = answer;
    return {
      temperatureC: {
        value: answer.temperatureC,
        standardUncertainty: isTemperatureSought ? answer.spread : 0,
        unit: 'degC',
      },
      log10Po2Atm: {
        value: Math.log10(answer.po2Atm),
        standardUncertainty: isTemperatureSought ? 0 : answer.spread,
        unit: '1',
      },
      interval: answer.interval,
      foundOdds: answer.foundOdds,
      stableOdds: answer.stableOdds,
      melt:
        meltShares && meltIntervals
          ? {
              re: meltShares[0],
              ba: meltShares[1],
              cu: meltShares[2],
              intervals: { re: meltIntervals[0], ba: meltIntervals[1], cu: meltIntervals[2] },
              cuprousShare: answer.cuprousShare!,
            }
          : null,
      flags: doubtsAt(answer),
    };
  },
});
