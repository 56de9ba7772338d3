// Catalogue entries from a page: a worker in the browser, newest request first.
import { useEffect, useRef, useState } from 'react';
import { browserRunner, newestWins } from '../runner/browser.ts';
import type { Runner } from '../runner/runner.ts';

let shared: Runner | undefined;

/** The page's one worker, started when first needed. */
export function pageRunner(): Runner {
  shared ??= browserRunner(
    new Worker(new URL('../runner/browser-worker.ts', import.meta.url), { type: 'module' }),
  );
  return shared;
}

export interface ComputationState<Response> {
  /** the newest answer; stays while the next is computed */
  response: Response | null;
  error: Error | null;
  isRunning: boolean;
  /** share of parts done, 0 to 1 */
  progress: number;
}

/**
 * Computes whenever the request changes; a newer request cancels the older one, and the last answer stays on the page
 * until the next is there.
 *
 * @param request null asks nothing
 */
export function useComputation<Response>(name: string, request: unknown): ComputationState<Response> {
  const [state, setState] = useState<ComputationState<Response>>({
    response: null,
    error: null,
    isRunning: false,
    progress: 0,
  });
  const lane = useRef<Runner | null>(null);
  const key = JSON.stringify(request);
  useEffect(() => {
    if (key === 'null') return;
    lane.current ??= newestWins(pageRunner());
    const controller = new AbortController();
    setState((before) => ({ ...before, isRunning: true, progress: 0 }));
    lane.current
      .run(name, JSON.parse(key), {
        signal: controller.signal,
        onProgress: (done, total) => setState((before) => ({ ...before, progress: done / total })),
      })
      .then((response) =>
        setState({ response: response as Response, error: null, isRunning: false, progress: 1 }),
      )
      .catch((error: Error) => {
        if (error.name !== 'AbortError') setState({ response: null, error, isRunning: false, progress: 0 });
      });
    return () => controller.abort(new DOMException('The page went on.', 'AbortError'));
  }, [name, key]);
  return state;
}
