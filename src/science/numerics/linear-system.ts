// Linear systems with any number of rows and columns, and what is wrong with one that has no single solution. Pure.

interface LinearSolution {
  /** the x that solves the system where it is the only one; otherwise undefined */
  readonly solution: Float64Array | undefined;
  /** columns whose x could be chosen freely: none for a single solution */
  readonly freeColumns: readonly number[];
  /** rows that no x satisfies: none where the system has a solution */
  readonly brokenRows: readonly number[];
}

/**
 * Solves A x = b by elimination with complete pivoting. Columns are scaled to a largest element of 1 first, so that the
 * tolerance means the same for each.
 *
 * @param rows      m rows of n coefficients
 * @param rightSide m numbers
 * @param tolerance share of the largest element, and of the largest right side, below which a number counts as zero
 *
 * Source: [memory: Golub and Van Loan 1996, Matrix Computations, sec. 3.4.8].
 */
export function solveLinearSystem(
  rows: readonly (readonly number[])[],
  rightSide: readonly number[],
  tolerance = 1e-10,
): LinearSolution {
  const m = rows.length;
  const n = rows[0]?.length ?? 0;
  const scales = Array.from({ length: n }, (_, j) => Math.max(...rows.map((row) => Math.abs(row[j]!))) || 1);
  const a = rows.map((row, i) =>
    Float64Array.from([...row.map((value, j) => value / scales[j]!), rightSide[i]!]),
  );
  const rowOrder = Array.from({ length: m }, (_, i) => i);
  const columnOrder = Array.from({ length: n }, (_, j) => j);
  const sizeOfB = Math.max(...rightSide.map(Math.abs), Number.MIN_VALUE);
  let rank = 0;
  for (; rank < Math.min(m, n); rank++) {
    const pivot = largestElement(a, rowOrder, columnOrder, rank);
    if (Math.abs(a[rowOrder[pivot.row]!]![columnOrder[pivot.column]!]!) <= tolerance) break;
    swap(rowOrder, rank, pivot.row);
    swap(columnOrder, rank, pivot.column);
    const pivotRow = a[rowOrder[rank]!]!;
    const pivotColumn = columnOrder[rank]!;
    for (let i = 0; i < m; i++) {
      if (i === rank) continue;
      const row = a[rowOrder[i]!]!;
      const factor = row[pivotColumn]! / pivotRow[pivotColumn]!;
      if (factor === 0) continue;
      for (let j = 0; j <= n; j++) row[j] = row[j]! - factor * pivotRow[j]!;
      row[pivotColumn] = 0;
    }
  }
  const brokenRows = rowOrder.slice(rank).filter((i) => Math.abs(a[i]![n]!) > tolerance * sizeOfB);
  const freeColumns = columnOrder.slice(rank);
  if (brokenRows.length > 0 || freeColumns.length > 0) {
    return {
      solution: undefined,
      freeColumns: freeColumns.sort(ascending),
      brokenRows: brokenRows.sort(ascending),
    };
  }
  const solution = new Float64Array(n);
  for (let k = 0; k < n; k++) {
    const row = a[rowOrder[k]!]!;
    const column = columnOrder[k]!;
    solution[column] = row[n]! / row[column]! / scales[column]!;
  }
  return { solution, freeColumns: [], brokenRows: [] };
}

const ascending = (p: number, q: number): number => p - q;

function largestElement(
  a: readonly Float64Array[],
  rowOrder: readonly number[],
  columnOrder: readonly number[],
  from: number,
): { row: number; column: number } {
  let best = { row: from, column: from };
  let size = -1;
  for (let i = from; i < rowOrder.length; i++) {
    for (let j = from; j < columnOrder.length; j++) {
      const candidate = Math.abs(a[rowOrder[i]!]![columnOrder[j]!]!);
      if (candidate > size) {
        size = candidate;
        best = { row: i, column: j };
      }
    }
  }
  return best;
}

function swap(order: number[], i: number, j: number): void {
  const kept = order[i]!;
  order[i] = order[j]!;
  order[j] = kept;
}
