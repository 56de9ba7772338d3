// Transition temperatures from a small-field moment against temperature. Pure; K and A m2.
import { type Flag, inWords, type Measured } from '../measured.ts';
import { largestOf, smallestOf } from '../numerics/extremes.ts';
import { median } from '../numerics/straight-line.ts';
import {
  type Baseline,
  checkedRows,
  flagLag,
  flagNoise,
  flagTemperature,
  meanOfSweeps,
  readSweep,
  type SweepReading,
  stepSizeOf,
  sweepRows,
  type TransitionOptions,
} from './curve.ts';

export interface MagneticTransition {
  onset: Measured | null;
  t90: Measured | null;
  t50: Measured | null;
  t10: Measured | null;
  width: Measured | null;
  transitions: { t50: Measured; share: number }[];
  /** moment of the coldest rows, where shares are 0; null where the sweep ends before it */
  shielding: { moment: Measured; fromK: number; toK: number } | null;
  baseline: Baseline | null;
  sweeps: SweepReading[];
  flags: Flag[];
}

/** A sweep whose step is smaller than this share of the largest was cooled in the field. */
const FIELD_COOLED_SHARE = 0.8;

/**
 * Onset, midpoint and 10-90 % width of the diamagnetic step. The line above the step (sample, substrate and holder) is
 * extrapolated down; full shielding is the moment of the coldest rows. Shares run from 0 (coldest) to 1 (on the line).
 *
 * @param temperatureK    n temperatures in the order of measurement, K; NaN marks a missing row
 * @param momentAmpereM2  n moments, A m2
 * @returns nulls where the data do not show a temperature, with flags that say why
 * @throws DomainError TRANSITION_LENGTHS, TRANSITION_TOO_FEW, TRANSITION_TEMPERATURE
 *
 * Source: [common practice]; in a field the step of a thin film is widened by penetration, so the width is of the
 * measurement as much as of the film.
 */
export function magneticTransition(
  temperatureK: ArrayLike<number>,
  momentAmpereM2: ArrayLike<number>,
  options: TransitionOptions = {},
): MagneticTransition {
  const flags: Flag[] = [];
  const rows = checkedRows(temperatureK, momentAmpereM2, 'moments', flags);
  const sign = signOfStep(rows.temperatureK, rows.value);
  const turned = { temperatureK: rows.temperatureK, value: rows.value.map((m) => sign * m) };
  const all: SweepReading[] = [];
  for (const sweep of sweepRows(turned, flags)) {
    const { reading } = readSweep(sweep, 'coldest', options);
    if (reading) all.push(reading);
  }
  if (all.length === 0) {
    flags.push({
      code: 'NO_TRANSITION',
      message: `No diamagnetic step between ${inWords(smallestOf(rows.temperatureK))} and ${inWords(largestOf(rows.temperatureK))} K that stands out of the noise, with a line above it. A paramagnetic substrate (with Dy, Gd or Nd) can hide it: take off a curve of the bare substrate, or use a smaller field.`,
    });
    return {
      onset: null,
      t90: null,
      t50: null,
      t10: null,
      width: null,
      transitions: [],
      shielding: null,
      baseline: null,
      sweeps: [],
      flags,
    };
  }
  if (sign < 0)
    flags.push({
      code: 'MOMENT_SIGN',
      message:
        'The moment falls on warming: a shielding moment is negative in a positive field. Its sign was turned.',
    });
  const largest = Math.max(...all.map((r) => stepSizeOf(r.step)));
  const readings = all.filter((r) => stepSizeOf(r.step) >= FIELD_COOLED_SHARE * largest);
  if (readings.length < all.length)
    flags.push({
      code: 'FIELD_COOLED_SWEEP',
      message: `${all.length - readings.length} of ${all.length} sweeps show a smaller step (cooled in the field): the temperatures are from the full one.`,
    });
  const main = readings.reduce((a, b) => (b.nRows > a.nRows ? b : a));
  const { step } = main;
  if (!step.level)
    flags.push({
      code: 'NOT_BELOW_TRANSITION',
      message: `The curve ends at ${inWords(step.temperatureK[0]!)} K inside the transition: the full shielding moment is not known, so only the onset is given.`,
    });
  else if (step.levelTilt > 0.05)
    flags.push({
      code: 'LEVEL_NOT_FLAT',
      message: `Below the step the moment still changes by ${Math.round(100 * step.levelTilt)} % of it: midpoint and width refer to the coldest rows, at ${inWords(step.level.fromK)} K.`,
    });
  const scaleU = options.temperatureStandardUncertaintyK ?? 0;
  const of = (pick: (r: SweepReading) => Measured | null): Measured | null =>
    step.level ? meanOfSweeps(readings, pick, scaleU) : null;
  const t50 = of((r) => r.t50);
  flagNoise(main, options, false, flags);
  flagLag(readings, flags);
  if (main.parts.length > 1)
    flags.push({
      code: 'DOUBLE_TRANSITION',
      message: `The derivative has ${main.parts.length} peaks, at ${main.parts.map((p) => `${inWords(p.t50.value)} K`).join(', ')}: parts of the film, or joints between them, go over apart.`,
    });
  flagTemperature(t50, flags);
  return {
    onset: meanOfSweeps(readings, (r) => r.onset, scaleU),
    t90: of((r) => r.t90),
    t50,
    t10: of((r) => r.t10),
    width: step.level ? meanOfSweeps(readings, (r) => r.width, 0) : null,
    transitions: main.parts,
    shielding: step.level
      ? {
          moment: {
            value: sign * step.level.value,
            standardUncertainty: step.level.standardUncertainty,
            unit: 'A m2',
          },
          fromK: step.level.fromK,
          toK: step.level.toK,
        }
      : null,
    baseline: {
      intercept: sign * step.baseline.intercept,
      slopePerK: sign * step.baseline.slope,
      fromK: step.baselineFromK,
      toK: step.baselineToK,
      scatter: step.baseline.scatter,
    },
    sweeps: readings,
    flags,
  };
}

/** +1 where the warm end lies above the cold end, as a shielding moment makes it; -1 where it was turned over. */
function signOfStep(temperatureK: Float64Array, moment: Float64Array): 1 | -1 {
  const order = Array.from(temperatureK.keys()).sort((a, b) => temperatureK[a]! - temperatureK[b]!);
  const quarter = Math.max(3, Math.floor(order.length / 4));
  const cold = median(order.slice(0, quarter).map((i) => moment[i]!));
  const warm = median(order.slice(-quarter).map((i) => moment[i]!));
  return warm >= cold ? 1 : -1;
}
