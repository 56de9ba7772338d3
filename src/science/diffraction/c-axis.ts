// The (00l) orders of a c-axis film and its c. Pure functions; angstrom, degrees of 2theta.
import { fitLeastSquares } from '../numerics/least-squares.ts';
import { spacingAngstromOfTwoTheta, twoThetaDegOfSpacing } from './lattice.ts';

/** c of a 123 film is looked for between these, angstrom. */
const C_RANGE_ANGSTROM = { from: 11.5, to: 12.0 } as const;

/**
 * What is known of the angle scale before the scan: the shift by sample displacement at theta = 0 (0.1 degree is a
 * surface 0.17 mm off the axis of a 200 mm circle), the zero error of an aligned instrument, and the shift that axial
 * divergence gives lines at low angles, as its amount at 2theta = 45 degrees. Standard uncertainties, degrees of 2theta
 * [common practice].
 */
export const ANGLE_PRIORS_DEG = { shift: 0.1, zero: 0.01, axial: 0.003 } as const;
/** A line's position is not known better than this, for its shape is not quite the fitted one [common practice]. */
const POSITION_FLOOR_DEG = 0.003;

const cosOfHalf = (twoThetaDeg: number): number => Math.cos((twoThetaDeg * Math.PI) / 360);

/** Where a line of true position 2theta is seen, degrees. */
export function seenTwoThetaDeg(
  trueDeg: number,
  scale: { shiftDeg: number; zeroDeg: number; axialDeg: number },
): number {
  return (
    trueDeg +
    scale.shiftDeg * cosOfHalf(trueDeg) +
    scale.zeroDeg -
    scale.axialDeg / Math.tan((trueDeg * Math.PI) / 180)
  );
}

interface PlacedLine {
  readonly twoThetaDeg: number;
  readonly twoThetaDegU: number;
}

export interface OrderLine extends PlacedLine {
  readonly order: number;
}

export interface StandardLine extends PlacedLine {
  /** known spacing of the planes, angstrom */
  readonly spacingAngstrom: number;
  /** relative standard uncertainty of the spacing */
  readonly relativeSpacingU: number;
}

export interface CAxisFit {
  readonly cAngstrom: number;
  readonly cAngstromU: number;
  /** 2theta shift of the scan by sample displacement, at theta = 0; at theta it is this times cos(theta) */
  readonly shiftDeg: number;
  readonly shiftDegU: number;
  readonly zeroDeg: number;
  /** shift towards low angles by axial divergence, at 2theta = 45 degrees; elsewhere times cot(2theta) */
  readonly axialDeg: number;
  readonly chiSquared: number;
  readonly orders: readonly number[];
}

/**
 * c by weighted least squares on the positions of its orders, 2theta_l = 2 asin(l lambda/(2c)) + D cos(theta) + Z
 * - E cot(2theta): a displaced sample shifts every line by D cos(theta), a zero error by Z, axial divergence skews low
 * angles by E cot(2theta). Lines of a single-crystal substrate of known spacing enter with the same D, Z, E and so set
 * the angle scale. What is known of the three before enters as further measurements, 0 +- 0.1, 0 +- 0.01 and
 * 0 +- 0.003 degree; with one order alone they are what c's uncertainty rests on. Near the
 * true c this is the usual regression of c_l on cos^2(theta)/sin(theta).
 *
 * @param orders    at least one (00l) line
 * @param standards lines of known spacing; may be empty
 * @returns c, D, Z, E with standard uncertainties; widened by sqrt(chi squared per degree of freedom) where above 1
 * Source: [common practice] B.D. Cullity, S.R. Stock, Elements of X-ray Diffraction, on displacement and axial
 * divergence.
 */
export function fitCAxis(
  orders: readonly OrderLine[],
  standards: readonly StandardLine[],
  wavelengthAngstrom: number,
): CAxisFit {
  const first = orders[0]!;
  const startC = first.order * spacingAngstromOfTwoTheta(first.twoThetaDeg, wavelengthAngstrom);
  const n = orders.length;
  const m = standards.length;
  // Spacings of standards of one crystal share their error: it moves with the standard's own parameter.
  const y = [
    ...orders.map((line) => line.twoThetaDeg),
    ...standards.map((line) => line.twoThetaDeg),
    0,
    0,
    0,
    0,
  ];
  const withFloor = (line: PlacedLine): number => Math.hypot(line.twoThetaDegU, POSITION_FLOOR_DEG);
  const relativeU = Math.max(0, ...standards.map((line) => line.relativeSpacingU));
  const sigmas = [
    ...orders.map(withFloor),
    ...standards.map(withFloor),
    ANGLE_PRIORS_DEG.shift,
    ANGLE_PRIORS_DEG.zero,
    1,
    ANGLE_PRIORS_DEG.axial,
  ];
  const model = (parameters: Float64Array, i: number): number => {
    if (i >= n + m) return parameters[i - n - m + 1]!;
    const [c, shift, zero, stretch, axial] = parameters as unknown as [
      number,
      number,
      number,
      number,
      number,
    ];
    const spacing =
      i < n ? c / orders[i]!.order : standards[i - n]!.spacingAngstrom * (1 + stretch * relativeU);
    const trueDeg = twoThetaDegOfSpacing(spacing, wavelengthAngstrom);
    return seenTwoThetaDeg(trueDeg, { shiftDeg: shift, zeroDeg: zero, axialDeg: axial });
  };
  const fit = fitLeastSquares(model, y, [startC, 0, 0, 0, 0], { sigmas, scales: [0.1, 0.1, 0.1, 1, 0.1] });
  // The five parameters are held by n + m lines and four priors.
  const widening = Math.sqrt(Math.max(1, fit.chiSquared / Math.max(1, n + m - 1)));
  const [c, shift, zero, , axial] = fit.parameters;
  return {
    cAngstrom: c!,
    cAngstromU: fit.standardUncertainties[0]! * widening,
    shiftDeg: shift!,
    shiftDegU: fit.standardUncertainties[1]! * widening,
    zeroDeg: zero!,
    axialDeg: axial!,
    chiSquared: fit.chiSquared,
    orders: orders.map((line) => line.order),
  };
}

/** A peak as the indexing sees it. */
interface IndexablePeak {
  readonly twoThetaDeg: number;
  readonly areaCountsDeg: number;
  readonly significance: number;
}

export interface OrderAssignment {
  readonly cAngstrom: number;
  readonly shiftDeg: number;
  /** places in the list of peaks, by order */
  readonly peakOfOrder: ReadonlyMap<number, number>;
}

const MATCH_DEG = 0.07;
const HIGHEST_ORDER = 14;
/** Orders strong in every 123 [derived: |F|^2 of YBa2Cu3O6.91 is 2326, 9587, 22598, 3853 for l = 3, 5, 6, 7]. */
const STRONG_ORDERS = [5, 6, 3, 7] as const;

/**
 * Finds the c, and a small displacement, whose (00l) positions meet the most and strongest peaks. Both are stepped
 * through; each met order counts the logarithm of its significance, less for a poor position; a displacement counts
 * against, and so does a strong order, in the scan and clear of substrate lines, where nothing stands.
 *
 * @param peaks     candidates, those of the substrate left out
 * @param isVisible whether a line at this 2theta would be seen (inside the scan, not under a substrate line)
 * @param expectedC c from the table with the range in which a film of this rare earth lies, angstrom
 * @returns undefined where no consistent set exists: (005), or the strongest order that can be seen, must be among them
 */
export function assignOrders(
  peaks: readonly IndexablePeak[],
  wavelengthAngstrom: number,
  isVisible: (twoThetaDeg: number) => boolean,
  expectedC: { value: number; range: number },
): OrderAssignment | undefined {
  let best: (OrderAssignment & { score: number }) | undefined;
  for (let cStep = 0; cStep <= 125; cStep++) {
    const c = C_RANGE_ANGSTROM.from + 0.004 * cStep;
    for (let shiftStep = -8; shiftStep <= 8; shiftStep++) {
      const shift = 0.02 * shiftStep;
      const peakOfOrder = new Map<number, number>();
      let score =
        -((shift / ANGLE_PRIORS_DEG.shift) ** 2) / 2 - ((c - expectedC.value) / expectedC.range) ** 2 / 2;
      let strongSeen = 0;
      let strongVisible = 0;
      for (let order = 1; order <= HIGHEST_ORDER; order++) {
        const trueDeg = twoThetaDegOfSpacing(c / order, wavelengthAngstrom);
        if (Number.isNaN(trueDeg)) break;
        const at = trueDeg + shift * cosOfHalf(trueDeg);
        const isStrong = (STRONG_ORDERS as readonly number[]).includes(order);
        let match = -1;
        let gain = 0;
        for (let p = 0; p < peaks.length; p++) {
          const off = (peaks[p]!.twoThetaDeg - at) / MATCH_DEG;
          if (Math.abs(off) >= 1) continue;
          const worth = Math.min(Math.log(peaks[p]!.significance), 4.5) * (1 - off * off);
          if (worth > gain) {
            gain = worth;
            match = p;
          }
        }
        const canBeSeen = isVisible(at);
        if (isStrong && canBeSeen) strongVisible++;
        if (match >= 0) {
          peakOfOrder.set(order, match);
          score += gain;
          if (isStrong && canBeSeen) strongSeen++;
        } else if (isStrong && canBeSeen) score -= 2;
      }
      const strongest = STRONG_ORDERS.find((order) => {
        const trueDeg = twoThetaDegOfSpacing(c / order, wavelengthAngstrom);
        return isVisible(trueDeg + shift * cosOfHalf(trueDeg));
      });
      const isConsistent =
        strongest !== undefined && peakOfOrder.has(strongest) && strongSeen >= Math.min(2, strongVisible);
      if (isConsistent && (best === undefined || score > best.score)) {
        best = { cAngstrom: c, shiftDeg: shift, peakOfOrder, score };
      }
    }
  }
  return best;
}
