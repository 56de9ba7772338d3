import { describe, expect, it } from 'vitest';
import { browserRunner, CarriedDomainError } from '../../src/runner/browser.ts';
import type { WorkerAnswer, WorkerAsk } from '../../src/runner/browser-messages.ts';

describe('a runner over a worker', () => {
  function fakeWorker() {
    const sent: (WorkerAsk | { cancel: number })[] = [];
    const worker = {
      postMessage: (message: WorkerAsk | { cancel: number }) => void sent.push(message),
      onmessage: null as ((event: MessageEvent<WorkerAnswer>) => void) | null,
    };
    const say = (data: WorkerAnswer) => worker.onmessage!({ data } as MessageEvent<WorkerAnswer>);
    return { sent, worker, say };
  }

  it('gives each answer to who asked, in whatever order they come, with progress on the way', async () => {
    const { worker, say } = fakeWorker();
    const runner = browserRunner(worker);
    const steps: number[] = [];
    const one = runner.run('x', 'a', { onProgress: (done) => steps.push(done) });
    const other = runner.run('x', 'b');
    say({ id: 2, kind: 'response', response: 'B' });
    say({ id: 1, kind: 'progress', done: 1, total: 2 });
    say({ id: 1, kind: 'response', response: 'A' });
    expect(await Promise.all([one, other])).toEqual(['A', 'B']);
    expect(steps).toEqual([1]);
  });

  it('carries a refusal with its code, and tells the worker what is cancelled', async () => {
    const { worker, say, sent } = fakeWorker();
    const runner = browserRunner(worker);
    const refused = runner.run('x', 'a');
    say({ id: 1, kind: 'error', error: { code: 'C', sentence: 'S.', remedy: 'R.' } });
    await expect(refused).rejects.toThrow(
      new CarriedDomainError({ code: 'C', sentence: 'S.', remedy: 'R.' }),
    );
    const controller = new AbortController();
    const cancelled = runner.run('x', 'b', { signal: controller.signal });
    controller.abort();
    await expect(cancelled).rejects.toMatchObject({ name: 'AbortError' });
    expect(sent.at(-1)).toEqual({ cancel: 2 });
    say({ id: 2, kind: 'response', response: 'too late' });
    await expect(runner.run('x', 'c', { signal: AbortSignal.abort() })).rejects.toMatchObject({
      name: 'AbortError',
    });
    expect(sent).toHaveLength(3); // what was cancelled before it was asked is not sent
  });
});
