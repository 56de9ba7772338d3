// Writes the invented instrument files into a folder, with a manifest that says which file belongs to which piece.
// Usage: node demo/write-files.ts FOLDER [films] [seed]
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DEMO_FILM_COUNT, DEMO_SEED, generateDemo } from './generate.ts';
import { INVENTED_NOTE } from './records.ts';

const [folder, films = String(DEMO_FILM_COUNT), seed = String(DEMO_SEED)] = process.argv.slice(2);
if (folder === undefined) {
  process.stderr.write('Say where the files go: node demo/write-files.ts FOLDER [films] [seed]\n');
  process.exitCode = 2;
} else {
  const { files, pastFilmsCsv, ...records } = generateDemo(Number(seed), Number(films));
  mkdirSync(folder, { recursive: true });
  for (const { name, bytes } of files) writeFileSync(join(folder, name), bytes);
  writeFileSync(join(folder, 'past-films.csv'), pastFilmsCsv);
  const manifest = {
    note: INVENTED_NOTE,
    seed: Number(seed),
    ...records,
    files: files.map(({ bytes, ...file }) => ({ ...file, byteCount: bytes.length })),
  };
  writeFileSync(join(folder, 'manifest.json'), `${JSON.stringify(manifest, null, 2)}\n`);
  const total = files.reduce((sum, { bytes }) => sum + bytes.length, 0);
  process.stdout.write(`${files.length} files, ${(total / 1e6).toFixed(1)} MB, written to ${folder}\n`);
}
