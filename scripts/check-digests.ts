// Runs each catalogue entry's example and compares the response's digest with the one kept. A digest that changed while
// the entry's effective version did not is a fault: the answer changed and nobody said so. `--write` keeps the new ones.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { CATALOGUE } from '../src/computations/catalogue.ts';
import { effectiveVersion } from '../src/runner/effective-version.ts';
import { hashOf } from '../src/runner/request-hash.ts';
import { runnerHere } from '../src/runner/run-here.ts';

/** Digits kept of each number before hashing, so that the last bits of another processor do not count. */
const DIGITS = 9;
const PATH = join(import.meta.dirname, '..', 'src', 'computations', 'example-digests.json');

interface Kept {
  effectiveVersion: string;
  digest: string;
}

function rounded(value: unknown): unknown {
  if (typeof value === 'number') return Number(value.toPrecision(DIGITS));
  if (Array.isArray(value)) return value.map(rounded);
  if (value !== null && typeof value === 'object') {
    return Object.fromEntries(Object.entries(value).map(([key, each]) => [key, rounded(each)]));
  }
  return value;
}

const kept: Record<string, Kept> = existsSync(PATH) ? JSON.parse(readFileSync(PATH, 'utf8')) : {};
const found: Record<string, Kept> = {};
const faults: string[] = [];
const runner = runnerHere();
for (const entry of CATALOGUE) {
  const response = await runner.run(entry.name, entry.example);
  const parsed = entry.response.safeParse(response);
  if (!parsed.success)
    faults.push(`${entry.name}: the example's response breaks its schema: ${parsed.error.message}`);
  const now = { effectiveVersion: effectiveVersion(entry), digest: hashOf(rounded(response)) };
  found[entry.name] = now;
  const before = kept[entry.name];
  if (!before) faults.push(`${entry.name}: no digest is kept of its example.`);
  else if (before.digest !== now.digest && before.effectiveVersion === now.effectiveVersion) {
    faults.push(
      `${entry.name}: its example is answered otherwise, but its version is still ${entry.version}. Raise it.`,
    );
  } else if (before.digest !== now.digest || before.effectiveVersion !== now.effectiveVersion) {
    faults.push(`${entry.name}: the kept digest is of an older version.`);
  }
}
for (const name of Object.keys(kept))
  if (!found[name]) faults.push(`${name}: a digest is kept, but the entry is gone.`);

if (process.argv.includes('--write')) {
  const changedSilently = faults.filter(
    (fault) => fault.includes('Raise it') || fault.includes('breaks its schema'),
  );
  for (const fault of changedSilently) process.stderr.write(`${fault}\n`);
  if (changedSilently.length > 0) process.exitCode = 1;
  else writeFileSync(PATH, `${JSON.stringify(found, null, 2)}\n`);
} else {
  for (const fault of faults) process.stderr.write(`${fault} Run \`npm run generate\` after looking.\n`);
  if (faults.length > 0) process.exitCode = 1;
}
process.stdout.write(`example digests: ${CATALOGUE.length} entries, ${faults.length} faults\n`);
