import { afterEach, describe, expect, it } from 'vitest';
import { putTable } from '../../src/logbook/columns.ts';
import { readStored } from '../../src/logbook/stored-blobs.ts';
import { change, clearStores, errorOf, openedStore } from './opened-store.ts';

afterEach(clearStores);

async function kept(bytes: Uint8Array) {
  const store = await openedStore();
  const claim = await store.putFile(bytes);
  await store.write(change('a document'), (tx) =>
    tx.addFile(claim, { name: 'document', media: 'application/json' }).then(() => null),
  );
  return { store, blob: claim.sha256 };
}

describe('what a request names by its hash', () => {
  it('is a JSON document as it was written', async () => {
    const { store, blob } = await kept(new TextEncoder().encode('{"members":[{"form":"ionic","melt":{}}]}'));
    expect(await readStored(store, { blob })).toEqual({ members: [{ form: 'ionic', melt: {} }] });
  });

  it('is a column of a table where one is asked for', async () => {
    const store = await openedStore();
    const claim = await putTable(store, [
      [1, 2],
      [3, 4],
    ]);
    await store.write(change('a table'), (tx) =>
      tx.addFile(claim, { name: 'table', media: 'application/octet-stream' }).then(() => null),
    );
    expect(await readStored(store, { blob: claim.sha256, column: 1 })).toEqual(Float64Array.of(3, 4));
  });

  it('is refused in words where the file is no JSON', async () => {
    const { store, blob } = await kept(Uint8Array.of(0xff, 0xfe, 0x00));
    const error = await errorOf(readStored(store, { blob }));
    expect(error).toMatchObject({ code: 'BLOB_DOCUMENT' });
  });
});
