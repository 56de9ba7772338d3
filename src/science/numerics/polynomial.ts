// Polynomials by least squares. Pure; units are the caller's.
import { invertSymmetric } from './least-squares.ts';

export interface PolynomialFit {
  coefficients: number[];
  /** inverse of the normal matrix, row by row: times the variance of a row, the covariance */
  inverse: Float64Array;
  /** standard deviation of a point about the polynomial; 0 where it passes through all */
  scatter: number;
}

/**
 * Polynomial c0 + c1 x + ... by least squares. Scale x to about 1 first: the normal equations lose digits otherwise.
 *
 * @returns undefined with fewer than order + 1 different x
 */
export function fitPolynomial(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  order: number,
): PolynomialFit | undefined {
  const size = order + 1;
  const normal = new Float64Array(size * size);
  const right = new Float64Array(size);
  for (let i = 0; i < x.length; i++)
    for (let j = 0; j < size; j++) {
      right[j] = right[j]! + y[i]! * x[i]! ** j;
      for (let k = 0; k < size; k++) normal[j * size + k] = normal[j * size + k]! + x[i]! ** (j + k);
    }
  const inverse = invertSymmetric(normal, size);
  if (!inverse) return undefined;
  const coefficients = Array.from({ length: size }, (_, j) => {
    let sum = 0;
    for (let k = 0; k < size; k++) sum += inverse[j * size + k]! * right[k]!;
    return sum;
  });
  let squares = 0;
  for (let i = 0; i < x.length; i++)
    squares += (y[i]! - coefficients.reduce((sum, c, k) => sum + c * x[i]! ** k, 0)) ** 2;
  return { coefficients, inverse, scatter: Math.sqrt(squares / Math.max(1, x.length - size)) };
}
