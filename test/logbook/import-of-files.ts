// An import of many small invented files, each with its record, as a process of its own that can be killed at any
// moment. Run again with the same arguments it goes on where it was: identifiers follow from the number of the file.
// Arguments: folder, first file, number of files, seed. Prints `ack NUMBER` after each commit, `done` at the end.
import { pathToFileURL } from 'node:url';
import { v7 } from 'uuid';
import { openStore } from '../../src/logbook/store.ts';
import { filmBody, measurementBody, pieceBody, seriesBody } from './bodies.ts';

/** The same identifier for the same subject, number and seed, in every process. */
export function fixedId(subject: number, number: number, seed: number): string {
  const random = new Uint8Array(16);
  new DataView(random.buffer).setUint32(8, seed);
  new DataView(random.buffer).setUint32(12, subject);
  return v7({ msecs: 1_700_000_000_000 + number, seq: number, random });
}

/** Content of a file: some lines of text, more of them for some than for others. */
export function fileText(number: number, seed: number): string {
  const lines = 5 + ((number * 7919 + seed) % 400);
  return Array.from({ length: lines }, (_, i) => `${number}\t${seed}\t${i * 0.25}`).join('\n');
}

export const ids = {
  series: (seed: number) => fixedId(1, 0, seed),
  film: (seed: number) => fixedId(2, 0, seed),
  piece: (seed: number) => fixedId(3, 0, seed),
  measurement: (number: number, seed: number) => fixedId(4, number, seed),
};

export async function importFiles(
  folder: string,
  first: number,
  count: number,
  seed: number,
  acknowledge: (line: string) => void,
): Promise<void> {
  const store = await openStore({ folder, by: `import from ${first}` });
  await store.write({ changeId: fixedId(5, 0, seed), what: 'begin an import' }, async (tx) => {
    await tx.create('series', ids.series(seed), null, seriesBody());
    await tx.create('film', ids.film(seed), ids.series(seed), filmBody('F', null));
    await tx.create('piece', ids.piece(seed), ids.series(seed), pieceBody('P', ids.film(seed)));
  });
  for (let number = first; number < first + count; number++) {
    const bytes = new TextEncoder().encode(fileText(number, seed));
    const claim = await store.putFile(bytes);
    const label = `file ${number}`;
    await store.write({ changeId: fixedId(6, number, seed), what: `import ${label}` }, async (tx) => {
      await tx.addFile(claim, { name: `${label}.txt`, media: 'text/plain' });
      const about = {
        pieceId: ids.piece(seed),
        fileSha256: claim.sha256,
        fileBytes: claim.bytes,
        blob: claim.sha256,
      };
      await tx.create(
        'measurement',
        ids.measurement(number, seed),
        ids.series(seed),
        measurementBody(label, about),
      );
    });
    acknowledge(`ack ${number}`);
  }
  await store.close();
  acknowledge('done');
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const [folder, first, count, seed] = process.argv.slice(2);
  await importFiles(folder!, Number(first), Number(count), Number(seed), (line) =>
    process.stdout.write(`${line}\n`),
  );
}
