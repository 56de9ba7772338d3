// Fractions of whole numbers without end, to work a mass balance out exactly and apart from the code under test.

export interface Fraction {
  readonly top: bigint;
  readonly bottom: bigint;
}

const greatestDivisor = (a: bigint, b: bigint): bigint =>
  b === 0n ? (a < 0n ? -a : a) : greatestDivisor(b, a % b);

function reduced(top: bigint, bottom: bigint): Fraction {
  if (bottom === 0n) throw new Error('A fraction has no bottom.');
  const divisor = greatestDivisor(top, bottom) * (bottom < 0n ? -1n : 1n);
  return { top: top / divisor, bottom: bottom / divisor };
}

/** A decimal number as it is printed: '137.327' is 137327/1000. */
export function fraction(printed: string): Fraction {
  const [, sign, whole, part = ''] = /^(-?)(\d+)(?:\.(\d+))?$/.exec(printed) ?? [];
  if (whole === undefined) throw new Error(`'${printed}' is no decimal number.`);
  return reduced(BigInt(`${sign}${whole}${part}`), 10n ** BigInt(part.length));
}

export const add = (a: Fraction, b: Fraction): Fraction =>
  reduced(a.top * b.bottom + b.top * a.bottom, a.bottom * b.bottom);
export const times = (a: Fraction, b: Fraction): Fraction => reduced(a.top * b.top, a.bottom * b.bottom);
export const divided = (a: Fraction, b: Fraction): Fraction => reduced(a.top * b.bottom, a.bottom * b.top);

/** Nearest number, by 30 digits after the point. */
export const toNumber = ({ top, bottom }: Fraction): number => Number((top * 10n ** 30n) / bottom) / 1e30;
