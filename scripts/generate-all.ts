// Writes everything that is made from something else: tables, client types, error list, digests of the examples.
import { runStep } from './run-step.ts';

const STEPS: readonly (readonly [title: string, script: string, ...args: string[]])[] = [
  ['tables and client', 'scripts/generate.ts'],
  ['error codes', 'scripts/check-docs.ts', '--write'],
  ['example digests', 'scripts/check-digests.ts', '--write'],
];

const failed = STEPS.filter(([title, script, ...args]) => !runStep(title, script, args));
process.exitCode = failed.length === 0 ? 0 : 1;
