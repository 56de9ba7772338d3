// Any sequence of writes and undos, compared with a model in memory that knows nothing of databases.
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { StoreError } from '../../src/logbook/errors.ts';
import { newId } from '../../src/logbook/ids.ts';
import type { Store } from '../../src/logbook/store.ts';
import { lotBody } from './bodies.ts';
import { addedSeries, change, clearStores, openedStore } from './opened-store.ts';

afterAll(clearStores);

interface ModelRecord {
  history: { label: string; isDeleted: boolean; change: number }[];
}

type Step =
  | { act: 'create' }
  | { act: 'revise'; record: number; label: string; isOld: boolean }
  | { act: 'remove'; record: number; isOld: boolean }
  | { act: 'undo'; change: number }
  | { act: 'repeat'; change: number };

const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({ act: fc.constant('create' as const) }),
  fc.record({
    act: fc.constant('revise' as const),
    record: fc.nat(4),
    label: fc.string({
      minLength: 1,
      maxLength: 8,
      unit: fc.constantFrom('a', 'é', '漢', '"', "'", '\\', '%', '\u2028'),
    }),
    isOld: fc.boolean(),
  }),
  fc.record({ act: fc.constant('remove' as const), record: fc.nat(4), isOld: fc.boolean() }),
  fc.record({ act: fc.constant('undo' as const), change: fc.nat(12) }),
  fc.record({ act: fc.constant('repeat' as const), change: fc.nat(12) }),
);

/** Records as plain lists; what the store must agree with. */
class Model {
  readonly records: ModelRecord[] = [];
  changes = 0;

  last(record: ModelRecord) {
    return record.history.at(-1)!;
  }

  /** @returns the code of the refusal, or undefined if it is done */
  alter(record: ModelRecord, seen: number, label: string | undefined): string | undefined {
    const now = this.last(record);
    if (now.isDeleted) return 'RECORD_REMOVED';
    if (seen !== record.history.length) return 'REVISION_IS_OLD';
    record.history.push({ label: label ?? now.label, isDeleted: label === undefined, change: this.changes });
    return undefined;
  }

  undo(change: number): string | undefined {
    const touched = this.records.filter(({ history }) => history.some((each) => each.change === change));
    if (touched.some((record) => this.last(record).change !== change)) return 'CHANGE_NOT_UNDOABLE';
    for (const { history } of touched) {
      const before = history.findLast((each) => each.change < change);
      const { label } = before ?? history[0]!;
      history.push({ label, isDeleted: before?.isDeleted ?? true, change: this.changes });
    }
    return undefined;
  }
}

async function codeOf(work: Promise<unknown>): Promise<string | undefined> {
  try {
    await work;
    return undefined;
  } catch (error) {
    if (error instanceof StoreError) return error.code;
    throw error;
  }
}

async function playAndCompare(store: Store, steps: readonly Step[]): Promise<number> {
  const seriesId = await addedSeries(store);
  const model = new Model();
  const ids: string[] = [];
  const made: { again: () => Promise<unknown>; id: string }[] = [];
  let done = 0;
  for (const each of steps) {
    if (each.act === 'repeat') {
      await made[each.change]?.again();
      continue;
    }
    const request = change(each.act);
    let write: () => Promise<unknown>;
    let expected: string | undefined;
    if (each.act === 'create') {
      const id = newId();
      ids.push(id);
      model.records.push({ history: [{ label: 'new', isDeleted: false, change: model.changes }] });
      write = () => store.write(request, (tx) => tx.create('lot', id, seriesId, lotBody('new')));
    } else if (each.act === 'undo') {
      const target = made[each.change];
      if (target === undefined) continue;
      expected = model.undo(each.change);
      write = () => store.undo({ changeId: request.changeId, ofChange: target.id });
    } else {
      const record = model.records[each.record];
      if (record === undefined) continue;
      const id = ids[each.record]!;
      const seen = record.history.length - (each.isOld ? 1 : 0);
      const label = each.act === 'revise' ? each.label.trim() || 'x' : undefined;
      expected = model.alter(record, seen, label);
      write = () =>
        store.write(request, async (tx) => {
          await (label === undefined ? tx.remove(id, seen) : tx.revise('lot', id, seen, lotBody(label)));
        });
    }
    expect(await codeOf(write())).toBe(expected);
    if (expected === undefined) {
      made.push({ again: write, id: request.changeId });
      model.changes++;
      done++;
    }
  }
  for (const [i, { history }] of model.records.entries()) {
    const revisions = await store.read.revisions(ids[i]!);
    expect(
      revisions.map(({ body, isDeleted }) => ({ label: 'label' in body && body.label, isDeleted })),
    ).toEqual(history.map(({ label, isDeleted }) => ({ label, isDeleted })));
    const now = await store.read.find(ids[i]!);
    expect(now).toMatchObject({ revision: history.length, isDeleted: history.at(-1)!.isDeleted });
    expect(now!.body).toEqual(revisions.at(-1)!.body);
  }
  const live = model.records.filter((record) => !model.last(record).isDeleted).length;
  expect(await store.read.list('lot', { seriesId })).toHaveLength(live);
  return done;
}

describe('the history of any sequence of creations, revisions, removals, undos and repeats', () => {
  it('is what a list in memory says, refusals included', async () => {
    const store = await openedStore();
    let done = 0;
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 5, maxLength: 25 }), async (steps) => {
        done += await playAndCompare(store, [{ act: 'create' }, { act: 'create' }, ...steps]);
      }),
      { numRuns: 60, seed: 20_261 },
    );
    expect(done).toBeGreaterThan(300);
  });
});
