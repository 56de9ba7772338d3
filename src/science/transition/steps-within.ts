// Several transitions inside one: peaks of dshare/dT, parted by real valleys. Pure; K.
import { type Crossing, levelCrossing, type ShareCurve } from './level-crossing.ts';

export interface PartStep {
  t50: Crossing;
  /** share of the whole step that this part takes */
  share: number;
}

const GRID_POINTS = 240;
/** A valley parts two peaks if it is below this share of the lower peak, and deeper than the noise explains. */
const VALLEY_SHARE = 0.6;
const VALLEY_IN_NOISE = 4;
/** Smallest part that is told; below it a peak is taken for the tail of its neighbour. */
const LEAST_PART = 0.05;

/**
 * Cuts a transition at the valleys of its derivative (local straight lines under a Gaussian weight). The bandwidth grows
 * from a fortieth of the width until the noise of the derivative is below 8 % of its highest peak.
 *
 * @param footK rough lower end of the transition
 * @param kneeK rough upper end
 * @returns the parts in falling temperature, at least one where the curve passes its middle
 *
 * Source: [common practice: peaks of dR/dT]; variance of a local straight line's slope sigma^2/(4 sqrt(pi) rho h^3)
 * [derived].
 */
export function stepsWithin(curve: ShareCurve, footK: number, kneeK: number): PartStep[] {
  const widthK = kneeK - footK;
  const { temperatureK, share } = curve;
  const from = temperatureK.findIndex((t) => t >= footK - 0.3 * widthK);
  let to = share.length - 1;
  while (to > from && temperatureK[to]! > kneeK + 0.3 * widthK) to--;
  const rows = to - from + 1;
  const whole = levelCrossing(curve, 0.5, 0.35);
  const single: PartStep[] = whole ? [{ t50: whole, share: 1 }] : [];
  if (rows < 8) return single;
  const rowsPerK = (rows - 1) / (temperatureK[to]! - temperatureK[from]!);
  const gridK = Float64Array.from(
    { length: GRID_POINTS },
    (_, g) => footK - 0.3 * widthK + (1.6 * widthK * g) / (GRID_POINTS - 1),
  );
  let slopes = new Float64Array(0);
  let noise = 0;
  for (let h = Math.max(widthK / 40, 1.2 / rowsPerK); h < widthK; h *= 1.25) {
    slopes = gridK.map((t) => localSlope(temperatureK, share, from, to, t, h));
    noise = curve.noise / Math.sqrt(4 * Math.sqrt(Math.PI) * rowsPerK * h ** 3);
    if (noise < 0.08 * Math.max(...slopes)) break;
  }
  const valleysK = valleys(gridK, slopes, noise);
  if (valleysK.length === 0) return single;
  const levels = [0, ...valleysK.map((t) => shareAt(curve, t)), 1];
  const parts: PartStep[] = [];
  let low = 0;
  for (let k = 1; k < levels.length; k++) {
    const high = levels[k]!;
    if (high - low < LEAST_PART || (k < levels.length - 1 && 1 - high < LEAST_PART)) continue;
    const part = high - low;
    const t50 = levelCrossing(curve, low + 0.5 * part, low + 0.35 * part);
    if (t50) parts.push({ t50, share: part });
    low = high;
  }
  return parts.length > 1 ? parts.reverse() : single;
}

function localSlope(
  x: Float64Array,
  y: Float64Array,
  from: number,
  to: number,
  at: number,
  bandwidth: number,
): number {
  let sumW = 0;
  let sumX = 0;
  let sumY = 0;
  let sumXX = 0;
  let sumXY = 0;
  for (let i = from; i <= to; i++) {
    const u = (x[i]! - at) / bandwidth;
    if (Math.abs(u) > 4) continue;
    const w = Math.exp(-0.5 * u * u);
    sumW += w;
    sumX += w * u;
    sumY += w * y[i]!;
    sumXX += w * u * u;
    sumXY += w * u * y[i]!;
  }
  const spread = sumXX - (sumX * sumX) / sumW;
  return spread > 1e-9 * sumW ? (sumXY - (sumX * sumY) / sumW) / spread / bandwidth : 0;
}

/** Temperatures of the valleys that part two real peaks, in rising order. */
function valleys(gridK: Float64Array, slopes: Float64Array, noise: number): number[] {
  const highest = Math.max(...slopes);
  const peaks: number[] = [];
  for (let g = 1; g + 1 < slopes.length; g++)
    if (slopes[g]! >= slopes[g - 1]! && slopes[g]! > slopes[g + 1]! && slopes[g]! > 0.05 * highest)
      peaks.push(g);
  const lowestBetween = (a: number, b: number): number => {
    let lowest = a;
    for (let g = a; g <= b; g++) if (slopes[g]! < slopes[lowest]!) lowest = g;
    return lowest;
  };
  // drop the shallowest valley, with the lower of its two peaks, until all that are left are real
  for (;;) {
    let worst = -1;
    let worstDepth = Number.POSITIVE_INFINITY;
    for (let k = 0; k + 1 < peaks.length; k++) {
      const lower = Math.min(slopes[peaks[k]!]!, slopes[peaks[k + 1]!]!);
      const valley = slopes[lowestBetween(peaks[k]!, peaks[k + 1]!)]!;
      const isReal = valley < VALLEY_SHARE * lower && lower - valley > VALLEY_IN_NOISE * noise;
      if (!isReal && lower - valley < worstDepth) {
        worst = k;
        worstDepth = lower - valley;
      }
    }
    if (worst < 0) break;
    peaks.splice(slopes[peaks[worst]!]! < slopes[peaks[worst + 1]!]! ? worst : worst + 1, 1);
  }
  return peaks.slice(1).map((peak, k) => gridK[lowestBetween(peaks[k]!, peak)]!);
}

function shareAt(curve: ShareCurve, atK: number): number {
  const i = curve.temperatureK.findIndex((t) => t >= atK);
  return Math.min(1, Math.max(0, curve.rising[i < 0 ? curve.rising.length - 1 : i]!));
}
