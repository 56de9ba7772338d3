// The part of growth.path that asks the equilibrium: when there is liquid along the path at the film.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { DomainError } from '../../science/errors.ts';
import type { PathSamples, PlacedSegment } from '../../science/growth/path.ts';
import { LIKELY, liquidAlong, type PathLiquid } from '../../science/growth/path-liquid.ts';
import { COLDEST_ASKED_C, HOTTEST_ASKED_C } from '../../science/growth/path-places.ts';
import { ensembleFields, restShare } from '../equilibrium/request.ts';
import { cationsSchema, type Flag, numericResult } from '../schema.ts';
import { diagramFlags, filmEquilibrium } from './film-equilibrium.ts';
import { optionalQuantitySchema } from './growth-schema.ts';

const MAX_PLACES = 400;

export const liquidFields = {
  /** of the film; without them the equilibrium is not asked */
  cations: cationsSchema.optional(),
  ...ensembleFields,
} as const;
type LiquidRequest = z.infer<z.ZodObject<typeof liquidFields>>;

const column = () => numericResult({ max: MAX_PLACES });

export const liquidResponse = {
  /** at the likely path at the film, where it was asked; null without cations */
  liquid: z
    .strictObject({
      timeS: column(),
      temperatureC: column(),
      log10Po2Atm: column(),
      /** index of the segment */
      segment: column(),
      /** share of the members with liquid, and with liquid beside 123 */
      odds: column(),
      oddsWith123: column(),
      /** of the cations: median member, and standard deviation over the members */
      share: column(),
      shareU: column(),
    })
    .nullable(),
  /** mean over the members; the uncertainty is their scatter and where in its interval a crossing lies */
  liquidS: optionalQuantitySchema,
  liquidWith123S: optionalQuantitySchema,
  /** where the odds of liquid are at least 0.5 */
  liquidSpans: z
    .array(z.strictObject({ fromS: z.number(), toS: z.number(), segment: z.number().int() }))
    .max(MAX_PLACES)
    .readonly(),
} as const;

const NONE = { liquid: null, liquidS: null, liquidWith123S: null, liquidSpans: [] };

/** @throws DomainError GROWTH_RANGE where an ensemble, offsets or holds are given without cations */
export function liquidOf(
  request: LiquidRequest,
  film: PathSamples,
  segments: readonly PlacedSegment[],
  hasChamber: boolean,
  flags: Flag[],
) {
  const { cations } = request;
  if (!cations) {
    const bare = ['ensemble', 'offsetsJPerMol', 'heldBack'].filter((field) => field in request);
    if (bare.length > 0)
      throw new DomainError(
        'GROWTH_RANGE',
        `${bare.join(', ')} ${bare.length > 1 ? 'are' : 'is'} given without cations; allowed is both together.`,
        'Give the cations of the film.',
      );
    flags.push({
      code: 'LIQUID_NOT_ASKED',
      message: 'No cations are given, so whether there is liquid along this path was not asked.',
    });
    return NONE;
  }
  const equilibrium = filmEquilibrium(cations, request);
  const found = liquidAlong(
    film,
    segments,
    equilibrium.members,
    equilibrium.conditions,
    equilibrium.film.shares,
  );
  flags.push(...diagramFlags(equilibrium, request, found.places), ...liquidFlags(found, hasChamber));
  const rest = restShare(equilibrium.film.inert);
  const columnOf = (value: (place: (typeof found.places)[number]) => number) =>
    Float64Array.from(found.places, value);
  return {
    liquid: {
      timeS: columnOf(({ timeS }) => timeS),
      temperatureC: columnOf(({ temperatureK }) => temperatureK - ZERO_CELSIUS_K),
      log10Po2Atm: columnOf(({ log10Po2Atm }) => log10Po2Atm),
      segment: columnOf(({ segment }) => segment),
      odds: columnOf(({ odds }) => odds),
      oddsWith123: columnOf(({ oddsWith123 }) => oddsWith123),
      share: columnOf(({ share }) => share * rest),
      shareU: columnOf(({ shareU }) => shareU * rest),
    },
    liquidS: { ...found.liquidS, unit: 's' },
    liquidWith123S: { ...found.liquidWith123S, unit: 's' },
    liquidSpans: found.spans,
  };
}

function liquidFlags({ places, unasked, spans }: PathLiquid, hasChamber: boolean): Flag[] {
  const flags: Flag[] = [];
  if (unasked > 0)
    flags.push({
      code: 'LIQUID_PARTLY_ASKED',
      message: `Below ${COLDEST_ASKED_C} degC, above ${HOTTEST_ASKED_C} degC or without oxygen the phases are not asked and no liquid is counted [common practice].${places.length === 0 ? ' That is all of this path.' : ''}`,
    });
  if (places.length > 0 && spans.length === 0) {
    const best = places.reduce((most, each) => (each.odds > most.odds ? each : most));
    flags.push({
      code: 'LIQUID_NEVER_LIKELY',
      message: `Nowhere are the odds of liquid ${LIKELY} or more; they are highest, ${best.odds.toFixed(2)}, at ${(best.temperatureK - ZERO_CELSIUS_K).toFixed(0)} degC and ${(10 ** best.log10Po2Atm).toPrecision(2)} atm in segments[${best.segment}].`,
    });
  }
  if (hasChamber)
    flags.push({
      code: 'CHAMBER_NOT_IN_LIQUID_TIME',
      message:
        'The time with liquid is that of the likely path; what is not known of the chamber and of the lag is not in its uncertainty.',
    });
  return flags;
}
