// What a chamber makes of a commanded path: gas that fills and is pumped, a film that lags. SI; sccm and atm as named.
import type { StatedNumber } from '../numerics/propagate.ts';
import { propagate } from '../numerics/propagate.ts';
import type { PathSamples } from './path.ts';
import { checkRange, POSITIVE } from './range.ts';

/** 1 standard cubic centimetre a minute (0 degC, 101325 Pa) as a throughput at 0 degC, Pa m3/s [derived: 101325 x 1e-6/60]. */
export const PA_M3_PER_S_OF_SCCM = 101325e-6 / 60;
export const PA_PER_ATM = 101325;
const STANDARD_K = 273.15;

/** Throughput at the temperature of the chamber's gas, Pa m3/s: Q = flow x 101325 Pa x T/273.15 K. */
export function throughputPaM3PerS(flowSccm: number, gasK: number): number {
  return flowSccm * PA_M3_PER_S_OF_SCCM * (gasK / STANDARD_K);
}

export interface ChamberGas {
  readonly volumeM3: number;
  /** of oxygen */
  readonly throughputPaM3PerS: number;
  /** while oxygen is let in; 0 with the pump shut off */
  readonly pumpingWhileFillingM3PerS: number;
  /** while it is taken away */
  readonly pumpingM3PerS: number;
}

/**
 * Pressure after a time: V dp/dt = Q - S p, so p = Q/S + (p0 - Q/S) exp(-S t/V), or p0 + Q t/V without a pump.
 * Assumes one well mixed volume, and flow and speed that do not change with pressure.
 *
 * Source: [derived: balance of gas in one volume].
 */
export function pressureAfterPa(
  fromPa: number,
  timeS: number,
  volumeM3: number,
  inflowPaM3PerS: number,
  speedM3PerS: number,
): number {
  if (speedM3PerS === 0) return fromPa + (inflowPaM3PerS * timeS) / volumeM3;
  const settledPa = inflowPaM3PerS / speedM3PerS;
  return settledPa + (fromPa - settledPa) * Math.exp((-speedM3PerS * timeS) / volumeM3);
}

/**
 * Time from one pressure to another: t = (V/S) ln((p0 - Q/S)/(p1 - Q/S)), or V (p1 - p0)/Q without a pump.
 *
 * @returns s; infinite if the balance of flow and pump lies short of the pressure wanted
 */
export function timeToPressureS(
  fromPa: number,
  toPa: number,
  volumeM3: number,
  inflowPaM3PerS: number,
  speedM3PerS: number,
): number {
  if (fromPa === toPa) return 0;
  if (speedM3PerS === 0) {
    const timeS = (volumeM3 * (toPa - fromPa)) / inflowPaM3PerS;
    return timeS >= 0 ? timeS : Number.POSITIVE_INFINITY;
  }
  const settledPa = inflowPaM3PerS / speedM3PerS;
  const ratio = (fromPa - settledPa) / (toPa - settledPa);
  return ratio >= 1 ? (volumeM3 / speedM3PerS) * Math.log(ratio) : Number.POSITIVE_INFINITY;
}

export interface StatedGas {
  readonly volumeL: StatedNumber;
  readonly oxygenFlowSccm: StatedNumber;
  readonly pumpingWhileFillingLPerS: StatedNumber;
  readonly pumpingLPerS: StatedNumber;
  readonly gasC: number;
}

/** @throws DomainError GROWTH_RANGE */
export function chamberGas({
  volumeL,
  oxygenFlowSccm,
  pumpingWhileFillingLPerS,
  pumpingLPerS,
  gasC,
}: StatedGas): ChamberGas {
  checkRange('chamber.volumeL', volumeL.value, POSITIVE);
  checkRange('chamber.oxygenFlowSccm', oxygenFlowSccm.value, POSITIVE);
  checkRange('chamber.pumpingWhileFillingLPerS', pumpingWhileFillingLPerS.value, { min: 0 });
  checkRange('chamber.pumpingLPerS', pumpingLPerS.value, POSITIVE);
  checkRange('chamber.gasC', gasC, { min: -200, max: 1200 });
  return {
    volumeM3: volumeL.value / 1000,
    throughputPaM3PerS: throughputPaM3PerS(oxygenFlowSccm.value, gasC + STANDARD_K),
    pumpingWhileFillingM3PerS: pumpingWhileFillingLPerS.value / 1000,
    pumpingM3PerS: pumpingLPerS.value / 1000,
  };
}

/** Time that the chamber needs from one oxygen pressure to another, with its uncertainty (first order); null: never. */
export function chamberTimeS(
  gas: StatedGas,
  fromPa: number,
  toPa: number,
): { value: number; standardUncertainty: number } | null {
  const isFilling = toPa > fromPa;
  const speed = isFilling ? gas.pumpingWhileFillingLPerS : gas.pumpingLPerS;
  const { values, standardUncertainties } = propagate(
    ([volumeL, flowSccm, speedLPerS]) => [
      timeToPressureS(
        fromPa,
        toPa,
        volumeL! / 1000,
        isFilling ? throughputPaM3PerS(flowSccm!, gas.gasC + STANDARD_K) : 0,
        Math.max(0, speedLPerS!) / 1000,
      ),
    ],
    [
      { ...gas.volumeL, isPositive: true },
      { ...gas.oxygenFlowSccm, isPositive: true },
      { ...speed, isPositive: speed.value > 0 },
    ],
  );
  const [value, standardUncertainty] = [values[0]!, standardUncertainties[0]!];
  return Number.isFinite(value) && Number.isFinite(standardUncertainty)
    ? { value, standardUncertainty }
    : null;
}

/**
 * The likely path at the film. Gas follows the command as fast as flow and pump allow; temperature follows with one time
 * constant, tau dT/dt = T_commanded - T, solved exactly between samples.
 *
 * @param lagS tau, s; 0: no lag
 * @returns samples at the same times
 *
 * Source: [derived: first-order responses].
 * Range: one mixed volume and one thermal mass; radiation makes tau fall as 1/T^3, so state tau for the temperature that matters.
 */
export function pathAtFilm(path: PathSamples, gas: ChamberGas | null, lagS: number): PathSamples {
  checkRange('chamber.thermalLagS', lagS, { min: 0, max: 1e5 });
  const { timeS, temperatureK: commandedK, log10Po2Atm: commandedLog } = path;
  const temperatureK = commandedK.slice();
  const log10Po2Atm = commandedLog.slice();
  for (let i = 1; i < timeS.length; i++) {
    const dt = timeS[i]! - timeS[i - 1]!;
    if (lagS > 0) {
      const slope = dt > 0 ? (commandedK[i]! - commandedK[i - 1]!) / dt : 0;
      const behind = temperatureK[i - 1]! - commandedK[i - 1]! + slope * lagS;
      temperatureK[i] =
        dt > 0 ? commandedK[i]! - slope * lagS + behind * Math.exp(-dt / lagS) : temperatureK[i - 1]!;
    }
    if (gas)
      log10Po2Atm[i] = Math.log10(
        followedPa(10 ** log10Po2Atm[i - 1]! * PA_PER_ATM, 10 ** commandedLog[i]! * PA_PER_ATM, dt, gas) /
          PA_PER_ATM,
      );
  }
  return { timeS, temperatureK, log10Po2Atm };
}

function followedPa(fromPa: number, commandedPa: number, dt: number, gas: ChamberGas): number {
  if (commandedPa >= fromPa)
    return Math.max(
      fromPa,
      Math.min(
        commandedPa,
        pressureAfterPa(fromPa, dt, gas.volumeM3, gas.throughputPaM3PerS, gas.pumpingWhileFillingM3PerS),
      ),
    );
  return Math.max(commandedPa, pressureAfterPa(fromPa, dt, gas.volumeM3, 0, gas.pumpingM3PerS));
}
