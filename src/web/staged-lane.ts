// Requests in stages: a quick picture while a slider moves, the whole answer once it rests. Newest request first.
import type { Runner } from '../runner/runner.ts';

export interface StagedState<Response> {
  /** the newest answer; stays while the next is computed */
  readonly response: Response | null;
  /** what that answer was asked; a slider may have moved on meanwhile */
  readonly answered: unknown;
  /** stage of that answer, counted from 0; -1 before the first */
  readonly stage: number;
  readonly error: Error | null;
  readonly isRunning: boolean;
  /** share of parts done of the stage that runs, 0 to 1 */
  readonly progress: number;
}

export const NOTHING_ASKED: StagedState<never> = {
  response: null,
  answered: null,
  stage: -1,
  error: null,
  isRunning: false,
  progress: 0,
};

interface Asked {
  readonly name: string;
  readonly stages: readonly unknown[];
}

/** A request that rests this long is worth its whole answer. */
const REST_MS = 100;

/**
 * One lane of requests. The first stage of a request is never broken off: while it runs, newer requests wait and all but the
 * newest are dropped, so that a picture redraws during a drag however fast the slider moves. Further stages run on another
 * runner once the request rests, and are cancelled by a newer one.
 */
export class StagedLane<Response> {
  readonly #quick: () => Runner;
  readonly #rest: () => Runner;
  readonly #tell: (state: StagedState<Response>) => void;
  #state: StagedState<Response> = NOTHING_ASKED;
  #newest: Asked | null = null;
  #isQuickRunning = false;
  #isClosed = false;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #controller: AbortController | undefined;

  constructor(quick: () => Runner, rest: () => Runner, tell: (state: StagedState<Response>) => void) {
    this.#quick = quick;
    this.#rest = rest;
    this.#tell = tell;
  }

  /** @param stages one request a stage, coarse first */
  ask(name: string, stages: readonly unknown[]): void {
    this.#isClosed = false;
    this.#breakOffRest();
    this.#newest = { name, stages };
    this.#set({ isRunning: true, progress: 0 });
    if (!this.#isQuickRunning) void this.#runQuick(this.#newest);
  }

  /** Leaves what is shown as it is and computes no finer. */
  stop(): void {
    this.#breakOffRest();
    this.#newest = null;
    this.#set({ isRunning: false, progress: 0 });
  }

  /** Nothing more is told. */
  close(): void {
    this.#isClosed = true;
    this.#breakOffRest();
    this.#newest = null;
  }

  #set(change: Partial<StagedState<Response>>): void {
    this.#state = { ...this.#state, ...change };
    if (!this.#isClosed) this.#tell(this.#state);
  }

  #breakOffRest(): void {
    clearTimeout(this.#timer);
    this.#controller?.abort(new DOMException('A newer request took its place.', 'AbortError'));
    this.#controller = undefined;
  }

  async #runQuick(asked: Asked): Promise<void> {
    this.#isQuickRunning = true;
    const [request] = asked.stages;
    let hasFailed = false;
    try {
      const response = (await this.#quick().run(asked.name, request)) as Response;
      const isDone = this.#newest === null || (this.#newest === asked && asked.stages.length === 1);
      this.#set({
        response,
        answered: request,
        stage: 0,
        error: null,
        ...(isDone ? { isRunning: false, progress: 1 } : {}),
      });
    } catch (error) {
      hasFailed = true;
      if (this.#newest === asked) this.#fail(error as Error);
    }
    this.#isQuickRunning = false;
    const newest = this.#newest;
    if (newest === null) return;
    if (newest !== asked) void this.#runQuick(newest);
    else if (!hasFailed && asked.stages.length > 1)
      this.#timer = setTimeout(() => void this.#runRest(asked), REST_MS);
  }

  async #runRest(asked: Asked): Promise<void> {
    const controller = new AbortController();
    this.#controller = controller;
    try {
      for (let stage = 1; stage < asked.stages.length; stage++) {
        this.#set({ progress: 0 });
        const request = asked.stages[stage];
        const response = (await this.#rest().run(asked.name, request, {
          signal: controller.signal,
          onProgress: (done, total) => this.#set({ progress: done / total }),
        })) as Response;
        this.#set({ response, answered: request, stage, error: null });
      }
      this.#set({ isRunning: false, progress: 1 });
    } catch (error) {
      if ((error as Error).name !== 'AbortError') this.#fail(error as Error);
    }
  }

  #fail(error: Error): void {
    this.#set({ response: null, answered: null, stage: -1, error, isRunning: false, progress: 0 });
  }
}
