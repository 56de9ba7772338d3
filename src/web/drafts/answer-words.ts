// Quantities of an answer in the words of a sentence. Pure.
import { decadeText, raised, shortNumber, uncertainText } from '../../charts/number-text.ts';

export interface AnswerQuantity {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly unit: string;
}

/** Plain digits end here; beyond, value and uncertainty share one power of ten. */
const PLAIN = { least: 1e-3, most: 1e5 };

/** Value and uncertainty to the same place, whatever their size. */
function numberText(value: number, standardUncertainty: number): string {
  const size = Math.max(Math.abs(value), standardUncertainty);
  if (!(standardUncertainty > 0) || !Number.isFinite(size)) return shortNumber(value);
  if (size >= PLAIN.least && size < PLAIN.most) {
    // two figures of the uncertainty; the value to the same place, also left of the point
    const step = 10 ** (Math.floor(Math.log10(standardUncertainty)) - 1);
    return step > 1
      ? `${Math.round(value / step) * step} ± ${Math.round(standardUncertainty / step) * step}`
      : uncertainText(value, standardUncertainty);
  }
  const power = Math.floor(Math.log10(size));
  const scaled = uncertainText(value / 10 ** power, standardUncertainty / 10 ** power);
  return `(${scaled})×10${raised(power)}`;
}

/** Losses below this are not worth their digits, %. */
const LEAST_PERCENT = 0.001;

/** A share as per cent with its uncertainty: `3.1 ± 1.0 %`. */
export function shareText(quantity: Pick<AnswerQuantity, 'value' | 'standardUncertainty'> | null): string {
  if (!quantity) return 'not established';
  const { value, standardUncertainty } = quantity;
  return value >= 0 && 100 * (value + 2 * standardUncertainty) < LEAST_PERCENT
    ? `below ${LEAST_PERCENT} %`
    : `${numberText(100 * value, 100 * standardUncertainty)} %`;
}

/** A quantity with its uncertainty in another unit. */
export function quantityText(
  quantity: Pick<AnswerQuantity, 'value' | 'standardUncertainty'> | null,
  unit: string,
  factor = 1,
): string {
  if (!quantity) return 'not known';
  const number = numberText(factor * quantity.value, factor * quantity.standardUncertainty);
  return unit === '' ? number : `${number} ${unit}`;
}

const TIME_UNITS = [
  { unit: 'years', s: 31_557_600, from: 1.5 * 31_557_600 },
  { unit: 'days', s: 86_400, from: 2 * 86_400 },
  { unit: 'h', s: 3600, from: 2 * 3600 },
  { unit: 'min', s: 60, from: 120 },
  { unit: 's', s: 1, from: 0 },
] as const;

/** A time with its uncertainty in the unit that suits it. */
export function timeText(quantity: Pick<AnswerQuantity, 'value' | 'standardUncertainty'> | null): string {
  if (!quantity) return 'not known';
  const { unit, s } = TIME_UNITS.find(({ from }) => quantity.value >= from) ?? TIME_UNITS.at(-1)!;
  return quantityText(quantity, unit, 1 / s);
}

/** A pressure whose logarithm is what is known: `10⁻⁹·² atm`. */
export function decadesText(log10Po2Atm: number): string {
  const whole = Math.floor(log10Po2Atm);
  const factor = shortNumber(10 ** (log10Po2Atm - whole), 2);
  return `${factor}×${decadeText(whole, false)} atm`;
}

/** Odds in per cent, never a certainty that a finite number of draws cannot give. */
export function drawnOddsText(odds: number): string {
  if (odds <= 0) return 'below 0.1 %';
  if (odds >= 1) return 'above 99.9 %';
  const percent = 100 * odds;
  return `${percent < 10 || percent > 90 ? percent.toFixed(1) : percent.toFixed(0)} %`;
}
