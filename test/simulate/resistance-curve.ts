// Resistance and moment curves whose transition temperatures are known exactly. Imports nothing of src/.

export interface PartTransition {
  t50K: number;
  /** 10-90 % width, K */
  widthK: number;
  share: number;
}

export interface ResistanceCurve {
  parts: readonly PartTransition[];
  /** resistance of the normal line at 0 K and its slope */
  interceptOhm: number;
  slopeOhmPerK: number;
  backgroundOhm?: number;
  noiseOhm?: number;
  /** the thermometer reads this far below the film on warming and above it on cooling, K */
  lagK?: number;
}

/** Widths of the normal distribution between its 10 % and 90 % points, in standard deviations. */
const WIDTH_IN_SIGMAS = 2 * 1.2815515655446004;

/** Error function by its series and continued fraction, good to 1e-12. */
function errorFunction(x: number): number {
  if (Math.abs(x) < 3) {
    let term = x;
    let sum = x;
    for (let n = 1; n < 120; n++) {
      term *= (-x * x) / n;
      sum += term / (2 * n + 1);
    }
    return (2 / Math.sqrt(Math.PI)) * sum;
  }
  let fraction = 0;
  for (let k = 60; k > 0; k--) fraction = k / 2 / (Math.abs(x) + fraction);
  const tail = Math.exp(-x * x) / Math.sqrt(Math.PI) / (Math.abs(x) + fraction);
  return x > 0 ? 1 - tail : tail - 1;
}

/** Share of the normal line at T: a sum of normal distribution functions. */
export function transitionShare(parts: readonly PartTransition[], temperatureK: number): number {
  return parts.reduce((sum, part) => {
    const sigmaK = part.widthK / WIDTH_IN_SIGMAS;
    return sum + part.share * 0.5 * (1 + errorFunction((temperatureK - part.t50K) / sigmaK / Math.SQRT2));
  }, 0);
}

/** Temperature at which the share passes a level, by bisection on the exact function. */
export function trueCrossingK(parts: readonly PartTransition[], level: number): number {
  let low = 1;
  let high = 400;
  for (let i = 0; i < 100; i++) {
    const middle = (low + high) / 2;
    if (transitionShare(parts, middle) < level) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** Temperatures of one sweep. */
export function evenly(fromK: number, toK: number, n: number): number[] {
  return Array.from({ length: n }, (_, i) => fromK + ((toK - fromK) * i) / (n - 1));
}

/**
 * @param temperatureK thermometer readings in the order of measurement
 * @param normal       normal deviates, called once a row
 */
export function simulateResistance(
  curve: ResistanceCurve,
  temperatureK: readonly number[],
  normal: () => number,
): number[] {
  return temperatureK.map((t, i) => {
    const before = temperatureK[Math.max(0, i - 1)]!;
    const after = temperatureK[Math.min(temperatureK.length - 1, i + 1)]!;
    const filmK = t + (after > before ? (curve.lagK ?? 0) : -(curve.lagK ?? 0));
    const line = curve.interceptOhm + curve.slopeOhmPerK * filmK;
    return (
      line * transitionShare(curve.parts, filmK) +
      (curve.backgroundOhm ?? 0) +
      (curve.noiseOhm ?? 0) * normal()
    );
  });
}
