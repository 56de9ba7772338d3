import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdir, readdir, rename, rm, stat, truncate, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { FileClaim } from '../../src/logbook/files.ts';
import { newId } from '../../src/logbook/ids.ts';
import type { Store } from '../../src/logbook/store.ts';
import { change, clearStores, errorOf, newFolder, openedStore } from './opened-store.ts';

afterEach(clearStores);

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);
const sha256Of = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const placeOf = (folder: string, sha256: string) =>
  join(folder, 'files', sha256.slice(0, 2), sha256.slice(2));

async function* inChunks(bytes: Uint8Array, size: number): AsyncGenerator<Uint8Array> {
  for (let i = 0; i < bytes.length; i += size) yield bytes.subarray(i, i + size);
}

function addFile(store: Store, claim: FileClaim, name = 'scan.txt'): Promise<null> {
  return store.write(change(`add ${name}`), (tx) =>
    tx.addFile(claim, { name, media: 'text/plain' }).then(() => null),
  );
}

async function opened(): Promise<{ store: Store; folder: string }> {
  const folder = await newFolder();
  return { store: await openedStore({ folder }), folder };
}

const names = (folder: string, part: string) => readdir(join(folder, 'files', part));

describe('raw files', () => {
  it('stand under their SHA-256, for the user alone, and come back byte for byte', async () => {
    const { store, folder } = await opened();
    const content = bytesOf('abc'); // its SHA-256 is printed in FIPS 180-2, appendix B.1
    const claim = await store.putFile(content);
    expect(claim).toMatchObject({
      sha256: 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
      bytes: 3,
    });
    await addFile(store, claim);
    expect(await store.fileBytes(claim.sha256)).toEqual(Buffer.from(content));
    const place = placeOf(folder, claim.sha256);
    expect((await stat(place)).mode & 0o777).toBe(0o600);
    expect((await stat(join(folder, 'logbook.sqlite'))).mode & 0o777).toBe(0o600);
    expect((await stat(folder)).mode & 0o777).toBe(0o700);
    expect((await stat(join(folder, 'files'))).mode & 0o777).toBe(0o700);
    expect(await names(folder, 'incoming')).toEqual([]);
  });

  it('of many chunks are taken in as they come, and sent out as they come', async () => {
    const { store } = await opened();
    const content = Uint8Array.from({ length: 300_000 }, (_, i) => (i * 7) % 251);
    const claim = await store.putFile(inChunks(content, 65_537));
    expect(claim).toMatchObject({ sha256: sha256Of(content), bytes: content.length });
    await addFile(store, claim);
    const sent: Uint8Array[] = [];
    for await (const chunk of store.fileStream(claim.sha256)) sent.push(chunk);
    expect(sent.length).toBeGreaterThan(1);
    expect(sha256Of(Buffer.concat(sent))).toBe(claim.sha256);
  });

  it('of no bytes are files too', async () => {
    const { store } = await opened();
    const claim = await store.putFile(new Uint8Array());
    await addFile(store, claim);
    expect(await store.fileBytes(claim.sha256)).toHaveLength(0);
  });

  it('of one content are kept once, with the first name', async () => {
    const { store } = await opened();
    const [one, two] = [await store.putFile(bytesOf('same')), await store.putFile(bytesOf('same'))];
    await addFile(store, one, 'first.txt');
    await addFile(store, two, 'second.txt');
    expect(await store.read.files()).toMatchObject([
      { sha256: one.sha256, bytes: 4, firstName: 'first.txt' },
    ]);
  });

  it('beyond the size allowed are refused, and nothing is left behind', async () => {
    const { store, folder } = await opened();
    const error = await errorOf(store.putFile(inChunks(new Uint8Array(1000), 100), { maxBytes: 999 }));
    expect(error.message).toMatch(/FILE_TOO_LARGE: The file has more than 999 bytes/);
    await store.putFile(new Uint8Array(999), { maxBytes: 999 });
    expect(await names(folder, 'incoming')).toEqual([]);
  });

  it('whose source breaks off leave nothing behind, and its error comes through', async () => {
    const { store, folder } = await opened();
    const fault = new RangeError('the sender went away');
    async function* broken(): AsyncGenerator<Uint8Array> {
      yield bytesOf('half');
      throw fault;
    }
    expect(await errorOf(store.putFile(broken()))).toBe(fault);
    expect(await names(folder, 'incoming')).toEqual([]);
    expect(await names(folder, 'claims')).toEqual([]);
  });

  it('are not given out where they are missing, cut short or altered', async () => {
    const { store, folder } = await opened();
    const claims: FileClaim[] = [];
    for (const text of ['missing', 'cut short', 'altered', 'whole']) {
      const claim = await store.putFile(bytesOf(text));
      await addFile(store, claim, `${text}.txt`);
      claims.push(claim);
    }
    const [missing, cut, altered] = claims.map(({ sha256 }) => sha256) as [string, string, string];
    await rm(placeOf(folder, missing));
    await truncate(placeOf(folder, cut), 3);
    await writeFile(placeOf(folder, altered), 'ALTERED');
    expect((await errorOf(store.fileBytes(missing))).code).toBe('FILE_MISSING');
    expect((await errorOf(store.fileBytes(cut))).message).toMatch(/has 3 bytes and should have 9/);
    expect((await errorOf(store.fileBytes(altered))).message).toMatch(/now has the SHA-256/);
    expect((await errorOf(store.fileStream(cut).next())).code).toBe('FILE_DAMAGED');
    expect((await errorOf(store.fileBytes('f'.repeat(64)))).code).toBe('FILE_UNKNOWN');
    expect((await errorOf(store.fileBytes('../../etc/passwd'))).code).toBe('FILE_UNKNOWN');
    const faults = await store.verifyFiles();
    expect(faults).toEqual({
      checked: 4,
      missing: [missing],
      damaged: [cut, altered].sort(),
      withoutRow: [],
    });
  });

  it('gone between import and write make the write fail, so that no row is without its file', async () => {
    const { store, folder } = await opened();
    const claim = await store.putFile(bytesOf('gone'));
    await rm(placeOf(folder, claim.sha256));
    expect((await errorOf(addFile(store, claim))).code).toBe('FILE_MISSING');
    expect(await store.read.files()).toEqual([]);
  });
});

describe('the sweep', () => {
  const deadName = (about: string) => `${about}.${'gone-machine'}_1_1.${newId()}`;
  const yesterdayBefore = new Date(Date.now() - 49 * 3600 * 1000);

  it('leaves files that a row names or that an import still claims', async () => {
    const { store } = await opened();
    const named = await store.putFile(bytesOf('named'));
    await addFile(store, named);
    const claimed = await store.putFile(bytesOf('claimed'));
    expect(await store.sweepFiles()).toEqual({ files: 0, leftovers: 0 });
    await addFile(store, claimed);
    expect((await store.verifyFiles()).missing).toEqual([]);
  });

  it('takes away a file whose claim was given up, and only that', async () => {
    const { store, folder } = await opened();
    const [kept, dropped] = [await store.putFile(bytesOf('kept')), await store.putFile(bytesOf('dropped'))];
    await dropped.release();
    expect(await store.sweepFiles()).toEqual({ files: 1, leftovers: 0 });
    expect(existsSync(placeOf(folder, dropped.sha256))).toBe(false);
    expect(existsSync(placeOf(folder, kept.sha256))).toBe(true);
    expect((await errorOf(addFile(store, dropped))).code).toBe('FILE_MISSING');
  });

  it('keeps a file that one import has given up and another still claims', async () => {
    const { store } = await opened();
    const [one, two] = [await store.putFile(bytesOf('both')), await store.putFile(bytesOf('both'))];
    await one.release();
    expect(await store.sweepFiles()).toEqual({ files: 0, leftovers: 0 });
    await addFile(store, two);
  });

  it('takes away what dead processes left half-written, and their claims', async () => {
    const { store, folder } = await opened();
    const claim = await store.putFile(bytesOf('of a dead import'));
    const [own] = await names(folder, 'claims');
    const dead = join(folder, 'files', 'claims', deadName(claim.sha256));
    await rename(join(folder, 'files', 'claims', own!), dead);
    const half = join(folder, 'files', 'incoming', deadName('incoming'));
    await writeFile(half, 'half');
    // of another machine: believed for a day, whatever this machine's process table says
    expect(await store.sweepFiles()).toEqual({ files: 0, leftovers: 0 });
    for (const path of [dead, half]) await utimes(path, yesterdayBefore, yesterdayBefore);
    expect(await store.sweepFiles()).toEqual({ files: 1, leftovers: 1 });
    expect(await names(folder, 'claims')).toEqual([]);
    expect(await names(folder, 'incoming')).toEqual([]);
  });

  it('puts back a file that a row names and that a sweep which died had taken aside', async () => {
    const { store, folder } = await opened();
    const claim = await store.putFile(bytesOf('taken aside'));
    await addFile(store, claim);
    await rename(placeOf(folder, claim.sha256), join(folder, 'files', 'incoming', deadName(claim.sha256)));
    expect((await store.verifyFiles()).missing).toEqual([claim.sha256]);
    expect(await store.sweepFiles()).toEqual({ files: 0, leftovers: 0 });
    expect((await store.verifyFiles()).missing).toEqual([]);
    expect(await names(folder, 'incoming')).toEqual([]);
  });

  it('lets other files in the folder be', async () => {
    const { store, folder } = await opened();
    await mkdir(join(folder, 'files', 'ab'), { recursive: true });
    await writeFile(join(folder, 'files', 'ab', 'notes.txt'), 'not ours');
    expect(await store.sweepFiles()).toEqual({ files: 0, leftovers: 0 });
    expect(existsSync(join(folder, 'files', 'ab', 'notes.txt'))).toBe(true);
  });
});
