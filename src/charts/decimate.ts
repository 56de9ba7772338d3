// Thins dense data before they are drawn, so that no extreme is lost. Pixels in, indices out.

/** Half a pixel: finer than that no screen shows a difference at 1x or 2x. */
export const COLUMN_PX = 0.5;

/**
 * Indices of the points that a line must keep: of each run of consecutive points in one pixel column the first, the
 * lowest, the highest and the last. Order stays, so loops (x not rising) keep their way round.
 *
 * @param x n horizontal positions, px
 * @param y n vertical positions, px; a NaN in x or y is a gap, and one index of it is kept
 */
export function thinnedLine(x: ArrayLike<number>, y: ArrayLike<number>, columnPx = COLUMN_PX): number[] {
  const kept: number[] = [];
  const n = x.length;
  let i = 0;
  while (i < n) {
    if (Number.isNaN(x[i]! + y[i]!)) {
      kept.push(i);
      while (i < n && Number.isNaN(x[i]! + y[i]!)) {
        i++;
      }
      continue;
    }
    const column = Math.floor(x[i]! / columnPx);
    const first = i;
    let lowest = i;
    let highest = i;
    while (i < n && Math.floor(x[i]! / columnPx) === column && !Number.isNaN(y[i]!)) {
      if (y[i]! < y[lowest]!) lowest = i;
      if (y[i]! > y[highest]!) highest = i;
      i++;
    }
    const run = [first, Math.min(lowest, highest), Math.max(lowest, highest), i - 1];
    for (const index of run) {
      if (kept[kept.length - 1] !== index) kept.push(index);
    }
  }
  return kept;
}

/**
 * Indices of the points that dots must keep: the first in each cell of half a pixel. Gaps are left out.
 * Every extreme keeps its cell.
 */
export function thinnedDots(x: ArrayLike<number>, y: ArrayLike<number>, cellPx = COLUMN_PX): number[] {
  const kept: number[] = [];
  const taken = new Set<number>();
  for (let i = 0; i < x.length; i++) {
    const cell = Math.floor(x[i]! / cellPx) * 1e6 + Math.floor(y[i]! / cellPx);
    if (!Number.isNaN(cell) && !taken.has(cell)) {
      taken.add(cell);
      kept.push(i);
    }
  }
  return kept;
}
