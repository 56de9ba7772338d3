// Catalogue entry: fluence, thickness per pulse, pulses and time for a thickness, and its spread over the substrate.
import { z } from 'zod';
import { DomainError } from '../../science/errors.ts';
import { fluenceJPerM2 } from '../../science/growth/deposition.ts';
import { checkPlume, type Plume, shareAt, spreadOver } from '../../science/growth/plume.ts';
import { checkRange, POSITIVE } from '../../science/growth/range.ts';
import {
  type CalibrationFilm,
  fitPulseYield,
  type PulseYield,
  pulsesFor,
} from '../../science/growth/thickness.ts';
import { inWords } from '../../science/measured.ts';
import { propagate } from '../../science/numerics/propagate.ts';
import { chiSquaredAbove } from '../../science/numerics/student-t.ts';
import { ABLATION_WINDOWS, ABLATION_WINDOWS_TABLE } from '../../science/tables/ablation-windows.ts';
import { shortComputation } from '../computation.ts';
import { type Flag, flagsSchema, numericResult } from '../schema.ts';
import { notStatedFlags, optionalQuantitySchema, quantityOf, stated, statedSchema } from './growth-schema.ts';

const MAX_FILMS = 500;
const DEFAULT_PROBABILITY = 0.95;
/** Films thinner or thicker by more than this factor than those measured are called extrapolated [common practice]. */
const TRUSTED_FACTOR = 3;
/** Share of chance scatter below which the stated uncertainties are called too small [common practice]. */
const LEAST_CHANCE = 0.01;
const PROFILE_STEPS = 40;

const requestSchema = z.strictObject({
  /** of the laser; leave it out for another source */
  pulse: z.strictObject({ energyMj: statedSchema, spotAreaMm2: statedSchema }).optional(),
  /** films whose thickness was measured; one slope for each group of target and fluence */
  calibrations: z
    .array(
      z.strictObject({
        group: z.string().max(80).optional(),
        pulses: z.number(),
        thicknessNm: statedSchema,
      }),
    )
    .max(MAX_FILMS)
    .optional(),
  /** relative uncertainty that all measured thicknesses share: the scale of the gauge */
  commonRelativeU: z.number().optional(),
  repetitionRateHz: statedSchema.optional(),
  /** of a source that gives no pulses */
  rateNmPerS: statedSchema.optional(),
  wanted: z
    .strictObject({
      thicknessNm: z.number(),
      group: z.string().max(80).optional(),
      probability: z.number().optional(),
    })
    .optional(),
  plume: z
    .strictObject({
      distanceMm: statedSchema,
      exponent: statedSchema.describe(
        'n of cos^n of the flux into a solid angle; thickness falls as cos^(n + 3)',
      ),
      offsetMm: z
        .number()
        .describe('axis of the plume to the middle of the substrate; 0 if left out')
        .optional(),
      isRotating: z.boolean().optional(),
      widthMm: z.number(),
      lengthMm: z.number(),
    })
    .optional(),
});
type Request = z.infer<typeof requestSchema>;

export const growthDeposition = shortComputation({
  name: 'growth.deposition',
  version: 1,
  summary:
    'Fluence, thickness per pulse, pulses and time for a wanted thickness, and its spread over the substrate.',
  request: requestSchema,
  response: z.strictObject({
    fluence: optionalQuantitySchema,
    groups: z
      .array(
        z.strictObject({
          group: z.string(),
          films: z.number().int(),
          nmPerPulse: optionalQuantitySchema,
          chiSquared: z.number().nullable(),
          degreesOfFreedom: z.number().int(),
          widening: z.number(),
          relativeScatter: z.number(),
          /** thickness per pulse times repetition rate */
          growthRateNmPerS: optionalQuantitySchema,
        }),
      )
      .max(MAX_FILMS),
    /** of the thicknesses per pulse, groups in order, row by row, nm2 */
    covariance: numericResult(),
    pulses: optionalQuantitySchema,
    /** for one more film, with the probability asked for */
    pulsesInterval: z.strictObject({ low: z.number(), high: z.number() }).nullable(),
    time: optionalQuantitySchema,
    plume: z
      .strictObject({
        /** across the middle, along the offset */
        positionMm: numericResult(),
        /** of the thickness on the axis of the plume */
        share: numericResult(),
        shareU: numericResult(),
        atMiddle: optionalQuantitySchema,
        /** (max - min)/(max + min) over the substrate */
        spread: optionalQuantitySchema,
      })
      .nullable(),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [ABLATION_WINDOWS_TABLE],
  cost: 'instant',
  example: {
    pulse: {
      energyMj: { value: 60, standardUncertainty: 2 },
      spotAreaMm2: { value: 3, standardUncertainty: 0.15 },
    },
    calibrations: [
      { group: 'Y-123 at 2 J/cm2', pulses: 2000, thicknessNm: { value: 104, standardUncertainty: 4 } },
      { group: 'Y-123 at 2 J/cm2', pulses: 6000, thicknessNm: { value: 295, standardUncertainty: 8 } },
      { group: 'Y-123 at 2 J/cm2', pulses: 10000, thicknessNm: { value: 512, standardUncertainty: 12 } },
    ],
    commonRelativeU: 0.02,
    repetitionRateHz: 10,
    wanted: { thicknessNm: 250 },
    plume: {
      distanceMm: { value: 50, standardUncertainty: 1 },
      exponent: { value: 9, standardUncertainty: 2 },
      widthMm: 10,
      lengthMm: 10,
    },
  },
  run(request) {
    const flags: Flag[] = [];
    const fluence = fluenceOf(request, flags);
    const groups = groupsOf(request, flags);
    const rate = request.repetitionRateHz === undefined ? null : stated(request.repetitionRateHz);
    if (rate) checkRange('repetitionRateHz', rate.value, POSITIVE);
    const common = request.commonRelativeU ?? 0;
    checkRange('commonRelativeU', common, { min: 0, max: 1 });
    const n = groups.length;
    const covariance = new Float64Array(n * n);
    groups.forEach(({ fit: one }, i) => {
      groups.forEach(({ fit: other }, j) => {
        const shared = common ** 2 * one.nmPerPulse * other.nmPerPulse;
        covariance[i * n + j] = shared + (i === j && Number.isFinite(one.variance) ? one.variance : 0);
      });
    });
    return {
      fluence,
      groups: groups.map(({ group, films, fit }, i) => {
        const u = Number.isFinite(fit.variance) ? Math.sqrt(covariance[i * n + i]!) : Number.NaN;
        const speed = rate ? fit.nmPerPulse * rate.value : Number.NaN;
        return {
          group,
          films: films.length,
          nmPerPulse: quantityOf(fit.nmPerPulse, u, 'nm'),
          chiSquared: fit.chiSquared,
          degreesOfFreedom: fit.degreesOfFreedom,
          widening: fit.widening,
          relativeScatter: fit.relativeScatter,
          growthRateNmPerS: quantityOf(
            speed,
            rate
              ? speed * Math.hypot(u / fit.nmPerPulse, (rate.standardUncertainty ?? 0) / rate.value)
              : Number.NaN,
            'nm/s',
          ),
        };
      }),
      covariance,
      ...wantedOf(request, groups, common, flags),
      plume: plumeOf(request, flags),
      flags,
    };
  },
});

function fluenceOf({ pulse }: Request, flags: Flag[]) {
  if (!pulse) return null;
  const [energyMj, spotAreaMm2] = [stated(pulse.energyMj), stated(pulse.spotAreaMm2)];
  flags.push(...notStatedFlags({ 'pulse.energyMj': energyMj, 'pulse.spotAreaMm2': spotAreaMm2 }));
  const scaled = ({ value, standardUncertainty }: typeof energyMj, factor: number) => ({
    value: value * factor,
    standardUncertainty: standardUncertainty === null ? null : standardUncertainty * factor,
  });
  const found = fluenceJPerM2(scaled(energyMj, 1e-3), scaled(spotAreaMm2, 1e-6));
  const perCm2 = found.value / 1e4;
  for (const { id, quantity, from, to, says, source, tag } of ABLATION_WINDOWS.records)
    if (quantity === 'fluence' && perCm2 >= from && perCm2 < to)
      flags.push({
        code: `FLUENCE_${id.toUpperCase().replaceAll('-', '_')}`,
        message: `${inWords(perCm2)} J/cm2: ${says} (${source}; 248 nm) ${tag}.`,
      });
  return quantityOf(found.value, found.standardUncertainty ?? 0, 'J/m2');
}

interface Group {
  readonly group: string;
  readonly films: CalibrationFilm[];
  readonly fit: PulseYield;
}

function groupsOf({ calibrations = [] }: Request, flags: Flag[]): Group[] {
  const byName = new Map<string, CalibrationFilm[]>();
  for (const { group = '', pulses, thicknessNm } of calibrations) {
    const films = byName.get(group) ?? [];
    films.push({ pulses, thicknessNm: stated(thicknessNm) });
    byName.set(group, films);
  }
  const usual = ABLATION_WINDOWS.records.find(({ id }) => id === 'usual-yield')!;
  return [...byName].map(([group, films]) => {
    const fit = fitPulseYield(films);
    const name = group === '' ? 'The films' : `Group '${group}'`;
    if (fit.chiSquared === null)
      flags.push({
        code: 'UNCERTAINTY_NOT_STATED',
        message: `${name}: a film states no uncertainty, so all weigh alike and only their scatter counts.`,
      });
    if (!Number.isFinite(fit.variance))
      flags.push({
        code: 'ONE_FILM',
        message: `${name}: one film without an uncertainty gives a yield of ${inWords(fit.nmPerPulse)} nm per pulse but no uncertainty of it; measure another film.`,
      });
    if (
      fit.chiSquared !== null &&
      fit.degreesOfFreedom > 0 &&
      chiSquaredAbove(fit.chiSquared, fit.degreesOfFreedom) < LEAST_CHANCE
    )
      flags.push({
        code: 'SCATTER_ABOVE_STATED',
        message: `${name}: chi squared is ${inWords(fit.chiSquared)} for ${fit.degreesOfFreedom} degrees of freedom, so the uncertainties were widened ${inWords(fit.widening)} times. The yield may have drifted, or differ between the films.`,
      });
    if (fit.nmPerPulse < usual.from || fit.nmPerPulse > usual.to)
      flags.push({
        code: 'YIELD_UNUSUAL',
        message: `${name}: ${inWords(fit.nmPerPulse)} nm per pulse; ${usual.says} ${usual.tag}.`,
      });
    return { group, films, fit };
  });
}

function wantedOf(
  { wanted, repetitionRateHz, rateNmPerS }: Request,
  groups: readonly Group[],
  common: number,
  flags: Flag[],
) {
  const none = { pulses: null, pulsesInterval: null, time: null };
  if (!wanted) return none;
  checkRange('wanted.thicknessNm', wanted.thicknessNm, POSITIVE);
  if (rateNmPerS !== undefined) {
    const rate = stated(rateNmPerS);
    checkRange('rateNmPerS', rate.value, POSITIVE);
    flags.push(...notStatedFlags({ rateNmPerS: rate }));
    const timeS = wanted.thicknessNm / rate.value;
    return { ...none, time: quantityOf(timeS, (timeS * (rate.standardUncertainty ?? 0)) / rate.value, 's') };
  }
  const name = wanted.group ?? groups[0]?.group;
  const found = groups.find(({ group }) => group === name);
  if (!found)
    throw new DomainError(
      'GROWTH_UNKNOWN',
      `wanted.group is '${name ?? ''}'; known are ${groups.map(({ group }) => `'${group}'`).join(', ') || 'none: give calibrations or rateNmPerS'}.`,
    );
  const { fit } = found;
  const count = pulsesFor(wanted.thicknessNm, fit, common, wanted.probability ?? DEFAULT_PROBABILITY);
  if (count.low === null)
    flags.push({
      code: 'NO_INTERVAL',
      message: 'One film alone tells nothing of the scatter, so there is no interval for another.',
    });
  if (
    wanted.thicknessNm < fit.thinnestNm / TRUSTED_FACTOR ||
    wanted.thicknessNm > fit.thickestNm * TRUSTED_FACTOR
  )
    flags.push({
      code: 'EXTRAPOLATED',
      message: `${wanted.thicknessNm} nm is more than ${TRUSTED_FACTOR} times outside the measured ${inWords(fit.thinnestNm)} to ${inWords(fit.thickestNm)} nm; the yield may drift.`,
    });
  const rate = repetitionRateHz === undefined ? null : stated(repetitionRateHz);
  if (rate) flags.push(...notStatedFlags({ repetitionRateHz: rate }));
  const timeS = rate ? count.pulses / rate.value : Number.NaN;
  return {
    pulses: quantityOf(count.pulses, count.standardUncertainty, '1'),
    pulsesInterval: count.low === null || count.high === null ? null : { low: count.low, high: count.high },
    time: quantityOf(
      timeS,
      rate
        ? timeS *
            Math.hypot(count.standardUncertainty / count.pulses, (rate.standardUncertainty ?? 0) / rate.value)
        : Number.NaN,
      's',
    ),
  };
}

function plumeOf({ plume }: Request, flags: Flag[]) {
  if (!plume) return null;
  const { offsetMm = 0, isRotating = false, widthMm, lengthMm } = plume;
  const inputs = { 'plume.distanceMm': stated(plume.distanceMm), 'plume.exponent': stated(plume.exponent) };
  checkPlume({
    distance: inputs['plume.distanceMm'].value,
    exponent: inputs['plume.exponent'].value,
    offset: offsetMm,
    isRotating,
  });
  checkRange('plume.widthMm', widthMm, POSITIVE);
  checkRange('plume.lengthMm', lengthMm, POSITIVE);
  flags.push(...notStatedFlags(inputs), {
    code: 'PLUME_MODEL',
    message:
      'The plume is a cos^n of a point source: gas flattens it and n differs between chambers, so fit n to one measured profile.',
  });
  const positionMm = Float64Array.from(
    { length: PROFILE_STEPS + 1 },
    (_, i) => (i / PROFILE_STEPS - 0.5) * widthMm,
  );
  const { values, standardUncertainties } = propagate(
    ([distance, exponent]) => {
      const moved: Plume = {
        distance: distance!,
        exponent: Math.max(0, exponent!),
        offset: offsetMm,
        isRotating,
      };
      return [
        spreadOver(widthMm, lengthMm, moved),
        shareAt(0, 0, moved),
        ...positionMm.map((x) => shareAt(x, 0, moved)),
      ];
    },
    [{ ...inputs['plume.distanceMm'], isPositive: true }, inputs['plume.exponent']],
  );
  return {
    positionMm,
    share: values.slice(2),
    shareU: standardUncertainties.slice(2),
    atMiddle: quantityOf(values[1]!, standardUncertainties[1]!, '1'),
    spread: quantityOf(values[0]!, standardUncertainties[0]!, '1'),
  };
}
