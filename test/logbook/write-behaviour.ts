// How any store writes, whatever engine is below: run by store.test.ts on each of them.
import { describe, expect, it } from 'vitest';
import { newId } from '../../src/logbook/ids.ts';
import type { ChangeEvent, Store } from '../../src/logbook/store.ts';
import { lotBody, measurementBody, targetBody } from './bodies.ts';
import { addedChain, addedMeasurement, bytesOf } from './chain.ts';
import { addedSeries, change, errorOf } from './opened-store.ts';

/**
 * @param freshStore a store without records
 * @param runSql     SQL past the store's code, on the database of the newest store
 */
export function writeBehaviour(
  freshStore: () => Promise<Store>,
  runSql: (text: string) => Promise<unknown>,
): void {
  describe('writes', () => {
    it('of one change identifier happen once, and every repeat has the first result', async () => {
      const store = await freshStore();
      const seriesId = await addedSeries(store);
      const request = change('add a lot');
      let runs = 0;
      const write = () =>
        store.write(request, async (tx) => {
          runs++;
          const { id } = await tx.create('lot', newId(), seriesId, lotBody());
          return { id, missing: undefined };
        });
      const [first, ...repeats] = await Promise.all([write(), write(), write()]);
      expect(runs).toBe(1);
      expect(repeats).toEqual([first, first]);
      expect(await store.read.list('lot')).toHaveLength(1);
      const other = store.write({ ...request, what: 'something else' }, async () => 1);
      expect((await errorOf(other)).message).toMatch(/CHANGE_ID_TAKEN: .*"add a lot".*"something else"/);
    });

    it('keep nothing when the code inside fails, and the error comes through', async () => {
      const store = await freshStore();
      const seriesId = await addedSeries(store);
      const claim = await store.putFile(bytesOf('half'));
      const fault = new RangeError('not the store');
      const failing = store.write(change('half'), async (tx) => {
        await tx.addFile(claim, { name: 'half.txt', media: 'text/plain' });
        await tx.create('lot', newId(), seriesId, lotBody());
        throw fault;
      });
      expect(await errorOf(failing)).toBe(fault);
      expect(await store.read.list('lot')).toEqual([]);
      expect(await store.read.findFile(claim.sha256)).toBeUndefined();
      expect(await store.read.changes()).toHaveLength(1);
    });

    it('refuse a result or a body that JSON would alter', async () => {
      const store = await freshStore();
      const seriesId = await addedSeries(store);
      const result = store.write(change('odd'), async () => ({ values: [1, Number.NaN] }));
      expect((await errorOf(result)).message).toMatch(/NOT_JSON: In the result of "odd", values\[1\] is NaN/);
      const body = {
        ...targetBody('T'),
        sheet: { computation: 'c', version: 1, request: new Date(0), response: null },
      };
      const odd = store.write(change('odd body'), (tx) => tx.create('target', newId(), seriesId, body));
      expect((await errorOf(odd)).message).toMatch(/In target "T", sheet.request is a Date/);
      const nul = store.write(change('nul'), (tx) =>
        tx.create('target', newId(), seriesId, targetBody('a\0b')),
      );
      expect((await errorOf(nul)).message).toMatch(/label holds a NUL character/);
    });

    it('refuse to be nested, and refuse reads that would not see them', async () => {
      const store = await freshStore();
      const nested = store.write(change('outer'), () => store.write(change('inner'), async () => 1));
      expect((await errorOf(nested)).code).toBe('WRITE_NESTED');
      const reading = store.write(change('reading'), () => store.read.list('film'));
      expect((await errorOf(reading)).code).toBe('WRITE_NESTED');
      let kept: Parameters<Parameters<Store['write']>[1]>[0] | undefined;
      await store.write(change('leak'), async (tx) => {
        kept = tx;
      });
      expect((await errorOf(kept!.list('film'))).code).toBe('WRITE_OVER');
    });

    it('say who and what for, and touch one series', async () => {
      const store = await freshStore();
      const [one, two] = [await addedSeries(store), await addedSeries(store)];
      const mixed = store.write(change('mixed'), async (tx) => {
        await tx.create('target', newId(), one, targetBody('T1'));
        await tx.create('target', newId(), two, targetBody('T2'));
      });
      expect((await errorOf(mixed)).message).toMatch(/RECORD_SERIES: One change touches the series/);
      expect((await errorOf(store.write({ ...change(' '), by: 'x' }, async () => 1))).message).toMatch(
        /says too little/,
      );
      const odd = store.write({ changeId: 'one', what: 'odd' }, async () => 1);
      expect((await errorOf(odd)).message).toMatch(/"one" cannot name a change/);
    });

    it('of 20 writers at once who revise one record: one wins each revision, and nobody is overwritten', async () => {
      const store = await freshStore();
      const seriesId = await addedSeries(store);
      const lotId = newId();
      await store.write(change('add'), (tx) => tx.create('lot', lotId, seriesId, lotBody()));
      const attempts = await Promise.all(
        Array.from({ length: 20 }, async (_, writer) => {
          let refused = 0;
          for (;;) {
            const seen = await store.read.findOrThrow('lot', lotId);
            const note = `${seen.body.note}${String.fromCharCode(97 + writer)}`;
            try {
              await store.write(change(`writer ${writer}`), (tx) =>
                tx.revise('lot', lotId, seen.revision, { ...seen.body, note }),
              );
              return refused;
            } catch (error) {
              expect((error as { code?: string }).code).toBe('REVISION_IS_OLD');
              refused++;
            }
          }
        }),
      );
      const lot = await store.read.findOrThrow('lot', lotId);
      expect(lot.revision).toBe(21);
      expect([...lot.body.note].sort().join('')).toBe('abcdefghijklmnopqrst');
      const notes = (await store.read.revisions(lotId)).map(({ body }) => (body as { note: string }).note);
      expect(notes.map((note) => note.length)).toEqual(Array.from({ length: 21 }, (_, i) => i));
      expect(Math.max(...attempts)).toBeGreaterThan(0); // they did meet
    });

    it('are told to listeners, once each, in the order of commit', async () => {
      const store = await freshStore();
      const events: ChangeEvent[] = [];
      const stop = store.onChange((event) => events.push(event));
      const seriesId = await addedSeries(store);
      const request = change('add a lot');
      const lotId = newId();
      const add = () =>
        store.write(request, (tx) => tx.create('lot', lotId, seriesId, lotBody()).then(() => null));
      await add();
      await add();
      await errorOf(store.write(change('fails'), (tx) => tx.remove(newId(), 1)));
      await store.undo({ changeId: newId(), ofChange: request.changeId, by: 'another' });
      stop();
      await addedSeries(store);
      expect(events.map(({ sequence, seriesId: of, by, what }) => ({ sequence, of, by, what }))).toEqual([
        { sequence: 1, of: seriesId, by: 'tester', what: 'add a series' },
        { sequence: 2, of: seriesId, by: 'tester', what: 'add a lot' },
        { sequence: 3, of: seriesId, by: 'another', what: 'undo: add a lot' },
      ]);
      expect(events[2]).toMatchObject({
        undoes: request.changeId,
        records: [{ id: lotId, kind: 'lot', revision: 2, isDeleted: true }],
      });
    });
  });

  describe('the history', () => {
    it('is kept by the database itself: its rows can be neither altered nor deleted', async () => {
      const store = await freshStore();
      const chain = await addedChain(store);
      await addedMeasurement(store, chain, 'M1');
      for (const table of ['revisions', 'changes', 'files']) {
        for (const act of [`update ${table} set at = 'never'`, `delete from ${table}`]) {
          const error = await errorOf(runSql(act));
          expect(error.message).toContain(`rows of ${table} are never altered`);
        }
      }
      expect(await store.read.revisions(chain.filmId)).toHaveLength(1);
      expect(await store.read.files()).toHaveLength(1);
      await runSql(`update records set label = label where id = '${chain.filmId}'`); // the way in does work
    });
  });

  describe('a record that names a file', () => {
    it('is refused without the row of the file, and keeps nothing', async () => {
      const store = await freshStore();
      const chain = await addedChain(store);
      const claim = await store.putFile(bytesOf('curve'));
      const about = { pieceId: chain.pieceId, fileSha256: claim.sha256, fileBytes: 5, blob: 'a'.repeat(64) };
      const error = await errorOf(
        store.write(change('import'), async (tx) => {
          await tx.addFile(claim, { name: 'c.txt', media: 'text/plain' });
          await tx.create('measurement', newId(), chain.seriesId, measurementBody('M', about));
        }),
      );
      expect(error.message).toMatch(
        /FILE_UNKNOWN: measurement "M" names the file a{64}, which the store does not have/,
      );
      expect(await store.read.files()).toEqual([]);
    });
  });
}
