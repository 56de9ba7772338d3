// The browser engine: one worker that computes what a page asks, and stops between parts where it is no longer asked.
import { WordedError } from '../science/worded-error.ts';
import type { WorkerAnswer, WorkerAsk } from './browser-messages.ts';
import type { CarriedError, Runner, RunOptions } from './runner.ts';

/** The part of `Worker` that the engine needs. */
interface WorkerLike {
  postMessage(message: WorkerAsk | { cancel: number }): void;
  onmessage: ((event: MessageEvent<WorkerAnswer>) => void) | null;
}

/** An error that a worker or a server answered with. */
export class CarriedDomainError extends WordedError {
  constructor({ code, sentence, remedy }: CarriedError) {
    super(code, sentence, remedy);
  }
}

interface Waiting {
  resolve: (response: unknown) => void;
  reject: (error: unknown) => void;
  onProgress: RunOptions['onProgress'];
}

/**
 * A runner over one worker. Cancelling a request rejects it at once with an AbortError and tells the worker, which
 * stops between parts.
 */
export function browserRunner(worker: WorkerLike): Runner {
  const waiting = new Map<number, Waiting>();
  let lastId = 0;
  worker.onmessage = ({ data }) => {
    const entry = waiting.get(data.id);
    if (!entry) return;
    if (data.kind === 'progress') {
      entry.onProgress?.(data.done, data.total);
      return;
    }
    waiting.delete(data.id);
    if (data.kind === 'response') entry.resolve(data.response);
    else entry.reject(new CarriedDomainError(data.error));
  };
  return {
    run(name, request, { signal, onProgress } = {}) {
      return new Promise((resolve, reject) => {
        if (signal?.aborted) {
          reject(signal.reason);
          return;
        }
        const id = ++lastId;
        waiting.set(id, { resolve, reject, onProgress });
        worker.postMessage({ id, name, request });
        signal?.addEventListener(
          'abort',
          () => {
            if (!waiting.delete(id)) return;
            worker.postMessage({ cancel: id });
            reject(signal.reason);
          },
          { once: true },
        );
      });
    },
  };
}
