// What a reduction gives back: numbers with an uncertainty and a unit, and flags that say what is missing or doubtful.

/** A measured or fitted number; null where a value would be a lie, with a flag that says why. */
export interface Measured {
  value: number;
  standardUncertainty: number;
  unit: string;
}

/** Why a result is missing, extrapolated or doubtful; the message is for people. */
export interface Flag {
  code: string;
  message: string;
}

/** A number for a sentence: four significant digits, without trailing zeros. */
export function inWords(value: number): string {
  return Number.isFinite(value) ? String(Number(value.toPrecision(4))) : 'no number';
}
