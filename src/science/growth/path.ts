// A heat and gas path as a person writes it, and its samples: s, K, log10 of pO2 in atm.

import { ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { DomainError } from '../errors.ts';
import { checkLog10Po2, checkPo2Atm } from './oxygen-range.ts';
import { checkRange } from './range.ts';
import { checkTemperatureC } from './temperature.ts';

/** One step of a path. `cool` is a ramp; `gas` moves pO2 evenly in its logarithm; `deposit` holds while a film grows. */
export interface PathSegment {
  readonly kind: 'ramp' | 'hold' | 'gas' | 'deposit' | 'cool';
  /** end of a ramp, degC */
  readonly toC?: number | undefined;
  /** speed of a ramp; or its durationS */
  readonly rateKPerMin?: number | undefined;
  readonly durationS?: number | undefined;
  /** end of a change of gas */
  readonly toPo2Atm?: number | undefined;
  /** grown in a deposit */
  readonly thicknessNm?: number | undefined;
}

export interface PathStart {
  readonly temperatureC: number;
  readonly po2Atm: number;
}

/** Samples of a path; a time that stands twice is a step. */
export interface PathSamples {
  readonly timeS: Float64Array;
  readonly temperatureK: Float64Array;
  readonly log10Po2Atm: Float64Array;
}

/** A segment with its ends. */
export interface PlacedSegment {
  readonly kind: PathSegment['kind'];
  readonly startS: number;
  readonly endS: number;
  readonly fromC: number;
  readonly toC: number;
  readonly fromPo2Atm: number;
  readonly toPo2Atm: number;
  readonly thicknessNm: number;
}

const DURATION_S = { min: 0, max: 1e7 };
/** Largest step of a sampled ramp, K: the trapezoid of exp(-E/RT) is then right within 1e-3 for 330 kJ/mol at 1000 K. */
const RAMP_STEP_K = 2;
const MAX_SAMPLES_A_SEGMENT = 600;

const check = (field: string, value: number, range: Parameters<typeof checkRange>[2]): void =>
  checkRange(field, value, range, 'PATH_RANGE');

/**
 * Segments with their ends in time, temperature and gas.
 *
 * @throws DomainError PATH_RANGE, naming segments[i].field, its value and what is allowed
 */
export function placeSegments(start: PathStart, segments: readonly PathSegment[]): PlacedSegment[] {
  checkTemperatureC('start.temperatureC', start.temperatureC, { code: 'PATH_RANGE' });
  checkPo2Atm('start.po2Atm', start.po2Atm);
  let timeS = 0;
  let temperatureC = start.temperatureC;
  let po2Atm = start.po2Atm;
  return segments.map((segment, i) => {
    const at = `segments[${i}]`;
    const { kind, thicknessNm = 0 } = segment;
    const toC = segment.toC ?? temperatureC;
    const toPo2Atm = segment.toPo2Atm ?? po2Atm;
    checkTemperatureC(`${at}.toC`, toC, { code: 'PATH_RANGE' });
    checkPo2Atm(`${at}.toPo2Atm`, toPo2Atm);
    check(`${at}.thicknessNm`, thicknessNm, { min: 0, max: 1e6 });
    const isRamp = kind === 'ramp' || kind === 'cool';
    if (isRamp && segment.toC === undefined)
      throw new DomainError(
        'PATH_RANGE',
        `${at} is a ${kind} without toC; allowed is a temperature in degC.`,
      );
    if (kind === 'gas' && segment.toPo2Atm === undefined)
      throw new DomainError(
        'PATH_RANGE',
        `${at} is a gas change without toPo2Atm; allowed is a pressure in atm.`,
      );
    if (!isRamp && toC !== temperatureC)
      throw new DomainError('PATH_RANGE', `${at}.toC is ${toC} in a ${kind}; allowed is only in a ramp.`);
    if (kind === 'cool' && toC > temperatureC)
      throw new DomainError(
        'PATH_RANGE',
        `${at}.toC is ${toC}, above the ${temperatureC} degC before it; allowed in a cool is a lower one.`,
      );
    const durationS = durationOf(segment, at, Math.abs(toC - temperatureC), isRamp);
    check(`${at}.durationS`, durationS, DURATION_S);
    const placed = {
      kind,
      startS: timeS,
      endS: timeS + durationS,
      fromC: temperatureC,
      toC,
      fromPo2Atm: po2Atm,
      toPo2Atm,
      thicknessNm,
    };
    timeS += durationS;
    temperatureC = toC;
    po2Atm = toPo2Atm;
    return placed;
  });
}

function durationOf(segment: PathSegment, at: string, changeK: number, isRamp: boolean): number {
  const { durationS, rateKPerMin, kind } = segment;
  if (rateKPerMin !== undefined) {
    check(`${at}.rateKPerMin`, rateKPerMin, { min: 0, max: 1e5, isAboveMin: true });
    if (!isRamp)
      throw new DomainError(
        'PATH_RANGE',
        `${at}.rateKPerMin is ${rateKPerMin} in a ${kind}; allowed is only in a ramp.`,
      );
    if (durationS !== undefined)
      throw new DomainError(
        'PATH_RANGE',
        `${at} has rateKPerMin ${rateKPerMin} and durationS ${durationS}; allowed is one of them.`,
      );
    return (60 * changeK) / rateKPerMin;
  }
  if (durationS !== undefined) return durationS;
  if (kind === 'gas') return 0; // a step
  throw new DomainError(
    'PATH_RANGE',
    `${at} has no duration; allowed is durationS${isRamp ? ' or rateKPerMin' : ''}.`,
  );
}

/**
 * Samples of placed segments: ramps in steps of 2 K, the beginning of every segment finely (halving times), so that what
 * settles after a step is seen. Temperature is straight in time, pO2 in its logarithm.
 */
export function samplePath(segments: readonly PlacedSegment[], start: PathStart): PathSamples {
  const timeS = [0];
  const temperatureK = [start.temperatureC + ZERO_CELSIUS_K];
  const log10Po2Atm = [Math.log10(start.po2Atm)];
  for (const segment of segments) {
    const durationS = segment.endS - segment.startS;
    const log0 = Math.log10(segment.fromPo2Atm);
    const log1 = Math.log10(segment.toPo2Atm);
    for (const part of partsOf(durationS, Math.abs(segment.toC - segment.fromC), Math.abs(log1 - log0))) {
      timeS.push(part === 1 ? segment.endS : segment.startS + part * durationS);
      temperatureK.push(ZERO_CELSIUS_K + segment.fromC + part * (segment.toC - segment.fromC));
      log10Po2Atm.push(log0 + part * (log1 - log0));
    }
  }
  return {
    timeS: Float64Array.from(timeS),
    temperatureK: Float64Array.from(temperatureK),
    log10Po2Atm: Float64Array.from(log10Po2Atm),
  };
}

function partsOf(durationS: number, changeK: number, decades: number): number[] {
  if (durationS === 0) return [1];
  const even = Math.min(
    MAX_SAMPLES_A_SEGMENT,
    Math.max(12, Math.ceil(changeK / RAMP_STEP_K), Math.ceil(20 * decades)),
  );
  const parts = new Set(Array.from({ length: even }, (_, i) => (i + 1) / even));
  for (let part = 0.5; part * durationS > 0.05 && part > 1e-5; part /= 2) parts.add(part);
  return [...parts].sort((a, b) => a - b);
}

/**
 * Refuses samples that cannot be a path.
 *
 * @throws DomainError GROWTH_LENGTHS, PATH_ORDER, PATH_RANGE with the index and the value
 */
export function checkSamples({ timeS, temperatureK, log10Po2Atm }: PathSamples): void {
  const n = timeS.length;
  if (temperatureK.length !== n || log10Po2Atm.length !== n)
    throw new DomainError(
      'GROWTH_LENGTHS',
      `${n} times, ${temperatureK.length} temperatures and ${log10Po2Atm.length} oxygen pressures.`,
    );
  if (n < 2) throw new DomainError('GROWTH_TOO_FEW', `A path of ${n} samples; expected 2 or more.`);
  checkOrder(timeS, 'timeS');
  for (let i = 0; i < n; i++) {
    checkTemperatureC(`temperatureC[${i}]`, temperatureK[i]! - ZERO_CELSIUS_K, { code: 'PATH_RANGE' });
    checkLog10Po2(`log10Po2Atm[${i}]`, log10Po2Atm[i]!);
  }
}

/** @throws DomainError PATH_ORDER if a time falls or is missing */
export function checkOrder(timeS: ArrayLike<number>, name: string): void {
  for (let i = 0; i < timeS.length; i++)
    if (!(timeS[i]! >= (i > 0 ? timeS[i - 1]! : Number.NEGATIVE_INFINITY)))
      throw new DomainError(
        'PATH_ORDER',
        `${name}[${i}] is ${timeS[i]} s after ${timeS[i - 1]} s; a path never goes back in time.`,
      );
}

/** Value of a sampled column at a time, straight between samples; the later one at a step, the nearest one outside. */
export function columnAt(timeS: ArrayLike<number>, column: ArrayLike<number>, atS: number): number {
  const n = timeS.length;
  let low = 0;
  let high = n; // first index with a time above atS
  while (low < high) {
    const middle = (low + high) >> 1;
    if (timeS[middle]! <= atS) low = middle + 1;
    else high = middle;
  }
  if (low === 0) return column[0]!;
  if (low === n) return column[n - 1]!;
  const part = (atS - timeS[low - 1]!) / (timeS[low]! - timeS[low - 1]!);
  return column[low - 1]! + part * (column[low]! - column[low - 1]!);
}
