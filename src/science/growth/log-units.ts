// Questions about a log whose columns look as if in another unit than the path. s, K, log10 of atm.
import type { Doubt } from '../doubt.ts';
import { ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { inWords } from '../measured.ts';
import { ATM_PER_UNIT } from './oxygen-range.ts';
import { columnAt, type PathSamples } from './path.ts';
import type { PathLog } from './path-log.ts';

/** Steady differences nearer than this to a change of unit are asked about. */
const NEAR_K = 40;
const NEAR_DECADES = 0.3;
/** Readings that are pressures themselves lie this near to the command, decades. */
const NEAR_PRESSURE = 1;
/** Lengths of log and path this near, relatively, to a factor of units of time. */
const NEAR_TIME = 0.05;

const TIME_UNITS = { min: 60, h: 3600, ms: 1e-3 } as const;

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor((sorted.length - 1) / 2)]!;
}

function differences(
  log: PathLog,
  column: ArrayLike<number>,
  path: PathSamples,
  own: Float64Array,
): number[] {
  return Array.from(column, (value, i) => value - columnAt(path.timeS, own, log.timeS[i]!)).filter(
    (value) => !Number.isNaN(value),
  );
}

/**
 * Questions where a log lies off its path by what a change of unit makes: K for degC, Pa, mbar, Torr or mTorr under the logarithm,
 * pressures in place of logarithms, minutes or hours for seconds.
 *
 * Source: [derived: ratios of the units].
 */
export function logUnitDoubts(log: PathLog, path: PathSamples): Doubt[] {
  const doubts: Doubt[] = [];
  const ask = (column: string, found: string, remedy: string): void => {
    doubts.push({ code: 'LOG_UNIT', message: `${column}: ${found} ${remedy}` });
  };
  const n = log.timeS.length;
  const lasted = n > 1 ? log.timeS[n - 1]! - log.timeS[0]! : 0;
  const pathS = path.timeS.at(-1)! - path.timeS[0]!;
  for (const [unit, seconds] of Object.entries(TIME_UNITS))
    if (lasted > 0 && Math.abs((lasted * seconds) / pathS - 1) < NEAR_TIME)
      ask(
        'log.timeS',
        `the log lasts ${inWords(lasted)} s, the path ${inWords(pathS)} s: was ${unit} meant?`,
        `Then give seconds, ${seconds} times as much.`,
      );
  if (log.temperatureK && n > 0) {
    const off = differences(log, log.temperatureK, path, path.temperatureK);
    const middle = off.length > 0 ? median(off) : 0;
    if (Math.abs(middle - ZERO_CELSIUS_K) < NEAR_K)
      ask(
        'log.temperatureC',
        `half of the readings lie ${inWords(middle)} K or more above the command: was K meant?`,
        'Then take off 273.15.',
      );
  }
  if (log.log10Po2Atm && n > 0) {
    const readings = Array.from(log.log10Po2Atm).filter((value) => !Number.isNaN(value));
    const off = differences(log, log.log10Po2Atm, path, path.log10Po2Atm);
    if (off.length === 0) return doubts;
    const middle = median(off);
    const [unit, decades] = Object.entries(ATM_PER_UNIT)
      .map(([name, atm]) => [name, -Math.log10(atm)] as const)
      .reduce((best, each) => (Math.abs(middle - each[1]) < Math.abs(middle - best[1]) ? each : best));
    const commanded = median(readings) - middle;
    if (
      readings.every((value) => value > 0) &&
      Math.abs(Math.log10(median(readings)) - commanded) < NEAR_PRESSURE
    )
      ask(
        'log.log10Po2Atm',
        `no reading is below 0, which is 1 atm, where about ${inWords(commanded)} is commanded: are these pressures?`,
        'Then give the decimal logarithm of the pressure in atm.',
      );
    else if (Math.abs(middle - decades) < NEAR_DECADES)
      ask(
        'log.log10Po2Atm',
        `half of the readings lie ${inWords(middle)} decades or more above the command: was the logarithm taken of ${unit}?`,
        `Then take off ${decades.toFixed(3)}.`,
      );
  }
  return doubts;
}
