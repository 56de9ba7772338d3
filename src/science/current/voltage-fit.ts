// Power law, offset, drift and ohmic part of a voltage-current curve, fitted at once. Pure; A, V, s, ohm.
import { fitLeastSquares } from '../numerics/least-squares.ts';
import { straightLine } from '../numerics/straight-line.ts';

/** Share of the scatter of time that the current may explain before drift and ohmic part are one. */
const TIME_IS_CURRENT = 0.995;

export interface VoltageFitInput {
  currentA: Float64Array;
  voltageV: Float64Array;
  timeS: Float64Array | undefined;
  /** rows to fit */
  rows: readonly number[];
  /** voltage at which the fitted current is anchored: inside the data, so that current and exponent part well */
  anchorV: number;
  /** first guesses */
  anchorCurrentA: number;
  n: number;
  hasBothPolarities: boolean;
  /** fit a resistance in parallel with the superconductor too */
  hasShunt: boolean;
}

export interface VoltageFit {
  /** ln of the current at the anchor, and the exponent; ln I and ln n carry the covariance */
  lnAnchorA: number;
  n: number;
  varianceLnAnchor: number;
  varianceLnN: number;
  covarianceLnAnchorLnN: number;
  /** half the difference of ln I between the polarities; 0 with one polarity */
  lnHalfDifference: number;
  lnHalfDifferenceU: number;
  offsetV: number;
  offsetU: number;
  ohmicOhm: number;
  ohmicU: number;
  driftVPerS: number | undefined;
  driftU: number;
  /** conductance in parallel with the superconductor, 1/ohm; 0 where it was not fitted */
  shuntPerOhm: number;
  shuntU: number;
  /** time and current rose together, so the drift is inside the ohmic part */
  isDriftInOhmic: boolean;
  /** standard deviation of a row about the curve */
  scatterV: number;
  isSure: boolean;
  /** power-law part at a current, V */
  powerLawV: (currentA: number) => number;
  /** whole curve at a row's current and time, V */
  totalV: (currentA: number, timeS: number | undefined) => number;
}

/** Exponent kept below overflow: far above the anchor the power law means nothing. */
const LARGEST_LOG = 40;

/**
 * ln(V/Va) of a power law beside a shunt, from I/Ia = (V/Va)^(1/n) + g V/Va, by Newton's method in ln V. The left side rises
 * with V, so there is one root; without the shunt it is n ln(I/Ia), which is never below it.
 */
function lnShunted(sizeRatio: number, n: number, g: number): number {
  let x = Math.min(n * Math.log(sizeRatio), Math.log(sizeRatio / g));
  for (let i = 0; i < 60; i++) {
    const law = Math.exp(x / n);
    const shunt = g * Math.exp(x);
    const step = (law + shunt - sizeRatio) / (law / n + shunt);
    x -= step;
    if (Math.abs(step) < 1e-13) break;
  }
  return x;
}

/**
 * Fits V = Va sign(I) (|I|/Ia)^n + V0 + drift t + R I by least squares in ln Ia, ln n, V0, drift and R, each scaled to
 * about 1. Nothing is subtracted before. With a shunt of conductance G the superconductor carries |I| - G Va (V part) only. With both polarities the two have currents Ia exp(+d) and Ia exp(-d).
 *
 * The rows weigh alike; their standard deviation is the scatter about the curve.
 *
 * Source: power law with offset and ohmic part [common practice]; fit by least-squares.ts.
 */
export function fitVoltage(input: VoltageFitInput): VoltageFit {
  const { currentA, voltageV, timeS, rows, anchorV, anchorCurrentA } = input;
  const firstS = timeS ? timeS[rows[0]!]! : 0;
  const spanS = timeS ? rows.reduce((m, k) => Math.max(m, Math.abs(timeS[k]! - firstS)), 0) : 0;
  const line =
    timeS &&
    straightLine(
      rows.map((k) => currentA[k]!),
      rows.map((k) => timeS[k]!),
    );
  const isDriftInOhmic = line !== undefined && line.rSquared > TIME_IS_CURRENT;
  const hasDrift = timeS !== undefined && spanS > 0 && !isDriftInOhmic;
  const hasDifference = input.hasBothPolarities;
  const lnStart = Math.log(anchorCurrentA);
  const driftAt = 4;
  const differenceAt = hasDrift ? 5 : 4;
  const shuntAt = 4 + Number(hasDrift) + Number(hasDifference);
  const power = (p: Float64Array, current: number): number => {
    if (current === 0) return 0;
    const sign = Math.sign(current);
    const difference = hasDifference ? sign * p[differenceAt]! : 0;
    const n = Math.exp(p[1]!);
    const lnRatio = Math.log(Math.abs(current)) - p[0]! - difference;
    const g = input.hasShunt ? p[shuntAt]! : 0;
    const log = g > 0 ? lnShunted(Math.exp(lnRatio), n, g) : n * lnRatio;
    return sign * Math.exp(Math.min(LARGEST_LOG, log));
  };
  const total = (p: Float64Array, current: number, time: number | undefined): number =>
    power(p, current) +
    p[2]! +
    (p[3]! * current) / anchorCurrentA +
    (hasDrift ? (p[driftAt]! * (time! - firstS)) / spanS : 0);
  const start = [lnStart, Math.log(input.n), 0, 0];
  const lower = [lnStart - 2, Math.log(1.2), -1e9, -1e9];
  const upper = [lnStart + 2, Math.log(200), 1e9, 1e9];
  const scales = [0.01, 0.1, 0.1, 0.1];
  const add = (first: number, low: number, high: number, scale: number): void => {
    start.push(first);
    lower.push(low);
    upper.push(high);
    scales.push(scale);
  };
  if (hasDrift) add(0, -1e9, 1e9, 0.1);
  if (hasDifference) add(0, -1, 1, 0.01);
  if (input.hasShunt) add(0.01, 0, 1e3, 0.01);
  const fit = fitLeastSquares(
    (p, i) => total(p, currentA[rows[i]!]!, timeS?.[rows[i]!]),
    rows.map((k) => voltageV[k]! / anchorV),
    start,
    { lower, upper, scales, tolerance: 1e-12 },
  );
  const p = fit.parameters;
  const size = p.length;
  const variance = fit.degreesOfFreedom > 0 ? fit.chiSquared / fit.degreesOfFreedom : Number.NaN;
  const cov = (i: number, j: number): number => fit.covariance[i * size + j]! * variance;
  const u = (i: number): number => Math.sqrt(cov(i, i));
  return {
    lnAnchorA: p[0]!,
    n: Math.exp(p[1]!),
    varianceLnAnchor: cov(0, 0),
    varianceLnN: cov(1, 1),
    covarianceLnAnchorLnN: cov(0, 1),
    lnHalfDifference: hasDifference ? p[differenceAt]! : 0,
    lnHalfDifferenceU: hasDifference ? u(differenceAt) : 0,
    offsetV: p[2]! * anchorV,
    offsetU: u(2) * anchorV,
    ohmicOhm: (p[3]! * anchorV) / anchorCurrentA,
    ohmicU: (u(3) * anchorV) / anchorCurrentA,
    driftVPerS: hasDrift ? (p[driftAt]! * anchorV) / spanS : undefined,
    driftU: hasDrift ? (u(driftAt) * anchorV) / spanS : 0,
    shuntPerOhm: input.hasShunt ? (p[shuntAt]! * Math.exp(p[0]!)) / anchorV : 0,
    shuntU: input.hasShunt ? (u(shuntAt) * Math.exp(p[0]!)) / anchorV : 0,
    isDriftInOhmic,
    scatterV: Math.sqrt(variance) * anchorV,
    isSure: fit.isConverged && Number.isFinite(variance) && !fit.isAtBound[0] && !fit.isAtBound[1],
    powerLawV: (current) => anchorV * power(p, current),
    totalV: (current, time) => anchorV * total(p, current, time),
  };
}
