// Catalogue entry: the fastest growth that transport through liquid and gas allows, beside a wanted rate.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { DomainError } from '../../science/errors.ts';
import { arrivalLimitMPerS, layerLimitMPerS, liquidLimitMPerS } from '../../science/growth/limit.ts';
import { checkRange, POSITIVE } from '../../science/growth/range.ts';
import { checkTemperatureC, kelvinDoubt } from '../../science/growth/temperature.ts';
import { inWords } from '../../science/measured.ts';
import { type Propagated, propagate, type StatedNumber } from '../../science/numerics/propagate.ts';
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
  /** probability that this limit is the lowest of them, the logarithm of each taken as normal on its own */
  oddsOfLimiting: z.number().min(0).max(1),
});

export const growthLimit = shortComputation({
  name: 'growth.limit',
  version: 3,
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
      ...(request.liquid ? [limitOf('liquid', liquidRate(request.liquid, crystal, flags), request)] : []),
      ...(request.gas
        ? gasRates(request.gas, request.temperatureC + ZERO_CELSIUS_K, crystal, flags).map(([name, rate]) =>
            limitOf(name, rate, request),
          )
        : []),
    ];
    const shares = lowestShares(found);
    const limits = found.map((limit, i) => ({ ...limit, oddsOfLimiting: shares[i]! }));
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

function liquidRate(
  liquid: NonNullable<Request['liquid']>,
  crystal: StatedNumber,
  flags: Flag[],
): Propagated {
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
  return propagate(
    ([d, c0, ci, cs, nm]) => [(1e9 * d! * (c0! - ci!)) / (nm! * 1e-9 * (cs! - ci!))],
    [{ ...diffusivity, isPositive: true }, bulk, atFace, crystal, { ...boundary, isPositive: true }],
  );
}

function gasRates(
  gas: NonNullable<Request['gas']>,
  temperatureK: number,
  crystal: StatedNumber,
  flags: Flag[],
): ['arrival' | 'gas layer', Propagated][] {
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
  const shared = [
    { ...po2Pa, isPositive: true },
    { ...oxygen, isPositive: true },
    { ...crystal, isPositive: true },
  ];
  const rates: ['arrival' | 'gas layer', Propagated][] = [
    [
      'arrival',
      propagate(
        ([p, n, cs, alpha]) => [1e9 * arrivalLimitMPerS(p!, temperatureK, Math.min(1, alpha!), n!, cs!)],
        [...shared, { ...sticking, isPositive: true }],
      ),
    ],
  ];
  if (gas.carrier) {
    const { carrier } = gas;
    const record = GAS_DIFFUSION.records.find(({ id }) => id === carrier.gas)!;
    const boundary = stated(carrier.boundaryMm);
    flags.push(...notStatedFlags({ 'gas.carrier.boundaryMm': boundary }), ...memoryFlags([record]));
    rates.push([
      'gas layer',
      propagate(
        ([p, n, cs, mm, d]) => [
          1e9 *
            layerLimitMPerS(
              p!,
              temperatureK,
              { totalPressurePa: carrier.totalPressurePa, boundaryM: mm! / 1000, diffusivity: d! * 1e-4 },
              n!,
              cs!,
            ),
        ],
        [
          ...shared,
          { ...boundary, isPositive: true },
          { value: record.d, standardUncertainty: record.d * record.doubt, isPositive: true },
        ],
      ),
    ]);
  }
  return rates;
}

/** Odds are shares of seeded draws: a supersaturation can come out negative, which no factor of the rate would show. */
function limitOf(
  name: 'liquid' | 'arrival' | 'gas layer',
  { values, standardUncertainties, oddsAtLeast }: Propagated,
  { wantedRateNmPerS }: Request,
) {
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

/** Shares of seeded draws in which each limit is the lowest. Inputs that two limits share are drawn apart. */
function lowestShares(
  limits: readonly { rateNmPerS: { value: number; standardUncertainty: number } }[],
): number[] {
  const random = seededRandom(0);
  const counts = limits.map(() => 0);
  for (let draw = 0; draw < DRAWS; draw++) {
    let lowest = 0;
    let least = Number.POSITIVE_INFINITY;
    limits.forEach(({ rateNmPerS: { value, standardUncertainty } }, i) => {
      const rate = value * Math.exp((standardUncertainty / value) * random.normal());
      if (rate < least) [lowest, least] = [i, rate];
    });
    counts[lowest]!++;
  }
  return counts.map((count) => count / DRAWS);
}
