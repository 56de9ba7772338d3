// Where a column first reaches a level, for many levels: a tree of maxima answers each in log n steps. Pure functions.

/**
 * @param values n numbers of one unit, none NaN
 * @returns for a row to begin at and a size asked of `value - reference`, the first row from there that has it; n if none
 */
export function firstAboveIn(
  values: ArrayLike<number>,
): (from: number, reference: number, rise: number) => number {
  const n = values.length;
  let leaves = 1;
  while (leaves < n) leaves *= 2;
  const largest = new Float64Array(2 * leaves).fill(Number.NEGATIVE_INFINITY);
  for (let i = 0; i < n; i++) largest[leaves + i] = values[i]!;
  for (let node = leaves - 1; node > 0; node--)
    largest[node] = Math.max(largest[2 * node]!, largest[2 * node + 1]!);
  return (from, reference, rise) => {
    if (from >= n) return n;
    let node = leaves + from;
    // up to the first subtree at or right of `from` that has such a row, then down its left side
    while (!(largest[node]! - reference >= rise)) {
      while (node % 2 === 1) node = (node - 1) / 2;
      if (node === 0) return n;
      node++;
    }
    while (node < leaves) {
      node *= 2;
      if (!(largest[node]! - reference >= rise)) node++;
    }
    return node - leaves;
  };
}
