// Three by three matrices, row by row in nine numbers. Pure; units are the caller's.

/** Determinant of a 3 x 3 matrix. */
export function determinant3(m: ArrayLike<number>): number {
  return (
    m[0]! * (m[4]! * m[8]! - m[5]! * m[7]!) -
    m[1]! * (m[3]! * m[8]! - m[5]! * m[6]!) +
    m[2]! * (m[3]! * m[7]! - m[4]! * m[6]!)
  );
}

/**
 * Inverse of a 3 x 3 matrix by cofactors.
 *
 * @param inverse filled and returned; a loop gives its own, so that it makes no garbage
 * @returns nine numbers, row by row; undefined where |determinant| is below `smallest`
 */
export function invert3(
  m: ArrayLike<number>,
  smallest = 1e-12,
  inverse: Float64Array = new Float64Array(9),
): Float64Array | undefined {
  const determinant = determinant3(m);
  if (!(Math.abs(determinant) > smallest)) return undefined;
  inverse[0] = (m[4]! * m[8]! - m[5]! * m[7]!) / determinant;
  inverse[1] = (m[2]! * m[7]! - m[1]! * m[8]!) / determinant;
  inverse[2] = (m[1]! * m[5]! - m[2]! * m[4]!) / determinant;
  inverse[3] = (m[5]! * m[6]! - m[3]! * m[8]!) / determinant;
  inverse[4] = (m[0]! * m[8]! - m[2]! * m[6]!) / determinant;
  inverse[5] = (m[2]! * m[3]! - m[0]! * m[5]!) / determinant;
  inverse[6] = (m[3]! * m[7]! - m[4]! * m[6]!) / determinant;
  inverse[7] = (m[1]! * m[6]! - m[0]! * m[7]!) / determinant;
  inverse[8] = (m[0]! * m[4]! - m[1]! * m[3]!) / determinant;
  return inverse;
}
