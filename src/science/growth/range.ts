// Refusals that name the field, the value found and what is allowed.
import { DomainError, type ScienceCode } from '../errors.ts';

export interface Range {
  readonly min?: number;
  readonly max?: number;
  /** the least value itself is not allowed */
  readonly isAboveMin?: boolean;
}

/** Numbers above 0. */
export const POSITIVE: Range = { min: 0, isAboveMin: true };

function inWords({ min, max, isAboveMin = false }: Range): string {
  const low = min === undefined ? '' : isAboveMin ? `above ${min}` : `${min} or more`;
  const high = max === undefined ? '' : `up to ${max}`;
  return [low, high].filter(Boolean).join(' and ') || 'a finite number';
}

/**
 * Refuses a number outside a range.
 *
 * @throws DomainError with the code given: 'field is value; allowed is range.'
 */
export function checkRange(
  field: string,
  value: number,
  range: Range,
  code: ScienceCode = 'GROWTH_RANGE',
): void {
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY, isAboveMin = false } = range;
  if (Number.isFinite(value) && value >= min && value <= max && !(isAboveMin && value === min)) return;
  throw new DomainError(code, `${field} is ${value}; allowed is ${inWords(range)}.`);
}
