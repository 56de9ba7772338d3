// Critical current density against field from a magnetisation loop. Pure; SI.
import { DomainError } from '../errors.ts';
import { type Flag, inWords, type Measured } from '../measured.ts';
import { straightLine } from '../numerics/straight-line.ts';
import {
  beanJcAPerM2,
  beanSensitivities,
  type Rectangle,
  reversalFieldT,
  stripPenetrationT,
} from './bean.ts';
import { depairingAPerM2, flagDepairing } from './depairing.ts';
import { type Branch, branchMoment, type LoopBranches, loopBranches } from './loop-branches.ts';
import { lengthShares } from './usual-uncertainty.ts';

export interface LoopInput {
  fieldT: ArrayLike<number>;
  momentAmpereM2: ArrayLike<number>;
  /** full sides in either order, m */
  shape: { kind: 'rectangle'; aM: number; bM: number; thicknessM: number };
  /** standard uncertainties: of each length, m, and of one moment reading, A m2 */
  uncertainties?:
    | {
        aM?: number | undefined;
        bM?: number | undefined;
        thicknessM?: number | undefined;
        momentAmpereM2?: number | undefined;
      }
    | undefined;
  temperatureK?: number | undefined;
  /** fields to answer at, T; round ones where left out */
  atFieldsT?: ArrayLike<number> | undefined;
}

export interface LoopPoint {
  fieldT: number;
  jc: Measured;
  /** below the piece's own field, where Jc(B) is rounded */
  isRounded: boolean;
}

export interface LoopResult {
  points: LoopPoint[];
  /** own field of the piece at its largest Jc; null without a point */
  selfFieldT: number | null;
  background: { slopeAmpereM2PerT: Measured; offsetAmpereM2: number } | null;
  /** standard deviation of one moment reading, A m2 */
  noiseAmpereM2: number;
  flags: Flag[];
}

/** Fields that are answered where the data reach them, T. */
const ROUND_FIELDS_T = [
  0, 0.01, 0.02, 0.03, 0.05, 0.07, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.2, 1.5, 2, 2.5, 3,
  3.5, 4, 4.5, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20,
];
const LARGEST_PLAUSIBLE_FIELD_T = 50;
/** An opening below this many standard uncertainties is no hysteresis. */
const LEAST_OPENING = 3;

/**
 * Jc(B) by the extended critical-state model of a rectangle, from the opening of the loop: Jc = 2 dM/[a (1 - a/(3b))],
 * dM = (m_falling - m_rising)/(a b t).
 *
 * Branches are found by the direction of the sweep, each is read by local parabolas, and +B and -B are averaged, half
 * their difference joining the uncertainty as a rectangular distribution. Fields that lie within the turn-round of a
 * branch are left out. A linear background cancels in the opening; it is fitted to the mean of the branches and told.
 * u(Jc) joins noise, asymmetry, gap of the loop and the three lengths in squares; a length whose uncertainty is not stated
 * takes the usual one, and it is said.
 *
 * @throws DomainError LOOP_LENGTHS, LOOP_TOO_FEW, LOOP_GEOMETRY, LOOP_COLUMNS_SWAPPED, LOOP_ONE_BRANCH
 *
 * Source: [memory: Gyorgy et al. 1989, Appl. Phys. Lett. 55, 283]; own field [memory: Brandt 1996, Phys. Rev. B 54, 4246];
 * limits of the rule where Jc varies [looked-up: Johansen and Bratsberg 1995, J. Appl. Phys. 77, 3945, abstract].
 */
export function magnetisationLoop(input: LoopInput): LoopResult {
  const flags: Flag[] = [];
  const shape = checkedShape(input, flags);
  const branches = loopBranches(input.fieldT, input.momentAmpereM2, shape, flags);
  const noise = Math.max(branches.noise, input.uncertainties?.momentAmpereM2 ?? 0);
  if (branches.largestT > LARGEST_PLAUSIBLE_FIELD_T)
    flags.push({
      code: 'FIELD_UNIT_SUSPECT',
      message: `The field reaches ${inWords(branches.largestT)} T, beyond steady magnets: the column may be in Oe or mT. It was used as given.`,
    });
  const sign = signOfOpening(branches, flags);
  const wanted = input.atFieldsT ? Array.from(input.atFieldsT) : ROUND_FIELDS_T;
  const result: LoopResult = {
    points: [],
    selfFieldT: null,
    background: backgroundOf(branches),
    noiseAmpereM2: noise,
    flags,
  };
  const lost: number[] = [];
  const asymmetric: number[] = [];
  for (const fieldT of wanted) {
    const opening = openingAt(branches, fieldT, noise, sign, shape);
    if (!opening) continue;
    if (!(opening.value > LEAST_OPENING * opening.u)) {
      lost.push(fieldT);
      continue;
    }
    if (opening.isAsymmetric) asymmetric.push(fieldT);
    result.points.push({ fieldT, jc: density(opening, shape), isRounded: false });
  }
  if (lost.length > 0) flagLost(lost, noise, shape, flags);
  if (asymmetric.length > 0)
    flags.push({
      code: 'LOOP_ASYMMETRIC',
      message: `The loop opens differently at +B and -B at ${asymmetric.map(inWords).join(', ')} T: a field offset, a drift or a second signal. The mean is given.`,
    });
  if (result.points.length === 0)
    flags.push({
      code: 'LOOP_NO_POINT',
      message: 'At no wanted field do both branches give an opening above the noise.',
    });
  else finish(result, shape, input, flags);
  return result;
}

function finish(result: LoopResult, shape: Rectangle, input: LoopInput, flags: Flag[]): void {
  const largest = result.points.reduce((m, p) => Math.max(m, p.jc.value), 0);
  const selfFieldT = stripPenetrationT(largest, shape.aM, shape.thicknessM);
  result.selfFieldT = selfFieldT;
  for (const point of result.points) point.isRounded = point.fieldT < selfFieldT;
  if (result.points.some((p) => p.isRounded))
    flags.push({
      code: 'SELF_FIELD_ROUNDED',
      message: `Below ${inWords(selfFieldT)} T, the piece's own field, Jc(B) is rounded: those points are a mean over the field inside.`,
    });
  flagDepairing(largest, input.temperatureK, flags);
}

/** A rectangle with the relative standard uncertainties of a, b and thickness. */
type KnownRectangle = Rectangle & { shares: readonly number[] };

function checkedShape({ shape, uncertainties }: LoopInput, flags: Flag[]): KnownRectangle {
  for (const name of ['aM', 'bM', 'thicknessM'] as const)
    if (!(shape[name] > 0))
      throw new DomainError('LOOP_GEOMETRY', `${name} is ${shape[name]} m; it must be above 0.`);
  const limits = [
    ['aM', 1e-5, 0.1],
    ['bM', 1e-5, 0.1],
    ['thicknessM', 2e-9, 2e-5],
  ] as const;
  for (const [name, low, high] of limits)
    if (shape[name] < low || shape[name] > high)
      flags.push({
        code: 'LENGTH_UNIT_SUSPECT',
        message: `${name} is ${inWords(shape[name])} m, outside ${low} to ${high} m of film pieces: it may be in another unit (a factor 1000). It was used as given.`,
      });
  const u = uncertainties ?? {};
  const [a, b] = [
    { name: 'side a', kind: 'side', valueM: shape.aM, standardUncertaintyM: u.aM },
    { name: 'side b', kind: 'side', valueM: shape.bM, standardUncertaintyM: u.bM },
  ] as const;
  const [shorter, longer] = a.valueM <= b.valueM ? [a, b] : [b, a];
  const thickness = {
    name: 'the thickness',
    kind: 'thickness',
    valueM: shape.thicknessM,
    standardUncertaintyM: u.thicknessM,
  } as const;
  return {
    aM: shorter.valueM,
    bM: longer.valueM,
    thicknessM: shape.thicknessM,
    shares: lengthShares([shorter, longer, thickness], flags),
  };
}

interface Opening {
  value: number;
  u: number;
  isAsymmetric: boolean;
}

/** Opening at |B|, mean over both signs of the field where both are there. */
function openingAt(
  branches: LoopBranches,
  fieldT: number,
  noise: number,
  sign: number,
  shape: Rectangle,
): Opening | undefined {
  const sides = fieldT === 0 ? [0] : [fieldT, -fieldT];
  const found: { value: number; u: number }[] = [];
  for (const b of sides) {
    const falling = meanMoment(branches.falling, b, noise);
    const rising = branches.isMirrored
      ? mirrored(branches.falling, b, noise)
      : meanMoment(branches.rising, b, noise);
    if (!falling || !rising) continue;
    const value = sign * (falling.value - rising.value);
    // no film is above depairing: a slip of unit must not push every field into the turn-round
    const jc = Math.min(Math.abs(beanJcAPerM2(value, shape)), depairingAPerM2());
    const aside = reversalFieldT(jc, shape.thicknessM);
    if (b > falling.highestT - aside || b < rising.lowestT + aside) continue;
    found.push({ value, u: Math.hypot(falling.u, rising.u, branches.gap / Math.sqrt(12)) });
  }
  if (found.length === 0) return undefined;
  const value = found.reduce((sum, f) => sum + f.value, 0) / found.length;
  const inner = Math.hypot(...found.map((f) => f.u)) / found.length;
  const half = found.length > 1 ? Math.abs(found[0]!.value - found[1]!.value) / 2 : 0;
  const isAsymmetric = half > 3 * inner && half > 0.025 * value;
  // a difference that the noise explains is in `inner` already
  return { value, u: Math.hypot(inner, isAsymmetric ? half / Math.sqrt(3) : 0), isAsymmetric };
}

interface BranchReading {
  value: number;
  u: number;
  lowestT: number;
  highestT: number;
}

/** Mean of the sweeps of one direction that reach this field. */
function meanMoment(sweeps: readonly Branch[], fieldT: number, noise: number): BranchReading | undefined {
  const readings = sweeps.flatMap((sweep) => {
    const read = branchMoment(sweep, fieldT, noise);
    return read ? [{ ...read, sweep }] : [];
  });
  if (readings.length === 0) return undefined;
  return {
    value: readings.reduce((sum, r) => sum + r.value, 0) / readings.length,
    u: Math.hypot(...readings.map((r) => r.u)) / readings.length,
    lowestT: readings.reduce((m, r) => Math.max(m, r.sweep.fieldT[0]!), Number.NEGATIVE_INFINITY),
    highestT: readings.reduce((m, r) => Math.min(m, r.sweep.fieldT.at(-1)!), Number.POSITIVE_INFINITY),
  };
}

/** The rising branch as the falling one turned about the origin. */
function mirrored(falling: readonly Branch[], fieldT: number, noise: number): BranchReading | undefined {
  const read = meanMoment(falling, -fieldT, noise);
  return read && { value: -read.value, u: read.u, lowestT: -read.highestT, highestT: -read.lowestT };
}

function density(opening: Opening, shape: KnownRectangle): Measured {
  const value = beanJcAPerM2(opening.value, shape);
  const by = beanSensitivities(shape);
  const share = Math.hypot(
    opening.u / opening.value,
    by.a * shape.shares[0]!,
    by.b * shape.shares[1]!,
    by.thickness * shape.shares[2]!,
  );
  return { value, standardUncertainty: value * share, unit: 'A/m2' };
}

/** The falling branch of a superconductor lies above the rising one; a moment of the wrong sign is turned and said. */
function signOfOpening(branches: LoopBranches, flags: Flag[]): 1 | -1 {
  if (branches.isMirrored) return 1;
  let sum = 0;
  for (let k = -8; k <= 8; k++) {
    const b = 0.1 * k * branches.largestT;
    const falling = meanMoment(branches.falling, b, 0);
    const rising = meanMoment(branches.rising, b, 0);
    if (falling && rising) sum += falling.value - rising.value;
  }
  if (sum >= 0) return 1;
  flags.push({
    code: 'LOOP_SIGN',
    message:
      'The falling branch lies below the rising one, against any superconductor: the sign of moment or field is turned. The opening was taken without its sign.',
  });
  return -1;
}

/** Straight line through the mean of the branches above half the largest field, where the opening cancels. */
function backgroundOf(branches: LoopBranches): LoopResult['background'] {
  if (branches.isMirrored) return null;
  const fields: number[] = [];
  const means: number[] = [];
  for (let k = -19; k <= 19; k++) {
    const b = (k / 20) * branches.largestT;
    if (Math.abs(b) < 0.5 * branches.largestT) continue;
    const falling = meanMoment(branches.falling, b, 0);
    const rising = meanMoment(branches.rising, b, 0);
    if (!falling || !rising || b > 0.9 * falling.highestT || b < 0.9 * rising.lowestT) continue;
    fields.push(b);
    means.push((falling.value + rising.value) / 2);
  }
  const line = fields.length > 3 ? straightLine(fields, means) : undefined;
  return line
    ? {
        slopeAmpereM2PerT: {
          value: line.slope,
          standardUncertainty: Math.sqrt(line.slopeVariance),
          unit: 'A m2/T',
        },
        offsetAmpereM2: line.intercept,
      }
    : null;
}

function flagLost(lost: number[], noise: number, shape: Rectangle, flags: Flag[]): void {
  const bound = beanJcAPerM2(LEAST_OPENING * Math.SQRT2 * noise, shape);
  flags.push({
    code: 'LOOP_CLOSED',
    message: `At ${lost.map(inWords).join(', ')} T the branches lie within the noise of each other: Jc is below about ${inWords(bound)} A/m2 there.`,
  });
}
