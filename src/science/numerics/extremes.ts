// Smallest and largest of many numbers. Pure functions.
// A column of a measured file may have a million rows: spread into Math.min they would not fit on the stack.

/**
 * @param values n numbers of one unit; NaN is passed over
 * @returns the smallest, in their unit; infinity if there is none
 */
export function smallestOf(values: ArrayLike<number>): number {
  let smallest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < values.length; i++) if (values[i]! < smallest) smallest = values[i]!;
  return smallest;
}

/**
 * @param values n numbers of one unit; NaN is passed over
 * @returns the largest, in their unit; minus infinity if there is none
 */
export function largestOf(values: ArrayLike<number>): number {
  let largest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) if (values[i]! > largest) largest = values[i]!;
  return largest;
}
