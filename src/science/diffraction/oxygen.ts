// Oxygen content of a 123 from its c. Pure; angstrom.

/** Relation of oxygen to c: x = intercept - slope c, for YBa2Cu3Ox. */
export const OXYGEN_OF_C = {
  interceptValue: 82.98,
  slopePerAngstrom: 6.51,
  /** scatter of published relations about one another, as a standard uncertainty of x */
  scatter: 0.1,
  fromAngstrom: 11.68,
  toAngstrom: 11.82,
  source:
    'least squares through three refinements: (6.00, 11.8194) A. Santoro et al., Mater. Res. Bull. 22 (1987) 1007; (6.26, 11.7913) single-crystal neutron study; (6.91, 11.68349) A. Williams et al., Phys. Rev. B 37 (1988) 7960',
  tag: 'derived from looked-up points',
} as const;

/**
 * Oxygen x of YBa2Cu3Ox from c: x = 82.980 - 6.510 c.
 *
 * Assumes an unstrained, cation-ordered crystal: a film longer by 0.1 % from strain looks poorer by 0.07 to 0.08.
 *
 * @returns x with a standard uncertainty that holds the relation's scatter and c's own; extrapolated outside
 * 11.68 to 11.82 angstrom
 */
export function oxygenOfC(
  cAngstrom: number,
  cAngstromU: number,
): { value: number; standardUncertainty: number; isExtrapolated: boolean } {
  const { interceptValue, slopePerAngstrom, scatter, fromAngstrom, toAngstrom } = OXYGEN_OF_C;
  return {
    value: interceptValue - slopePerAngstrom * cAngstrom,
    standardUncertainty: Math.hypot(scatter, slopePerAngstrom * cAngstromU),
    isExtrapolated: cAngstrom < fromAngstrom || cAngstrom > toAngstrom,
  };
}
