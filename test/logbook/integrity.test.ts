// The look at a store folder after a kill must see what it looks for.
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterEach, describe, expect, it } from 'vitest';
import { ids, importFiles } from './import-of-files.ts';
import { integrityOf } from './integrity.ts';
import { clearStores, newFolder } from './opened-store.ts';

afterEach(clearStores);

const SEED = 11;

/** Faults of a store of three files after something was done to its folder. */
async function faultsAfter(
  harm: (folder: string, database: DatabaseSync, sha256: string) => unknown,
): Promise<string> {
  const folder = await newFolder();
  await importFiles(folder, 0, 3, SEED, () => {});
  expect(integrityOf(folder)).toMatchObject({ faults: [], records: 6, files: 3 });
  const database = new DatabaseSync(join(folder, 'logbook.sqlite'), { enableForeignKeyConstraints: false });
  const sha256 = String(database.prepare('select sha256 from files').get()!.sha256);
  database.exec('drop trigger revisions_keep_delete; drop trigger files_keep_delete');
  await harm(folder, database, sha256);
  database.close();
  return integrityOf(folder).faults.join(' ');
}

const placeOf = (folder: string, sha256: string) =>
  join(folder, 'files', sha256.slice(0, 2), sha256.slice(2));

describe('the look at a store folder', () => {
  it('sees a file that is gone, and one that is altered', async () => {
    expect(await faultsAfter((folder, _, sha256) => rm(placeOf(folder, sha256)))).toMatch(
      /The row of file .* has no file/,
    );
    expect(await faultsAfter((folder, _, sha256) => writeFile(placeOf(folder, sha256), 'x'))).toMatch(
      /holds 1 bytes of/,
    );
  });

  it('sees a record whose file has no row, whose revision is missing, or that is half-written', async () => {
    expect(await faultsAfter((_, database) => database.exec('delete from files'))).toMatch(
      /which has no row/,
    );
    const id = ids.measurement(1, SEED);
    const unrevised = (_: string, database: DatabaseSync) =>
      database.exec(`delete from revisions where record_id = '${id}'`);
    expect(await faultsAfter(unrevised)).toContain(`Record ${id} differs from its last revision`);
    const cut = (_: string, database: DatabaseSync) =>
      database.exec(`update records set body = '{"label":"half"}' where id = '${id}'`);
    expect(await faultsAfter(cut)).toContain(`The body of record ${id} does not fit its kind`);
  });
});
