// Is a phase there? From its expected lines, with what hides them. Pure; degrees of 2theta, counts.
import { lowerBound } from './background.ts';
import type { FittedPeak } from './fit-peaks.ts';
import { pseudoVoigtPerDeg } from './peak-shape.ts';
import type { Scan } from './scan.ts';
import { varianceOf } from './scan.ts';

/** Where a line of a candidate is expected. */
export interface ExpectedLine {
  readonly label: string;
  readonly twoThetaDeg: number;
  /** half width of the window it may stand in */
  readonly toleranceDeg: number;
}

/** A line's place, with what stands in the way. */
export interface TestedLine extends ExpectedLine {
  readonly isInScan: boolean;
  /** the explained line that covers it, if any */
  readonly coveredBy: string | undefined;
  /** place in the list of peaks of a free peak that stands there */
  readonly peak: number | undefined;
  readonly areaCountsDeg: number;
  readonly areaCountsDegU: number;
}

export interface PhaseAnswer {
  readonly answer: 'present' | 'absent' | 'cannot say';
  /** probability that the phase is there, given the lines tested */
  readonly odds: number;
  readonly texture: string | null;
  /** three standard deviations of the best line's area over the reference area; null without a reference */
  readonly detectionLimit: number | null;
  readonly lines: readonly TestedLine[];
  readonly reason: string;
}

/** Before the scan a named phase is as likely absent as twice present [common practice]. */
const PRIOR_PROBABILITY = 1 / 3;
/** A phase that is there is expected to show a line of about this share of the film's strongest [common practice]. */
const EXPECTED_SHARE = 0.05;
/** No answer is surer than this: causes outside the model are not that rare. */
const SUREST = 0.995;
const PRESENT_ABOVE = 0.9;
const ABSENT_BELOW = 0.1;
/** Phases are not told by one line alone unless it is this many standard deviations strong, or an aligned phase's own. */
const LONE_LINE_SIGNIFICANCE = 8;
/** A strong line weaker than this share of the one seen is missing: listed lines differ by less in a random powder. */
const MISSING_BELOW = 0.12;
/** Width of a random second phase's line where none is seen, degrees. */
const USUAL_WIDTH_DEG = 0.3;

/** ln of the standard normal distribution function, good far down its tail. */
function logNormalBelow(x: number): number {
  if (x < -5) return -(x * x) / 2 - Math.log(-x) - 0.5 * Math.log(2 * Math.PI);
  // [memory: M. Abramowitz, I.A. Stegun, Handbook of Mathematical Functions (1964), 26.2.17, error below 7.5e-8]
  const t = 1 / (1 + 0.2316419 * Math.abs(x));
  const poly =
    t * (0.31938153 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429))));
  const tail = (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)) * poly;
  return Math.log(x >= 0 ? 1 - tail : tail);
}

/**
 * ln of the Bayes factor for a line: measured area a +- s, under 'there' a half-normal of scale S, under 'absent' zero.
 *
 * ln B = ln 2 + ln(s/r) + a^2 S^2/(2 s^2 r^2) + ln Phi(a S/(s r)), r^2 = s^2 + S^2 [derived: the integral of the half-normal
 * times the normal error, over the normal error at zero].
 */
export function lineLogBayesFactor(area: number, areaU: number, scale: number): number {
  const a = Math.max(-10, Math.min(area / areaU, 30));
  const ratio = scale / areaU;
  const r = Math.sqrt(1 + ratio * ratio);
  return Math.LN2 - Math.log(r) + (a * a * ratio * ratio) / (2 * r * r) + logNormalBelow((a * ratio) / r);
}

export interface TestGround {
  readonly scan: Scan;
  readonly peaks: readonly FittedPeak[];
  /** what each peak is already known to be; undefined = free */
  readonly taken: readonly (string | undefined)[];
  readonly background: ArrayLike<number>;
  /** counts less background and all fitted lines */
  readonly residual: ArrayLike<number>;
  /** all fitted lines, counts */
  readonly lineCounts: ArrayLike<number>;
  /** places of ghosts of substrate lines, seen or not */
  readonly ghostDeg: readonly number[];
  /** area of (005) or of the strongest film line, counts x degree; null where there is none */
  readonly referenceArea: number | null;
}

/** Largest area, over its uncertainty, that a line of usual width could have in a window, and that uncertainty. */
function areaInWindow(
  ground: TestGround,
  centreDeg: number,
  toleranceDeg: number,
): { area: number; areaU: number; places: number } | undefined {
  const { scan, residual, background, lineCounts } = ground;
  const width = USUAL_WIDTH_DEG;
  const nPlaces = Math.max(1, 2 * Math.ceil(toleranceDeg / (width / 2)) + 1);
  let best: { area: number; areaU: number } | undefined;
  for (let p = 0; p < nPlaces; p++) {
    const centre = nPlaces === 1 ? centreDeg : centreDeg + toleranceDeg * ((2 * p) / (nPlaces - 1) - 1);
    let w = 0;
    let ws = 0;
    let wss = 0;
    let wy = 0;
    let wsy = 0;
    let used = 0;
    const to = lowerBound(scan.twoThetaDeg, centre + 3 * width);
    for (let i = lowerBound(scan.twoThetaDeg, centre - 3 * width); i < to; i++) {
      const value = residual[i]!;
      if (Number.isNaN(value)) continue;
      const level = background[i]! + lineCounts[i]!;
      const variance = varianceOf(scan.noise, Math.max(level, 0.3)) + (0.04 * lineCounts[i]!) ** 2;
      const shape = pseudoVoigtPerDeg(scan.twoThetaDeg[i]! - centre, width, 0.5);
      w += 1 / variance;
      ws += shape / variance;
      wss += (shape * shape) / variance;
      wy += value / variance;
      wsy += (shape * value) / variance;
      used++;
    }
    const information = wss - (ws * ws) / w;
    if (used < 8 || !(information > 0)) continue;
    const area = (wsy - (ws * wy) / w) / information;
    const areaU = 1 / Math.sqrt(information);
    if (best === undefined || area / areaU > best.area / best.areaU) best = { area, areaU };
  }
  return best && { ...best, places: Math.max(1, (2 * toleranceDeg) / width) };
}

/** Looks at one expected line: inside the scan? covered? a free peak there? else how large could it be? */
export function testLine(ground: TestGround, line: ExpectedLine): TestedLine {
  const { scan, peaks, taken } = ground;
  const margin = 0.5;
  const isInScan =
    line.twoThetaDeg > scan.twoThetaDeg[0]! + margin &&
    line.twoThetaDeg < scan.twoThetaDeg[scan.twoThetaDeg.length - 1]! - margin;
  const unseen = {
    ...line,
    coveredBy: undefined,
    peak: undefined,
    areaCountsDeg: Number.NaN,
    areaCountsDegU: Number.NaN,
  };
  if (!isInScan) return { ...unseen, isInScan };
  let peak: number | undefined;
  let coveredBy: string | undefined;
  for (const [p, found] of peaks.entries()) {
    const distance = Math.abs(found.twoThetaDeg - line.twoThetaDeg);
    const owner = taken[p];
    if (owner === undefined) {
      const isBetter = peak === undefined || found.areaCountsDeg > peaks[peak]!.areaCountsDeg;
      if (distance < line.toleranceDeg && isBetter) peak = p;
    } else if (distance < line.toleranceDeg + found.fwhmDeg + USUAL_WIDTH_DEG / 2) coveredBy = owner;
  }
  if (ground.ghostDeg.some((ghost) => Math.abs(ghost - line.twoThetaDeg) < line.toleranceDeg + 0.1)) {
    coveredBy ??= 'K-beta or tungsten line of the substrate';
  }
  if (peak !== undefined) {
    const { areaCountsDeg, areaCountsDegU } = peaks[peak]!;
    return { ...line, isInScan, coveredBy, peak, areaCountsDeg, areaCountsDegU };
  }
  const largest = areaInWindow(ground, line.twoThetaDeg, line.toleranceDeg);
  if (largest === undefined) return { ...unseen, isInScan, coveredBy: coveredBy ?? 'masked points' };
  return { ...line, isInScan, coveredBy, peak, areaCountsDeg: largest.area, areaCountsDegU: largest.areaU };
}

/**
 * Answers for one phase from its tested lines. Lines outside the scan or under an explained line prove nothing either
 * way. Each of the others gives a Bayes factor; a phase seen by one line while another of its strong lines, clear to be
 * seen, is missing, or seen only by lines that another candidate claims too, is left at 'cannot say'.
 *
 * @param oriented     labels of lines that an aligned population shows alone
 * @param isContested  whether a peak is claimed by another candidate too
 */
export function answerForPhase(
  ground: TestGround,
  lines: readonly TestedLine[],
  oriented: readonly string[],
  isContested: (peak: number) => boolean,
): PhaseAnswer {
  const clear = apart(lines.filter((line) => line.isInScan && line.coveredBy === undefined));
  const reference = ground.referenceArea;
  if (clear.length === 0) {
    const covered = lines
      .filter((line) => line.coveredBy !== undefined)
      .map((line) => `${line.label} under ${line.coveredBy}`);
    const reason =
      covered.length > 0 ? `Its lines are hidden: ${covered.join('; ')}.` : 'Its lines lie outside the scan.';
    return {
      answer: 'cannot say',
      odds: PRIOR_PROBABILITY,
      texture: null,
      detectionLimit: null,
      lines,
      reason,
    };
  }
  const best = clear.reduce((p, q) => (q.areaCountsDegU < p.areaCountsDegU ? q : p));
  const limitArea = 3 * best.areaCountsDegU;
  const detectionLimit = reference === null ? null : limitArea / reference;
  const scale = reference === null ? 20 * best.areaCountsDegU : EXPECTED_SHARE * reference;
  const seen = clear.filter((line) => line.peak !== undefined);
  let logOdds = Math.log(PRIOR_PROBABILITY / (1 - PRIOR_PROBABILITY));
  for (const line of clear) {
    const places = line.peak === undefined ? Math.max(1, (2 * line.toleranceDeg) / USUAL_WIDTH_DEG) : 1;
    const factor = lineLogBayesFactor(line.areaCountsDeg, line.areaCountsDegU, scale) - Math.log(places);
    // Without a peak that passed the search, an excess alone is no proof; texture may take one line away.
    logOdds += line.peak === undefined ? Math.max(Math.min(factor, 1), -3) : factor;
  }
  const probability = Math.min(SUREST, Math.max(1 - SUREST, 1 / (1 + Math.exp(-logOdds))));
  const texture = textureOf(seen, clear, oriented);
  const doubt = doubtOf(seen, clear, oriented, isContested);
  if (seen.length > 0 && doubt !== undefined) {
    return {
      answer: 'cannot say',
      odds: Math.min(probability, 0.5),
      texture,
      detectionLimit,
      lines,
      reason: doubt,
    };
  }
  if (seen.length > 0 && probability > PRESENT_ABOVE) {
    return {
      answer: 'present',
      odds: probability,
      texture,
      detectionLimit,
      lines,
      reason: `Seen at ${seen.map((line) => line.label).join(', ')}.`,
    };
  }
  if (seen.length === 0 && probability < ABSENT_BELOW) {
    return {
      answer: 'absent',
      odds: probability,
      texture: null,
      detectionLimit,
      lines,
      reason: 'No line stands where its lines would be.',
    };
  }
  return {
    answer: 'cannot say',
    odds: probability,
    texture,
    detectionLimit,
    lines,
    reason: 'The counts do not settle it: count longer around its lines.',
  };
}

/** Lines that fall together are one observation: the first of each, or the one whose peak was seen. */
function apart(lines: readonly TestedLine[]): TestedLine[] {
  const kept: TestedLine[] = [];
  for (const line of lines) {
    const twin = kept.findIndex(
      (other) => Math.abs(other.twoThetaDeg - line.twoThetaDeg) < USUAL_WIDTH_DEG / 2,
    );
    if (twin < 0) kept.push(line);
    else if (kept[twin]!.peak === undefined && line.peak !== undefined) kept[twin] = line;
  }
  return kept;
}

function isMissing(line: TestedLine, seen: readonly TestedLine[]): boolean {
  const largest = Math.max(...seen.map((other) => other.areaCountsDeg));
  return line.peak === undefined && line.areaCountsDeg + 2 * line.areaCountsDegU < MISSING_BELOW * largest;
}

function textureOf(
  seen: readonly TestedLine[],
  clear: readonly TestedLine[],
  oriented: readonly string[],
): string | null {
  if (seen.length === 0) return null;
  const isAligned =
    seen.every((line) => oriented.includes(line.label)) && clear.some((line) => isMissing(line, seen));
  if (isAligned) return `aligned, ${seen.map((line) => line.label).join(', ')} along the normal`;
  return seen.length > 1 ? 'random or weakly aligned' : null;
}

function doubtOf(
  seen: readonly TestedLine[],
  clear: readonly TestedLine[],
  oriented: readonly string[],
  isContested: (peak: number) => boolean,
): string | undefined {
  if (seen.length === 0) return undefined;
  if (seen.every((line) => isContested(line.peak!))) {
    return `The line at ${seen[0]!.twoThetaDeg.toFixed(2)} degrees may as well be another phase's.`;
  }
  const missing = clear.filter((line) => isMissing(line, seen));
  if (
    missing.length > 0 &&
    seen.length < missing.length + 1 &&
    !seen.every((line) => oriented.includes(line.label))
  ) {
    return `A line stands at ${seen.map((line) => line.label).join(', ')}, but ${missing.map((line) => line.label).join(', ')}, which should be as strong, is missing.`;
  }
  const [only] = seen;
  if (
    seen.length === 1 &&
    !oriented.includes(only!.label) &&
    only!.areaCountsDeg < LONE_LINE_SIGNIFICANCE * only!.areaCountsDegU
  ) {
    return `Only one line, at ${only!.label}, and a weak one: another phase's line or a broad ripple could stand there.`;
  }
  return undefined;
}
