// Critical current, exponent and critical current density from a voltage-current curve. Pure; SI.
import { DomainError } from '../errors.ts';
import { type Flag, inWords, type Measured } from '../measured.ts';
import { robustStraightLine } from '../numerics/straight-line.ts';
import { flagDepairing } from './depairing.ts';
import { lengthShares } from './usual-uncertainty.ts';
import { excessAbove, refinedFit, rightWayUp, shuntedFit } from './voltage-choice.ts';
import type { VoltageFit } from './voltage-fit.ts';
import { checkedVoltageRows, passesAtA, polarity, type VoltageRows } from './voltage-rows.ts';

export interface VoltageCurveInput {
  timeS?: ArrayLike<number> | undefined;
  currentA: ArrayLike<number>;
  voltageV: ArrayLike<number>;
  tapDistanceM: number;
  widthM?: number | undefined;
  thicknessM?: number | undefined;
  /** standard uncertainties, m */
  tapDistanceU?: number | undefined;
  widthU?: number | undefined;
  thicknessU?: number | undefined;
  criterionVPerM?: number | undefined;
  temperatureK?: number | undefined;
}

export interface VoltageCurveResult {
  reached: boolean;
  ic: Measured | null;
  n: Measured | null;
  jc: Measured | null;
  icPerWidthAPerM: Measured | null;
  /** where Ic lies above this current, because the criterion was not reached; null otherwise */
  icAbove: number | null;
  offset: Measured | null;
  ohmic: Measured | null;
  drift: Measured | null;
  /** resistance in parallel with the superconductor; null where none was seen */
  shunt: Measured | null;
  /** where the measured curve itself, offset and ohmic part included, meets the criterion */
  crossing: Measured | null;
  fitWindow: { fromVPerM: number; toVPerM: number } | null;
  noiseV: number;
  /** fitted voltage at each input current; NaN where the row was left out */
  curve: Float64Array;
  flags: Flag[];
}

export const DEFAULT_CRITERION_V_PER_M = 1e-4; // 1 uV/cm [memory: IEC 61788-26:2020]
/** Criterion voltages below this many times the noise are reached by extrapolation only. */
const NOISE_FACTOR = 3;
/** Fewest rows in the window that make an exponent. */
const MIN_WINDOW_ROWS = 3;

/**
 * Reads a voltage-current curve: V = Vc sign(I) (|I|/Ic)^n + V0 + drift t + R I, with Vc = Ec L, fitted at once.
 *
 * Rows up to the second above the criterion are used, so that the exponent belongs to the decade below the criterion; where
 * the criterion voltage is under three times the noise, to the decade that begins at three times the noise, and Ic is
 * extrapolated down and flagged. Both polarities are averaged; half their difference joins the uncertainty as a
 * rectangular distribution. u(Jc)/Jc joins those of Ic, width, thickness and tap distance/n in squares; where that of width
 * or thickness is not stated the usual one is taken and said.
 *
 * @returns a bound in `icAbove` with flag IC_NOT_REACHED where the criterion was not reached
 * @throws DomainError CURRENT_LENGTHS, CURRENT_TOO_FEW, CURRENT_GEOMETRY
 *
 * Source: criterion and window [memory: IEC 61788-26:2020]; joint fit [common practice]; uncertainty [derived: JCGM 100:2008, 5.1.2].
 * Range: a bridge in one temperature and field; n above about 3. Serial correlation of the noise is not modelled.
 */
export function voltageCurve(input: VoltageCurveInput): VoltageCurveResult {
  const flags: Flag[] = [];
  checkGeometry(input, flags);
  const criterionV = (input.criterionVPerM ?? DEFAULT_CRITERION_V_PER_M) * input.tapDistanceM;
  const asGiven = checkedVoltageRows(input.currentA, input.voltageV, input.timeS, criterionV, flags);
  const largestA = asGiven.currentA.reduce((m, i) => Math.max(m, Math.abs(i)), 0);
  const isNoisy = criterionV < NOISE_FACTOR * asGiven.noiseV;
  // the level whose decade is fitted: the criterion, or a decade above the least voltage that stands out
  const topV = isNoisy ? 10 * NOISE_FACTOR * asGiven.noiseV : criterionV;
  const { rows, start, sign } = rightWayUp(asGiven, topV);
  if (sign < 0)
    flags.push({
      code: 'VOLTAGE_SIGN',
      message:
        'The voltage grows against the current: the taps or the current leads are exchanged. The sign of the voltage was turned; offset, drift and ohmic part are of the turned curve.',
    });
  const result: VoltageCurveResult = {
    reached: false,
    ic: null,
    n: null,
    jc: null,
    icPerWidthAPerM: null,
    icAbove: null,
    offset: null,
    ohmic: null,
    drift: null,
    shunt: null,
    crossing: measuredCrossing(rows, criterionV, flags),
    fitWindow: null,
    noiseV: rows.noiseV,
    curve: new Float64Array(input.currentA.length).fill(Number.NaN),
    flags,
  };
  if (rows.noiseV > 100 * criterionV)
    flags.push({
      code: 'VOLTAGE_UNIT_SUSPECT',
      message: `The noise is ${inWords(rows.noiseV)} V, ${inWords(rows.noiseV / criterionV)} times the criterion voltage ${inWords(criterionV)} V: the voltages may be in mV or uV.`,
    });
  if (!start) return notReached(result, rows, input, criterionV, largestA, isNoisy);
  const plain = refinedFit(rows, topV, start);
  const shunted = plain.isSure ? shuntedFit(rows, topV, plain, start.hasBothPolarities) : undefined;
  const fit = shunted?.fit ?? plain;
  const lnRatio = Math.log(criterionV / topV) / fit.n;
  const icA = Math.exp(fit.lnAnchorA + lnRatio);
  if (!fit.isSure || icA > largestA) {
    if (!fit.isSure)
      flags.push({
        code: 'FIT_UNSURE',
        message: 'No power law can be told from the ohmic part and the noise of this curve.',
      });
    return notReached(result, rows, input, criterionV, largestA, isNoisy);
  }
  const lnVariance =
    fit.varianceLnAnchor - 2 * lnRatio * fit.covarianceLnAnchorLnN + lnRatio ** 2 * fit.varianceLnN;
  const relative = Math.hypot(Math.sqrt(Math.max(0, lnVariance)), fit.lnHalfDifference / Math.sqrt(3));
  result.reached = true;
  result.ic = { value: icA, standardUncertainty: icA * relative, unit: 'A' };
  result.offset = { value: fit.offsetV, standardUncertainty: fit.offsetU, unit: 'V' };
  result.ohmic = { value: fit.ohmicOhm, standardUncertainty: fit.ohmicU, unit: 'ohm' };
  if (fit.driftVPerS !== undefined)
    result.drift = { value: fit.driftVPerS, standardUncertainty: fit.driftU, unit: 'V/s' };
  if (shunted) {
    const ohm = 1 / fit.shuntPerOhm;
    result.shunt = { value: ohm, standardUncertainty: ohm ** 2 * fit.shuntU, unit: 'ohm' };
    flags.push({
      code: 'SHUNT',
      message: `Above the criterion the curve bends towards a line: ${inWords(ohm)} ohm lies in parallel with the superconductor. Ic and n are without it.`,
    });
  }
  for (let k = 0; k < rows.index.length; k++)
    result.curve[rows.index[k]!] = sign * fit.totalV(rows.currentA[k]!, rows.timeS?.[k]);
  const fromV = Math.min(topV, Math.max(topV / 10, NOISE_FACTOR * fit.scatterV));
  const toV = shunted?.toV ?? topV;
  result.fitWindow = { fromVPerM: fromV / input.tapDistanceM, toVPerM: toV / input.tapDistanceM };
  readExponent(result, rows, fit, fromV, topV);
  flagFit(fit, isNoisy, criterionV, input.tapDistanceM, rows, topV, flags);
  readDensity(result, input, fit.n);
  return result;
}

function checkGeometry(input: VoltageCurveInput, flags: Flag[]): void {
  const limits = [
    ['tapDistanceM', input.tapDistanceM, 2e-5, 1],
    ['widthM', input.widthM, 1e-7, 0.05],
    ['thicknessM', input.thicknessM, 2e-9, 2e-5],
  ] as const;
  for (const [name, value, low, high] of limits) {
    if (value === undefined) continue;
    if (!(value > 0)) throw new DomainError('CURRENT_GEOMETRY', `${name} is ${value} m; it must be above 0.`);
    if (value < low || value > high)
      flags.push({
        code: 'LENGTH_UNIT_SUSPECT',
        message: `${name} is ${inWords(value)} m, outside ${low} to ${high} m of films and tapes: it may be in another unit (a factor 1000). It was used as given.`,
      });
  }
}

function readExponent(
  result: VoltageCurveResult,
  rows: VoltageRows,
  fit: VoltageFit,
  fromV: number,
  topV: number,
): void {
  let inWindow = 0;
  for (const current of rows.currentA) {
    const v = Math.abs(fit.powerLawV(current));
    if (v >= fromV && v <= 3 * topV) inWindow++;
  }
  if (inWindow < MIN_WINDOW_ROWS)
    result.flags.push({
      code: 'N_NOT_RESOLVED',
      message: `Only ${inWindow} rows lie in the window of the exponent; at least ${MIN_WINDOW_ROWS} are needed. Take smaller steps of current near Ic.`,
    });
  else result.n = { value: fit.n, standardUncertainty: fit.n * Math.sqrt(fit.varianceLnN), unit: '1' };
}

function flagFit(
  fit: VoltageFit,
  isNoisy: boolean,
  criterionV: number,
  tapDistanceM: number,
  rows: VoltageRows,
  topV: number,
  flags: Flag[],
): void {
  if (isNoisy)
    flags.push({
      code: 'IC_EXTRAPOLATED',
      message: `The criterion voltage ${inWords(criterionV)} V is under three times the noise (${inWords(rows.noiseV)} V): Ic is extrapolated down from the window ${inWords((topV / 10 / tapDistanceM) * 1e4)} to ${inWords((topV / tapDistanceM) * 1e4)} uV/cm.`,
    });
  if (fit.isDriftInOhmic)
    flags.push({
      code: 'DRIFT_IN_OHMIC',
      message:
        'Current and time rise together in one ramp, so a drift of the voltage is part of the ohmic part. Ramp up and down to part them.',
    });
  if (Math.abs(fit.lnHalfDifference) > Math.max(3 * fit.lnHalfDifferenceU, 0.0025))
    flags.push({
      code: 'POLARITIES_DIFFER',
      message: `The two polarities differ by ${inWords(200 * Math.abs(fit.lnHalfDifference))} % in critical current; the mean is given.`,
    });
  if (Math.abs(fit.ohmicOhm) > 3 * fit.ohmicU && fit.ohmicOhm * Math.exp(fit.lnAnchorA) > 0.1 * criterionV)
    flags.push({
      code: 'OHMIC_PART',
      message: `An ohmic part of ${inWords(fit.ohmicOhm)} ohm runs through the curve (current sharing, or taps too near the contacts); Ic and n are without it.`,
    });
  const excess = excessAbove(fit, rows, topV);
  const mean = excess.reduce((sum, x) => sum + x, 0) / excess.length;
  if (excess.length >= 3 && mean > 0.3)
    flags.push({
      code: 'HEATING',
      message: `Above the criterion the voltage is ${inWords(Math.exp(mean))} times the power law: the bridge heats, or the law bends there. Those rows were not used.`,
    });
}

/** The measured curve's own crossing, mean of both polarities; its uncertainty holds noise and spacing. */
function measuredCrossing(rows: VoltageRows, criterionV: number, flags: Flag[]): Measured | null {
  const sides = ([1, -1] as const)
    .map((sign) => polarity(rows.currentA, rows.voltageV, sign))
    .filter((side) => side.rows.length > 3);
  if (sides.some((side) => side.rising[0]! >= criterionV)) {
    flags.push({
      code: 'CROSSING_NOT_DEFINED',
      message:
        'The measured voltage is above the criterion at the smallest current already (an offset), so the measured curve itself has no crossing.',
    });
    return null;
  }
  const found = sides.flatMap((side) => {
    const pass = passesAtA(side, criterionV);
    if (!pass) return [];
    const after = passesAtA(side, 1.5 * criterionV);
    const slope =
      after && after.currentA > pass.currentA
        ? (0.5 * criterionV) / (after.currentA - pass.currentA)
        : Number.NaN;
    const noise = slope > 0 ? rows.noiseV / slope : pass.gapA;
    return [{ value: pass.currentA, u: Math.hypot(noise, pass.gapA / Math.sqrt(12)) }];
  });
  if (found.length === 0 || found.length < sides.length) return null;
  const value = found.reduce((sum, f) => sum + f.value, 0) / found.length;
  const half = found.length > 1 ? Math.abs(found[0]!.value - found[1]!.value) / 2 : 0;
  const u = Math.hypot(...found.map((f) => f.u)) / found.length;
  return { value, standardUncertainty: Math.hypot(u, half / Math.sqrt(3)), unit: 'A' };
}

/** No superconducting voltage reaches the criterion: a bound, unless an ohmic part hides what a bound would claim. */
function notReached(
  result: VoltageCurveResult,
  rows: VoltageRows,
  input: VoltageCurveInput,
  criterionV: number,
  largestA: number,
  isNoisy: boolean,
): VoltageCurveResult {
  const line = robustStraightLine(rows.currentA, rows.voltageV);
  if (line) {
    result.offset = {
      value: line.intercept,
      standardUncertainty: Math.sqrt(line.interceptVariance),
      unit: 'V',
    };
    result.ohmic = { value: line.slope, standardUncertainty: Math.sqrt(line.slopeVariance), unit: 'ohm' };
    for (let k = 0; k < rows.index.length; k++)
      result.curve[rows.index[k]!] = line.intercept + line.slope * rows.currentA[k]!;
  }
  const criterion = inWords((criterionV / input.tapDistanceM) * 1e4);
  if (line && line.slope * largestA > criterionV && line.slope > 5 * Math.sqrt(line.slopeVariance))
    result.flags.push({
      code: 'IC_MASKED_BY_OHMIC',
      message: `The curve is ohmic, ${inWords(line.slope)} ohm, and passes ${criterion} uV/cm by that alone: the bridge is resistive or broken, or the taps see a contact. Neither Ic nor a bound is given.`,
    });
  else if (isNoisy && rows.noiseV > 10 * criterionV)
    result.flags.push({
      code: 'IC_BELOW_NOISE',
      message: `No transition stands out of a noise of ${inWords(rows.noiseV)} V, ${inWords(rows.noiseV / criterionV)} times the criterion voltage: neither Ic nor a bound is given.`,
    });
  else {
    result.icAbove = rows.quenchAtA ?? largestA;
    result.flags.push({
      code: 'IC_NOT_REACHED',
      message: `Ic > ${inWords(result.icAbove)} A: the criterion of ${criterion} uV/cm was not reached${rows.quenchAtA === undefined ? '' : ' before the bridge quenched'}.`,
    });
  }
  return result;
}

function readDensity(result: VoltageCurveResult, input: VoltageCurveInput, n: number): void {
  const ic = result.ic!;
  const { widthM, thicknessM, tapDistanceM } = input;
  const fromTaps = (input.tapDistanceU ?? 0) / tapDistanceM / n;
  const icShare = ic.standardUncertainty / ic.value;
  if (widthM === undefined || thicknessM === undefined)
    result.flags.push({
      code: 'GEOMETRY_MISSING',
      message: `No ${widthM === undefined ? 'width' : 'thickness'} is given: Jc cannot be formed.`,
    });
  if (widthM === undefined) return;
  const lengths = [
    { name: 'the width', kind: 'width', valueM: widthM, standardUncertaintyM: input.widthU },
    ...(thicknessM === undefined
      ? []
      : ([
          {
            name: 'the thickness',
            kind: 'thickness',
            valueM: thicknessM,
            standardUncertaintyM: input.thicknessU,
          },
        ] as const)),
  ] as const;
  const [widthShare, thicknessShare] = lengthShares(lengths, result.flags);
  const perWidth = ic.value / widthM;
  const u = Math.hypot(icShare, widthShare!, fromTaps);
  result.icPerWidthAPerM = { value: perWidth, standardUncertainty: perWidth * u, unit: 'A/m' };
  if (thicknessM === undefined) return;
  const jc = perWidth / thicknessM;
  result.jc = { value: jc, standardUncertainty: jc * Math.hypot(u, thicknessShare!), unit: 'A/m2' };
  flagDepairing(jc, input.temperatureK, result.flags);
}
