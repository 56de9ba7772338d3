// The worker of the page: computes what it is asked, and drops what a newer request has overtaken.
import './schemas-without-eval.ts'; // first
import { DomainError } from '../science/errors.ts';
import type { WorkerAnswer, WorkerAsk } from './browser-messages.ts';
import { runnerHere } from './run-here.ts';

const runner = runnerHere();
const cancels = new Map<number, AbortController>();
const answer = (message: WorkerAnswer): void => self.postMessage(message);

self.onmessage = async ({ data }: MessageEvent<WorkerAsk | { cancel: number }>): Promise<void> => {
  if ('cancel' in data) {
    cancels.get(data.cancel)?.abort();
    return;
  }
  const { id, name, request } = data;
  const controller = new AbortController();
  cancels.set(id, controller);
  try {
    const response = await runner.run(name, request, {
      signal: controller.signal,
      onProgress: (done, total) => answer({ id, kind: 'progress', done, total }),
    });
    answer({ id, kind: 'response', response });
  } catch (error) {
    if (!controller.signal.aborted) {
      const carried =
        error instanceof DomainError
          ? { code: error.code, sentence: error.sentence, remedy: error.remedy }
          : { code: 'FAULT', sentence: String(error), remedy: 'A fault in Peritect: please report it.' };
      answer({ id, kind: 'error', error: carried });
    }
  } finally {
    cancels.delete(id);
  }
};
