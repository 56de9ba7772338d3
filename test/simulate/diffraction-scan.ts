// Makes a theta-2theta scan with known truth. Imports nothing of src/, and its line shape is not the fit's: a Gaussian
// instrument folded numerically with a split Lorentzian, axial divergence at low angles, an exponential background.

export interface SimulatedLine {
  /** spacing, angstrom */
  spacing: number;
  /** total counts x degree */
  area: number;
  /** Lorentzian width, degrees */
  width?: number;
}

export interface ScanTruth {
  lines: SimulatedLine[];
  fromDeg?: number;
  toDeg?: number;
  stepDeg?: number;
  /** sample displacement, as 2theta shift at theta = 0, degrees */
  shiftDeg?: number;
  /** zero error, degrees */
  zeroDeg?: number;
  backgroundCounts?: number;
  /** areas under a broad hump at 2theta, with its FWHM */
  hump?: { centreDeg: number; fwhmDeg: number; heightCounts: number };
  instrumentDeg?: number;
  seed?: number;
  /** K-alpha1, K-alpha2, K-beta, angstrom, with K-beta's share */
  kBetaShare?: number;
}

const KA1 = 1.5405929;
const KA2 = 1.544427;
const KB = 1.392234;

export function uniformSource(seed: number): () => number {
  let state = (seed * 2654435761 + 1013904223) >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export function normalFrom(uniform: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
}

function poisson(mean: number, uniform: () => number): number {
  if (mean > 50) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normalFrom(uniform)));
  const limit = Math.exp(-mean);
  let count = 0;
  for (let product = uniform(); product > limit; product *= uniform()) count++;
  return count;
}

/** Unit-area line: split Lorentzian (low side wider at low angles) folded with a Gaussian by direct sum. */
function lineProfile(
  widthDeg: number,
  instrumentDeg: number,
  twoThetaDeg: number,
): { stepDeg: number; from: number; values: Float64Array } {
  const stepDeg = Math.min(widthDeg, instrumentDeg) / 8;
  const reach = Math.ceil(Math.max(60 * widthDeg, 4) / stepDeg);
  const skew = 1 + 0.06 / Math.max(0.3, Math.tan((twoThetaDeg * Math.PI) / 360) * 4);
  const raw = new Float64Array(2 * reach + 1);
  for (let k = -reach; k <= reach; k++) {
    const half = (k < 0 ? skew : 1 / skew) * (widthDeg / 2);
    raw[k + reach] = 1 / (1 + ((k * stepDeg) / half) ** 2);
  }
  const sigma = instrumentDeg / 2.3548;
  const arm = Math.ceil((4 * sigma) / stepDeg);
  const values = new Float64Array(2 * reach + 1);
  let total = 0;
  for (let k = 0; k < values.length; k++) {
    let sum = 0;
    for (let m = -arm; m <= arm; m++)
      sum += (raw[k + m] ?? 0) * Math.exp(-((m * stepDeg) ** 2) / (2 * sigma * sigma));
    values[k] = sum;
    total += sum * stepDeg;
  }
  for (let k = 0; k < values.length; k++) values[k] = values[k]! / total;
  return { stepDeg, from: -reach * stepDeg, values };
}

export function simulateScan(truth: ScanTruth): { twoThetaDeg: number[]; counts: number[] } {
  const {
    fromDeg = 10,
    toDeg = 80,
    stepDeg = 0.02,
    shiftDeg = 0,
    zeroDeg = 0,
    backgroundCounts = 60,
  } = truth;
  const { instrumentDeg = 0.06, seed = 1, kBetaShare = 0, hump } = truth;
  const uniform = uniformSource(seed);
  const n = Math.round((toDeg - fromDeg) / stepDeg) + 1;
  const angles = Array.from({ length: n }, (_, i) => Number((fromDeg + i * stepDeg).toFixed(5)));
  const expected = angles.map((angle) => {
    let level = backgroundCounts * (0.35 + 1.6 * Math.exp(-angle / 18));
    if (hump)
      level += hump.heightCounts * Math.exp(-4 * Math.LN2 * ((angle - hump.centreDeg) / hump.fwhmDeg) ** 2);
    return level;
  });
  for (const line of truth.lines) {
    const parts: [number, number][] = [
      [KA1, line.area / 1.51],
      [KA2, (0.51 * line.area) / 1.51],
    ];
    if (kBetaShare > 0) parts.push([KB, kBetaShare * line.area]);
    for (const [wavelength, area] of parts) {
      const sine = wavelength / (2 * line.spacing);
      if (sine >= 1) continue;
      const theta = Math.asin(sine);
      const centre = (theta * 360) / Math.PI + shiftDeg * Math.cos(theta) + zeroDeg;
      if (centre < fromDeg - 3 || centre > toDeg + 3) continue;
      const profile = lineProfile(line.width ?? 0.08, instrumentDeg, centre);
      const first = Math.max(0, Math.ceil((centre + profile.from - fromDeg) / stepDeg));
      for (let i = first; i < n; i++) {
        const place = (angles[i]! - centre - profile.from) / profile.stepDeg;
        const k = Math.floor(place);
        if (k + 1 >= profile.values.length) break;
        const share = place - k;
        expected[i] =
          expected[i]! + area * (profile.values[k]! * (1 - share) + profile.values[k + 1]! * share);
      }
    }
  }
  return { twoThetaDeg: angles, counts: expected.map((mean) => poisson(mean, uniform)) };
}

/** |F|^2 times the oriented-film angle factor, relative to (005): a plausible c-axis film. */
export const FILM_ORDERS: [order: number, share: number][] = [
  [1, 0.05],
  [2, 0.12],
  [3, 0.4],
  [4, 0.06],
  [5, 1],
  [6, 2],
  [7, 0.28],
  [8, 0.015],
  [9, 0.15],
];

export function filmLines(c: number, areaOf005: number, width = 0.1): SimulatedLine[] {
  return FILM_ORDERS.map(([order, share]) => ({ spacing: c / order, area: areaOf005 * share, width }));
}
