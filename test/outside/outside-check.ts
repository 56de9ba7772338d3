// A number of ours beside the same number from outside the project, with the source beside it.

/** How the outside value is known; a check known from memory alone is printed but does not count. */
export type Provenance = 'looked-up' | 'memory' | 'common practice' | 'derived' | 'reference library';

export interface OutsideCheck {
  /** the function checked, as `npm run check:science` prints it */
  readonly functionName: string;
  /** rows that share a quantity count once */
  readonly quantity: string;
  /** author, year, journal or standard, page or table; or the library with its version */
  readonly source: string;
  readonly provenance: Provenance;
  /** the value as the source prints it */
  readonly expected: string;
  readonly unit: string;
  /** our value, in the same unit */
  readonly got: () => number;
  /** largest allowed difference; half a unit in the last printed place if left out */
  readonly tolerance?: number;
  /** why the tolerance is wider than half a unit in the last place */
  readonly toleranceReason?: string;
}

/** Half a unit in the last place of a number as printed: '1.54059' gives 5e-6, '4e-3' gives 5e-4. */
export function halfLastPlace(printed: string): number {
  const match = /^[-+]?\d+(?:\.(\d+))?(?:e([-+]?\d+))?$/i.exec(printed.trim());
  if (!match) throw new Error(`'${printed}' is not a number as a source prints it.`);
  return 0.5 * 10 ** (Number(match[2] ?? 0) - (match[1]?.length ?? 0));
}
