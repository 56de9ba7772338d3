// Catalogue entry: what a furnace or chamber log shows, and what it did otherwise than its plan.
import { z } from 'zod';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { DomainError } from '../../science/errors.ts';
import { PA_PER_ATM } from '../../science/growth/chamber.ts';
import { type Alignment, alignedToPlan } from '../../science/growth/log-alignment.ts';
import { firstAt } from '../../science/growth/log-crossing.ts';
import { USUAL_TOLERANCES } from '../../science/growth/log-deviation.ts';
import { logDeviations } from '../../science/growth/log-deviations.ts';
import { holdsAndRamps, type LoggedHold, type LoggedRamp } from '../../science/growth/log-holds.ts';
import { type OxygenLog, VACUUM_ATM } from '../../science/growth/log-oxygen.ts';
import { type LogSeries, logSeries } from '../../science/growth/log-series.ts';
import { deviationInWords, timeInWords } from '../../science/growth/log-words.ts';
import { type PlacedSegment, placeSegments } from '../../science/growth/path.ts';
import { inWords } from '../../science/measured.ts';
import { shortComputation } from '../computation.ts';
import { type Flag, flagsSchema, numericArray, type Quantity, quantitySchema } from '../schema.ts';
import { optionalQuantitySchema, quantityOf, segmentSchema, startSchema } from './growth-schema.ts';

/** A day and a half at ten readings a second. */
const MAX_LOG_ROWS = 500_000;
const MAX_SEGMENTS = 200;
/** Rows of an answer's lists; a longer list is cut and a flag says so. */
const MAX_LISTED = 500;
/** Where the path is taken to begin if the plan does not say, degC. */
const ROOM_C = 25;
/** placeSegments takes no pressure below this, atm */
const LEAST_PO2_ATM = 1e-20;
/** beyond these the unit is doubted [common practice] */
const HOTTEST_C = 1400;
const HIGHEST_PO2_ATM = 10;

const column = () => numericArray({ allowsMissing: true, max: MAX_LOG_ROWS });

const requestSchema = z.strictObject({
  timeS: numericArray({ max: MAX_LOG_ROWS }),
  /** one of the two */
  temperatureK: column().optional(),
  temperatureC: column().optional(),
  /** of oxygen; or a pressure with the share of oxygen in the gas */
  log10Po2Atm: column().optional(),
  pressurePa: column().optional(),
  log10PressurePa: column().optional(),
  oxygenShare: z.number().min(0).max(1).describe('1 where the pressure is that of oxygen').optional(),
  /** of one reading, common to all */
  temperatureUK: z.number().min(0).max(200).optional(),
  log10Po2U: z.number().min(0).max(5).optional(),
  plan: z
    .strictObject({
      start: startSchema.optional(),
      segments: z.array(segmentSchema).min(1).max(MAX_SEGMENTS),
    })
    .optional(),
  tolerances: z
    .strictObject({
      temperatureK: z.number().min(0).optional(),
      rate: z.number().min(0).optional(),
      duration: z.number().min(0).optional(),
      durationS: z.number().min(0).optional(),
      timeS: z.number().min(0).optional(),
      log10Po2: z.number().min(0).optional(),
    })
    .optional(),
});
type Request = z.infer<typeof requestSchema>;

const intervalSchema = { fromS: z.number(), toS: z.number() };

export const growthLog = shortComputation({
  name: 'growth.log',
  version: 2,
  summary: 'Holds, ramps and gaps of a furnace log, and the deviations from its plan that matter.',
  request: requestSchema,
  response: z.strictObject({
    readings: z.number().int(),
    missing: z.number().int(),
    durationS: z.number(),
    typicalIntervalS: z.number(),
    /** of one reading about its neighbours */
    noiseK: z.number(),
    /** as a median of three readings */
    hottestC: quantitySchema,
    hottestAtS: z.number(),
    holds: z
      .array(
        z.strictObject({
          ...intervalSchema,
          fromUS: z.number(),
          toUS: z.number(),
          /** the log begins, ends or pauses there: the hold may go on */
          beginsUnseen: z.boolean(),
          endsUnseen: z.boolean(),
          meanC: quantitySchema,
          driftKPerMin: z.number(),
          log10Po2: optionalQuantitySchema,
        }),
      )
      .max(MAX_LISTED),
    ramps: z
      .array(
        z.strictObject({
          ...intervalSchema,
          fromC: z.number(),
          toC: z.number(),
          rateKPerMin: quantitySchema,
          /** 0: a step between two readings */
          readings: z.number().int(),
        }),
      )
      .max(MAX_LISTED),
    log10Po2Range: z.strictObject({ lowest: z.number(), highest: z.number() }).nullable(),
    gaps: z.array(z.strictObject(intervalSchema)).max(MAX_LISTED),
    /** where on the log the plan begins */
    alignment: z
      .strictObject({ offset: quantitySchema, ramps: z.number().int(), otherOffsetS: z.number().nullable() })
      .nullable(),
    /** corners of the plan on the log's clock */
    planOnLog: z
      .strictObject({
        timeS: z.array(z.number()).max(MAX_SEGMENTS + 1),
        temperatureC: z.array(z.number()).max(MAX_SEGMENTS + 1),
        log10Po2Atm: z
          .array(z.number().nullable())
          .max(MAX_SEGMENTS + 1)
          .describe('null: planned as a vacuum'),
      })
      .nullable(),
    deviations: z
      .array(
        z.strictObject({
          kind: z.string(),
          sentence: z.string(),
          firstSegment: z.number().int(),
          lastSegment: z.number().int(),
          size: optionalQuantitySchema,
          /** what was planned: degC, s, K/min or log10 of atm */
          planned: z.number().nullable(),
          ...intervalSchema,
          durationS: z.number(),
        }),
      )
      .max(MAX_LISTED),
    flags: flagsSchema,
  }),
  uses: [],
  tables: [],
  cost: 'instant',
  example: {
    timeS: [0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 100, 110, 120, 130, 140, 150],
    temperatureC: [400, 475, 551, 625, 700, 775, 851, 858, 857, 858, 857, 858, 850, 800, 751, 700],
    temperatureUK: 1,
    plan: {
      start: { temperatureC: 400, po2Atm: 2e-4 },
      segments: [
        { kind: 'ramp', toC: 850, durationS: 60 },
        { kind: 'hold', durationS: 60 },
        { kind: 'cool', toC: 700, durationS: 30 },
      ],
    },
  },
  run(request) {
    const flags: Flag[] = [];
    const { temperatureUK = 0, log10Po2U = 0 } = request;
    const series = logSeries(request.timeS, temperaturesK(request));
    const shape = holdsAndRamps(series);
    const oxygen = oxygenOf(request, series, flags);
    flags.push(...logFlags(request, series, oxygen));
    const hottest = hottestOf(series);
    if (hottest.temperatureK - ZERO_CELSIUS_K > HOTTEST_C)
      flags.push({
        code: 'LOG_UNIT_DOUBT',
        message: `The log reaches ${inWords(hottest.temperatureK - ZERO_CELSIUS_K)} °C: is its temperature in K?`,
      });
    const segments = request.plan ? placed(request.plan, flags) : null;
    const alignment = segments && alignedToPlan(series, shape.pieces, segments);
    if (alignment) flags.push(...alignmentFlags(alignment));
    const deviations =
      segments && alignment
        ? logDeviations({
            series,
            shape,
            segments,
            alignment,
            tolerances: { ...USUAL_TOLERANCES, ...request.tolerances },
            temperatureUK,
            oxygen: oxygen && {
              ...oxygen,
              standardUncertainty: log10Po2U,
              longestIntervalS: series.longestIntervalS,
            },
            isStartAssumed: request.plan?.start === undefined,
          })
        : [];
    return {
      readings: series.timeS.length,
      missing: series.missing,
      durationS: series.timeS.at(-1)! - series.timeS[0]!,
      typicalIntervalS: series.typicalIntervalS,
      noiseK: series.noiseK,
      hottestC: {
        value: hottest.temperatureK - ZERO_CELSIUS_K,
        standardUncertainty: Math.hypot(series.noiseK, temperatureUK),
        unit: 'degC',
      },
      hottestAtS: hottest.atS,
      holds: listed(shape.holds, 'holds', flags).map((hold) =>
        holdRow(hold, temperatureUK, oxygen, log10Po2U),
      ),
      ramps: listed(shape.ramps, 'ramps', flags).map(rampRow),
      log10Po2Range: oxygen && rangeOf(oxygen.log10Po2Atm),
      gaps: listed(series.gaps, 'gaps', flags).map(({ fromS, toS }) => ({ fromS, toS })),
      alignment: alignment && {
        offset: { value: alignment.offsetS, standardUncertainty: alignment.standardUncertaintyS, unit: 's' },
        ramps: alignment.ramps,
        otherOffsetS: alignment.otherOffsetS,
      },
      planOnLog: segments && alignment && planOnLog(segments, alignment.offsetS),
      deviations: listed(deviations, 'deviations', flags).map((deviation) => ({
        ...deviation,
        sentence: deviationInWords(deviation, segments!),
        durationS: deviation.toS - deviation.fromS,
      })),
      flags,
    };
  },
});

function temperaturesK({ temperatureK, temperatureC }: Request): Float64Array {
  if ((temperatureK === undefined) === (temperatureC === undefined))
    throw new DomainError(
      'GROWTH_RANGE',
      `temperatureK and temperatureC are ${temperatureK ? 'both given' : 'both left out'}; expected one of them.`,
    );
  return temperatureK ?? temperatureC!.map((value) => value + ZERO_CELSIUS_K);
}

type Oxygen = Pick<OxygenLog, 'timeS' | 'log10Po2Atm'>;

/** Readings of log10 of pO2 in atm; null, with a flag where a pressure was logged, if there are none. */
function oxygenOf(request: Request, series: LogSeries, flags: Flag[]): Oxygen | null {
  const { timeS, log10Po2Atm, pressurePa, log10PressurePa, oxygenShare } = request;
  const given = log10Po2Atm ?? pressurePa ?? log10PressurePa;
  if (!given) return null;
  if (given.length !== timeS.length)
    throw new DomainError('GROWTH_LENGTHS', `${timeS.length} times but ${given.length} pressures.`);
  if (!log10Po2Atm && (oxygenShare === undefined || oxygenShare === 0)) {
    flags.push({
      code: 'OXYGEN_SHARE_MISSING',
      message:
        oxygenShare === 0
          ? 'The gas is stated to hold no oxygen: no oxygen pressure is given.'
          : 'The share of oxygen in the gas whose pressure was logged is not stated: no oxygen pressure is given.',
    });
    return null;
  }
  const shift = log10Po2Atm ? 0 : Math.log10(oxygenShare! / PA_PER_ATM);
  const logs =
    pressurePa && !log10Po2Atm ? given.map((value) => (value > 0 ? Math.log10(value) : Number.NaN)) : given;
  const unusable = given.reduce(
    (sum, value, i) => (!Number.isNaN(value) && Number.isNaN(logs[i]!) ? sum + 1 : sum),
    0,
  );
  if (unusable > 0)
    flags.push({
      code: 'PRESSURE_NOT_POSITIVE',
      message: `${unusable} readings of the pressure are zero or below and were left out.`,
    });
  const rows = Array.from(logs.keys()).filter((i) => Number.isFinite(logs[i]!));
  if (rows.length === 0) {
    flags.push({ code: 'LOG_EMPTY', message: 'The log holds no usable reading of the pressure.' });
    return null;
  }
  const oxygen = {
    timeS: Float64Array.from(rows, (i) => timeS[i]!),
    log10Po2Atm: Float64Array.from(rows, (i) => logs[i]! + shift),
  };
  const { highest } = rangeOf(oxygen.log10Po2Atm);
  if (highest > Math.log10(HIGHEST_PO2_ATM))
    flags.push({
      code: 'LOG_UNIT_DOUBT',
      message: `The oxygen pressure reaches ${inWords(10 ** highest)} atm, more than a chamber of this kind holds: check the unit of the pressure.`,
    });
  return series.timeS.length > 0 ? oxygen : null;
}

function logFlags(request: Request, series: LogSeries, oxygen: Oxygen | null): Flag[] {
  const flags: Flag[] = [];
  const bare = [
    ...(request.temperatureUK === undefined ? ['temperature'] : []),
    ...(oxygen && request.log10Po2U === undefined ? ['oxygen pressure'] : []),
  ];
  if (bare.length > 0)
    flags.push({
      code: 'UNCERTAINTY_NOT_STATED',
      message: `No uncertainty is stated of a logged ${bare.join(' and ')}; only scatter is in the uncertainties shown.`,
    });
  const { gaps, wild, missing, typicalIntervalS } = series;
  if (gaps.length > 0) {
    const longest = gaps.reduce((one, other) =>
      other.toS - other.fromS > one.toS - one.fromS ? other : one,
    );
    flags.push({
      code: 'LOG_GAPS',
      message: `The log pauses ${gaps.length} time${gaps.length > 1 ? 's' : ''}, longest for ${timeInWords(longest.toS - longest.fromS)} from ${timeInWords(longest.fromS)}; its readings usually stand ${timeInWords(typicalIntervalS)} apart. Nothing is said of what happened in between.`,
    });
  }
  if (wild.length > 0)
    flags.push({
      code: 'WILD_READINGS',
      message: `${wild.length} lone reading${wild.length > 1 ? 's stand' : ' stands'} far from both neighbours and ${wild.length > 1 ? 'were' : 'was'} left out, first ${inWords(wild[0]!.temperatureK - ZERO_CELSIUS_K)} °C at ${timeInWords(wild[0]!.atS)}.`,
    });
  if (missing > 0) flags.push({ code: 'READINGS_MISSING', message: `${missing} rows hold no temperature.` });
  return flags;
}

/** The plan's segments with their ends; oxygen planned as zero is a vacuum. */
function placed({ start, segments }: NonNullable<Request['plan']>, flags: Flag[]): PlacedSegment[] {
  const vacuum = (po2Atm: number): number => (po2Atm === 0 ? LEAST_PO2_ATM : po2Atm);
  const firstPo2 = segments.find(({ toPo2Atm }) => toPo2Atm !== undefined)?.toPo2Atm ?? 1;
  const from = start ?? { temperatureC: ROOM_C, po2Atm: firstPo2 };
  if (!start)
    flags.push({
      code: 'START_ASSUMED',
      message: `The plan does not say where it begins; ${ROOM_C} °C is taken, and the rate of its first ramp is not judged.`,
    });
  const found = placeSegments(
    { ...from, po2Atm: vacuum(from.po2Atm) },
    segments.map((segment) =>
      segment.toPo2Atm === undefined ? segment : { ...segment, toPo2Atm: vacuum(segment.toPo2Atm) },
    ),
  );
  if (found.at(-1)!.endS === 0)
    throw new DomainError('PATH_RANGE', 'The plan lasts 0 s; expected segments with a duration.');
  if (found.some(({ toPo2Atm }) => toPo2Atm <= VACUUM_ATM))
    flags.push({
      code: 'VACUUM_NOT_JUDGED',
      message: `Segments planned below ${VACUUM_ATM} atm of oxygen are a vacuum: their pressure is not judged.`,
    });
  return found;
}

function alignmentFlags({ ramps, otherOffsetS, offsetS }: Alignment): Flag[] {
  const flags: Flag[] = [];
  if (ramps === 0)
    flags.push({
      code: 'ALIGNMENT_NOT_FIXED',
      message: 'No ramp of the plan was found in the log, so when the plan began on it is hardly known.',
    });
  if (otherOffsetS !== null)
    flags.push({
      code: 'ALIGNMENT_AMBIGUOUS',
      message: `The plan fits nearly as well if it began at ${timeInWords(otherOffsetS)} of the log instead of ${timeInWords(offsetS)}.`,
    });
  return flags;
}

/** Highest median of three readings in a row. */
function hottestOf({ timeS, temperatureK }: LogSeries): { temperatureK: number; atS: number } {
  let best = { temperatureK: Number.NEGATIVE_INFINITY, atS: 0 };
  for (let i = 1; i + 1 < timeS.length; i++) {
    const [a, b, c] = [temperatureK[i - 1]!, temperatureK[i]!, temperatureK[i + 1]!];
    const median = Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
    if (median > best.temperatureK) best = { temperatureK: median, atS: timeS[i]! };
  }
  return best;
}

function rangeOf(values: Float64Array): { lowest: number; highest: number } {
  let [lowest, highest] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const value of values) {
    lowest = Math.min(lowest, value);
    highest = Math.max(highest, value);
  }
  return { lowest, highest };
}

function holdRow(hold: LoggedHold, temperatureUK: number, oxygen: Oxygen | null, log10Po2U: number) {
  const { begin, end, meanK, standardUncertaintyK, driftKPerS } = hold;
  return {
    fromS: begin.atS,
    toS: end.atS,
    fromUS: begin.standardUncertaintyS,
    toUS: end.standardUncertaintyS,
    beginsUnseen: begin.isUnseen,
    endsUnseen: end.isUnseen,
    meanC: {
      value: meanK - ZERO_CELSIUS_K,
      standardUncertainty: Math.hypot(standardUncertaintyK, temperatureUK),
      unit: 'degC',
    },
    driftKPerMin: driftKPerS * 60,
    log10Po2: oxygen && meanOxygen(oxygen, begin.atS, end.atS, log10Po2U),
  };
}

/** Mean of the readings in a hold; its uncertainty from their scatter and that of a reading. */
function meanOxygen(
  { timeS, log10Po2Atm }: Oxygen,
  fromS: number,
  toS: number,
  readingU: number,
): Quantity | null {
  const values = log10Po2Atm.subarray(firstAt(timeS, fromS), firstAt(timeS, toS));
  const n = values.length;
  if (n < 2) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1);
  return quantityOf(mean, Math.hypot(Math.sqrt(variance / n), readingU), '1');
}

function rampRow({ fromS, toS, fromK, toK, rateKPerS, standardUncertaintyKPerS, readings }: LoggedRamp) {
  return {
    fromS,
    toS,
    fromC: fromK - ZERO_CELSIUS_K,
    toC: toK - ZERO_CELSIUS_K,
    rateKPerMin: { value: rateKPerS * 60, standardUncertainty: standardUncertaintyKPerS * 60, unit: 'K/min' },
    readings,
  };
}

function planOnLog(segments: readonly PlacedSegment[], offsetS: number) {
  const first = segments[0]!;
  const decades = (po2Atm: number): number | null => (po2Atm <= VACUUM_ATM ? null : Math.log10(po2Atm));
  return {
    timeS: [offsetS, ...segments.map(({ endS }) => endS + offsetS)],
    temperatureC: [first.fromC, ...segments.map(({ toC }) => toC)],
    log10Po2Atm: [decades(first.fromPo2Atm), ...segments.map(({ toPo2Atm }) => decades(toPo2Atm))],
  };
}

function listed<Row>(rows: readonly Row[], what: string, flags: Flag[]): readonly Row[] {
  if (rows.length > MAX_LISTED)
    flags.push({
      code: 'LIST_CUT',
      message: `${rows.length} ${what} were found; the first ${MAX_LISTED} are given.`,
    });
  return rows.slice(0, MAX_LISTED);
}
