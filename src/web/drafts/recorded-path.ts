// A recorded path, whose steps each say their gas throughout, as the steps of a plan, and back. Pure.
import type { PathPlan, Segment } from '../../records/kinds.ts';
import { ROOM_C } from './treatment-draft.ts';

export interface RecordedPath {
  readonly start: PathPlan['start'];
  readonly segments: PathPlan['segments'];
  /** index of the recorded step that each of these comes from */
  readonly stepOf: readonly number[];
}

/**
 * Where the gas changes from one recorded step to the next, a sudden change of gas comes first; a recorded change of gas at one
 * temperature takes the time that is recorded.
 *
 * @param startC a treatment begins at room temperature, in the gas of its first step
 */
export function recordedPath(recorded: readonly Segment[], startC = ROOM_C): RecordedPath {
  const segments: PathPlan['segments'] = [];
  const stepOf: number[] = [];
  let fromC = startC;
  let po2Atm = recorded[0]?.po2Atm ?? 0;
  const start = { temperatureC: startC, po2Atm };
  recorded.forEach((step, i) => {
    const add = (segment: PathPlan['segments'][number]): void => {
      segments.push(segment);
      stepOf.push(i);
    };
    const { kind, toC, durationS } = step;
    const isGas = kind === 'gas change' && toC === fromC && step.po2Atm !== po2Atm;
    if (step.po2Atm !== po2Atm) add({ kind: 'gas', toPo2Atm: step.po2Atm, durationS: isGas ? durationS : 0 });
    if (toC !== fromC) add({ kind: kind === 'cool' && toC < fromC ? 'cool' : 'ramp', toC, durationS });
    else if (!isGas) add({ kind: 'hold', durationS });
    fromC = toC;
    po2Atm = step.po2Atm;
  });
  return { start, segments, stepOf };
}

/** A step with its ends, as growth.path places it. */
export interface PlacedStep {
  readonly kind: string;
  readonly startS: number;
  readonly endS: number;
  readonly fromC: number;
  readonly toC: number;
  readonly fromPo2Atm: number;
  readonly toPo2Atm: number;
}

/**
 * The plan as the steps of a treatment, which begins at room temperature and says the gas of each step at its end.
 * A change of gas becomes a step of its own.
 *
 * @returns what was left out or added, in words, and the steps; `deposits` are the numbers of the steps that no treatment can hold
 */
export function treatmentSegments(placed: readonly PlacedStep[]): {
  segments: Segment[];
  deposits: number[];
} {
  const segments: Segment[] = [];
  const first = placed[0];
  if (first && (first.fromC !== ROOM_C || first.kind === 'gas'))
    segments.push({ kind: 'ramp', toC: first.fromC, durationS: 0, po2Atm: first.fromPo2Atm, gas: 'O2' });
  for (const { kind, startS, endS, toC, toPo2Atm } of placed)
    if (kind !== 'deposit')
      segments.push({
        kind: kind === 'gas' ? 'gas change' : (kind as Segment['kind']),
        toC,
        durationS: Number((endS - startS).toPrecision(12)),
        po2Atm: toPo2Atm,
        gas: 'O2',
      });
  return { segments, deposits: placed.flatMap(({ kind }, i) => (kind === 'deposit' ? [i + 1] : [])) };
}
