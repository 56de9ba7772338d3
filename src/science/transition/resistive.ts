// Transition temperatures from resistance against temperature. Pure; K and ohm.
import { type Flag, inWords, type Measured } from '../measured.ts';
import { largestOf, smallestOf } from '../numerics/extremes.ts';
import { median, noiseOfCurve } from '../numerics/straight-line.ts';
import {
  type Baseline,
  checkedRows,
  flagLag,
  flagNoise,
  flagParts,
  flagTemperature,
  meanOfSweeps,
  readSweep,
  type SweepReading,
  stepSizeOf,
  sweepRows,
  type TransitionOptions,
} from './curve.ts';

export interface ResistiveTransition {
  onset: Measured | null;
  t90: Measured | null;
  t50: Measured | null;
  t10: Measured | null;
  zero: Measured | null;
  /** t90 - t10 */
  width: Measured | null;
  transitions: { t50: Measured; share: number }[];
  /** constant taken off before the shares were formed; null where the sweep ends before the level is reached */
  background: { resistance: Measured; share: number; fromK: number; toK: number } | null;
  baseline: Baseline | null;
  /** resistance below which it counts as zero, after the background is off, ohm; null where none was read */
  zeroLevelOhm: number | null;
  sweeps: SweepReading[];
  flags: Flag[];
}

/** A level below the transition above this share is no offset of the meter: part of the film stays resistive. */
const LARGEST_BACKGROUND_SHARE = 0.05;
/** Outside these a film's resistance is likely in another unit; temperatures do not depend on it. */
const PLAUSIBLE_NORMAL_OHM = [1e-5, 1e6] as const; // [common practice]

/**
 * Onset, 90, 50, 10 % and zero of a resistive transition, with its 10-90 % width.
 *
 * The normal line is a straight line over a window above the transition, extrapolated down; a constant found below the
 * transition (offset of the meter, contact in series) is taken off first. Each temperature is where the rest passes its
 * share of the line. Midpoint = 50 %, width = 10 to 90 %.
 *
 * @param temperatureK  n temperatures in the order of measurement, K; NaN marks a missing row
 * @param resistanceOhm n resistances, ohm
 * @returns nulls where the data do not show a temperature, with flags that say why and give a bound
 * @throws DomainError TRANSITION_LENGTHS, TRANSITION_TOO_FEW, TRANSITION_TEMPERATURE
 *
 * Source: midpoint and width as in IEC 61788-10 [memory]; level crossings and their uncertainty [derived: level-crossing.ts].
 * Range: a normal state that is straight over a few transition widths above the onset.
 */
export function resistiveTransition(
  temperatureK: ArrayLike<number>,
  resistanceOhm: ArrayLike<number>,
  options: TransitionOptions = {},
): ResistiveTransition {
  const flags: Flag[] = [];
  const rows = checkedRows(temperatureK, resistanceOhm, 'resistances', flags);
  const readings: SweepReading[] = [];
  let nWithoutStep = 0;
  let isLineMissing = false;
  for (const sweep of sweepRows(rows, flags)) {
    const { search, reading } = readSweep(sweep, 'all below', options);
    if (reading) readings.push(reading);
    else nWithoutStep++;
    if (!search.found && search.reason === 'no line above') isLineMissing = true;
  }
  if (readings.length === 0) {
    flagNoStep(rows.temperatureK, rows.value, isLineMissing, flags);
    return { ...NOTHING, flags };
  }
  if (nWithoutStep > 0)
    flags.push({
      code: 'SWEEP_WITHOUT_TRANSITION',
      message: `${nWithoutStep} more sweeps show no transition and were left out.`,
    });
  const scaleU = options.temperatureStandardUncertaintyK ?? 0;
  const of = (pick: (r: SweepReading) => Measured | null): Measured | null =>
    meanOfSweeps(readings, pick, scaleU);
  const main = readings.reduce((a, b) => (b.nRows > a.nRows ? b : a));
  const { step } = main;
  const normalOhm = stepSizeOf(step);
  const t50 = of((r) => r.t50);
  const isComplete = step.level !== undefined && step.level.value / normalOhm < LARGEST_BACKGROUND_SHARE;
  if (!step.level)
    flags.push({
      code: 'NOT_BELOW_TRANSITION',
      message: `The curve ends at ${inWords(step.temperatureK[0]!)} K inside the transition: t10 and zero lie below that, the width cannot be told, and shares are formed as if the curve fell to zero.`,
    });
  else flagLevel(step.level, normalOhm, step.levelTilt, flags);
  flagNoise(main, options, isComplete, flags);
  flagLag(readings, flags);
  flagParts(readings, flags);
  flagTemperature(t50, flags);
  if (!(normalOhm > PLAUSIBLE_NORMAL_OHM[0] && normalOhm < PLAUSIBLE_NORMAL_OHM[1]))
    flags.push({
      code: 'RESISTANCE_UNIT_SUSPECT',
      message: `The film has ${inWords(normalOhm)} ohm above its transition; the column may be in another unit. The temperatures do not depend on it.`,
    });
  return {
    onset: of((r) => r.onset),
    t90: of((r) => r.t90),
    t50,
    t10: of((r) => r.t10),
    zero: isComplete ? of((r) => r.zero) : null,
    width: meanOfSweeps(readings, (r) => r.width, 0),
    transitions: main.parts,
    background: step.level
      ? {
          resistance: {
            value: step.level.value,
            standardUncertainty: step.level.standardUncertainty,
            unit: 'ohm',
          },
          share: step.level.value / normalOhm,
          fromK: step.level.fromK,
          toK: step.level.toK,
        }
      : null,
    baseline: {
      intercept: step.baseline.intercept,
      slopePerK: step.baseline.slope,
      fromK: step.baselineFromK,
      toK: step.baselineToK,
      scatter: step.baseline.scatter,
    },
    zeroLevelOhm: isComplete && main.zero ? main.zeroShare * normalOhm : null,
    sweeps: readings,
    flags,
  };
}

const NOTHING: Omit<ResistiveTransition, 'flags'> = {
  onset: null,
  t90: null,
  t50: null,
  t10: null,
  zero: null,
  width: null,
  transitions: [],
  background: null,
  baseline: null,
  zeroLevelOhm: null,
  sweeps: [],
};

function flagNoStep(
  temperatureK: Float64Array,
  resistanceOhm: Float64Array,
  isLineMissing: boolean,
  flags: Flag[],
): void {
  const lowestK = inWords(smallestOf(temperatureK));
  const highestK = inWords(largestOf(temperatureK));
  if (isLineMissing) {
    flags.push({
      code: 'NOT_ABOVE_TRANSITION',
      message: `The resistance is still rising at ${highestK} K, the end of the curve: too few rows show the normal state. Measure on above the onset.`,
    });
    return;
  }
  const noise = noiseOfCurve(temperatureK, resistanceOhm);
  const isZero = Math.abs(median(resistanceOhm)) < 5 * noise;
  flags.push({
    code: 'NO_TRANSITION',
    message: isZero
      ? `The resistance is zero within its noise of ${inWords(noise)} ohm from ${lowestK} to ${highestK} K: the whole transition lies above ${highestK} K, or the voltage taps are open.`
      : `No transition between ${lowestK} and ${highestK} K: any transition lies below ${lowestK} K.`,
  });
}

function flagLevel(
  level: { value: number; standardUncertainty: number; fromK: number; toK: number },
  normalOhm: number,
  tilt: number,
  flags: Flag[],
): void {
  const share = level.value / normalOhm;
  const where = `between ${inWords(level.fromK)} and ${inWords(level.toK)} K`;
  if (share >= LARGEST_BACKGROUND_SHARE)
    flags.push({
      code: 'TRANSITION_INCOMPLETE',
      message: `${Math.round(100 * share)} % of the normal resistance is left ${where}: part of the path stays resistive, so no zero is given; the shares are of the rest.`,
    });
  else if (Math.abs(level.value) > 3 * level.standardUncertainty)
    flags.push({
      code: 'BACKGROUND_REMOVED',
      message: `A constant ${inWords(level.value)} ohm ${where} (offset of the meter or a contact in series) was taken off first.`,
    });
  if (tilt > 0.02)
    flags.push({
      code: 'LEVEL_NOT_FLAT',
      message: `Below the transition the curve still changes by ${inWords(100 * tilt)} % of the step ${where}: t10 and zero depend on where it is cut.`,
    });
}
