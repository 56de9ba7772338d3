// The root of a function of one variable by secant steps kept in a bracket. Pure; units are the caller's.

/**
 * @param f     crosses zero once between the ends; rising or falling
 * @param start first guess
 * @param step  first secant step
 * @returns the root to within `tolerance`; undefined where f has one sign, or no number, all the way to the ends
 */
export function bracketedRoot(
  f: (x: number) => number,
  [from, to]: readonly [number, number],
  start: number,
  step: number,
  tolerance: number,
): number | undefined {
  let x = start;
  let value = f(x);
  if (!Number.isFinite(value)) return undefined;
  let other = Math.min(to, x + step);
  let otherValue = f(other);
  let low: number | undefined;
  let high: number | undefined;
  const isRising = otherValue > value;
  for (let i = 0; i < 100; i++) {
    for (const [at, v] of [
      [x, value],
      [other, otherValue],
    ] as const) {
      if (v < 0 === isRising) low = low === undefined ? at : Math.max(low, at);
      else high = high === undefined ? at : Math.min(high, at);
    }
    const slope = (value - otherValue) / (x - other);
    let next = x - value / slope;
    const least = low ?? from;
    const most = high ?? to;
    if (!(next > least && next < most)) {
      if (low !== undefined && high !== undefined) next = (low + high) / 2;
      else
        next =
          low === undefined
            ? Math.max(from, x - Math.abs(x - other) * 4)
            : Math.min(to, x + Math.abs(x - other) * 4);
    }
    if (next === x || Math.abs(next - x) < tolerance)
      return low === undefined && high === undefined ? undefined : next;
    if ((next === from && other === from) || (next === to && other === to)) return undefined;
    other = x;
    otherValue = value;
    x = next;
    value = f(x);
    if (!Number.isFinite(value)) return undefined;
    if (value === 0) return x;
    if (x === from || x === to) {
      const isOutside = value < 0 === isRising ? x === to : x === from;
      if (isOutside) return undefined;
    }
  }
  return x;
}
