// Branches of a magnetisation loop, told by the direction of the sweep. Pure; T and A m2.
import { DomainError } from '../errors.ts';
import { type Flag, inWords } from '../measured.ts';
import { fitPolynomial } from '../numerics/polynomial.ts';
import { median, noiseOfCurve } from '../numerics/straight-line.ts';
import { sweepsOf } from '../numerics/sweeps.ts';
import { type Rectangle, saturatedMomentAmpereM2 } from './bean.ts';
import { depairingAPerM2 } from './depairing.ts';

/** Fewest rows of a loop, and of one branch. */
const MIN_ROWS = 16;
const MIN_BRANCH_ROWS = 5;
/** Rows of the local parabola that reads a branch. */
const LOCAL_ROWS = 5;

/** Rows on either side of a field may lie this share of it apart, or this far at zero, to read a value between them. */
const WIDEST_GAP = 0.6;
const WIDEST_GAP_AT_ZERO_T = 0.02;

/** One sweep, in rising field. */
export interface Branch {
  fieldT: Float64Array;
  momentAmpereM2: Float64Array;
}

export interface LoopBranches {
  falling: Branch[];
  rising: Branch[];
  /** only falling sweeps through both signs are there, and stand for both by symmetry */
  isMirrored: boolean;
  noise: number;
  largestT: number;
  /** by how much the loop misses its own start after a round, A m2; 0 where that cannot be told */
  gap: number;
}

/**
 * Splits a loop into falling and rising branches. A first sweep that starts near zero field is the virgin curve and is left
 * out once a later sweep goes the same way.
 *
 * @throws DomainError LOOP_LENGTHS, LOOP_TOO_FEW, LOOP_COLUMNS_SWAPPED, LOOP_ONE_BRANCH
 */
export function loopBranches(
  fieldT: ArrayLike<number>,
  momentAmpereM2: ArrayLike<number>,
  shape: Rectangle,
  flags: Flag[],
): LoopBranches {
  const n = fieldT.length;
  if (momentAmpereM2.length !== n)
    throw new DomainError('LOOP_LENGTHS', `${n} fields but ${momentAmpereM2.length} moments.`);
  const rows: number[] = [];
  for (let i = 0; i < n; i++)
    if (Number.isFinite(fieldT[i]!) && Number.isFinite(momentAmpereM2[i]!)) rows.push(i);
  if (rows.length < MIN_ROWS)
    throw new DomainError(
      'LOOP_TOO_FEW',
      `${rows.length} of ${n} rows hold a field and a moment; at least ${MIN_ROWS} are needed.`,
    );
  if (rows.length < n)
    flags.push({
      code: 'ROWS_MISSING',
      message: `${n - rows.length} of ${n} rows lack a number and were left out.`,
    });
  const b = Float64Array.from(rows, (i) => fieldT[i]!);
  const m = Float64Array.from(rows, (i) => momentAmpereM2[i]!);
  const largestT = b.reduce((a, x) => Math.max(a, Math.abs(x)), 0);
  const largestM = m.reduce((a, x) => Math.max(a, Math.abs(x)), 0);
  refuseSwapped(largestT, largestM, shape);
  const span = b.reduce((a, x) => Math.max(a, x), -Infinity) - b.reduce((a, x) => Math.min(a, x), Infinity);
  const stepT = median(Array.from({ length: b.length - 1 }, (_, i) => Math.abs(b[i + 1]! - b[i]!)));
  const sweeps = sweepsOf(b, Math.max(0.02 * span, 1.5 * stepT)).filter(
    (s) => s.to - s.from + 1 >= MIN_BRANCH_ROWS,
  );
  const first = sweeps[0];
  const isVirgin =
    first !== undefined &&
    Math.abs(b[first.from]!) < 0.05 * largestT &&
    sweeps.slice(1).some((s) => s.direction === first.direction);
  const used = isVirgin ? sweeps.slice(1) : sweeps;
  const branchOf = ({ from, to }: { from: number; to: number }): Branch => {
    const order = Array.from({ length: to - from + 1 }, (_, k) => from + k).sort(
      (p, q) => b[p]! - b[q]! || p - q,
    );
    return {
      fieldT: Float64Array.from(order, (i) => b[i]!),
      momentAmpereM2: Float64Array.from(order, (i) => m[i]!),
    };
  };
  const falling = used.filter((s) => s.direction < 0).map(branchOf);
  const rising = used.filter((s) => s.direction > 0).map(branchOf);
  const noise = median(
    [...falling, ...rising].map((branch) => noiseOfCurve(branch.fieldT, branch.momentAmpereM2)),
  );
  const isMirrored = mirrorOrRefuse(falling, rising, largestT, flags);
  const gap = isMirrored ? 0 : gapOf(falling, rising, noise, flags);
  return { falling, rising, isMirrored, noise, largestT, gap };
}

/** A moment larger than depairing allows, beside fields that a moment would fit, is the field column. */
function refuseSwapped(largestT: number, largestM: number, shape: Rectangle): void {
  const possible = saturatedMomentAmpereM2(depairingAPerM2(), shape);
  if (largestM > 3 * possible && largestT < possible)
    throw new DomainError(
      'LOOP_COLUMNS_SWAPPED',
      `The moments reach ${inWords(largestM)} A m2, ${inWords(largestM / possible)} times what this piece can have, and the fields only ${inWords(largestT)} T: the columns look exchanged.`,
    );
}

function mirrorOrRefuse(falling: Branch[], rising: Branch[], largestT: number, flags: Flag[]): boolean {
  if (falling.length > 0 && rising.length > 0) return false;
  const only = falling.length > 0 ? falling : rising;
  const isBothSigns = only.some((s) => s.fieldT[0]! < -0.5 * largestT && s.fieldT.at(-1)! > 0.5 * largestT);
  const word = falling.length > 0 ? 'falling' : 'rising';
  if (!isBothSigns)
    throw new DomainError(
      'LOOP_ONE_BRANCH',
      only.length === 0
        ? 'No sweep of the field with enough rows was found.'
        : `Only ${word} field was measured, from one sign: the opening of the loop is not there.`,
    );
  flags.push({
    code: 'LOOP_ONE_BRANCH_MIRRORED',
    message: `Only ${word} field was measured; the other branch is taken as this one turned about the origin, which hides drift and offset.`,
  });
  if (falling.length === 0) {
    // m(-B) -> -m turns a rising sweep into a falling one
    for (const { fieldT, momentAmpereM2 } of rising)
      falling.push({
        fieldT: fieldT.map((x) => -x).reverse(),
        momentAmpereM2: momentAmpereM2.map((x) => -x).reverse(),
      });
  }
  return true;
}

/** How far a loop misses itself where its first branch began, once it has come round. */
function gapOf(falling: Branch[], rising: Branch[], noise: number, flags: Flag[]): number {
  const down = falling[0]!;
  const up = rising.at(-1)!;
  const topT = Math.min(down.fieldT.at(-1)!, up.fieldT.at(-1)!);
  const bottomT = Math.max(falling.at(-1)!.fieldT[0]!, rising[0]!.fieldT[0]!);
  const opening = openingMiddle(down, up);
  const gaps: number[] = [];
  const endsMeet = (p: number, q: number): boolean =>
    Math.abs(p - q) < 0.01 * Math.max(Math.abs(p), Math.abs(q));
  const note = (fallingM: number, risingM: number, nearT: number): void => {
    // a branch that begins on its own side already was turned round before the first row: the opening is no gap
    const a = branchMoment(down, nearT, 0);
    const c = branchMoment(up, nearT, 0);
    const isOpening = a && c && Math.abs(fallingM - risingM) > 0.5 * Math.abs(a.value - c.value);
    if (!isOpening) gaps.push(Math.abs(fallingM - risingM));
  };
  if (endsMeet(down.fieldT.at(-1)!, up.fieldT.at(-1)!))
    note(down.momentAmpereM2.at(-1)!, up.momentAmpereM2.at(-1)!, 0.9 * topT);
  const last = falling.at(-1)!;
  const first = rising[0]!;
  if (bottomT < 0 && endsMeet(last.fieldT[0]!, first.fieldT[0]!))
    note(last.momentAmpereM2[0]!, first.momentAmpereM2[0]!, 0.9 * bottomT);
  const gap = gaps.reduce((a, x) => Math.max(a, x), 0);
  if (!(gap > 4 * noise && gap > 0.02 * opening)) return 0;
  flags.push({
    code: 'LOOP_UNCLOSED',
    message: `The loop misses its own end by ${inWords(gap)} A m2, ${Math.round((100 * gap) / opening)} % of its opening: drift, or a last sweep that stops short. It is in the uncertainty.`,
  });
  return gap;
}

function openingMiddle(down: Branch, up: Branch): number {
  const middleT =
    (Math.max(down.fieldT[0]!, up.fieldT[0]!) + Math.min(down.fieldT.at(-1)!, up.fieldT.at(-1)!)) / 2;
  const a = branchMoment(down, middleT, 0);
  const c = branchMoment(up, middleT, 0);
  return a && c ? Math.abs(a.value - c.value) : 0;
}

/**
 * Moment of one branch at a field, by a parabola through the nearest rows: a line would err by more than the noise where
 * the branch bends.
 *
 * @returns undefined outside the branch, or where the nearest rows are too far away for this field
 */
export function branchMoment(
  branch: Branch,
  fieldT: number,
  noise: number,
): { value: number; u: number } | undefined {
  const { fieldT: b, momentAmpereM2: m } = branch;
  const n = b.length;
  if (fieldT < b[0]! || fieldT > b[n - 1]!) return undefined;
  let above = 0;
  while (b[above]! < fieldT) above++;
  if (b[above]! === fieldT && noise === 0) return { value: m[above]!, u: 0 };
  const gapT = above > 0 ? b[above]! - b[above - 1]! : 0;
  const nearestT = Math.min(b[above]! - fieldT, above > 0 ? fieldT - b[above - 1]! : gapT);
  if (nearestT > 0.05 * gapT && gapT > Math.max(WIDEST_GAP * Math.abs(fieldT), WIDEST_GAP_AT_ZERO_T))
    return undefined;
  let from = Math.max(0, Math.min(above - Math.ceil(LOCAL_ROWS / 2), n - LOCAL_ROWS));
  const to = Math.min(n, from + LOCAL_ROWS);
  from = Math.max(0, to - LOCAL_ROWS);
  const x = b.subarray(from, to);
  const y = m.subarray(from, to);
  // scaled about the field, so that the value there and its variance are the first of each
  const halfT = (x[x.length - 1]! - x[0]!) / 2;
  const parabola =
    halfT > 0
      ? fitPolynomial(
          x.map((v) => (v - fieldT) / halfT),
          y,
          2,
        )
      : undefined;
  if (!parabola) return undefined;
  const [value] = parabola.coefficients;
  if (parabola.scatter > 2 * noise && above > 0) {
    // the branch bends sharply over these rows: its two neighbours alone; the parabola says how far a chord may err
    const part = gapT > 0 ? (fieldT - b[above - 1]!) / gapT : 0;
    const between = m[above - 1]! + part * (m[above]! - m[above - 1]!);
    return {
      value: between,
      u: Math.hypot(noise * Math.hypot(part, 1 - part), (between - value!) / Math.sqrt(3)),
    };
  }
  // rows that scatter by more than the noise are bent in a way that a parabola does not follow
  return { value: value!, u: Math.max(noise, parabola.scatter) * Math.sqrt(parabola.inverse[0]!) };
}
