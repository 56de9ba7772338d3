// Catalogue entry: a heat and gas path, what the chamber makes of it, and what a log says it was.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import {
  chamberGas,
  chamberTimeS,
  PA_PER_ATM,
  pathAtFilm,
  type StatedGas,
} from '../../science/growth/chamber.ts';
import {
  columnAt,
  type PathSamples,
  type PlacedSegment,
  placeSegments,
  samplePath,
} from '../../science/growth/path.ts';
import { timeAbove } from '../../science/growth/path-log.ts';
import { kelvinDoubts } from '../../science/growth/temperature.ts';
import { inWords } from '../../science/measured.ts';
import { propagate } from '../../science/numerics/propagate.ts';
import { shortComputation } from '../computation.ts';
import { EQUILIBRIUM_TABLES } from '../equilibrium/request.ts';
import { type Flag, flagsSchema, numericArray, numericResult, quantitySchema } from '../schema.ts';
import {
  EXAMPLE_PATH,
  MAX_PATH_SAMPLES,
  notStatedFlags,
  optionalQuantitySchema,
  quantityOf,
  segmentsSchema,
  startSchema,
  stated,
  statedSchema,
} from './growth-schema.ts';
import { liquidFields, liquidOf, liquidResponse } from './path-liquid.ts';
import { comparedLog, comparisonSchema, loggedSchema } from './path-logged.ts';

const column = () => numericArray({ allowsMissing: true, max: MAX_PATH_SAMPLES });

const requestSchema = z.strictObject({
  start: startSchema,
  segments: segmentsSchema,
  /** what stands between the command and the film */
  chamber: z
    .strictObject({
      gas: z
        .strictObject({
          volumeL: statedSchema,
          oxygenFlowSccm: statedSchema,
          pumpingWhileFillingLPerS: statedSchema
            .describe('0 with the pump shut off; 0 if left out')
            .optional(),
          pumpingLPerS: statedSchema.describe('while oxygen is taken away'),
          gasC: z.number().describe('temperature of the chamber gas; 25 if left out').optional(),
        })
        .optional(),
      thermalLagS: statedSchema.optional(),
    })
    .optional(),
  /** odds or another series over time, for instance of liquid from equilibrium.assemblage along the path */
  series: z
    .array(z.strictObject({ name: z.string().max(80), timeS: column(), values: column(), level: z.number() }))
    .max(8)
    .optional(),
  log: loggedSchema.optional(),
  ...liquidFields,
});
type Request = z.infer<typeof requestSchema>;

/** Misses of pressure that are worth a word, decades. */
const REACHED_WITHIN_DECADES = 0.02;

export const growthPath = shortComputation({
  name: 'growth.path',
  version: 2,
  summary:
    'A heat and gas path in samples, the likely path at the film, its time with liquid, and a log beside it.',
  request: requestSchema,
  response: z.strictObject({
    timeS: numericResult(),
    temperatureC: numericResult(),
    log10Po2Atm: numericResult(),
    /** after the chamber's gas and the film's lag; the same as commanded without a chamber */
    filmTemperatureC: numericResult(),
    filmLog10Po2Atm: numericResult(),
    segments: z
      .array(
        z.strictObject({
          kind: z.string(),
          startS: z.number(),
          endS: z.number(),
          fromC: z.number(),
          toC: z.number(),
          fromPo2Atm: z.number(),
          toPo2Atm: z.number(),
          /** that filling or pumping needs */
          chamberTime: optionalQuantitySchema,
          /** commanded minus film at the end of a ramp */
          thermalLag: optionalQuantitySchema,
          /** of a deposit */
          depositionRateNmPerS: z.number().nullable(),
        }),
      )
      .max(60),
    above: z
      .array(
        z.strictObject({
          name: z.string(),
          level: z.number(),
          time: quantitySchema,
          intervals: z
            .array(z.strictObject({ fromS: z.number(), toS: z.number() }))
            .max(MAX_PATH_SAMPLES)
            .readonly(),
        }),
      )
      .max(8),
    ...liquidResponse,
    log: z
      .strictObject({ temperature: comparisonSchema.nullable(), log10Po2: comparisonSchema.nullable() })
      .nullable(),
    flags: flagsSchema,
  }),
  uses: ['equilibrium.assemblage'],
  tables: EQUILIBRIUM_TABLES,
  cost: 'interactive',
  example: {
    ...EXAMPLE_PATH,
    cations: { Y: 1, Ba: 3, Cu: 6 },
    chamber: {
      gas: {
        volumeL: { value: 50, standardUncertainty: 2 },
        oxygenFlowSccm: { value: 100, standardUncertainty: 1 },
        pumpingLPerS: { value: 20, standardUncertainty: 5 },
      },
      thermalLagS: { value: 3, standardUncertainty: 1 },
    },
    series: [{ name: 'liquid', timeS: [0, 80, 100, 140, 190], values: [0, 0.2, 0.9, 0.9, 0.1], level: 0.5 }],
    log: {
      timeS: [0, 30, 60, 90, 120, 180],
      temperatureC: [401, 548, 697, 846, 851, null],
      temperatureUK: 2,
    },
  },
  run(request) {
    const segments = placeSegments(request.start, request.segments);
    const path = samplePath(segments, request.start);
    const gas = gasOf(request);
    const lag = request.chamber?.thermalLagS === undefined ? null : stated(request.chamber.thermalLagS);
    const film = pathAtFilm(path, gas && chamberGas(gas), lag?.value ?? 0);
    const flags: Flag[] = [];
    if (gas) {
      const { gasC: _, ...fields } = gas;
      flags.push(...notStatedFlags(fields));
    }
    if (lag) flags.push(...notStatedFlags({ thermalLagS: lag }));
    const rows = segments.map((segment, i) => {
      const time =
        gas && segment.toPo2Atm !== segment.fromPo2Atm
          ? chamberTimeS(gas, segment.fromPo2Atm * PA_PER_ATM, segment.toPo2Atm * PA_PER_ATM)
          : null;
      if (gas && segment.toPo2Atm !== segment.fromPo2Atm && !time)
        flags.push({
          code: 'PRESSURE_NOT_REACHED',
          message: `segments[${i}] commands ${segment.toPo2Atm} atm, which this flow against this pump never reaches.`,
        });
      return {
        kind: segment.kind,
        startS: segment.startS,
        endS: segment.endS,
        fromC: segment.fromC,
        toC: segment.toC,
        fromPo2Atm: segment.fromPo2Atm,
        toPo2Atm: segment.toPo2Atm,
        chamberTime: time && quantityOf(time.value, time.standardUncertainty, 's'),
        thermalLag: lag && lagQuantity(segment, lag),
        depositionRateNmPerS:
          segment.kind === 'deposit' && segment.endS > segment.startS
            ? segment.thicknessNm / (segment.endS - segment.startS)
            : null,
      };
    });
    if (gas) flags.push(...missedPressureFlags(path, film, segments));
    const above = (request.series ?? []).map(({ name, timeS, values, level }) => {
      const found = timeAbove(timeS, values, level);
      return {
        name,
        level,
        time: { value: found.timeS, standardUncertainty: found.standardUncertaintyS, unit: 's' },
        intervals: found.intervals,
      };
    });
    flags.push(...kelvinDoubts(endsC(request.start.temperatureC, segments)));
    return {
      timeS: path.timeS,
      temperatureC: path.temperatureK.map((temperatureK) => temperatureK - ZERO_CELSIUS_K),
      log10Po2Atm: path.log10Po2Atm,
      filmTemperatureC: film.temperatureK.map((temperatureK) => temperatureK - ZERO_CELSIUS_K),
      filmLog10Po2Atm: film.log10Po2Atm,
      segments: rows,
      above,
      ...liquidOf(request, film, segments, request.chamber !== undefined, flags),
      log: request.log ? comparedLog(request.log, path, segments, flags) : null,
      flags,
    };
  },
});

/** Temperatures at the ends of the segments. */
const endsC = (startC: number, segments: readonly PlacedSegment[]): number[] => [
  startC,
  ...segments.map(({ toC }) => toC),
];

function gasOf({ chamber }: Request): StatedGas | null {
  if (!chamber?.gas) return null;
  const { volumeL, oxygenFlowSccm, pumpingWhileFillingLPerS, pumpingLPerS, gasC = 25 } = chamber.gas;
  return {
    volumeL: stated(volumeL),
    oxygenFlowSccm: stated(oxygenFlowSccm),
    pumpingWhileFillingLPerS:
      pumpingWhileFillingLPerS === undefined
        ? { value: 0, standardUncertainty: 0 }
        : stated(pumpingWhileFillingLPerS),
    pumpingLPerS: stated(pumpingLPerS),
    gasC,
  };
}

/** What a film lags behind a ramp's end that it began without a lag: rate tau (1 - exp(-duration/tau)). */
function lagQuantity(segment: PlacedSegment, lag: ReturnType<typeof stated>) {
  const durationS = segment.endS - segment.startS;
  if (segment.toC === segment.fromC || lag.value === 0) return null;
  const changeK = segment.toC - segment.fromC;
  const { values, standardUncertainties } = propagate(
    ([tau]) => [durationS === 0 ? changeK : (changeK / durationS) * tau! * -Math.expm1(-durationS / tau!)],
    [{ ...lag, isPositive: true }],
  );
  return quantityOf(values[0]!, standardUncertainties[0]!, 'K');
}

function missedPressureFlags(
  path: PathSamples,
  film: PathSamples,
  segments: readonly PlacedSegment[],
): Flag[] {
  return segments.flatMap(({ endS, kind }, i) => {
    const next = segments[i + 1];
    if (next?.kind === 'gas' || kind === 'gas') return []; // judged where it has had time
    const missed =
      columnAt(film.timeS, film.log10Po2Atm, endS) - columnAt(path.timeS, path.log10Po2Atm, endS);
    return Math.abs(missed) > REACHED_WITHIN_DECADES
      ? [
          {
            code: 'PRESSURE_BEHIND',
            message: `At the end of segments[${i}] (${inWords(endS)} s) the chamber is still ${inWords(missed)} decades of pO2 from the command.`,
          },
        ]
      : [];
  });
}
