// What any store does with records, whatever engine is below: run by store.test.ts on each of them.
import { describe, expect, it } from 'vitest';
import { newId } from '../../src/logbook/ids.ts';
import type { Store } from '../../src/logbook/store.ts';
import { filmBody, lotBody, pieceBody, targetBody, treatmentBody } from './bodies.ts';
import { addedChain, addedMeasurement } from './chain.ts';
import { addedSeries, change, errorOf } from './opened-store.ts';

const labels = async (store: Store, seriesId: string) =>
  (await store.read.seriesRecords(seriesId)).map(({ kind }) => kind);

/** @param freshStore a store without records */
export function recordBehaviour(freshStore: () => Promise<Store>): void {
  describe('records', () => {
    it('come back as they were written, with who and when', async () => {
      const store = await freshStore();
      const { filmId, runId, seriesId } = await addedChain(store);
      const film = await store.read.findOrThrow('film', filmId);
      expect(film.body).toEqual(filmBody('F1', runId));
      expect(film).toMatchObject({
        id: filmId,
        kind: 'film',
        seriesId,
        revision: 1,
        by: 'tester',
        isDeleted: false,
      });
      expect(film.createdAt).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+Z$/);
      expect(film.updatedAt).toBe(film.createdAt);
    });

    it('of a series come in one list, oldest first, without other series', async () => {
      const store = await freshStore();
      const { seriesId } = await addedChain(store);
      const other = await addedChain(store);
      expect(await labels(store, seriesId)).toEqual(['series', 'target', 'run', 'film', 'piece']);
      expect((await store.read.list('film', { seriesId: other.seriesId })).map(({ id }) => id)).toEqual([
        other.filmId,
      ]);
      expect(await store.read.list('film')).toHaveLength(2);
      expect(await store.read.list('piece', { parentId: other.filmId })).toHaveLength(1);
      expect(await store.read.list('piece', { parentId: seriesId })).toHaveLength(0);
    });

    it('keep every revision, numbered, with the change that made it', async () => {
      const store = await freshStore();
      const { filmId, seriesId } = await addedChain(store);
      await store.write({ ...change('a second name'), by: 'another' }, (tx) =>
        tx.revise('film', filmId, 1, filmBody('F1 bis', null)),
      );
      const revisions = await store.read.revisions(filmId);
      expect(revisions.map(({ revision, what, by }) => [revision, what, by])).toEqual([
        [1, 'add a film', 'tester'],
        [2, 'a second name', 'another'],
      ]);
      expect(revisions.map(({ body }) => 'label' in body && body.label)).toEqual(['F1', 'F1 bis']);
      const changes = await store.read.changes({ seriesId });
      expect(changes.map(({ what }) => what)).toEqual(['a second name', 'add a film', 'add a series']);
      expect(changes[0]!.sequence - changes[2]!.sequence).toBe(2);
      expect(
        (await store.read.changes({ seriesId, limit: 1, before: changes[0]!.sequence })).map(
          ({ what }) => what,
        ),
      ).toEqual(['add a film']);
      expect((await store.read.changesSince(changes[1]!.sequence)).map(({ what }) => what)).toEqual([
        'a second name',
      ]);
    });

    it('of which an older revision was seen are refused, with what the record says now', async () => {
      const store = await freshStore();
      const { filmId } = await addedChain(store);
      await store.write(change('first'), (tx) => tx.revise('film', filmId, 1, filmBody('mine', null)));
      const error = await errorOf(
        store.write(change('second'), (tx) => tx.revise('film', filmId, 1, filmBody('yours', null))),
      );
      expect(error.code).toBe('REVISION_IS_OLD');
      expect(error.message).toMatch(
        /film "mine" is at revision 2, saved by tester at .*; revision 1 was seen/,
      );
      expect(error.data).toMatchObject({ revision: 2, seenRevision: 1, body: { label: 'mine' } });
      expect(await store.read.revisions(filmId)).toHaveLength(2);
    });

    it('of a body that their schema refuses are not kept, and the sentence shows the field and what was found', async () => {
      const store = await freshStore();
      const seriesId = await addedSeries(store);
      const bad = { ...filmBody('F', null), substrate: '', colour: 'red' };
      const error = await errorOf(
        store.write(change('bad'), (tx) => tx.create('film', newId(), seriesId, bad)),
      );
      expect(error.code).toBe('RECORD_BODY');
      expect(error.message).toMatch(/substrate: .*found "".*colour/s);
      expect(await store.read.list('film')).toHaveLength(0);
    });

    it('are refused where the parent is missing, of another kind, removed or of another series', async () => {
      const store = await freshStore();
      const chain = await addedChain(store);
      const other = await addedChain(store);
      const add = (filmId: string) =>
        errorOf(
          store.write(change('add'), (tx) =>
            tx.create('piece', newId(), chain.seriesId, pieceBody('P', filmId)),
          ),
        );
      expect((await add(newId())).message).toMatch(
        /RECORD_LINK: piece "P" names .* as filmId, and there is no such record/,
      );
      expect((await add(chain.runId)).message).toMatch(/names run "R1" as filmId, which must be a film/);
      expect((await add(other.filmId)).message).toMatch(/RECORD_SERIES: .*in another series/);
      await store.write(change('remove'), (tx) => tx.remove(chain.filmId, 1));
      expect((await add(chain.filmId)).message).toMatch(/names film "F1" as filmId, which is removed/);
    });

    it('may be shared by all series only if they are lots or remembered mappings', async () => {
      const store = await freshStore();
      const seriesId = await addedSeries(store);
      const lotId = newId();
      await store.write(change('a lot for all'), (tx) => tx.create('lot', lotId, null, lotBody()));
      await store.write(change('a target of it'), (tx) =>
        tx.create('target', newId(), seriesId, targetBody('T', [lotId])),
      );
      expect(await store.read.list('lot', { seriesId: null })).toHaveLength(1);
      const alone = store.write(change('alone'), (tx) => tx.create('target', newId(), null, targetBody('T')));
      expect((await errorOf(alone)).message).toMatch(/A target must belong to a series/);
      const inUse = store.write(change('remove the lot'), (tx) => tx.remove(lotId, 1));
      expect((await errorOf(inUse)).message).toMatch(
        /RECORD_IN_USE: .*target "T" names lot "invented lot" as lotIds/,
      );
    });

    it('are not made twice under one identifier', async () => {
      const store = await freshStore();
      const seriesId = await addedSeries(store);
      const again = store.write(change('again'), (tx) =>
        tx.create('target', seriesId, seriesId, targetBody('T')),
      );
      expect((await errorOf(again)).message).toMatch(/RECORD_EXISTS: There is already a series/);
      const odd = store.write(change('odd'), (tx) => tx.create('target', 'T-1', seriesId, targetBody('T')));
      expect((await errorOf(odd)).code).toBe('ID_INVALID');
    });
  });

  describe('removal', () => {
    it('marks a record with all that hangs on it, and undo brings all of it back', async () => {
      const store = await freshStore();
      const chain = await addedChain(store);
      const { id, sha256 } = await addedMeasurement(store, chain, 'M1');
      const removal = change('remove the film');
      const removed = await store.write(removal, async (tx) =>
        (await tx.remove(chain.filmId, 1)).map(({ kind }) => kind),
      );
      expect(removed).toEqual(['film', 'piece', 'measurement']);
      expect(await labels(store, chain.seriesId)).toEqual(['series', 'target', 'run']);
      expect(await store.read.find(id)).toMatchObject({ isDeleted: true, revision: 2 });
      expect((await errorOf(store.read.findOrThrow('film', chain.filmId))).code).toBe('RECORD_REMOVED');
      expect(await store.read.list('film', { includeDeleted: true })).toHaveLength(1);
      const late = store.write(change('late'), (tx) =>
        tx.revise('film', chain.filmId, 2, filmBody('late', null)),
      );
      expect((await errorOf(late)).code).toBe('RECORD_REMOVED');

      await store.undo({ changeId: newId(), ofChange: removal.changeId });
      expect(await labels(store, chain.seriesId)).toEqual([
        'series',
        'target',
        'run',
        'film',
        'piece',
        'measurement',
      ]);
      expect(new TextDecoder().decode(await store.fileBytes(sha256))).toBe('curve of M1');
    });

    it('of a series takes everything in it', async () => {
      const store = await freshStore();
      const { seriesId } = await addedChain(store);
      const request = change('remove the series');
      expect(await store.write(request, async (tx) => (await tx.remove(seriesId, 1)).length)).toBe(5);
      expect(await store.read.seriesRecords(seriesId)).toEqual([]);
      await store.undo({ changeId: newId(), ofChange: request.changeId });
      expect(await store.read.seriesRecords(seriesId)).toHaveLength(5);
    });

    it('is refused while a record that stays names what would go', async () => {
      const store = await freshStore();
      const chain = await addedChain(store);
      const treatmentId = newId();
      await store.write(change('anneal'), (tx) =>
        tx.create('treatment', treatmentId, chain.seriesId, treatmentBody('A1', chain.pieceId)),
      );
      await addedMeasurement(store, chain, 'after A1', treatmentId);
      const error = await errorOf(store.write(change('remove'), (tx) => tx.remove(treatmentId, 1)));
      expect(error.message).toMatch(
        /RECORD_IN_USE: .*measurement "after A1" names treatment "A1" as stateTreatmentId/,
      );
      expect((await store.read.findOrThrow('treatment', treatmentId)).revision).toBe(1);
    });
  });

  describe('undo', () => {
    it('gives back the body before the change, as a new revision; undo of the undo does it again', async () => {
      const store = await freshStore();
      const { filmId, runId } = await addedChain(store);
      const renaming = change('rename');
      await store.write(renaming, async (tx) => {
        await tx.revise('film', filmId, 1, filmBody('half way', runId));
        await tx.revise('film', filmId, 2, filmBody('new name', runId));
      });
      const undoing = newId();
      const undone = await store.undo({ changeId: undoing, ofChange: renaming.changeId });
      expect(undone).toEqual({
        undid: renaming.changeId,
        records: [{ id: filmId, kind: 'film', revision: 4, isDeleted: false }],
      });
      expect((await store.read.findOrThrow('film', filmId)).body.label).toBe('F1');
      expect(await store.read.findChange(renaming.changeId)).toMatchObject({ undoneBy: undoing });
      await store.undo({ changeId: newId(), ofChange: undoing });
      expect((await store.read.findOrThrow('film', filmId)).body.label).toBe('new name');
      expect(await store.read.revisions(filmId)).toHaveLength(5);
    });

    it('of a creation marks the records as removed', async () => {
      const store = await freshStore();
      const chain = await addedChain(store);
      await store.undo({ changeId: newId(), ofChange: chain.changeId });
      expect(await labels(store, chain.seriesId)).toEqual(['series']);
      expect(await store.read.find(chain.filmId)).toMatchObject({ isDeleted: true, body: { label: 'F1' } });
    });

    it('is refused by name where a later change has touched a record', async () => {
      const store = await freshStore();
      const chain = await addedChain(store);
      await store.write(change('rename'), (tx) =>
        tx.revise('film', chain.filmId, 1, filmBody('F1 bis', chain.runId)),
      );
      const error = await errorOf(store.undo({ changeId: newId(), ofChange: chain.changeId }));
      expect(error.message).toMatch(/CHANGE_NOT_UNDOABLE: .*later changes have touched film "F1 bis"\./);
      expect(error.data).toMatchObject({ records: [{ id: chain.filmId, kind: 'film' }] });
      expect(await labels(store, chain.seriesId)).toHaveLength(5);
    });

    it('is refused where a later record hangs on what would go, or what would come back hangs on what is gone', async () => {
      const store = await freshStore();
      const chain = await addedChain(store);
      await addedMeasurement(store, chain, 'M1');
      const creation = await errorOf(store.undo({ changeId: newId(), ofChange: chain.changeId }));
      expect(creation.message).toMatch(/RECORD_IN_USE: .*measurement "M1" names piece "F1a" as pieceId/);

      const removalOfPiece = change('remove the piece');
      await store.write(removalOfPiece, (tx) => tx.remove(chain.pieceId, 1));
      await store.write(change('remove the film'), (tx) => tx.remove(chain.filmId, 1));
      const error = await errorOf(store.undo({ changeId: newId(), ofChange: removalOfPiece.changeId }));
      expect(error.message).toMatch(/RECORD_LINK: piece "F1a" names film "F1" as filmId, which is removed/);
    });

    it('happens once, however often its request is repeated', async () => {
      const store = await freshStore();
      const chain = await addedChain(store);
      const request = { changeId: newId(), ofChange: chain.changeId };
      const first = await store.undo(request);
      expect(await store.undo(request)).toEqual(first);
      const second = await errorOf(store.undo({ changeId: newId(), ofChange: chain.changeId }));
      expect(second.message).toMatch(/is undone already/);
      expect((await errorOf(store.undo({ changeId: newId(), ofChange: newId() }))).code).toBe(
        'CHANGE_UNKNOWN',
      );
      const nothing = change('nothing');
      await store.write(nothing, async () => {});
      expect((await errorOf(store.undo({ changeId: newId(), ofChange: nothing.changeId }))).message).toMatch(
        /touched no record/,
      );
    });
  });
}
