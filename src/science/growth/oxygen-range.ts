// Oxygen pressures that a path may have, and what to try where another unit was meant. atm, and log10 of atm.
import { DomainError } from '../errors.ts';
import { inWords } from '../measured.ts';

/** Units of a gauge in atm [derived: 1 atm is 101325 Pa and 760 Torr]. */
export const ATM_PER_UNIT = { Pa: 1 / 101325, mbar: 100 / 101325, Torr: 1 / 760, mTorr: 1e-3 / 760 } as const;

const LEAST_ATM = 1e-20;
const MOST_ATM = 10;

/** @throws DomainError PATH_RANGE */
export function checkPo2Atm(field: string, valueAtm: number): void {
  if (valueAtm >= LEAST_ATM && valueAtm <= MOST_ATM) return;
  throw new DomainError(
    'PATH_RANGE',
    `${field} is ${valueAtm} atm; allowed is ${LEAST_ATM} to ${MOST_ATM} atm.`,
    valueAtm > MOST_ATM
      ? `If it was meant in Pa, give ${inWords(valueAtm * ATM_PER_UNIT.Pa)}; in mTorr, ${inWords(valueAtm * ATM_PER_UNIT.mTorr)}.`
      : 'Give the oxygen partial pressure in atm, above 0.',
  );
}

/** @throws DomainError PATH_RANGE */
export function checkLog10Po2(field: string, value: number): void {
  if (value >= Math.log10(LEAST_ATM) && value <= Math.log10(MOST_ATM)) return;
  throw new DomainError(
    'PATH_RANGE',
    `${field} is ${value}; allowed is ${Math.log10(LEAST_ATM)} to ${Math.log10(MOST_ATM)}, the decimal logarithm of the oxygen pressure in atm.`,
    value > 0
      ? `If it is a pressure in Pa, give ${inWords(Math.log10(value * ATM_PER_UNIT.Pa))}; in mTorr, ${inWords(Math.log10(value * ATM_PER_UNIT.mTorr))}.`
      : 'Give log10 of the pressure in atm.',
  );
}
