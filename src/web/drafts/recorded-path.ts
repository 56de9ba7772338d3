// A recorded path, whose steps each say their gas throughout, as the steps of a plan. Pure.
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
    if (step.po2Atm !== po2Atm)
      add({ kind: 'gas', toPo2Atm: step.po2Atm, durationS: isGas ? durationS : 0 });
    if (toC !== fromC) add({ kind: kind === 'cool' && toC < fromC ? 'cool' : 'ramp', toC, durationS });
    else if (!isGas) add({ kind: 'hold', durationS });
    fromC = toC;
    po2Atm = step.po2Atm;
  });
  return { start, segments, stepOf };
}
