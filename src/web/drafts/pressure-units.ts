// Pressures in the units of the trade, turned to Pa at the edge. Pure.
import { type Limits, numberText, readNumber } from './typed-numbers.ts';

/** Pa per unit; the Torr is 1/760 of an atmosphere [memory: NIST SP 811, appendix B]. */
const PA_PER_UNIT = {
  mTorr: 101_325 / 760_000,
  Torr: 101_325 / 760,
  mbar: 100,
  Pa: 1,
  atm: 101_325,
} as const;
export type PressureUnit = keyof typeof PA_PER_UNIT;
export const PRESSURE_UNITS = Object.keys(PA_PER_UNIT) as PressureUnit[];
export const PA_PER_ATM = PA_PER_UNIT.atm;

export function toPa(value: number, unit: PressureUnit): number {
  return value * PA_PER_UNIT[unit];
}

export function fromPa(valuePa: number, unit: PressureUnit): number {
  return valuePa / PA_PER_UNIT[unit];
}

/** Reads a pressure typed in a unit, answered in Pa; limits are in Pa. */
export function readPressurePa(text: string, unit: PressureUnit, limitsPa: Limits) {
  const limits = Object.fromEntries(
    Object.entries({ ...limitsPa, unit }).map(([name, limit]) => [
      name,
      typeof limit === 'number' ? Number(fromPa(limit, unit).toPrecision(3)) : limit,
    ]),
  ) as Limits;
  const reading = readNumber(text, limits);
  return 'fault' in reading || reading.value === null
    ? reading
    : { value: Number(toPa(reading.value, unit).toPrecision(12)) };
}

/** The unit in which a pressure is easiest to read, and its number there. */
export function easiestPressure(valuePa: number): { text: string; unit: PressureUnit } {
  const unit =
    valuePa === 0 || valuePa >= 0.05 * PA_PER_ATM ? 'atm' : valuePa < toPa(1, 'Torr') ? 'mTorr' : 'Torr';
  return { text: numberText(Number(fromPa(valuePa, unit).toPrecision(8))), unit };
}
