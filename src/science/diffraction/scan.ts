// A theta-2theta scan made ready for fitting: in order, its noise known, its bad points masked. Pure; degrees, counts.
import { DomainError } from '../errors.ts';

export interface ScanRemark {
  readonly code: string;
  readonly message: string;
}

/** How the scatter of a point grows with its level: variance = floor + perCount x level. */
interface CountingNoise {
  /** 'poisson': the numbers are counts; 'estimated': the scatter was read off the scan itself */
  readonly kind: 'poisson' | 'estimated';
  readonly variancePerCount: number;
  readonly varianceFloor: number;
}

export interface Scan {
  /** rising */
  readonly twoThetaDeg: Float64Array;
  /** NaN where a point is missing or masked */
  readonly counts: Float64Array;
  readonly noise: CountingNoise;
  /** counts here = numbers as given times this: 1 for counts, else what makes their scatter that of counting */
  readonly countsPerUnit: number;
  /** median step, degrees */
  readonly stepDeg: number;
  /** for each point as given, its place in the arrays above */
  readonly placeOfInput: Int32Array;
  /** 2theta of the points left out as spikes or as saturated */
  readonly maskedTwoThetaDeg: number[];
  readonly remarks: readonly ScanRemark[];
}

/** Fewest points that a scan may have: below it neither background nor noise can be told. */
const FEWEST_POINTS = 50;
/** A fall of the angle by more steps than this begins a second scan; less is the encoder's jitter. */
const JITTER_STEPS = 3;

function medianOf(values: ArrayLike<number>): number {
  const sorted = Float64Array.from(values).sort();
  const n = sorted.length;
  if (n === 0) return Number.NaN;
  return n % 2 === 1 ? sorted[(n - 1) / 2]! : (sorted[n / 2 - 1]! + sorted[n / 2]!) / 2;
}

/**
 * Puts a scan in order and reads its noise.
 *
 * A falling scan is turned round; an angle given twice is averaged; a few steps back are sorted; spikes one point wide
 * and a flat top of a saturated detector are masked. Each is said in `remarks`.
 *
 * @param twoThetaDeg n angles, degrees of 2theta
 * @param counts      n counts or intensities in any unit; NaN marks a missing point
 * @throws DomainError SCAN_LENGTHS, SCAN_TOO_SHORT, SCAN_ANGLE_RANGE, SCAN_TWO_IN_ONE, SCAN_EMPTY
 */
export function prepareScan(twoThetaDeg: ArrayLike<number>, counts: ArrayLike<number>): Scan {
  const n = twoThetaDeg.length;
  if (counts.length !== n) {
    throw new DomainError('SCAN_LENGTHS', `${n} angles but ${counts.length} counts.`);
  }
  if (n < FEWEST_POINTS) {
    throw new DomainError(
      'SCAN_TOO_SHORT',
      `The scan has ${n} points; at least ${FEWEST_POINTS} are needed to tell lines from background.`,
    );
  }
  const remarks: ScanRemark[] = [];
  const { order, isFalling } = risingOrder(twoThetaDeg, remarks);
  if (isFalling)
    remarks.push({ code: 'SCAN_FALLING', message: 'The angle falls; the scan was turned round.' });
  const merged = mergeRepeated(twoThetaDeg, counts, order, remarks);
  let largest = 0;
  let negatives = 0;
  let missing = 0;
  for (const value of merged.counts) {
    if (Number.isNaN(value)) missing++;
    else if (value < 0) negatives++;
    largest = Math.max(largest, Number.isNaN(value) ? 0 : value);
  }
  if (!(largest > 0)) {
    throw new DomainError('SCAN_EMPTY', `None of the ${n} points has a count above zero.`);
  }
  if (negatives > 0) {
    remarks.push({
      code: 'SCAN_NEGATIVE_COUNTS',
      message: `${negatives} counts are below zero: a background was taken off before, so counting statistics no longer hold and the noise is read off the scan.`,
    });
  }
  if (missing > 0)
    remarks.push({ code: 'SCAN_MISSING', message: `${missing} points have no count and are left out.` });
  const steps = Float64Array.from(
    { length: merged.counts.length - 1 },
    (_, i) => merged.twoThetaDeg[i + 1]! - merged.twoThetaDeg[i]!,
  );
  const stepDeg = medianOf(steps);
  if (steps.some((step) => Math.abs(step / stepDeg - 1) > 0.2)) {
    remarks.push({
      code: 'SCAN_STEPS_VARY',
      message: `The steps are not equal (median ${stepDeg.toPrecision(3)} degrees); counts are taken as counts per point.`,
    });
  }
  const read = readNoise(merged.counts, negatives > 0, remarks);
  // Numbers that are not counts are turned into as many counts as would scatter like them: one scale for all that follows.
  const countsPerUnit =
    read.kind === 'estimated' && read.variancePerCount > 0 ? 1 / read.variancePerCount : 1;
  merged.counts = merged.counts.map((value) => value * countsPerUnit);
  const noise: CountingNoise = {
    kind: read.kind,
    variancePerCount: read.variancePerCount * countsPerUnit,
    varianceFloor: read.varianceFloor * countsPerUnit ** 2,
  };
  const maskedTwoThetaDeg = [...maskSaturated(merged, remarks), ...maskSpikes(merged, noise, remarks)];
  return { ...merged, noise, countsPerUnit, stepDeg, maskedTwoThetaDeg, remarks };
}

/** Variance of a point whose expected level is known. */
export function varianceOf(noise: CountingNoise, levelCounts: number): number {
  return noise.varianceFloor + noise.variancePerCount * Math.max(levelCounts, 0);
}

function risingOrder(
  twoThetaDeg: ArrayLike<number>,
  remarks: ScanRemark[],
): { order: number[]; isFalling: boolean } {
  const n = twoThetaDeg.length;
  let rises = 0;
  let falls = 0;
  const sizes: number[] = [];
  for (let i = 0; i < n; i++) {
    const angle = twoThetaDeg[i]!;
    if (!(angle > -10 && angle < 180)) {
      throw new DomainError('SCAN_ANGLE_RANGE', `Point ${i + 1} stands at ${angle} degrees of 2theta.`);
    }
    if (i === 0) continue;
    const step = angle - twoThetaDeg[i - 1]!;
    if (step > 0) rises++;
    if (step < 0) falls++;
    if (step !== 0) sizes.push(Math.abs(step));
  }
  const isFalling = falls > rises;
  const direction = isFalling ? -1 : 1;
  const limit = JITTER_STEPS * medianOf(sizes);
  for (let i = 1; i < n; i++) {
    const back = -(twoThetaDeg[i]! - twoThetaDeg[i - 1]!) * direction;
    if (back > limit) {
      throw new DomainError(
        'SCAN_TWO_IN_ONE',
        `The angle ${isFalling ? 'rises' : 'falls'} back from ${twoThetaDeg[i - 1]} to ${twoThetaDeg[i]} degrees at point ${i + 1}: this looks like two scans in one.`,
      );
    }
  }
  if (Math.min(rises, falls) > 0) {
    remarks.push({
      code: 'SCAN_ANGLE_JITTER',
      message: `The angle steps back ${Math.min(rises, falls)} times by a step or two; the points were sorted.`,
    });
  }
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => twoThetaDeg[i]! - twoThetaDeg[j]!);
  return { order, isFalling };
}

interface Ordered {
  twoThetaDeg: Float64Array;
  counts: Float64Array;
  placeOfInput: Int32Array;
}

function mergeRepeated(
  twoThetaDeg: ArrayLike<number>,
  counts: ArrayLike<number>,
  order: readonly number[],
  remarks: ScanRemark[],
): Ordered {
  const angles: number[] = [];
  const sums: number[] = [];
  const counted: number[] = [];
  const placeOfInput = new Int32Array(order.length);
  for (const i of order) {
    const angle = twoThetaDeg[i]!;
    if (angles.length === 0 || angle !== angles.at(-1)) {
      angles.push(angle);
      sums.push(0);
      counted.push(0);
    }
    const place = angles.length - 1;
    placeOfInput[i] = place;
    if (Number.isNaN(counts[i]!)) continue;
    sums[place] = sums[place]! + counts[i]!;
    counted[place] = counted[place]! + 1;
  }
  const repeated = order.length - angles.length;
  if (repeated > 0) {
    remarks.push({
      code: 'SCAN_ANGLE_REPEATED',
      message: `${repeated} angles stand twice; their counts were averaged.`,
    });
  }
  return {
    twoThetaDeg: Float64Array.from(angles),
    counts: Float64Array.from(sums, (sum, place) =>
      counted[place] === 0 ? Number.NaN : sum / counted[place]!,
    ),
    placeOfInput,
  };
}

/** Mean square second difference over points no brighter than a limit, as a variance, with the mean level there. */
function differenceVariance(
  counts: Float64Array,
  gap: number,
  dimmest: number,
  brightest: number,
): { variance: number; level: number; points: number } {
  let squares = 0;
  let levels = 0;
  let points = 0;
  for (let i = gap; i < counts.length - gap; i++) {
    const level = (counts[i - gap]! + counts[i]! + counts[i + gap]!) / 3;
    if (!(level >= dimmest && level <= brightest)) continue;
    squares += (counts[i - gap]! - 2 * counts[i]! + counts[i + gap]!) ** 2 / 6;
    levels += level;
    points++;
  }
  return { variance: squares / points, level: levels / points, points };
}

/**
 * The noise of a scan. Whole numbers whose scatter agrees with their size are counts (variance = level). Otherwise the
 * variance is read off second differences of neighbouring points, (y1 - 2 y2 + y3)^2 / 6, which a smooth curve leaves
 * alone; differences over four steps are compared, since a smoothed scan scatters less from point to point than it is
 * uncertain.
 *
 * Source: [derived: a second difference of three equal variances has six times that variance].
 */
function readNoise(counts: Float64Array, hasNegatives: boolean, remarks: ScanRemark[]): CountingNoise {
  const present = counts.filter((value) => !Number.isNaN(value));
  const known = present.slice().sort();
  const quantile = (share: number): number =>
    known[Math.min(known.length - 1, Math.floor(share * known.length))]!;
  const isWhole = known.every(
    (value) => Math.abs(value - Math.round(value)) < 1e-6 * Math.max(1, Math.abs(value)),
  );
  // A choice by the mean of three does not bias their differences; few counts need more than the zeros.
  const brightest = isWhole ? Math.max(quantile(0.7), 3) : quantile(0.7);
  const near = differenceVariance(present, 1, Number.NEGATIVE_INFINITY, brightest);
  const far = differenceVariance(present, 4, Number.NEGATIVE_INFINITY, brightest);
  const isSmoothed = far.variance > 2 * near.variance;
  const dim = isSmoothed ? far : near;
  const perCount = dim.variance / Math.max(dim.level, 1e-300);
  if (isWhole && !hasNegatives && !isSmoothed && perCount > 0.6 && perCount < 1.6) {
    return { kind: 'poisson', variancePerCount: 1, varianceFloor: 0.05 };
  }
  remarks.push({
    code: 'SCAN_NOISE_ESTIMATED',
    message: isSmoothed
      ? 'The scan looks smoothed: points four steps apart scatter more than neighbours. The noise was read off those; lines may be wider than they were.'
      : `The numbers are not plain counts${isWhole ? ` (their scatter is ${perCount.toPrecision(2)} of what counting would give)` : ''}: the noise was read off the scan itself.`,
  });
  if (hasNegatives || !(dim.level > 0)) {
    const bright = differenceVariance(present, isSmoothed ? 4 : 1, quantile(0.7), quantile(0.95));
    const slope = (bright.variance - dim.variance) / (bright.level - dim.level);
    return {
      kind: 'estimated',
      variancePerCount: Number.isFinite(slope) ? Math.max(slope, 0) : 0,
      varianceFloor: dim.variance + 1e-12,
    };
  }
  const floor = (1e-4 * dim.level) ** 2; // numbers printed to four figures scatter at least by that
  return { kind: 'estimated', variancePerCount: perCount, varianceFloor: floor + 1e-300 };
}

/** A run of equal points at the very top is a detector at its limit: counting would not repeat a large number. */
function maskSaturated(scan: Ordered, remarks: ScanRemark[]): number[] {
  let largest = 0;
  for (const value of scan.counts) if (value > largest) largest = value;
  const places: number[] = [];
  for (let i = 0; i < scan.counts.length; i++) if (scan.counts[i]! >= largest * (1 - 1e-9)) places.push(i);
  const isRun = places.length >= 3 && largest > 1000 && places.at(-1)! - places[0]! === places.length - 1;
  if (!isRun) return [];
  remarks.push({
    code: 'SCAN_SATURATED',
    message: `${places.length} points in a row stand at the same, highest value near ${scan.twoThetaDeg[places[0]!]!.toFixed(2)} degrees: the detector was at its limit. They are left out; heights and areas there are too low.`,
  });
  for (const place of places) scan.counts[place] = Number.NaN;
  return places.map((place) => scan.twoThetaDeg[place]!);
}

/** A point that stands alone: far above both neighbours, which themselves do not rise towards it. */
function maskSpikes(scan: Ordered, noise: CountingNoise, remarks: ScanRemark[]): number[] {
  const { counts, twoThetaDeg } = scan;
  const masked: number[] = [];
  const around = new Float64Array(6);
  for (let i = 4; i < counts.length - 4; i++) {
    const value = counts[i]!;
    const shoulder = Math.max(counts[i - 1]!, counts[i + 1]!);
    if (!(value > 2 * shoulder)) continue;
    for (let k = 0; k < 3; k++) {
      around[k] = counts[i - 2 - k]!;
      around[3 + k] = counts[i + 2 + k]!;
    }
    const base = medianOf(around);
    const excess = value - base;
    if (
      excess > 8 * Math.sqrt(varianceOf(noise, Math.max(base, 4))) &&
      shoulder - base < 0.1 * excess + 2 * Math.sqrt(varianceOf(noise, Math.max(base, 1)))
    ) {
      masked.push(i);
    }
  }
  for (const place of masked) counts[place] = Number.NaN;
  if (masked.length > 0) {
    remarks.push({
      code: 'SCAN_SPIKES',
      message: `${masked.length} single points stand far above both neighbours (first at ${twoThetaDeg[masked[0]!]!.toFixed(3)} degrees) and are left out: no line is one step wide.`,
    });
  }
  return masked.map((place) => twoThetaDeg[place]!);
}
