// Catalogue entry: what gas and schedule of a firing do to the target's oxygen, and whether it stands the heat.
import { z } from 'zod';
import { diffusionLine } from '../../science/growth/oxygenation.ts';
import { checkRange } from '../../science/growth/range.ts';
import { propagate, type StatedNumber } from '../../science/numerics/propagate.ts';
import { ATOMIC_WEIGHTS_TABLE } from '../../science/tables/atomic-weights.ts';
import { OXYGEN_DIFFUSION_TABLE } from '../../science/tables/oxygen-diffusion.ts';
import {
  lastHottest,
  massOf123,
  oxygenAlongFiring,
  type SinterBody,
  sinterPath,
  startOxygen,
} from '../../science/target/sinter.ts';
import { closureOf } from '../../science/target/sinter-closure.ts';
import { consequencesOf, oxygenStateOf, reportedOxygen } from '../../science/target/sinter-state.ts';
import { shortComputation } from '../computation.ts';
import { EQUILIBRIUM_TABLES } from '../equilibrium/request.ts';
import { cationsSchema, flagsSchema, quantitySchema } from '../schema.ts';
import { bodyFlags, carbonateFlag, closureFlags, dangerOf, inertFlags, oxygenFlags } from './sinter-flags.ts';

/** Grain radius where none is stated: a usual one, with a factor of 2.5 either way [common practice]. */
const USUAL_GRAIN_UM: StatedNumber = { value: 5, standardUncertainty: 4.6 };
/** Where the start moves the end by more, the middle is given; by still more, nothing. */
const START_SAYS = 0.01;
const START_HIDES = 0.3;
/** Half the thickness of a target, 3 to 8 mm [common practice], for one without open pores. */
const HALF_THICKNESS_UM: StatedNumber = { value: 2500, standardUncertainty: 1000 };
/** Flow of gas a gram of target where none is stated: 100 sccm over 50 g, with a factor of 3 either way [common practice]. */
const USUAL_SCCM_PER_G: StatedNumber = { value: 2, standardUncertainty: 2.2 };
/** Diffusivity of other ceramics than the one measured, ln of the factor: 2 [assumed], beside the scatter of the points. */
const OTHER_CERAMIC = Math.log(2);
const positiveSchema = z.union([
  z.number(),
  z.strictObject({ value: z.number(), standardUncertainty: z.number().min(0).nullable() }),
]);

export const targetSinter = shortComputation({
  name: 'target.sinter',
  version: 1,
  summary:
    "What the gas and the schedule of a firing do to the target's oxygen, and whether it stands the heat.",
  request: z.strictObject({
    cations: cationsSchema,
    /** 25 degC in the first segment's gas if left out */
    start: z.strictObject({ temperatureC: z.number(), po2Atm: z.number() }).optional(),
    segments: z
      .array(
        z.strictObject({
          kind: z.enum(['ramp', 'hold', 'gas change', 'cool']),
          /** at its end */
          toC: z.number(),
          durationS: z.number(),
          /** from its beginning, but for a gas change, which ends with it */
          po2Atm: z.number(),
        }),
      )
      .min(1)
      .max(60),
    grainRadiusUm: positiveSchema.describe('5 with a factor of 2.5 if left out').optional(),
    /** do open pores reach the inside? yes if left out */
    isPorous: z.boolean().optional(),
    gasSccmPerG: positiveSchema
      .describe('flow of gas a gram of target; 2 with a factor of 3 if left out')
      .optional(),
    temperatureUK: z.number().optional(),
  }),
  response: z.strictObject({
    /** of REBa2Cu3O6+z at the end, mean over the target */
    oxygenPer123: quantitySchema.nullable(),
    /** when it was hottest, at the end of that time */
    atHottest: z.strictObject({ temperatureC: z.number(), oxygenPer123: z.number() }),
    oxygenState: z.enum(['oxygen rich', 'between', 'oxygen poor']),
    hottestC: z.number(),
    /** where exchange with the gas froze; null where a flag says why */
    closureC: z.number().nullable(),
    closureUK: z.number().min(0).nullable(),
    /** the point of the firing most likely to melt or to lose its 123, by the diagram's members */
    danger: z
      .strictObject({
        temperatureC: z.number(),
        po2Atm: z.number(),
        liquidOdds: z.number().min(0).max(1),
        no123Odds: z.number().min(0).max(1),
      })
      .nullable(),
    consequences: z
      .array(
        z.strictObject({ route: z.enum(['in situ', 'ex situ']), statement: z.string(), source: z.string() }),
      )
      .max(4),
    /** of 123, by oxygen alone, from the hottest time to the end */
    massChangePercent: z.number().nullable(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [...new Set([ATOMIC_WEIGHTS_TABLE, OXYGEN_DIFFUSION_TABLE, ...EQUILIBRIUM_TABLES])],
  cost: 'interactive',
  example: {
    cations: { Y: 1, Ba: 2, Cu: 3 },
    segments: [
      { kind: 'ramp', toC: 940, durationS: 14_400, po2Atm: 1 },
      { kind: 'hold', toC: 940, durationS: 86_400, po2Atm: 1 },
      { kind: 'cool', toC: 450, durationS: 36_000, po2Atm: 1 },
      { kind: 'hold', toC: 450, durationS: 36_000, po2Atm: 1 },
      { kind: 'cool', toC: 25, durationS: 14_400, po2Atm: 1 },
    ],
    grainRadiusUm: { value: 5, standardUncertainty: 2 },
    isPorous: true,
  },
  run(request) {
    const { cations, segments, isPorous = true, temperatureUK } = request;
    const path = sinterPath(request.start ?? { temperatureC: 25, po2Atm: segments[0]!.po2Atm }, segments);
    const grain = statedOr(request.grainRadiusUm, USUAL_GRAIN_UM);
    const supply = statedOr(request.gasSccmPerG, USUAL_SCCM_PER_G);
    checkRange('grainRadiusUm', grain.value, { min: 1e-3, max: 1e4 });
    checkRange('gasSccmPerG', supply.value, { min: 1e-4, max: 1e5 });
    checkRange('temperatureUK', temperatureUK ?? 0, { min: 0, max: 200 });
    const hottestAt = lastHottest(path.samples);
    const hottestC = Math.max(path.start.temperatureC, ...segments.map(({ toC }) => toC));
    const inputs = [
      { ...grain, isPositive: true },
      { ...supply, isPositive: true },
      {
        value: 1,
        standardUncertainty: Math.hypot(Math.log(diffusionLine('ab').doubtFactor), OTHER_CERAMIC),
        isPositive: true,
      },
      { value: 0, standardUncertainty: temperatureUK ?? 0 },
      { ...HALF_THICKNESS_UM, isPositive: true },
    ];
    const bodyOf = (values: Float64Array, isClosing: boolean): SinterBody => ({
      grainRadiusM: values[0]! * 1e-6,
      gasSccmPerG: values[1]!,
      diffusivityFactor: values[2]!,
      shiftK: values[3]!,
      closesToPlateM: isClosing ? values[4]! * 1e-6 : undefined,
    });
    /** oxygen at the end and when hottest, from a start of its own */
    const ends = (values: Float64Array, isClosing: boolean, start: number): [number, number] => {
      const mean = oxygenAlongFiring(path, bodyOf(values, isClosing), start);
      return [mean.at(-1)!, mean[hottestAt]!];
    };
    const begin = startOxygen(path.start);
    const usual = Float64Array.from(inputs, ({ value }) => value);
    const open = propagate((values) => {
      const [end, hot] = ends(values, false, begin);
      const closure = closureOf(path, bodyOf(values, false), end);
      return [end, hot, closure.kind === 'froze' ? closure.temperatureC : Number.NaN];
    }, inputs);
    // without open pores the truth lies between that and a way through the whole target alone
    const closed = isPorous ? open : propagate((values) => ends(values, true, begin), inputs);
    const [low, high] = minMax(open.values[0]!, closed.values[0]!);
    const [fromNone, fromFull] = minMax(ends(usual, false, 0)[0], ends(usual, false, 1)[0]);
    const poresWidth = high - low;
    const startWidth = fromFull - fromNone;
    const end = startWidth > START_SAYS ? (fromNone + fromFull) / 2 : (low + high) / 2;
    const reported = reportedOxygen(end);
    const oxygenU = Math.hypot(
      Math.max(open.standardUncertainties[0]!, closed.standardUncertainties[0]!),
      reported.scatter,
      Math.hypot(startWidth, poresWidth) / Math.sqrt(12), // rectangular
    );
    const closure = closureOf(path, bodyOf(usual, false), end);
    const isClosureKnown = isPorous && closure.kind === 'froze';
    const closureUK = open.standardUncertainties[2]!;
    const state = oxygenStateOf(6 + reported.value);
    const hot = reportedOxygen(open.values[1]!).value;
    const isSaid = startWidth <= START_HIDES;
    const { danger, flags: heatFlags } = dangerOf(cations, path);
    return {
      oxygenPer123: isSaid ? { value: 6 + reported.value, standardUncertainty: oxygenU, unit: '1' } : null,
      atHottest: { temperatureC: hottestC, oxygenPer123: 6 + hot },
      oxygenState: state,
      hottestC,
      closureC: isClosureKnown ? closure.temperatureC : null,
      closureUK: isClosureKnown && Number.isFinite(closureUK) ? closureUK : null,
      danger,
      consequences: consequencesOf(state),
      massChangePercent: isSaid
        ? 100 * (massOf123(reported.value, cations) / massOf123(hot, cations) - 1)
        : null,
      flags: [
        ...heatFlags,
        ...inertFlags(path),
        ...oxygenFlags(path, end, cations),
        ...bodyFlags(request, { grain, sccmPerG: supply.value, low, high, startWidth, isSaid }, path),
        ...(isPorous ? closureFlags(closure.kind) : []),
        carbonateFlag(hottestC, path),
      ],
    };
  },
});

const minMax = (a: number, b: number): [number, number] => [Math.min(a, b), Math.max(a, b)];

function statedOr(given: z.infer<typeof positiveSchema> | undefined, usual: StatedNumber): StatedNumber {
  if (given === undefined) return usual;
  return typeof given === 'number' ? { value: given, standardUncertainty: null } : given;
}
