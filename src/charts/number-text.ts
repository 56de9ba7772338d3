// Numbers as a chart writes them: true minus sign, powers of ten raised. Nothing here reads numbers back.
import { format } from 'd3-format';

const RAISED = '⁰¹²³⁴⁵⁶⁷⁸⁹';

/** An integer in raised digits. */
export function raised(power: number): string {
  const digits = [...String(Math.abs(power))].map((digit) => RAISED[Number(digit)]).join('');
  return power < 0 ? `⁻${digits}` : digits;
}

/** A power of ten as axis text: 10⁻³, or plain from 0.01 to 1000 where `isPlain`. */
export function decadeText(power: number, isPlain: boolean): string {
  return isPlain && power >= -2 && power <= 3 ? format('.10~f')(10 ** power) : `10${raised(power)}`;
}

/** Four significant figures, for a label or a sentence. */
export function shortNumber(value: number, figures = 4): string {
  if (!Number.isFinite(value)) {
    return 'not known';
  }
  const size = Math.abs(value);
  if (value === 0 || (size >= 1e-3 && size < 10 ** Math.max(figures, 5))) {
    return format(`.${figures}~r`)(value);
  }
  const power = Math.floor(Math.log10(size));
  const factor = size / 10 ** power;
  return `${value < 0 ? '−' : ''}${format(`.${figures}~r`)(factor)}×10${raised(power)}`;
}

/** "value ± standard uncertainty" with the uncertainty to two figures and the value to the same place. */
export function uncertainText(value: number, standardUncertainty: number | null): string {
  if (!standardUncertainty || !Number.isFinite(standardUncertainty) || !Number.isFinite(value)) {
    return shortNumber(value);
  }
  const place = 1 - Math.floor(Math.log10(standardUncertainty));
  const size = Math.max(Math.abs(value), standardUncertainty);
  if (place < 0 || place > 9 || size >= 1e6) {
    return `${shortNumber(value)} ± ${shortNumber(standardUncertainty, 2)}`;
  }
  const fixed = format(`.${place}f`);
  return `${fixed(value)} ± ${fixed(standardUncertainty)}`;
}

/** Count with its noun: `1 film`, `3 films`. */
export const counted = (count: number, noun: string): string => `${count} ${noun}${count === 1 ? '' : 's'}`;
