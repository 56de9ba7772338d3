// Everything that can be said of the code without running its tests. Ends with one line a fault-free tree can be known by.
import { runStep } from './run-step.ts';

const STEPS: readonly (readonly [title: string, script: string, ...args: string[]])[] = [
  ['types', 'node_modules/ts7/lib/tsc.js', '-p', '.'],
  ['lint and format', 'node_modules/@biomejs/biome/bin/biome', 'check', '--error-on-warnings', '.'],
  ['layers', 'scripts/check-layers.ts'],
  ['generated files', 'scripts/generate.ts', '--check'],
  ['example digests', 'scripts/check-digests.ts'],
  ['browser-safe', 'scripts/check-browser-safe.ts'],
  ['documents', 'scripts/check-docs.ts'],
  ['values kept out of the fit', 'scripts/equilibrium-table.ts', '--check'],
  ['dead code', 'node_modules/knip/bin/knip.js', '--no-progress'],
];

const failed = STEPS.filter(([title, script, ...args]) => !runStep(title, script, args)).map(
  ([title]) => title,
);
process.stdout.write(failed.length === 0 ? 'check: clean\n' : `check: faults in ${failed.join(', ')}\n`);
process.exitCode = failed.length === 0 ? 0 : 1;
