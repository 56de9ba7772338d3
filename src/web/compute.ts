// Catalogue entries from a page: two workers in the browser, one for quick pictures, one for whole answers.
import { useCallback, useEffect, useRef, useState } from 'react';
import { browserRunner } from '../runner/browser.ts';
import type { Runner } from '../runner/runner.ts';
import { NOTHING_ASKED, StagedLane, type StagedState } from './staged-lane.ts';

/** A runner over a worker of its own, started when first needed. */
function workerRunner(): () => Runner {
  let runner: Runner | undefined;
  return () => {
    runner ??= browserRunner(
      new Worker(new URL('../runner/browser-worker.ts', import.meta.url), { type: 'module' }),
    );
    return runner;
  };
}

const quickRunner = workerRunner();
/** For what takes long, so that no quick picture waits behind it. */
export const patientRunner = workerRunner();

export interface StagedComputation<Response> extends StagedState<Response> {
  /** computes no finer than what is shown */
  stop: () => void;
}

/**
 * Computes whenever the stages change: the first at once, also while they go on changing; the further ones, one after another,
 * once they rest. The last answer stays until the next is there.
 *
 * @param stages requests from coarse to fine; null asks nothing
 */
export function useStagedComputation<Response>(
  name: string,
  stages: readonly unknown[] | null,
): StagedComputation<Response> {
  const [state, setState] = useState<StagedState<Response>>(NOTHING_ASKED);
  const lane = useRef<StagedLane<Response> | null>(null);
  const key = JSON.stringify(stages);
  useEffect(() => {
    lane.current ??= new StagedLane<Response>(quickRunner, patientRunner, setState);
    const asked = JSON.parse(key) as readonly unknown[] | null;
    if (asked === null) lane.current.stop();
    else lane.current.ask(name, asked);
  }, [name, key]);
  useEffect(() => () => lane.current?.close(), []);
  const stop = useCallback(() => lane.current?.stop(), []);
  return { ...state, stop };
}

/**
 * Computes whenever the request changes, newest first; the last answer stays until the next is there.
 *
 * @param request null asks nothing
 */
export function useComputation<Response>(name: string, request: unknown): StagedComputation<Response> {
  return useStagedComputation<Response>(name, request === null ? null : [request]);
}
