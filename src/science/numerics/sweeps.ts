// Sweeps up and down in a measured column, told apart in spite of jitter. Pure; units are the caller's.

export interface Sweep {
  /** first and last row, both in the sweep */
  from: number;
  to: number;
  /** +1 where the column rises, -1 where it falls */
  direction: 1 | -1;
}

/**
 * Cuts a column into sweeps at its turning points: a turn counts once the column has come back from its extreme by more
 * than `reversal`, so jitter and overshoot below that do not cut.
 *
 * @param x        n numbers in the order of measurement, finite
 * @param reversal smallest way back that makes a turn, in the unit of x
 * @returns sweeps in order; neighbours share the turning row
 */
export function sweepsOf(x: ArrayLike<number>, reversal: number): Sweep[] {
  const n = x.length;
  if (n < 2) return [];
  const turns = [0];
  let low = 0;
  let high = 0;
  let direction = 0;
  for (let i = 1; i < n; i++) {
    if (x[i]! > x[high]!) high = i;
    if (x[i]! < x[low]!) low = i;
    if (direction >= 0 && x[high]! - x[i]! > reversal) {
      if (direction > 0) turns.push(high);
      direction = -1;
      low = i;
      high = i;
    } else if (direction <= 0 && x[i]! - x[low]! > reversal) {
      if (direction < 0) turns.push(low);
      direction = 1;
      low = i;
      high = i;
    }
  }
  turns.push(n - 1);
  const sweeps: Sweep[] = [];
  for (let k = 0; k + 1 < turns.length; k++) {
    const from = turns[k]!;
    const to = turns[k + 1]!;
    if (to > from && x[to]! !== x[from]!) sweeps.push({ from, to, direction: x[to]! > x[from]! ? 1 : -1 });
  }
  return sweeps;
}
