// The normal distribution's share below a point. Pure.

/** Beyond this the series loses digits and the continued fraction is short. */
const SERIES_LIMIT = 3;

/**
 * Phi(z), the share of a standard normal distribution below z.
 *
 * Near zero Phi = 1/2 + phi(z) (z + z^3/3 + z^5/(3 x 5) + ...), in the tails 1 - Phi = phi(z)/(z + 1/(z + 2/(z + ...))).
 *
 * @param z any number; minus and plus infinity give 0 and 1
 * @returns 0 to 1, to about 1e-15 of itself near zero and 1e-14 in the lower tail
 *
 * Source: both forms [memory: Marsaglia 2004, J. Stat. Softw. 11 (4); Abramowitz and Stegun 1964, 26.2.11 and 26.2.14].
 */
export function normalCdf(z: number): number {
  if (Math.abs(z) > 40) return z > 0 ? 1 : 0;
  const density = Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
  if (Math.abs(z) <= SERIES_LIMIT) {
    let term = z;
    let sum = z;
    for (let k = 3; Math.abs(term) > 1e-17 * Math.abs(sum); k += 2) {
      term *= (z * z) / k;
      sum += term;
    }
    return 0.5 + density * sum;
  }
  const size = Math.abs(z);
  let fraction = size;
  for (let k = 120; k >= 1; k--) fraction = size + k / fraction;
  const tail = density / fraction;
  return z > 0 ? 1 - tail : tail;
}
