// Which rows of a voltage-current curve are fitted, from which first guess, and whether a shunt shows. Pure; A, V.
import { robustStraightLine } from '../numerics/straight-line.ts';
import { fitVoltage, type VoltageFit } from './voltage-fit.ts';
import { type Polarity, passesAtA, polarity, type VoltageRows } from './voltage-rows.ts';

/** Rows the fit keeps above the level it is anchored at. */
const ROWS_ABOVE = 2;

export interface Guess {
  lineV: Float64Array;
  currentA: number;
  n: number;
  hasBothPolarities: boolean;
}

/** First guess by a line through the low currents, moved up until it and the crossing agree. */
function firstGuess(rows: VoltageRows, levelV: number): Guess | undefined {
  const { currentA, voltageV } = rows;
  let below = currentA.reduce((m, i) => Math.max(m, Math.abs(i)), 0);
  let guess: Guess | undefined;
  for (let round = 0; round < 8; round++) {
    const low = Array.from(currentA.keys()).filter((k) => Math.abs(currentA[k]!) <= 0.6 * below);
    const few =
      low.length < 4
        ? Array.from(currentA.keys())
            .sort((a, b) => Math.abs(currentA[a]!) - Math.abs(currentA[b]!))
            .slice(0, 4)
        : low;
    const line = robustStraightLine(
      few.map((k) => currentA[k]!),
      few.map((k) => voltageV[k]!),
    );
    if (!line) return undefined;
    const excess = voltageV.map((v, k) => v - line.intercept - line.slope * currentA[k]!);
    const sides = ([1, -1] as const)
      .map((sign) => polarity(currentA, excess, sign))
      .filter((side) => side.rows.length > 3);
    const passes = sides.map((side) => passesAtA(side, levelV)?.currentA).filter((i) => i !== undefined);
    if (passes.length === 0) return guess;
    const at = passes.reduce((sum, i) => sum + i, 0) / passes.length;
    guess = { lineV: excess, currentA: at, n: slopeOf(sides, levelV), hasBothPolarities: passes.length > 1 };
    if (Math.abs(at / below - 1) < 0.01) break;
    below = at;
  }
  return guess;
}

/**
 * The rows with the voltage turned over where only so a power law stands out: taps or current leads were exchanged. Else
 * a film that passed its critical current would be taken for one that did not.
 */
export function rightWayUp(
  rows: VoltageRows,
  levelV: number,
): { rows: VoltageRows; start: Guess | undefined; sign: 1 | -1 } {
  const start = firstGuess(rows, levelV);
  if (start) return { rows, start, sign: 1 };
  const turned = { ...rows, voltageV: rows.voltageV.map((v) => -v) };
  const turnedStart = firstGuess(turned, levelV);
  const isLaw = turnedStart !== undefined && refinedFit(turned, levelV, turnedStart).isSure;
  return isLaw ? { rows: turned, start: turnedStart, sign: -1 } : { rows, start, sign: 1 };
}

/** Exponent from the currents at the level and at a third of it; 20 where they cannot be told apart. */
function slopeOf(sides: readonly Polarity[], levelV: number): number {
  for (const side of sides) {
    const high = passesAtA(side, levelV);
    const low = passesAtA(side, levelV / 3);
    const n = high && low ? Math.log(3) / Math.log(high.currentA / low.currentA) : Number.NaN;
    if (n > 2 && n < 150) return n;
  }
  return 20;
}

/** Fit over the rows up to the second above the level, chosen anew from each fit until the choice stands. */
export function refinedFit(rows: VoltageRows, topV: number, guess: Guess): VoltageFit {
  let atA = guess.currentA;
  let n = guess.n;
  let fit: VoltageFit | undefined;
  let chosen = '';
  for (let round = 0; round < 6; round++) {
    const used = rowsUpTo(rows.currentA, atA);
    if (fit && used.join() === chosen) break;
    chosen = used.join();
    fit = fitVoltage({
      currentA: rows.currentA,
      voltageV: rows.voltageV,
      timeS: rows.timeS,
      rows: used,
      anchorV: topV,
      anchorCurrentA: atA,
      n,
      hasBothPolarities: guess.hasBothPolarities,
      hasShunt: false,
    });
    if (!fit.isSure) break;
    atA = Math.exp(fit.lnAnchorA);
    n = fit.n;
  }
  return fit!;
}

function rowsUpTo(currentA: Float64Array, limitA: number): number[] {
  const used: number[] = [];
  for (const sign of [1, -1]) {
    const above: number[] = [];
    for (let k = 0; k < currentA.length; k++) {
      const size = currentA[k]! * sign;
      if (size < 0 || (size === 0 && sign < 0)) continue;
      if (size <= limitA) used.push(k);
      else above.push(k);
    }
    above.sort((a, b) => Math.abs(currentA[a]!) - Math.abs(currentA[b]!));
    used.push(...above.slice(0, ROWS_ABOVE));
  }
  return used.sort((a, b) => a - b);
}

/** ln of measured over fitted power-law voltage for the rows well above the fitted level. */
export function excessAbove(fit: VoltageFit, rows: VoltageRows, topV: number): number[] {
  const excess: number[] = [];
  for (let k = 0; k < rows.currentA.length; k++) {
    const current = rows.currentA[k]!;
    const law = fit.powerLawV(current);
    if (Math.abs(law) < 2 * topV || Math.abs(law) > 1e4 * topV) continue;
    const measured = rows.voltageV[k]! - (fit.totalV(current, rows.timeS?.[k]) - law);
    if (measured / law > 0) excess.push(Math.log(measured / law));
  }
  return excess;
}

/** Fit with a shunt over the rows up to 30 times the level, where the rows above it fall behind the power law. */
export function shuntedFit(
  rows: VoltageRows,
  topV: number,
  plain: VoltageFit,
  hasBothPolarities: boolean,
): { fit: VoltageFit; toV: number } | undefined {
  const excess = excessAbove(plain, rows, topV);
  const mean = excess.reduce((sum, x) => sum + x, 0) / excess.length;
  if (excess.length < 5 || mean > -0.2) return undefined;
  const used = Array.from(rows.currentA.keys()).filter(
    (k) => Math.abs(rows.voltageV[k]! - plain.offsetV - plain.ohmicOhm * rows.currentA[k]!) < 30 * topV,
  );
  const fit = fitVoltage({
    currentA: rows.currentA,
    voltageV: rows.voltageV,
    timeS: rows.timeS,
    rows: used,
    anchorV: topV,
    anchorCurrentA: Math.exp(plain.lnAnchorA),
    n: plain.n,
    hasBothPolarities,
    hasShunt: true,
  });
  if (!fit.isSure || !(fit.shuntPerOhm > 3 * fit.shuntU)) return undefined;
  const toV = used.reduce((m, k) => Math.max(m, Math.abs(fit.powerLawV(rows.currentA[k]!))), 0);
  return { fit, toV };
}
