// Weighted straight line through the origin. Pure; units are the caller's.

export interface OriginLine {
  readonly slope: number;
  /** NaN for one point without an uncertainty */
  readonly variance: number;
  /** sum of ((y - b x)/u)^2; null where a point states no uncertainty */
  readonly chiSquared: number | null;
  readonly degreesOfFreedom: number;
  /** factor that the stated uncertainties were widened by: the root of chi squared a degree of freedom, where above 1 */
  readonly widening: number;
}

/**
 * Least squares through the origin: b = sum(w x y)/sum(w x^2), var b = 1/sum(w x^2), w = 1/u^2. Points that scatter by more
 * than they state widen it. Where a point states no uncertainty all have the same weight, and the scatter about the line
 * gives the variance.
 *
 * @param u one uncertainty a point, above 0; null where none was stated
 *
 * Source: [looked-up: NIST Statistical Reference Datasets, linear regression without intercept]; widening
 * [memory: Birge 1932, Phys. Rev. 40, 207].
 */
export function fitThroughOrigin(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  u: readonly (number | null)[],
): OriginLine {
  const isStated = u.every((each) => each !== null);
  let squares = 0;
  let products = 0;
  for (let i = 0; i < x.length; i++) {
    const weight = isStated ? 1 / u[i]! ** 2 : 1;
    squares += weight * x[i]! ** 2;
    products += weight * x[i]! * y[i]!;
  }
  const slope = products / squares;
  const degreesOfFreedom = x.length - 1;
  let residual = 0; // of one point it is 0, not what rounding leaves
  for (let i = 0; i < x.length && degreesOfFreedom > 0; i++)
    residual += ((y[i]! - slope * x[i]!) / (isStated ? u[i]! : 1)) ** 2;
  const perFreedom = degreesOfFreedom > 0 ? residual / degreesOfFreedom : Number.NaN;
  const widening = isStated && perFreedom > 1 ? Math.sqrt(perFreedom) : 1;
  return {
    slope,
    variance: (isStated ? widening ** 2 : perFreedom) / squares,
    chiSquared: isStated ? residual : null,
    degreesOfFreedom,
    widening,
  };
}
