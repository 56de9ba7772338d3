// Least-squares curve that never falls. Pure; units are the caller's.

/**
 * The rising sequence nearest to y in weighted least squares, by pooling neighbours that are out of order.
 *
 * @param y       n numbers, in the order of their abscissa
 * @param weights n weights, 1 if left out
 * @returns n numbers, none below the one before
 *
 * Source: pool-adjacent-violators [memory: Ayer et al. 1955, Ann. Math. Stat. 26, 641].
 */
export function isotonic(y: ArrayLike<number>, weights?: ArrayLike<number>): Float64Array {
  const n = y.length;
  const means: number[] = [];
  const sums: number[] = [];
  const counts: number[] = [];
  for (let i = 0; i < n; i++) {
    means.push(y[i]!);
    sums.push(weights?.[i] ?? 1);
    counts.push(1);
    while (means.length > 1 && means.at(-2)! > means.at(-1)!) {
      const last = means.length - 1;
      const weight = sums[last - 1]! + sums[last]!;
      means[last - 1] = (means[last - 1]! * sums[last - 1]! + means[last]! * sums[last]!) / weight;
      sums[last - 1] = weight;
      counts[last - 1] = counts[last - 1]! + counts[last]!;
      means.pop();
      sums.pop();
      counts.pop();
    }
  }
  const fitted = new Float64Array(n);
  let i = 0;
  for (let k = 0; k < means.length; k++) for (let j = 0; j < counts[k]!; j++) fitted[i++] = means[k]!;
  return fitted;
}
