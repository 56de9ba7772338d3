// Compares a number with one as its source prints it.
import { expect } from 'vitest';
import { halfLastPlace } from './outside/outside-check.ts';

/** Fails unless `actual` rounds to the printed value: off by at most half a unit in the last place. */
export function expectPrinted(actual: number, printed: string): void {
  const difference = Math.abs(actual - Number(printed));
  expect(difference, `${actual} against printed ${printed}`).toBeLessThanOrEqual(
    halfLastPlace(printed) * (1 + 1e-9),
  );
}
