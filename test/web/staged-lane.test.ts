import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Runner, RunOptions } from '../../src/runner/runner.ts';
import { StagedLane, type StagedState } from '../../src/web/staged-lane.ts';

interface Call {
  request: unknown;
  options: RunOptions;
  answer: (response: unknown) => Promise<void>;
  refuse: (error: Error) => Promise<void>;
}

/** A runner whose answers the test gives. */
function heldRunner(): { runner: Runner; calls: Call[] } {
  const calls: Call[] = [];
  const settle = async (): Promise<void> => {
    await vi.advanceTimersByTimeAsync(0);
  };
  return {
    calls,
    runner: {
      run: (_name, request, options = {}) =>
        new Promise((resolve, reject) => {
          options.signal?.addEventListener('abort', () => reject(options.signal?.reason));
          calls.push({
            request,
            options,
            answer: (response) => {
              resolve(response);
              return settle();
            },
            refuse: (error) => {
              reject(error);
              return settle();
            },
          });
        }),
    },
  };
}

let quick: ReturnType<typeof heldRunner>;
let rest: ReturnType<typeof heldRunner>;
let states: StagedState<string>[];
let lane: StagedLane<string>;
const last = () => states.at(-1)!;

beforeEach(() => {
  vi.useFakeTimers();
  quick = heldRunner();
  rest = heldRunner();
  states = [];
  lane = new StagedLane<string>(
    () => quick.runner,
    () => rest.runner,
    (state) => states.push(state),
  );
});
afterEach(() => {
  vi.useRealTimers();
});

describe('a lane of staged requests', () => {
  it('shows the coarse answer first and the fine one after the request rested', async () => {
    lane.ask('entry', ['coarse', 'fine']);
    await quick.calls[0]!.answer('rough');
    expect(last()).toMatchObject({ response: 'rough', answered: 'coarse', stage: 0, isRunning: true });
    expect(rest.calls).toHaveLength(0);
    await vi.advanceTimersByTimeAsync(200);
    rest.calls[0]!.options.onProgress?.(1, 4);
    expect(last().progress).toBe(0.25);
    await rest.calls[0]!.answer('exact');
    expect(last()).toMatchObject({ response: 'exact', answered: 'fine', stage: 1, isRunning: false });
  });

  it('redraws during a drag: a running first stage ends, and of those that waited only the newest runs', async () => {
    for (const temperature of [1, 2, 3, 4])
      lane.ask('entry', [`coarse ${temperature}`, `fine ${temperature}`]);
    expect(quick.calls.map(({ request }) => request)).toEqual(['coarse 1']);
    await quick.calls[0]!.answer('rough 1');
    expect(last()).toMatchObject({ response: 'rough 1', isRunning: true });
    expect(quick.calls.map(({ request }) => request)).toEqual(['coarse 1', 'coarse 4']);
    await quick.calls[1]!.answer('rough 4');
    await vi.advanceTimersByTimeAsync(200);
    expect(rest.calls.map(({ request }) => request)).toEqual(['fine 4']);
  });

  it('breaks a fine stage off for a newer request, which keeps the answer shown meanwhile', async () => {
    lane.ask('entry', ['coarse 1', 'fine 1']);
    await quick.calls[0]!.answer('rough 1');
    await vi.advanceTimersByTimeAsync(200);
    lane.ask('entry', ['coarse 2', 'fine 2']);
    await vi.advanceTimersByTimeAsync(0);
    expect(rest.calls[0]!.options.signal?.aborted).toBe(true);
    expect(last()).toMatchObject({ response: 'rough 1', error: null, isRunning: true });
  });

  it('stops where it is when told so, and keeps what it has', async () => {
    lane.ask('entry', ['coarse', 'fine']);
    await quick.calls[0]!.answer('rough');
    await vi.advanceTimersByTimeAsync(200);
    lane.stop();
    await vi.advanceTimersByTimeAsync(200);
    expect(last()).toMatchObject({ response: 'rough', isRunning: false, error: null });
    expect(rest.calls).toHaveLength(1);
  });

  it('tells the error of the newest request only', async () => {
    lane.ask('entry', ['wrong']);
    lane.ask('entry', ['right']);
    await quick.calls[0]!.refuse(new Error('no'));
    expect(last().error).toBeNull();
    await quick.calls[1]!.refuse(new Error('no again'));
    expect(last()).toMatchObject({ response: null, isRunning: false });
    expect(last().error?.message).toBe('no again');
  });

  it('says nothing any more once it is closed', async () => {
    lane.ask('entry', ['coarse', 'fine']);
    const count = states.length;
    lane.close();
    await quick.calls[0]!.answer('rough');
    await vi.advanceTimersByTimeAsync(500);
    expect(states).toHaveLength(count);
    expect(rest.calls).toHaveLength(0);
  });
});
