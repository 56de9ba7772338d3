// Jobs of the running server: started, watched, cancelled. A job is re-creatable from its request, so nothing is stored.
import { v7 as newId } from 'uuid';
import type { Runner } from '../runner/runner.ts';

export type JobState =
  | { state: 'running'; done: number; total: number }
  | { state: 'done'; response: unknown }
  | { state: 'failed'; error: unknown }
  | { state: 'cancelled' };

export interface Job {
  readonly id: string;
  readonly computation: string;
  readonly startedAt: string;
  current: JobState;
  cancel(): void;
  /** called with each new state until a final one; answers how to stop listening */
  watch(listener: (state: JobState) => void): () => void;
  readonly finished: Promise<JobState>;
}

/** Finished jobs kept for who asks late; the oldest go first. */
const KEPT_JOBS = 200;
/** Running at once; one more is refused in words by the server. */
export const MAX_RUNNING_JOBS = 50;

export class JobList {
  readonly #jobs = new Map<string, Job>();
  readonly #runner: Runner;

  constructor(runner: Runner) {
    this.#runner = runner;
  }

  get runningCount(): number {
    let count = 0;
    for (const job of this.#jobs.values()) if (job.current.state === 'running') count++;
    return count;
  }

  /** Cancels what runs, for the end of the program. */
  cancelAll(): void {
    for (const job of this.#jobs.values()) job.cancel();
  }

  find(id: string): Job | undefined {
    return this.#jobs.get(id);
  }

  start(computation: string, request: unknown, startedAt: string): Job {
    const controller = new AbortController();
    const listeners = new Set<(state: JobState) => void>();
    let job: Job;
    const tell = (state: JobState): JobState => {
      job.current = state;
      for (const listener of listeners) listener(state);
      return state;
    };
    const finished = Promise.resolve()
      .then(() =>
        this.#runner.run(computation, request, {
          signal: controller.signal,
          onProgress: (done, total) => tell({ state: 'running', done, total }),
        }),
      )
      .then(
        (response) => tell({ state: 'done', response }),
        (error: unknown) =>
          tell(controller.signal.aborted ? { state: 'cancelled' } : { state: 'failed', error }),
      );
    job = {
      id: newId(),
      computation,
      startedAt,
      current: { state: 'running', done: 0, total: 0 },
      cancel: () => controller.abort(),
      watch(listener) {
        listeners.add(listener);
        return () => listeners.delete(listener);
      },
      finished,
    };
    this.#jobs.set(job.id, job);
    for (const [id, old] of this.#jobs) {
      if (this.#jobs.size <= KEPT_JOBS) break;
      if (old.current.state !== 'running') this.#jobs.delete(id);
    }
    return job;
  }
}
