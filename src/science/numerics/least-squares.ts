// Non-linear least squares with bounds, weights and covariance. Pure; units are the caller's.

/** y = f(x; parameters), one number a point. */
export type Model = (parameters: Float64Array, pointIndex: number) => number;

export interface LeastSquaresOptions {
  /** standard uncertainty of each y; all 1 if left out */
  sigmas?: ArrayLike<number>;
  lower?: ArrayLike<number>;
  upper?: ArrayLike<number>;
  /** natural size of each parameter, for the difference step; |start| or 1 if left out */
  scales?: ArrayLike<number>;
  maxIterations?: number;
  /** stop when chi squared falls by less than this share; default 1e-10 */
  tolerance?: number;
}

export interface LeastSquaresResult {
  parameters: Float64Array;
  /** inverse of J'WJ at the solution, row by row, not scaled by the reduced chi squared */
  covariance: Float64Array;
  standardUncertainties: Float64Array;
  chiSquared: number;
  degreesOfFreedom: number;
  iterations: number;
  /** false when the iterations ran out or the normal matrix could not be inverted */
  isConverged: boolean;
  /** true where the parameter ended on a bound, so that its uncertainty means little */
  isAtBound: boolean[];
}

/**
 * Solves A x = b for a symmetric positive definite A by Cholesky, in place of A's lower half.
 *
 * @returns false if A is not positive definite; b then holds nothing useful
 */
export function solveCholesky(matrix: Float64Array, n: number, rightSide: Float64Array): boolean {
  if (!factorCholesky(matrix, n)) return false;
  substituteCholesky(matrix, n, rightSide);
  return true;
}

function factorCholesky(a: Float64Array, n: number): boolean {
  for (let j = 0; j < n; j++) {
    let diagonal = a[j * n + j]!;
    for (let k = 0; k < j; k++) diagonal -= a[j * n + k]! ** 2;
    if (!(diagonal > 0)) return false;
    const root = Math.sqrt(diagonal);
    a[j * n + j] = root;
    for (let i = j + 1; i < n; i++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= a[i * n + k]! * a[j * n + k]!;
      a[i * n + j] = sum / root;
    }
  }
  return true;
}

function substituteCholesky(factor: Float64Array, n: number, b: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = b[i]!;
    for (let k = 0; k < i; k++) sum -= factor[i * n + k]! * b[k]!;
    b[i] = sum / factor[i * n + i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i]!;
    for (let k = i + 1; k < n; k++) sum -= factor[k * n + i]! * b[k]!;
    b[i] = sum / factor[i * n + i]!;
  }
}

/**
 * Inverse of a symmetric positive definite matrix, row by row; undefined if it is not positive definite. The matrix is
 * scaled to a unit diagonal first, so that parameters of very different size do not spoil it.
 */
export function invertSymmetric(matrix: Float64Array, n: number): Float64Array | undefined {
  const scale = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    const diagonal = matrix[i * n + i]!;
    if (!(diagonal > 0)) return undefined;
    scale[i] = 1 / Math.sqrt(diagonal);
  }
  const factor = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) factor[i * n + j] = matrix[i * n + j]! * scale[i]! * scale[j]!;
  if (!factorCholesky(factor, n)) return undefined;
  const inverse = new Float64Array(n * n);
  const column = new Float64Array(n);
  for (let j = 0; j < n; j++) {
    column.fill(0);
    column[j] = 1;
    substituteCholesky(factor, n, column);
    for (let i = 0; i < n; i++) inverse[i * n + j] = column[i]! * scale[i]! * scale[j]!;
  }
  return inverse;
}

/**
 * Least squares by the Levenberg-Marquardt method: minimises sum(((y_i - f_i)/sigma_i)^2) with each parameter kept in
 * its bounds. Derivatives are central differences.
 *
 * @param model f, called with the parameters and a point's index
 * @param y     n measured values; NaN marks a point to leave out
 * @param start first guess, inside the bounds
 * @returns parameters with their covariance
 *
 * Source: [memory: Marquardt 1963, J. Soc. Ind. Appl. Math. 11, 431]; checked in the tests against an independent library.
 */
export function fitLeastSquares(
  model: Model,
  y: ArrayLike<number>,
  start: ArrayLike<number>,
  options: LeastSquaresOptions = {},
): LeastSquaresResult {
  const nPoints = y.length;
  const n = start.length;
  const { sigmas, lower, upper, scales, maxIterations = 200, tolerance = 1e-10 } = options;
  const clamp = (value: number, i: number): number =>
    Math.min(upper?.[i] ?? Number.POSITIVE_INFINITY, Math.max(lower?.[i] ?? Number.NEGATIVE_INFINITY, value));
  let parameters = Float64Array.from({ length: n }, (_, i) => clamp(start[i]!, i));
  const used: number[] = [];
  for (let i = 0; i < nPoints; i++) if (!Number.isNaN(y[i]!) && !Number.isNaN(sigmas?.[i] ?? 1)) used.push(i);
  const weight = (i: number): number => 1 / (sigmas?.[i] ?? 1);
  const chiSquaredOf = (candidate: Float64Array): number => {
    let sum = 0;
    for (const i of used) sum += ((y[i]! - model(candidate, i)) * weight(i)) ** 2;
    return Number.isNaN(sum) ? Number.POSITIVE_INFINITY : sum;
  };
  const steps = Float64Array.from({ length: n }, (_, i) => {
    const size = scales?.[i] ?? (Math.abs(parameters[i]!) || 1);
    return 1e-6 * size;
  });
  const normal = new Float64Array(n * n);
  const gradient = new Float64Array(n);
  const row = new Float64Array(n);
  const trial = new Float64Array(n);
  const differences: Float64Array[] = [];
  const linearise = (): void => {
    normal.fill(0);
    gradient.fill(0);
    differences.length = 0;
    for (let j = 0; j < n; j++) {
      const forward = clamp(parameters[j]! + steps[j]!, j);
      const back = clamp(parameters[j]! - steps[j]!, j);
      const column = new Float64Array(used.length);
      trial.set(parameters);
      trial[j] = forward;
      for (let k = 0; k < used.length; k++) column[k] = model(trial, used[k]!);
      trial[j] = back;
      for (let k = 0; k < used.length; k++)
        column[k] = (column[k]! - model(trial, used[k]!)) / (forward - back || 1);
      differences.push(column);
    }
    for (let k = 0; k < used.length; k++) {
      const i = used[k]!;
      const residual = (y[i]! - model(parameters, i)) * weight(i);
      for (let j = 0; j < n; j++) row[j] = differences[j]![k]! * weight(i);
      for (let j = 0; j < n; j++) {
        gradient[j] = gradient[j]! + row[j]! * residual;
        for (let m = 0; m <= j; m++) normal[j * n + m] = normal[j * n + m]! + row[j]! * row[m]!;
      }
    }
    for (let j = 0; j < n; j++) for (let m = 0; m < j; m++) normal[m * n + j] = normal[j * n + m]!;
  };
  let chiSquared = chiSquaredOf(parameters);
  let damping = 1e-3;
  let isConverged = false;
  let iterations = 0;
  for (; iterations < maxIterations && !isConverged; iterations++) {
    linearise();
    let isBetter = false;
    for (let attempt = 0; attempt < 30 && !isBetter; attempt++) {
      const damped = normal.slice();
      const step = gradient.slice();
      for (let j = 0; j < n; j++) {
        const diagonal = normal[j * n + j]!;
        damped[j * n + j] = diagonal + damping * (diagonal > 0 ? diagonal : 1);
      }
      if (solveCholesky(damped, n, step)) {
        const candidate = Float64Array.from(parameters, (value, j) => clamp(value + step[j]!, j));
        const candidateChiSquared = chiSquaredOf(candidate);
        if (candidateChiSquared <= chiSquared) {
          isConverged = chiSquared - candidateChiSquared <= tolerance * Math.max(candidateChiSquared, 1e-300);
          parameters = candidate;
          chiSquared = candidateChiSquared;
          damping = Math.max(damping / 10, 1e-12);
          isBetter = true;
          continue;
        }
      }
      damping *= 10;
    }
    if (!isBetter) {
      isConverged = Number.isFinite(chiSquared); // no downhill step at any damping: a minimum to rounding
      break;
    }
  }
  linearise();
  const covariance = invertSymmetric(normal, n);
  const isAtBound = Array.from(parameters, (value, j) => value === lower?.[j] || value === upper?.[j]);
  return {
    parameters,
    covariance: covariance ?? new Float64Array(n * n).fill(Number.NaN),
    standardUncertainties: Float64Array.from({ length: n }, (_, j) =>
      covariance ? Math.sqrt(covariance[j * n + j]!) : Number.NaN,
    ),
    chiSquared,
    degreesOfFreedom: used.length - n,
    iterations,
    isConverged: isConverged && covariance !== undefined,
    isAtBound,
  };
}
