// Catalogue entry: how coarse particles grow beside a liquid, and what would keep them fine.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { DomainError } from '../../science/errors.ts';
import {
  type CoarseningInputs,
  coarsenedRadius,
  coarseningConstant,
  grownOver,
  startRadius,
} from '../../science/growth/coarsening.ts';
import { checkOrder, checkSamples, columnAt } from '../../science/growth/path.ts';
import { checkRange, POSITIVE } from '../../science/growth/range.ts';
import { checkTemperatureC, kelvinDoubts } from '../../science/growth/temperature.ts';
import { inWords } from '../../science/measured.ts';
import { propagate, type StatedNumber } from '../../science/numerics/propagate.ts';
import { MELT_TRANSPORT, MELT_TRANSPORT_TABLE } from '../../science/tables/melt-transport.ts';
import { shortComputation } from '../computation.ts';
import { type Flag, flagsSchema, numericArray, numericResult, quantitySchema } from '../schema.ts';
import { MAX_PATH_SAMPLES, memoryFlags, notStatedFlags, stated, statedSchema } from './growth-schema.ts';

const requestSchema = z.strictObject({
  interfacialEnergyJPerM2: statedSchema.optional(),
  diffusivityM2PerS: statedSchema.optional(),
  soluteMolPerM3: statedSchema.optional(),
  /** of the particle per mole of that solute; half the formula volume where the formula holds two */
  molarVolumeM3PerMol: statedSchema.optional(),
  /** a hold, or a path in columns */
  hold: z.strictObject({ temperatureC: z.number(), durationS: z.number() }).optional(),
  path: z
    .strictObject({
      timeS: numericArray({ max: MAX_PATH_SAMPLES }),
      temperatureC: numericArray({ max: MAX_PATH_SAMPLES }),
    })
    .optional(),
  /** when there is liquid, as growth.path gives it: coarsening goes on with these odds; all along if left out */
  liquid: z
    .strictObject({
      timeS: numericArray({ max: MAX_PATH_SAMPLES }),
      odds: numericArray({ max: MAX_PATH_SAMPLES }),
      /** for the uncertainty of the time */
      liquidS: statedSchema.optional(),
    })
    .optional(),
  /** temperature that diffusivity and solute are for; that of the hold, or the hottest of the path, if left out */
  referenceC: z.number().optional(),
  diffusionJPerMol: z.number().describe('activation energy of the diffusivity; 0 if left out').optional(),
  dissolutionJPerMol: z.number().describe('enthalpy of dissolution of the solute; 0 if left out').optional(),
  /** nuclei with the volume fraction they share, or the radius at the start */
  nucleiPerM3: statedSchema.optional(),
  volumeFraction: statedSchema.optional(),
  startRadiusNm: statedSchema.optional(),
  whatIf: z
    .array(
      z.strictObject({
        name: z.string().max(80),
        interfacialEnergyFactor: z.number().optional(),
        nucleiFactor: z.number().optional(),
        diffusivityFactor: z.number().optional(),
      }),
    )
    .max(12)
    .optional(),
});
type Request = z.infer<typeof requestSchema>;

/** Above this volume fraction measured rates depart from the theory of none [looked-up: Izumi and others, Mater. Trans. 42 (2001) 227]. */
const TRUSTED_FRACTION = 0.15;

export const growthCoarsening = shortComputation({
  name: 'growth.coarsening',
  version: 3,
  summary:
    'Mean radius of particles coarsening in a melt, with uncertainty, and what finer nuclei would change.',
  request: requestSchema,
  response: z.strictObject({
    rateConstant: quantitySchema,
    startRadiusNm: quantitySchema,
    finalRadiusNm: quantitySchema,
    timeS: numericResult(),
    radiusNm: numericResult(),
    radiusNmU: numericResult(),
    whatIf: z
      .array(
        z.strictObject({
          name: z.string(),
          startRadiusNm: quantitySchema,
          finalRadiusNm: quantitySchema,
          ofFinal: quantitySchema,
        }),
      )
      .max(12),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [MELT_TRANSPORT_TABLE],
  cost: 'instant',
  example: {
    interfacialEnergyJPerM2: { value: 0.5, standardUncertainty: 0.2 },
    hold: { temperatureC: 950, durationS: 60 },
    nucleiPerM3: { value: 1e20, standardUncertainty: 5e19 },
    volumeFraction: { value: 0.1, standardUncertainty: 0.02 },
    whatIf: [
      { name: 'half the interfacial energy', interfacialEnergyFactor: 0.5 },
      { name: 'ten times the nuclei', nucleiFactor: 10 },
    ],
  },
  run(request) {
    const flags: Flag[] = [];
    const inputs = inputsOf(request, flags);
    const { timeS, temperatureK, referenceK } = timesOf(request);
    flags.push(...kelvinDoubts(temperatureK.map((kelvin) => kelvin - ZERO_CELSIUS_K)));
    const change = {
      referenceK,
      diffusionJPerMol: request.diffusionJPerMol ?? 0,
      dissolutionJPerMol: request.dissolutionJPerMol ?? 0,
    };
    if (request.diffusionJPerMol === undefined)
      flags.push({
        code: 'DIFFUSIVITY_NOT_MOVED',
        message: `No activation energy is given, so the diffusivity and the solubility of ${inWords(referenceK - ZERO_CELSIUS_K)} degC are taken at every temperature: answers at different temperatures cannot be compared.`,
      });
    const start = startOf(request, flags);
    const { share, relativeU } = liquidOf(request.liquid, timeS, temperatureK, flags);
    const grown = (upTo: number, inputs: CoarseningInputs): number =>
      grownOver(timeS.subarray(0, upTo), temperatureK.subarray(0, upTo), inputs, change, share);
    const cases = [{ name: '' }, ...(request.whatIf ?? [])];
    for (const [i, row] of cases.entries())
      for (const [field, value] of Object.entries(row))
        if (typeof value === 'number') checkRange(`whatIf[${i - 1}].${field}`, value, POSITIVE);
    const shown = shownIndices(timeS.length);
    const { values, standardUncertainties } = propagate(
      ([interfacialEnergy, diffusivity, solute, molarVolume, first, second, liquidFactor]) => {
        const base = {
          interfacialEnergy: interfacialEnergy!,
          diffusivity: diffusivity!,
          solute: solute!,
          molarVolume: molarVolume!,
        };
        const results = [coarseningConstant(base, referenceK)];
        const finals: number[] = [];
        for (const row of cases as NonNullable<Request['whatIf']>) {
          const { interfacialEnergyFactor = 1, nucleiFactor = 1, diffusivityFactor = 1 } = row;
          const radius = start.radiusOf(first!, second!) * nucleiFactor ** (-1 / 3);
          const moved = {
            ...base,
            interfacialEnergy: base.interfacialEnergy * interfacialEnergyFactor,
            diffusivity: base.diffusivity * diffusivityFactor,
          };
          const final = coarsenedRadius(radius, liquidFactor! * grown(timeS.length, moved));
          finals.push(final);
          results.push(radius * 1e9, final * 1e9, final / finals[0]!);
        }
        const radius = start.radiusOf(first!, second!);
        for (const i of shown)
          results.push(1e9 * coarsenedRadius(radius, liquidFactor! * grown(i + 1, base)));
        return results;
      },
      [...inputs, ...start.inputs, { value: 1, standardUncertainty: relativeU, isPositive: true }],
    );
    const quantity = (k: number, unit: string) => ({
      value: values[k]!,
      standardUncertainty: standardUncertainties[k]!,
      unit,
    });
    const curve = 1 + 3 * cases.length;
    return {
      rateConstant: quantity(0, 'm3/s'),
      startRadiusNm: quantity(1, 'nm'),
      finalRadiusNm: quantity(2, 'nm'),
      timeS: Float64Array.from(shown, (i) => timeS[i]!),
      radiusNm: values.slice(curve),
      radiusNmU: standardUncertainties.slice(curve),
      whatIf: cases.slice(1).map(({ name }, k) => ({
        name,
        startRadiusNm: quantity(4 + 3 * k, 'nm'),
        finalRadiusNm: quantity(5 + 3 * k, 'nm'),
        ofFinal: quantity(6 + 3 * k, '1'),
      })),
      flags,
    };
  },
});

/** Odds of liquid at each sample, and the relative uncertainty of the time with liquid. */
function liquidOf(
  liquid: Request['liquid'],
  timeS: Float64Array,
  temperatureK: Float64Array,
  flags: Flag[],
): { share: Float64Array | undefined; relativeU: number } {
  if (!liquid) {
    flags.push({
      code: 'LIQUID_ALL_ALONG',
      message: 'Liquid is taken as there all along; give the odds of growth.path to coarsen only beside it.',
    });
    return { share: undefined, relativeU: 0 };
  }
  if (liquid.odds.length !== liquid.timeS.length || liquid.odds.length === 0)
    throw new DomainError(
      'GROWTH_LENGTHS',
      `liquid has ${liquid.timeS.length} times and ${liquid.odds.length} odds; allowed is one of each, at least one.`,
    );
  checkOrder(liquid.timeS, 'liquid.timeS');
  liquid.odds.forEach((odds, i) => {
    checkRange(`liquid.odds[${i}]`, odds, { min: 0, max: 1 });
  });
  const [firstS, lastS] = [liquid.timeS[0]!, liquid.timeS.at(-1)!];
  const share = Float64Array.from(temperatureK, (_, i) =>
    timeS[i]! < firstS || timeS[i]! > lastS ? 0 : columnAt(liquid.timeS, liquid.odds, timeS[i]!),
  );
  flags.push({
    code: 'LIQUID_WEIGHTED',
    message:
      'The growth of the cube is that beside liquid times its odds, the mean over the members; a single film has liquid or has it not.',
  });
  if (!liquid.liquidS) return { share, relativeU: 0 };
  const time = stated(liquid.liquidS);
  checkRange('liquid.liquidS', time.value, { min: 0 });
  return { share, relativeU: time.value > 0 ? (time.standardUncertainty ?? 0) / time.value : 0 };
}

const SHOWN_POINTS = 40;
function shownIndices(n: number): number[] {
  return [
    ...new Set(Array.from({ length: SHOWN_POINTS + 1 }, (_, k) => Math.round((k * (n - 1)) / SHOWN_POINTS))),
  ];
}

function inputsOf(request: Request, flags: Flag[]) {
  const given = [
    ['interfacial-energy', 'interfacialEnergyJPerM2', request.interfacialEnergyJPerM2],
    ['diffusivity', 'diffusivityM2PerS', request.diffusivityM2PerS],
    ['solute', 'soluteMolPerM3', request.soluteMolPerM3],
    ['volume-211', 'molarVolumeM3PerMol', request.molarVolumeM3PerMol],
  ] as const;
  const usual: (typeof MELT_TRANSPORT.records)[number][] = [];
  const stateds: Record<string, StatedNumber> = {};
  const inputs = given.map(([id, field, value]) => {
    if (value !== undefined) {
      stateds[field] = stated(value);
      checkRange(field, stateds[field].value, POSITIVE);
      return { ...stateds[field], isPositive: true };
    }
    const record = MELT_TRANSPORT.records.find((each) => each.id === id)!;
    usual.push(record);
    return { value: record.value, standardUncertainty: record.standardUncertainty, isPositive: true };
  });
  flags.push(...notStatedFlags(stateds), ...memoryFlags(usual), {
    code: 'WIDER_THAN_THEORY',
    message:
      "Measured distributions of sizes in Ba-Cu-O melts are far wider than the theory's, so the largest particles exceed 1.5 times the mean (J. Mater. Res. 9 (1994) 1633) [looked-up: abstract].",
  });
  return inputs;
}

function timesOf({ hold, path, referenceC }: Request) {
  if (hold && path)
    throw new DomainError('GROWTH_RANGE', 'hold and path are both given; allowed is one of them.');
  if (!path) {
    if (!hold)
      throw new DomainError('GROWTH_RANGE', 'neither hold nor path is given; allowed is one of them.');
    checkTemperatureC('hold.temperatureC', hold.temperatureC, { minC: 0 });
    checkRange('hold.durationS', hold.durationS, { min: 0, max: 1e8 });
    const temperatureK = hold.temperatureC + ZERO_CELSIUS_K;
    return {
      timeS: Float64Array.from({ length: SHOWN_POINTS + 1 }, (_, i) => (i / SHOWN_POINTS) * hold.durationS),
      temperatureK: new Float64Array(SHOWN_POINTS + 1).fill(temperatureK),
      referenceK: referenceC === undefined ? temperatureK : referenceC + ZERO_CELSIUS_K,
    };
  }
  const temperatureK = path.temperatureC.map((each) => each + ZERO_CELSIUS_K);
  checkSamples({ timeS: path.timeS, temperatureK, log10Po2Atm: new Float64Array(temperatureK.length) });
  const hottest = temperatureK.reduce((most, each) => Math.max(most, each), 0);
  return {
    timeS: path.timeS,
    temperatureK,
    referenceK: referenceC === undefined ? hottest : referenceC + ZERO_CELSIUS_K,
  };
}

function startOf(request: Request, flags: Flag[]) {
  const { nucleiPerM3, volumeFraction, startRadiusNm } = request;
  if (startRadiusNm !== undefined) {
    if (nucleiPerM3 !== undefined || volumeFraction !== undefined)
      throw new DomainError(
        'GROWTH_RANGE',
        'startRadiusNm is given beside nucleiPerM3 or volumeFraction; allowed is one way to say where it starts.',
        'Give the radius, or nuclei and volume fraction.',
      );
    const radius = stated(startRadiusNm);
    checkRange('startRadiusNm', radius.value, { min: 0 });
    flags.push(...notStatedFlags({ startRadiusNm: radius }));
    return {
      inputs: [
        { ...radius, isPositive: radius.value > 0 },
        { value: 0, standardUncertainty: null },
      ],
      radiusOf: (radiusNm: number) => radiusNm * 1e-9,
    };
  }
  if (nucleiPerM3 === undefined || volumeFraction === undefined)
    throw new DomainError(
      'GROWTH_RANGE',
      'startRadiusNm is not given; allowed without it are nucleiPerM3 and volumeFraction together.',
    );
  const [nuclei, fraction] = [stated(nucleiPerM3), stated(volumeFraction)];
  startRadius(fraction.value, nuclei.value); // refuses what cannot be
  flags.push(...notStatedFlags({ nucleiPerM3: nuclei, volumeFraction: fraction }));
  if (fraction.value > TRUSTED_FRACTION)
    flags.push({
      code: 'EXTRAPOLATED',
      message: `A volume fraction of ${inWords(fraction.value)} is above ${TRUSTED_FRACTION}: the theory is of none, and measured rates change there (Izumi and others, Mater. Trans. 42 (2001) 227) [looked-up: abstract].`,
    });
  return {
    inputs: [
      { ...nuclei, isPositive: true },
      { ...fraction, isPositive: true },
    ],
    radiusOf: (perM3: number, share: number) => startRadius(Math.min(1, share), perM3),
  };
}
