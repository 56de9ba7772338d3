// Catalogue entry: oxygen taken up by a film over a path, by three ways of diffusion.
import { z } from 'zod';
import { oxygenAboveSix, ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import {
  chemicalDiffusivity,
  type DiffusionWay,
  diffusionLine,
  FULL_CHAINS,
  meanOverPath,
  surfaceOxygen,
  thetaOfShare,
} from '../../science/growth/oxygenation.ts';
import type { PathSamples } from '../../science/growth/path.ts';
import { checkRange } from '../../science/growth/range.ts';
import { kelvinDoubts } from '../../science/growth/temperature.ts';
import { inWords } from '../../science/measured.ts';
import { propagate } from '../../science/numerics/propagate.ts';
import { OXYGEN_DIFFUSION_TABLE } from '../../science/tables/oxygen-diffusion.ts';
import { THERMO_LINES_TABLE } from '../../science/tables/thermo-lines.ts';
import { shortComputation } from '../computation.ts';
import { type Flag, flagsSchema, numericResult } from '../schema.ts';
import {
  notStatedFlags,
  optionalQuantitySchema,
  pathSchema,
  quantityOf,
  samplesOf,
  stated,
  statedSchema,
} from './growth-schema.ts';

const DEFAULT_HOLD_C = 450; // usual anneals are at 450 to 550 degC [common practice]
const DEFAULT_SHARE = 0.95;
/** Samples that a path may have here: each moves 400 modes a few times. */
const MAX_SAMPLES_HERE = 4000;
const DISTANCE_NM = { min: 0.1, max: 1e8 };
/** Range of the equilibrium oxygen content: anchors of its fit. */
const EQUILIBRIUM = { fromC: 500, toC: 900, fromLog10Po2: -2, toLog10Po2: 0, mostOxygen: 0.95 };
const WAYS: readonly DiffusionWay[] = ['ab', 'film', 'c'];

const wayResultSchema = z.strictObject({
  way: z.enum(['ab', 'film', 'c']),
  distanceNm: z.number(),
  /** oxygen of REBa2Cu3O6+z, mean over the film, at the end of the path */
  endOxygen: optionalQuantitySchema,
  /** of the way from the start to what the end of the path would give */
  endShare: optionalQuantitySchema,
  /** when the share asked for is first reached on the path; null if never */
  reachedS: z.number().nullable(),
  oxygenAboveSix: numericResult(),
  holdDiffusivityM2PerS: optionalQuantitySchema,
  /** of a hold at one temperature until the share asked for */
  holdTime: optionalQuantitySchema,
});

export const growthOxygenation = shortComputation({
  name: 'growth.oxygenation',
  version: 3,
  summary:
    'Oxygen taken up by a film while it is held or cooled, along ab, into a film and along c, and the time it needs.',
  request: z.strictObject({
    path: pathSchema,
    /** through which oxygen comes where only the film's face is open */
    thicknessNm: statedSchema,
    /** half the distance between open edges, cracks or pores, for diffusion along ab; 1000 nm if left out */
    lateralNm: statedSchema.optional(),
    /** of the film at the beginning; in balance with the first sample if left out */
    startOxygenAboveSix: z.number().optional(),
    share: z.number().describe('of the way to equilibrium; 0.95 if left out').optional(),
    holdC: z
      .number()
      .describe('for the times of a hold in the gas at the end of the path; 450 if left out')
      .optional(),
    temperatureUK: z.number().optional(),
  }),
  response: z.strictObject({
    timeS: numericResult(),
    /** in balance with the gas */
    surfaceOxygenAboveSix: numericResult(),
    ways: z.array(wayResultSchema).max(3),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [OXYGEN_DIFFUSION_TABLE, THERMO_LINES_TABLE],
  cost: 'interactive',
  example: {
    path: {
      start: { temperatureC: 800, po2Atm: 2e-4 },
      segments: [
        { kind: 'gas', toPo2Atm: 1 },
        { kind: 'cool', toC: 450, rateKPerMin: 30 },
        { kind: 'hold', durationS: 1800 },
      ],
    },
    thicknessNm: { value: 500, standardUncertainty: 20 },
    lateralNm: { value: 1000, standardUncertainty: 300 },
    temperatureUK: 10,
  },
  run(request) {
    const path = samplesOf(request.path);
    checkRange('number of samples of the path', path.timeS.length, { max: MAX_SAMPLES_HERE });
    const coldestC =
      path.temperatureK.reduce((least, each) => Math.min(least, each), Number.POSITIVE_INFINITY) -
      ZERO_CELSIUS_K;
    checkRange('lowest temperature of the path, degC', coldestC, { min: 0 });
    const { share = DEFAULT_SHARE, holdC = DEFAULT_HOLD_C, temperatureUK } = request;
    checkRange('share', share, { min: 0.01, max: 0.9999 });
    checkRange('holdC', holdC, { min: 100, max: 1000 });
    if (temperatureUK !== undefined) checkRange('temperatureUK', temperatureUK, { min: 0, max: 200 });
    const thicknessNm = stated(request.thicknessNm);
    const lateralNm = stated(request.lateralNm ?? { value: 1000, standardUncertainty: 500 });
    checkRange('thicknessNm', thicknessNm.value, DISTANCE_NM);
    checkRange('lateralNm', lateralNm.value, DISTANCE_NM);
    const surface = surfaceOxygen(path);
    const lastAtm = 10 ** path.log10Po2Atm.at(-1)!;
    const start = request.startOxygenAboveSix ?? surface[0]!;
    checkRange('startOxygenAboveSix', start, { min: 0, max: 1.2 });
    const flags: Flag[] = [
      ...kelvinDoubts(path.temperatureK.map((kelvin) => kelvin - ZERO_CELSIUS_K)),
      ...notStatedFlags({ thicknessNm, ...(request.lateralNm !== undefined && { lateralNm }) }),
      ...flagsOf(path, surface, holdC, temperatureUK, request.lateralNm === undefined),
    ];
    const ways = WAYS.map((way) => {
      const distanceNm = way === 'ab' ? lateralNm : thicknessNm;
      const { doubtFactor } = diffusionLine(way);
      const doubt = { value: 1, standardUncertainty: Math.log(doubtFactor), isPositive: true };
      const meanOf = (nm: number, factor: number, shiftK: number): Float64Array =>
        meanOverPath(
          path.timeS,
          surface,
          path.temperatureK.map(
            (kelvin, i) => factor * chemicalDiffusivity(way, kelvin + shiftK, surface[i]!),
          ),
          nm * 1e-9,
          start,
        );
      const mean = meanOf(distanceNm.value, 1, 0);
      const goal = surface.at(-1)! - start;
      const { values, standardUncertainties } = propagate(
        ([nm, factor, shiftK]) => {
          const end = meanOf(nm!, factor!, shiftK!).at(-1)!;
          const holdK = holdC + ZERO_CELSIUS_K + shiftK!;
          const d =
            factor! * chemicalDiffusivity(way, holdK, Math.min(FULL_CHAINS, oxygenAboveSix(holdK, lastAtm)));
          return [end, (end - start) / goal, d, (thetaOfShare(share) * (nm! * 1e-9) ** 2) / d];
        },
        [{ ...distanceNm, isPositive: true }, doubt, { value: 0, standardUncertainty: temperatureUK ?? 0 }],
      );
      const reached = goal === 0 ? -1 : mean.findIndex((each) => (each - start) / goal >= share);
      const quantity = (k: number, unit: string) => quantityOf(values[k]!, standardUncertainties[k]!, unit);
      return {
        way,
        distanceNm: distanceNm.value,
        endOxygen: quantity(0, '1'),
        endShare: quantity(1, '1'),
        reachedS: reached < 0 ? null : path.timeS[reached]!,
        oxygenAboveSix: mean,
        holdDiffusivityM2PerS: quantity(2, 'm2/s'),
        holdTime: quantity(3, 's'),
      };
    });
    if (surface.at(-1)! === start)
      flags.push({
        code: 'NO_CHANGE',
        message: 'The path ends at the oxygen content it begins with, so there is no share of a way.',
      });
    for (const { way, reachedS } of ways)
      if (reachedS === null)
        flags.push({
          code: 'NOT_REACHED',
          message: `Along '${way}' the film is not ${inWords(100 * share)} % of the way at any time of this path.`,
        });
    return { timeS: path.timeS, surfaceOxygenAboveSix: surface, ways, flags };
  },
});

function flagsOf(
  path: PathSamples,
  surface: Float64Array,
  holdC: number,
  temperatureUK: number | undefined,
  isLateralAssumed: boolean,
): Flag[] {
  const flags: Flag[] = [
    {
      code: 'SURFACE_EXCHANGE',
      message:
        'Diffusion alone is followed. Measured thin films are limited by exchange at the surface, which silver speeds (Cayado and others, Phys. Chem. Chem. Phys. 2017) [looked-up: abstract], so these times are lower bounds.',
    },
    {
      code: 'CHEMICAL_DIFFUSIVITY',
      message:
        'Measured diffusivities are of the tracer. Oxygen evens out faster by the thermodynamic factor of the content in balance with the gas (1 to 6) [memory: Darken 1948; derived from the fitted oxygen content], whose own doubt is not in the uncertainty.',
    },
    {
      code: 'WAYS_DIFFER',
      message: `The three ways differ by orders of magnitude: along c of a perfect crystal a film would hardly take up oxygen; real films take it through defects, cracks and edges. 'film' rests on one measured point (315 degC), 'c' on a ratio known to a factor ${diffusionLine('c').doubtFactor}.`,
    },
  ];
  const hasBeyond = path.temperatureK.some(
    (kelvin, i) =>
      kelvin - ZERO_CELSIUS_K < EQUILIBRIUM.fromC ||
      kelvin - ZERO_CELSIUS_K > EQUILIBRIUM.toC ||
      path.log10Po2Atm[i]! < EQUILIBRIUM.fromLog10Po2 ||
      path.log10Po2Atm[i]! > EQUILIBRIUM.toLog10Po2 ||
      surface[i]! > EQUILIBRIUM.mostOxygen,
  );
  if (hasBeyond)
    flags.push({
      code: 'EXTRAPOLATED',
      message: `The oxygen content in balance with the gas is fitted to ${EQUILIBRIUM.fromC} to ${EQUILIBRIUM.toC} degC, 0.01 to 1 atm and z up to ${EQUILIBRIUM.mostOxygen}; parts of this path lie beyond, where it is extrapolated.`,
    });
  if (surface.some((each) => each >= FULL_CHAINS))
    flags.push({
      code: 'CHAINS_FULL',
      message:
        'On parts of this path the extrapolated balance would give more oxygen than the chains hold; 7 a formula is taken there, an upper bound.',
    });
  for (const way of WAYS) {
    const { fromC, toC } = diffusionLine(way);
    if (holdC < fromC || holdC > toC)
      flags.push({
        code: 'EXTRAPOLATED',
        message: `The diffusivity along '${way}' is known from ${fromC} to ${toC} degC; at ${holdC} degC it is extrapolated.`,
      });
  }
  if (isLateralAssumed)
    flags.push({
      code: 'LATERAL_ASSUMED',
      message:
        'The distance along ab is taken as 1000 +- 500 nm; state half the distance between open edges, cracks or pores.',
    });
  if (temperatureUK === undefined)
    flags.push({
      code: 'UNCERTAINTY_NOT_STATED',
      message: 'No uncertainty is stated of the temperature; it adds nothing.',
    });
  return flags;
}
