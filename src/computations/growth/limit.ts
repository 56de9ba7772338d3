// Catalogue entry: the fastest growth that transport through liquid and gas allows, beside a wanted rate.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { DomainError } from '../../science/errors.ts';
import { arrivalLimitMPerS, layerLimitMPerS, liquidLimitMPerS } from '../../science/growth/limit.ts';
import { checkRange, POSITIVE } from '../../science/growth/range.ts';
import { checkTemperatureC, kelvinDoubt } from '../../science/growth/temperature.ts';
import { inWords } from '../../science/measured.ts';
import { propagate, type StatedNumber, type UncertainInput } from '../../science/numerics/propagate.ts';
import { seededRandom } from '../../science/numerics/seeded-random.ts';
import { GAS_DIFFUSION, GAS_DIFFUSION_TABLE } from '../../science/tables/gas-diffusion.ts';
import { MELT_TRANSPORT, MELT_TRANSPORT_TABLE } from '../../science/tables/melt-transport.ts';
import { shortComputation } from '../computation.ts';
import { type Flag, flagsSchema, quantitySchema } from '../schema.ts';
import { memoryFlags, notStatedFlags, stated, statedSchema } from './growth-schema.ts';

const requestSchema = z.strictObject({
  temperatureC: z.number(),
  wantedRateNmPerS: z.number(),
  /** moles of formula a volume of 123; that of YBa2Cu3O6.93 if left out */
  crystalMolPerM3: statedSchema.optional(),
  liquid: z
    .strictObject({
      diffusivityM2PerS: statedSchema.optional(),
      bulkMolPerM3: statedSchema,
      atFaceMolPerM3: statedSchema,
      boundaryNm: statedSchema.describe('thickness of liquid that the rare earth crosses'),
    })
    .optional(),
  gas: z
    .strictObject({
      po2Pa: statedSchema,
      sticking: statedSchema
        .describe('share of arriving O2 that is built in; 1 if left out: an upper bound')
        .optional(),
      oxygenPerFormula: statedSchema
        .describe('atoms that a formula of 123 takes from the gas; 1 if left out')
        .optional(),
      carrier: z
        .strictObject({ gas: z.enum(['Ar', 'N2']), totalPressurePa: z.number(), boundaryMm: statedSchema })
        .optional(),
    })
    .optional(),
});
type Request = z.infer<typeof requestSchema>;

const limitSchema = z.strictObject({
  name: z.enum(['liquid', 'arrival', 'gas layer']),
  rateNmPerS: quantitySchema,
  /** limit over wanted rate */
  margin: quantitySchema,
  /** probability that it allows the wanted rate, the logarithm of the limit taken as normal */
  odds: z.number().min(0).max(1),
  /** probability that this limit is the lowest of them; what limits share is drawn once */
  oddsOfLimiting: z.number().min(0).max(1),
});

export const growthLimit = shortComputation({
  name: 'growth.limit',
  version: 4,
  summary:
    'Fastest growth that diffusion in the liquid and supply from the gas allow, and which of them limits.',
  request: requestSchema,
  response: z.strictObject({
    limits: z.array(limitSchema).max(3),
    limiting: z.enum(['liquid', 'arrival', 'gas layer']).nullable(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [GAS_DIFFUSION_TABLE, MELT_TRANSPORT_TABLE],
  cost: 'instant',
  example: {
    temperatureC: 850,
    wantedRateNmPerS: 100,
    liquid: {
      bulkMolPerM3: { value: 336, standardUncertainty: 40 },
      atFaceMolPerM3: { value: 286, standardUncertainty: 20 },
      boundaryNm: { value: 200, standardUncertainty: 80 },
    },
    gas: {
      po2Pa: { value: 20, standardUncertainty: 1 },
      carrier: { gas: 'Ar', totalPressurePa: 101325, boundaryMm: { value: 5, standardUncertainty: 2 } },
    },
  },
  run(request) {
    checkTemperatureC('temperatureC', request.temperatureC, { minC: 0 });
    checkRange('wantedRateNmPerS', request.wantedRateNmPerS, POSITIVE);
    const flags: Flag[] = [...kelvinDoubt('temperatureC', request.temperatureC)];
    const crystal = usualOr(request.crystalMolPerM3, 'crystal-123', 'crystalMolPerM3', flags);
    if (!request.liquid && !request.gas)
      throw new DomainError(
        'GROWTH_RANGE',
        'Neither liquid nor gas is given; allowed is at least one of them.',
        'Give what the material has to come through.',
      );
    const found = [
      ...(request.liquid ? [liquidRate(request.liquid, crystal, flags)] : []),
      ...(request.gas ? gasRates(request.gas, request.temperatureC + ZERO_CELSIUS_K, crystal, flags) : []),
    ];
    const shares = lowestShares(found);
    const limits = found.map((rate, i) => ({ ...limitOf(rate, request), oddsOfLimiting: shares[i]! }));
    const limiting = limits.reduce<(typeof limits)[number] | null>(
      (least, each) => (!least || each.rateNmPerS.value < least.rateNmPerS.value ? each : least),
      null,
    );
    if (limiting && limiting.margin.value > 1)
      flags.push({
        code: 'SUPPLY_SUFFICES',
        message: `Supply would allow ${inWords(limiting.margin.value)} times the wanted rate, so attachment or nucleation may limit instead: pulling of bulk crystals was ten times slower than diffusion allows [looked-up: abstract on growth by crystal pulling].`,
      });
    return { limits, limiting: limiting?.name ?? null, flags };
  },
});

function usualOr(
  given: z.infer<typeof statedSchema> | undefined,
  id: 'crystal-123' | 'diffusivity',
  field: string,
  flags: Flag[],
): StatedNumber {
  if (given !== undefined) {
    const value = stated(given);
    checkRange(field, value.value, POSITIVE);
    flags.push(...notStatedFlags({ [field]: value }));
    return value;
  }
  const record = MELT_TRANSPORT.records.find((each) => each.id === id)!;
  flags.push(...memoryFlags([record]));
  return record;
}

/** A limit as a model of named inputs; inputs of one name are the same quantity in every limit. */
interface RateModel {
  readonly name: 'liquid' | 'arrival' | 'gas layer';
  readonly inputs: Readonly<Record<string, UncertainInput>>;
  /** nm/s of the inputs in their order */
  readonly nmPerS: (values: Float64Array) => number;
}

function liquidRate(liquid: NonNullable<Request['liquid']>, crystal: StatedNumber, flags: Flag[]): RateModel {
  const diffusivity = usualOr(liquid.diffusivityM2PerS, 'diffusivity', 'liquid.diffusivityM2PerS', flags);
  const [bulk, atFace, boundary] = [
    stated(liquid.bulkMolPerM3),
    stated(liquid.atFaceMolPerM3),
    stated(liquid.boundaryNm),
  ];
  flags.push(
    ...notStatedFlags({
      'liquid.bulkMolPerM3': bulk,
      'liquid.atFaceMolPerM3': atFace,
      'liquid.boundaryNm': boundary,
    }),
  );
  liquidLimitMPerS({
    diffusivity: diffusivity.value,
    bulk: bulk.value,
    atFace: atFace.value,
    crystal: crystal.value,
    boundaryM: boundary.value * 1e-9,
  });
  // refused above where it cannot be; a supersaturation uncertain beyond 0 is followed straight through it
  return {
    name: 'liquid',
    inputs: {
      diffusivity: { ...diffusivity, isPositive: true },
      bulk,
      atFace,
      crystal,
      boundaryNm: { ...boundary, isPositive: true },
    },
    nmPerS: ([d, c0, ci, cs, nm]) => (1e9 * d! * (c0! - ci!)) / (nm! * 1e-9 * (cs! - ci!)),
  };
}

function gasRates(
  gas: NonNullable<Request['gas']>,
  temperatureK: number,
  crystal: StatedNumber,
  flags: Flag[],
): RateModel[] {
  const po2Pa = stated(gas.po2Pa);
  if (gas.sticking !== undefined)
    checkRange('gas.sticking', stated(gas.sticking).value, { min: 0, max: 1, isAboveMin: true });
  const sticking = gas.sticking === undefined ? { value: 1, standardUncertainty: 0 } : stated(gas.sticking);
  const oxygen =
    gas.oxygenPerFormula === undefined ? { value: 1, standardUncertainty: 0 } : stated(gas.oxygenPerFormula);
  flags.push(
    ...notStatedFlags({ 'gas.po2Pa': po2Pa, 'gas.sticking': sticking, 'gas.oxygenPerFormula': oxygen }),
  );
  if (gas.sticking === undefined)
    flags.push({
      code: 'UNIT_STICKING',
      message:
        'All O2 that arrives is taken as built in: the arrival limit is an upper bound. Uptake at the surface is slower.',
    });
  if (gas.oxygenPerFormula === undefined)
    flags.push({
      code: 'OXYGEN_ASSUMED',
      message: 'One atom of oxygen a formula is taken from the gas; state it for your precursor.',
    });
  const shared = {
    po2Pa: { ...po2Pa, isPositive: true },
    oxygenPerFormula: { ...oxygen, isPositive: true },
    crystal: { ...crystal, isPositive: true },
  };
  const rates: RateModel[] = [
    {
      name: 'arrival',
      inputs: { ...shared, sticking: { ...sticking, isPositive: true } },
      nmPerS: ([p, n, cs, alpha]) => 1e9 * arrivalLimitMPerS(p!, temperatureK, Math.min(1, alpha!), n!, cs!),
    },
  ];
  if (gas.carrier) {
    const { carrier } = gas;
    const record = GAS_DIFFUSION.records.find(({ id }) => id === carrier.gas)!;
    const boundary = stated(carrier.boundaryMm);
    flags.push(...notStatedFlags({ 'gas.carrier.boundaryMm': boundary }), ...memoryFlags([record]));
    checkRange('gas.carrier.totalPressurePa', carrier.totalPressurePa, { min: po2Pa.value });
    rates.push({
      name: 'gas layer',
      inputs: {
        ...shared,
        boundaryMm: { ...boundary, isPositive: true },
        gasDiffusivity: { value: record.d, standardUncertainty: record.d * record.doubt, isPositive: true },
      },
      nmPerS: ([p, n, cs, mm, d]) =>
        1e9 *
        layerLimitMPerS(
          Math.min(p!, carrier.totalPressurePa),
          temperatureK,
          { totalPressurePa: carrier.totalPressurePa, boundaryM: mm! / 1000, diffusivity: d! * 1e-4 },
          n!,
          cs!,
        ),
    });
  }
  return rates;
}

/** Odds are shares of seeded draws: a supersaturation can come out negative, which no factor of the rate would show. */
function limitOf({ name, inputs, nmPerS }: RateModel, { wantedRateNmPerS }: Request) {
  const { values, standardUncertainties, oddsAtLeast } = propagate(
    (each) => [nmPerS(each)],
    Object.values(inputs),
  );
  const [value, standardUncertainty] = [values[0]!, standardUncertainties[0]!];
  return {
    name,
    rateNmPerS: { value, standardUncertainty, unit: 'nm/s' },
    margin: {
      value: value / wantedRateNmPerS,
      standardUncertainty: standardUncertainty / wantedRateNmPerS,
      unit: '1',
    },
    odds: oddsAtLeast(wantedRateNmPerS, 0),
  };
}

const DRAWS = 4000;

/** Shares of seeded draws in which each limit is the lowest; one draw an input, in all limits that it stands in. */
function lowestShares(limits: readonly RateModel[]): number[] {
  const random = seededRandom(0);
  const names = [...new Set(limits.flatMap(({ inputs }) => Object.keys(inputs)))];
  const counts = limits.map(() => 0);
  for (let draw = 0; draw < DRAWS; draw++) {
    const normal = new Map(names.map((name) => [name, random.normal()]));
    const rates = limits.map(({ inputs, nmPerS }) =>
      nmPerS(
        Float64Array.from(
          Object.entries(inputs),
          ([name, { value, standardUncertainty, isPositive = false }]) => {
            const by = (standardUncertainty ?? 0) * normal.get(name)!;
            return isPositive ? value * Math.exp(by / value) : value + by;
          },
        ),
      ),
    );
    counts[rates.indexOf(Math.min(...rates))]!++;
  }
  return counts.map((count) => count / DRAWS);
}
