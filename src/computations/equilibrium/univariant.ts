// Catalogue entry: the line along which phases stand together, over a range of pO2 or of temperature.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { longComputation } from '../computation.ts';
import { type Flag, flagsSchema, numericResult } from '../schema.ts';
import { checkEnds, reactionAt, reactionPhasesSchema, reactionRareEarthSchema } from './reaction-schema.ts';
import { EQUILIBRIUM_TABLES, ensembleFields } from './request.ts';

const rangeSchema = z.tuple([z.number(), z.number()]);
const requestSchema = z
  .strictObject({
    phases: reactionPhasesSchema,
    rareEarth: reactionRareEarthSchema,
    /** from, to; points lie evenly in log pO2 */
    po2Atm: rangeSchema.optional(),
    temperatureC: rangeSchema.optional(),
    points: z.number().int().min(2).max(200).optional(),
    ...ensembleFields,
  })
  .refine(({ po2Atm, temperatureC }) => (po2Atm === undefined) !== (temperatureC === undefined), {
    message: 'give a range of one of po2Atm and temperatureC',
  });
type UnivariantRequest = z.infer<typeof requestSchema>;

const DEFAULT_POINTS = 25;

interface LinePoint {
  readonly request: UnivariantRequest;
  readonly at: { readonly po2Atm: number } | { readonly temperatureK: number };
}

function pointsOf(request: UnivariantRequest): LinePoint[] {
  const { po2Atm, temperatureC, points = DEFAULT_POINTS } = request;
  return Array.from({ length: points }, (_, i) => {
    const part = i / (points - 1);
    const at = po2Atm
      ? { po2Atm: po2Atm[0] * (po2Atm[1] / po2Atm[0]) ** part }
      : { temperatureK: ZERO_CELSIUS_K + temperatureC![0] + part * (temperatureC![1] - temperatureC![0]) };
    return { request, at };
  });
}

export const equilibriumUnivariant = longComputation({
  name: 'equilibrium.univariant',
  version: 1,
  summary: 'Line of temperature against oxygen pressure along which phases stand together.',
  request: requestSchema,
  response: z.strictObject({
    /** points that some member has, in the order asked */
    temperatureC: numericResult(),
    po2Atm: numericResult(),
    /** standard deviation over the members, K; 0 where temperature was given */
    temperatureCU: numericResult(),
    /** the same of log10 pO2; 0 where pO2 was given */
    log10Po2AtmU: numericResult(),
    /** share of members, of those that have it, in which nothing lies lower */
    stableOdds: numericResult(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: EQUILIBRIUM_TABLES,
  cost: 'long',
  example: { phases: ['YBa2Cu3O7', 'Y2BaCuO5', 'liquid'], po2Atm: [0.02, 1], points: 3, members: 4 },
  plan(request) {
    checkEnds(request.temperatureC ?? [], request.po2Atm ?? []);
    return pointsOf(request);
  },
  runPart({ request, at }) {
    const { answer, doubtsAt } = reactionAt(request, at);
    return answer === undefined ? null : { answer, flags: doubtsAt(answer) };
  },
  merge(request, results) {
    const found = results.filter((result) => result !== null);
    const flags = new Map<string, Flag>();
    for (const { flags: own } of found)
      for (const flag of own) if (!flags.has(flag.code)) flags.set(flag.code, flag);
    if (found.length < results.length) {
      flags.set('REACTION_NOT_FOUND', {
        code: 'REACTION_NOT_FOUND',
        message: `${results.length - found.length} of ${results.length} points were left out: no member has ${request.phases.join(' + ')} together there.`,
      });
    }
    const column = (of: (answer: (typeof found)[number]['answer']) => number): Float64Array =>
      Float64Array.from(found, ({ answer }) => of(answer));
    const isTemperatureSought = request.po2Atm !== undefined;
    return {
      temperatureC: column(({ temperatureC }) => temperatureC),
      po2Atm: column(({ po2Atm }) => po2Atm),
      temperatureCU: column(({ spread }) => (isTemperatureSought ? spread : 0)),
      log10Po2AtmU: column(({ spread }) => (isTemperatureSought ? 0 : spread)),
      stableOdds: column(({ stableOdds }) => stableOdds),
      flags: [...flags.values()],
    };
  },
});
