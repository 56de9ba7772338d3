// Writes the stored store of the schema this release has, test/data/stores/schema-N: a small one with everything in it
// that a later release must still read. Run once a schema, before it is released; a released one is never written again.
import { existsSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { putTable } from '../src/logbook/columns.ts';
import { newId } from '../src/logbook/ids.ts';
import { SCHEMA_VERSION } from '../src/logbook/migrations.ts';
import { openStore } from '../src/logbook/store.ts';
import {
  filmBody,
  lotBody,
  measurementBody,
  pieceBody,
  runBody,
  seriesBody,
  targetBody,
  treatmentBody,
} from '../test/logbook/bodies.ts';

const folder = join(import.meta.dirname, '..', 'test', 'data', 'stores', `schema-${SCHEMA_VERSION}`);
if (existsSync(folder)) {
  if (!process.argv.includes('--again')) {
    console.error(
      `${folder} is there already. If its schema is not released yet, write it anew with --again.`,
    );
    process.exit(2);
  }
  await rm(folder, { recursive: true });
}

const store = await openStore({ folder, by: 'sample', clock: () => new Date('2026-01-01T00:00:00.000Z') });
const [seriesId, lotId, targetId, runId, filmId, pieceId, treatmentId, measurementId, renaming] = Array.from(
  { length: 9 },
  newId,
) as [string, string, string, string, string, string, string, string, string];
await store.write({ changeId: newId(), what: 'add a series' }, async (tx) => {
  await tx.create('series', seriesId, null, seriesBody());
});
await store.write({ changeId: newId(), what: 'add a film' }, async (tx) => {
  await tx.create('lot', lotId, seriesId, lotBody());
  await tx.create('target', targetId, seriesId, targetBody('T1', [lotId]));
  await tx.create('run', runId, seriesId, runBody('R1', targetId));
  await tx.create('film', filmId, seriesId, filmBody('F1', runId));
  await tx.create('piece', pieceId, seriesId, pieceBody('F1a', filmId));
  await tx.create('treatment', treatmentId, seriesId, treatmentBody('A1', pieceId));
});
const raw = await store.putFile(new TextEncoder().encode('temperature,resistance\n92,0.001\n91,0\n90,\n'));
const table = await putTable(store, [
  [92, 91, 90],
  [1e-3, 0, Number.NaN],
]);
await store.write({ changeId: newId(), what: 'import a measurement' }, async (tx) => {
  await tx.addFile(raw, { name: 'invented.csv', media: 'text/csv' });
  await tx.addFile(table, { name: 'invented.csv, columns', media: 'application/octet-stream' });
  const about = {
    pieceId,
    stateTreatmentId: treatmentId,
    fileSha256: raw.sha256,
    fileBytes: raw.bytes,
    blob: table.sha256,
    rows: 3,
  };
  await tx.create('measurement', measurementId, seriesId, measurementBody('M1', about));
});
await store.write({ changeId: renaming, what: 'rename the film' }, async (tx) => {
  await tx.revise('film', filmId, 1, filmBody('F1 renamed', runId));
});
await store.undo({ changeId: newId(), ofChange: renaming });
await store.close();

const database = new DatabaseSync(join(folder, 'logbook.sqlite'));
database.exec('vacuum');
database.exec('pragma journal_mode = delete'); // one file alone
database.close();
console.log(`Wrote ${folder}.`);
