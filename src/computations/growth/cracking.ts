// Catalogue entry: thermal stress of a film, and the thickness at which cracks begin to run.
import { z } from 'zod';
import {
  biaxialModulus,
  criticalThickness,
  energyReleaseRate,
  expansionRecord,
  inPlanePoisson,
  mechanicsRecord,
  mismatchStrain,
  type Stiffness,
} from '../../science/growth/cracking.ts';
import { checkRange, POSITIVE } from '../../science/growth/range.ts';
import { checkTemperatureC, kelvinDoubts } from '../../science/growth/temperature.ts';
import { inWords } from '../../science/measured.ts';
import { propagate, type StatedNumber } from '../../science/numerics/propagate.ts';
import { seededRandom } from '../../science/numerics/seeded-random.ts';
import { FILM_MECHANICS_TABLE } from '../../science/tables/film-mechanics.ts';
import { THERMAL_EXPANSION_TABLE } from '../../science/tables/thermal-expansion.ts';
import { shortComputation } from '../computation.ts';
import { flagsSchema } from '../schema.ts';
import {
  memoryFlags,
  notStatedFlags,
  optionalQuantitySchema,
  quantityOf,
  stated,
  statedSchema,
} from './growth-schema.ts';

const STIFFNESS = ['c11', 'c22', 'c33', 'c12', 'c13', 'c23'] as const;
const DRAWS = 4000;
/** Of a Poisson ratio taken from the table beside a modulus that was stated. [common practice] */
const POISSON_U = 0.1;

const stiffnessOf = (constants: readonly number[]): Stiffness =>
  Object.fromEntries(STIFFNESS.map((id, i) => [id, constants[i]!])) as unknown as Stiffness;

const crackSchema = z.strictObject({
  kind: z.enum(['channel', 'surface']),
  energyReleaseRateJPerM2: optionalQuantitySchema,
  /** by the best values; null without tension */
  criticalThicknessNm: optionalQuantitySchema,
  /** median and middle 95 % of the draws; null where a draw is not in tension */
  median: z.number().nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  /** share of the draws whose critical thickness lies below the film's */
  odds: z.number().min(0).max(1),
});

export const growthCracking = shortComputation({
  name: 'growth.cracking',
  version: 2,
  summary:
    'Thermal mismatch stress of a film on its substrate, and the thickness at which cracks begin to run: a screen.',
  request: z.strictObject({
    substrate: z.string().max(40),
    /** mean expansions, 1e-6/K; of the table if left out */
    substrateExpansionPerMK: statedSchema.optional(),
    filmExpansionPerMK: statedSchema.optional(),
    thicknessNm: statedSchema,
    growthC: statedSchema,
    endC: z.number().describe('25 if left out').optional(),
    toughnessMPaRootM: statedSchema.optional(),
    biaxialModulusGPa: statedSchema.optional(),
    /** in the plane of the film, beside a stated modulus; of the table if left out */
    poissonRatio: statedSchema.optional(),
    /** further in-plane strain of the film, for instance of lattice misfit that is left; tension above 0 */
    furtherStrain: statedSchema.optional(),
    seed: z
      .number()
      .int()
      .min(0)
      .max(2 ** 32 - 1)
      .optional(),
  }),
  response: z.strictObject({
    strain: optionalQuantitySchema,
    biaxialModulusPa: optionalQuantitySchema,
    /** E/(1 - nu^2), which the energy released is of */
    planeStrainModulusPa: optionalQuantitySchema,
    stressPa: optionalQuantitySchema,
    cracks: z.array(crackSchema).length(2),
    /** draws behind median, interval and odds; uncertainties of the quantities are of first order */
    draws: z.number().int(),
    seed: z.number().int(),
    screen: z.string(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [FILM_MECHANICS_TABLE, THERMAL_EXPANSION_TABLE],
  cost: 'instant',
  example: {
    substrate: 'SrTiO3',
    thicknessNm: { value: 800, standardUncertainty: 30 },
    growthC: { value: 920, standardUncertainty: 10 },
  },
  run(request) {
    const substrate =
      request.substrateExpansionPerMK === undefined ? expansionRecord(request.substrate) : null;
    const film = request.filmExpansionPerMK === undefined ? expansionRecord('123') : null;
    const toughness = request.toughnessMPaRootM === undefined ? mechanicsRecord('toughness') : null;
    const stiffness = request.biaxialModulusGPa === undefined ? STIFFNESS.map(mechanicsRecord) : null;
    const { endC = 25, seed = 1 } = request;
    const given = {
      thicknessNm: stated(request.thicknessNm),
      growthC: stated(request.growthC),
      ...(request.substrateExpansionPerMK !== undefined && {
        substrateExpansionPerMK: stated(request.substrateExpansionPerMK),
      }),
      ...(request.filmExpansionPerMK !== undefined && {
        filmExpansionPerMK: stated(request.filmExpansionPerMK),
      }),
      ...(request.toughnessMPaRootM !== undefined && {
        toughnessMPaRootM: stated(request.toughnessMPaRootM),
      }),
      ...(request.biaxialModulusGPa !== undefined && {
        biaxialModulusGPa: stated(request.biaxialModulusGPa),
      }),
      ...(request.poissonRatio !== undefined && { poissonRatio: stated(request.poissonRatio) }),
      ...(request.furtherStrain !== undefined && { furtherStrain: stated(request.furtherStrain) }),
    };
    checkRange('thicknessNm', given.thicknessNm.value, POSITIVE);
    checkTemperatureC('endC', endC);
    checkTemperatureC('growthC', given.growthC.value, { minC: endC });
    if (given.poissonRatio) checkRange('poissonRatio', given.poissonRatio.value, { min: -0.9, max: 0.9 });
    const ownPoisson = inPlanePoisson(stiffnessOf(STIFFNESS.map((id) => mechanicsRecord(id).value)));
    const modulus: readonly StatedNumber[] = stiffness ?? [
      given.biaxialModulusGPa!,
      given.poissonRatio ?? { value: ownPoisson, standardUncertainty: POISSON_U },
    ];
    const inputs: readonly StatedNumber[] = [
      film ?? given.filmExpansionPerMK!,
      substrate ?? given.substrateExpansionPerMK!,
      given.growthC,
      toughness ?? given.toughnessMPaRootM!,
      given.thicknessNm,
      given.furtherStrain ?? { value: 0, standardUncertainty: 0 },
      ...modulus,
    ];
    checkRange('toughnessMPaRootM', inputs[3]!.value, POSITIVE);
    const model = (values: Float64Array) => {
      const [filmPerMK, substratePerMK, growthC, toughnessMPa, thicknessNm, further, ...constants] = values;
      const strain = mismatchStrain(filmPerMK! * 1e-6, substratePerMK! * 1e-6, growthC! - endC) + further!;
      const modulusPa = 1e9 * (stiffness ? biaxialModulus(stiffnessOf(constants)) : constants[0]!);
      const poisson = stiffness
        ? (given.poissonRatio?.value ?? inPlanePoisson(stiffnessOf(constants)))
        : constants[1]!;
      const planeStrainPa = modulusPa / (1 + poisson);
      const stressPa = modulusPa * strain;
      const cracks = KINDS.flatMap(({ z: factor }) => [
        energyReleaseRate(factor, Math.max(0, stressPa), thicknessNm! * 1e-9, planeStrainPa),
        1e9 * criticalThickness(Math.max(1e-6, toughnessMPa!) * 1e6, factor, stressPa),
      ]);
      return [strain, modulusPa, stressPa, planeStrainPa, ...cracks, thicknessNm!];
    };
    const isPositive = (i: number): boolean =>
      i === 3 || i === 4 || (i > 5 && (stiffness !== null || i === 6));
    const { values, standardUncertainties } = propagate(
      model,
      inputs.map((input, i) => ({ ...input, isPositive: isPositive(i) })),
    );
    checkRange('biaxial modulus, GPa', values[1]! / 1e9, POSITIVE);
    const draws = drawn(model, inputs, isPositive, seed);
    const quantity = (k: number, unit: string) => quantityOf(values[k]!, standardUncertainties[k]!, unit);
    const flags = [
      ...kelvinDoubts([endC, given.growthC.value]),
      ...notStatedFlags(given),
      ...memoryFlags([substrate, film, toughness, ...(stiffness ?? [])].filter((record) => record !== null)),
    ];
    if (!(values[2]! > 0))
      flags.push({
        code: 'NO_TENSION',
        message: `The film is not in tension (stress ${inWords(values[2]! / 1e6)} MPa): cracks of this kind do not run, and there is no critical thickness.`,
      });
    return {
      strain: quantity(0, '1'),
      biaxialModulusPa: quantity(1, 'Pa'),
      planeStrainModulusPa: quantity(3, 'Pa'),
      stressPa: quantity(2, 'Pa'),
      cracks: KINDS.map(({ kind }, i) => ({
        kind,
        energyReleaseRateJPerM2: quantity(4 + 2 * i, 'J/m2'),
        criticalThicknessNm: quantity(5 + 2 * i, 'nm'),
        ...summaryOf(draws, 5 + 2 * i),
      })),
      draws: DRAWS,
      seed,
      screen: SCREEN,
      flags,
    };
  },
});

const KINDS = [
  { kind: 'channel', z: mechanicsRecord('z-channel').value },
  { kind: 'surface', z: mechanicsRecord('z-surface').value },
] as const;

const SCREEN =
  'A screen, not a verdict: it knows thermal mismatch alone. It does not explain first cracks at 70 nm on NdGaO3(001), where lattice misfit and the orthorhombic cell add strain (Palonen and others, Thin Solid Films 519 (2011) 8058) [looked-up: abstract], nor what oxygen does: c shrinks by about 1 % on uptake, which cracks thick and (110) films.';

/** Each input drawn from a normal distribution (a positive one from a log-normal), seeded. */
function drawn(
  model: (values: Float64Array) => number[],
  inputs: readonly StatedNumber[],
  isPositive: (i: number) => boolean,
  seed: number,
): number[][] {
  const random = seededRandom(seed);
  return Array.from({ length: DRAWS }, () =>
    model(
      Float64Array.from(inputs, ({ value, standardUncertainty }, i) => {
        const shift = (standardUncertainty ?? 0) * random.normal();
        return isPositive(i) ? value * Math.exp(shift / value) : value + shift;
      }),
    ),
  );
}

function summaryOf(draws: number[][], k: number) {
  const sorted = draws.map((row) => row[k]!).sort((a, b) => a - b);
  const at = (share: number) => {
    const value = sorted[Math.round(share * (sorted.length - 1))]!;
    return Number.isFinite(value) ? value : null;
  };
  return {
    median: at(0.5),
    low: at(0.025),
    high: at(0.975),
    odds: draws.filter((row) => row[k]! < row.at(-1)!).length / draws.length,
  };
}
