// Fluence on the target and condition at the film's surface, derived from what a grower reads. SI; K and degC as named.
import { DomainError } from '../errors.ts';
import type { StatedNumber } from '../numerics/propagate.ts';

/**
 * Fluence on the target F = E / A, with u(F) / F = sqrt((u(E) / E)^2 + (u(A) / A)^2).
 * Assumes an energy spread evenly over the spot, and that energy and area were measured apart from each other.
 *
 * @param energyJ     energy of one pulse at the target
 * @param spotAreaM2  area of the spot
 * @returns fluence, J/m2; no uncertainty where neither input states one. Where only one does, the other adds nothing:
 *   the result is then a lower bound of the uncertainty
 * @throws DomainError FLUENCE_INPUT if energy or area is not above 0
 *
 * Source: [derived: definition of fluence; propagation for a quotient as in JCGM 100:2008, 5.1.2].
 * Range: relative uncertainties up to about 0.3, where the first order holds [common practice].
 */
export function fluenceJPerM2(energyJ: StatedNumber, spotAreaM2: StatedNumber): StatedNumber {
  for (const [name, { value }] of Object.entries({ energyJ, spotAreaM2 })) {
    if (!(value > 0))
      throw new DomainError('FLUENCE_INPUT', `${name} is ${value}; expected a number above 0.`);
  }
  const value = energyJ.value / spotAreaM2.value;
  const shares = [energyJ, spotAreaM2].flatMap(({ value: part, standardUncertainty }) =>
    standardUncertainty === null ? [] : [standardUncertainty / part],
  );
  return { value, standardUncertainty: shares.length === 0 ? null : value * Math.hypot(...shares) };
}

/**
 * Temperature of the film's surface T_s = T_read + (T_s - T_read), the offset with its uncertainty.
 * Assumes that the reading itself adds nothing beside what the offset's uncertainty holds.
 *
 * @param readingC what the thermometer said, degC
 * @param offsetK  surface minus reading; null: not known, which is taken as 0 without an uncertainty
 * @returns surface temperature, degC
 *
 * Source: [derived: definition of the offset].
 */
export function surfaceTemperatureC(readingC: number, offsetK: StatedNumber | null): StatedNumber {
  return {
    value: readingC + (offsetK?.value ?? 0),
    standardUncertainty: offsetK?.standardUncertainty ?? null,
  };
}

/**
 * Oxygen partial pressure p(O2) = x p of an ideal mixture.
 *
 * @param gaugePa     what the gauge said
 * @param kind        'total': of all gas; 'oxygen partial': of oxygen alone, whatever the share
 * @param oxygenShare mole fraction of O2 in the gas, 0 to 1
 * @returns oxygen partial pressure, Pa
 * @throws DomainError OXYGEN_SHARE if the share lies outside 0 to 1
 *
 * Source: [memory: Dalton's law of partial pressures, any textbook of physical chemistry].
 * Range: pressures far below 10 MPa.
 */
export function oxygenPressurePa(
  gaugePa: number,
  kind: 'total' | 'oxygen partial',
  oxygenShare: number,
): number {
  if (!(oxygenShare >= 0 && oxygenShare <= 1))
    throw new DomainError('OXYGEN_SHARE', `oxygenShare is ${oxygenShare}; expected 0 to 1.`);
  return kind === 'total' ? gaugePa * oxygenShare : gaugePa;
}
