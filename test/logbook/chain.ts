// A series with a film in it, and a measurement, for the tests of what a store does.
import { newId } from '../../src/logbook/ids.ts';
import type { Store } from '../../src/logbook/store.ts';
import { filmBody, measurementBody, pieceBody, runBody, targetBody } from './bodies.ts';
import { addedSeries, change } from './opened-store.ts';

export const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

export interface Chain {
  seriesId: string;
  targetId: string;
  runId: string;
  filmId: string;
  pieceId: string;
}

/** A series with a target, a run, a film and a piece, in one change. */
export async function addedChain(store: Store): Promise<Chain & { changeId: string }> {
  const seriesId = await addedSeries(store);
  const [targetId, runId, filmId, pieceId] = [newId(), newId(), newId(), newId()];
  const request = change('add a film');
  await store.write(request, async (tx) => {
    await tx.create('target', targetId, seriesId, targetBody('T1'));
    await tx.create('run', runId, seriesId, runBody('R1', targetId));
    await tx.create('film', filmId, seriesId, filmBody('F1', runId));
    await tx.create('piece', pieceId, seriesId, pieceBody('F1a', filmId));
  });
  return { seriesId, targetId, runId, filmId, pieceId, changeId: request.changeId };
}

export async function addedMeasurement(store: Store, chain: Chain, label: string, stateTreatmentId?: string) {
  const claim = await store.putFile(bytesOf(`curve of ${label}`));
  const id = newId();
  await store.write(change(`import ${label}`), async (tx) => {
    await tx.addFile(claim, { name: `${label}.txt`, media: 'text/plain' });
    const about = {
      pieceId: chain.pieceId,
      fileSha256: claim.sha256,
      fileBytes: claim.bytes,
      blob: claim.sha256,
    };
    await tx.create(
      'measurement',
      id,
      chain.seriesId,
      measurementBody(label, { ...about, ...(stateTreatmentId && { stateTreatmentId }) }),
    );
  });
  return { id, sha256: claim.sha256 };
}
