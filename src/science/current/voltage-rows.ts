// Rows of a voltage-current curve: checked, cut where the bridge quenches, ordered by size of current. Pure; A, V, s.
import { DomainError } from '../errors.ts';
import { type Flag, inWords } from '../measured.ts';
import { isotonic } from '../numerics/isotonic.ts';
import { noiseOfCurve } from '../numerics/straight-line.ts';

/** Fewest rows with current and voltage that make a curve. */
export const MIN_ROWS = 8;
/** No film has a larger exponent; a faster rise between two rows is a jump. */
const LARGEST_N = 120;
/** A jump must end this many times above the criterion, and rise this many times more than the largest n allows. */
const JUMP_ABOVE_CRITERION = 10;
const JUMP_FACTOR = 3;

export interface VoltageRows {
  /** index of each kept row in the request */
  index: Int32Array;
  currentA: Float64Array;
  voltageV: Float64Array;
  timeS: Float64Array | undefined;
  /** standard deviation of one voltage, from its low-current half */
  noiseV: number;
  /** largest current before a quench, or undefined without one */
  quenchAtA: number | undefined;
}

export function checkedVoltageRows(
  currentA: ArrayLike<number>,
  voltageV: ArrayLike<number>,
  timeS: ArrayLike<number> | undefined,
  criterionV: number,
  flags: Flag[],
): VoltageRows {
  const n = currentA.length;
  if (voltageV.length !== n || (timeS && timeS.length !== n))
    throw new DomainError(
      'CURRENT_LENGTHS',
      `${n} currents, ${voltageV.length} voltages${timeS ? `, ${timeS.length} times` : ''}.`,
    );
  const finite: number[] = [];
  for (let i = 0; i < n; i++)
    if (Number.isFinite(currentA[i]!) && Number.isFinite(voltageV[i]!) && Number.isFinite(timeS?.[i] ?? 0))
      finite.push(i);
  if (finite.length < MIN_ROWS)
    throw new DomainError(
      'CURRENT_TOO_FEW',
      `${finite.length} of ${n} rows hold a current and a voltage; at least ${MIN_ROWS} are needed.`,
    );
  if (finite.length < n)
    flags.push({
      code: 'ROWS_MISSING',
      message: `${n - finite.length} of ${n} rows lack a number and were left out.`,
    });
  const { kept, quenchAtA } = withoutQuench(finite, currentA, voltageV, criterionV);
  if (quenchAtA !== undefined)
    flags.push({
      code: 'QUENCH_CUT',
      message: `The voltage jumps at ${inWords(quenchAtA)} A as no power law does (quench or heating): ${finite.length - kept.length} rows from there on were left out.`,
    });
  if (kept.length < MIN_ROWS)
    throw new DomainError(
      'CURRENT_TOO_FEW',
      `${kept.length} rows are left before the voltage jumps at ${inWords(quenchAtA ?? 0)} A; at least ${MIN_ROWS} are needed.`,
    );
  const largestA = kept.reduce((m, i) => Math.max(m, Math.abs(currentA[i]!)), 0);
  const low = kept.filter((i) => Math.abs(currentA[i]!) <= 0.6 * largestA);
  const quiet = low.length >= MIN_ROWS ? low : kept;
  return {
    index: Int32Array.from(kept),
    currentA: Float64Array.from(kept, (i) => currentA[i]!),
    voltageV: Float64Array.from(kept, (i) => voltageV[i]!),
    timeS: timeS && Float64Array.from(kept, (i) => timeS[i]!),
    noiseV: noiseOfCurve(
      quiet.map((i) => currentA[i]!),
      quiet.map((i) => voltageV[i]!),
    ),
    quenchAtA,
  };
}

/** Rows up to a jump, and again once the current has come down to a fifth of it or changed its sign. */
function withoutQuench(
  rows: number[],
  currentA: ArrayLike<number>,
  voltageV: ArrayLike<number>,
  criterionV: number,
): { kept: number[]; quenchAtA: number | undefined } {
  const kept: number[] = [];
  let quenchAtA: number | undefined;
  let isHot = false;
  let hotCurrent = 0;
  for (const i of rows) {
    const current = currentA[i]!;
    const voltage = Math.abs(voltageV[i]!);
    const last = kept.at(-1);
    if (isHot) {
      isHot = Math.abs(current) > 0.2 * Math.abs(hotCurrent) && current * hotCurrent > 0;
      if (isHot) continue;
    } else if (last !== undefined && current * currentA[last]! > 0) {
      const ratio = Math.abs(current / currentA[last]!);
      const before = Math.max(Math.abs(voltageV[last]!), criterionV / 10);
      const allowed = JUMP_FACTOR * Math.max(1, ratio) ** LARGEST_N;
      if (voltage > JUMP_ABOVE_CRITERION * criterionV && voltage / before > allowed) {
        isHot = true;
        hotCurrent = current;
        quenchAtA ??= Math.abs(currentA[last]!);
        continue;
      }
    }
    kept.push(i);
  }
  return { kept, quenchAtA };
}

/** One polarity, in rising size of current: rows, and voltage towards that polarity with its noise pooled away. */
export interface Polarity {
  sign: 1 | -1;
  rows: number[];
  sizeA: Float64Array;
  rising: Float64Array;
}

/** Rows of one sign of current with `voltage` (one a row of the curve) pooled so that it never falls. */
export function polarity(currentA: Float64Array, voltage: Float64Array, sign: 1 | -1): Polarity {
  const rows = Array.from(currentA.keys())
    .filter((k) => currentA[k]! * sign > 0)
    .sort((a, b) => Math.abs(currentA[a]!) - Math.abs(currentA[b]!));
  return {
    sign,
    rows,
    sizeA: Float64Array.from(rows, (k) => Math.abs(currentA[k]!)),
    rising: isotonic(rows.map((k) => sign * voltage[k]!)),
  };
}

/** Size of current at which the pooled voltage passes a level; undefined if it starts above it or never reaches it. */
export function passesAtA(
  { sizeA, rising }: Polarity,
  levelV: number,
): { currentA: number; gapA: number } | undefined {
  const k = rising.findIndex((v) => v >= levelV);
  if (k < 1) return undefined;
  const low = rising[k - 1]!;
  const gapA = sizeA[k]! - sizeA[k - 1]!;
  return { currentA: sizeA[k - 1]! + (gapA * (levelV - low)) / (rising[k]! - low), gapA };
}
