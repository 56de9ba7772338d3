// Formats and mends what the linter can mend.
import { runStep } from './run-step.ts';

process.exitCode = runStep('format', 'node_modules/@biomejs/biome/bin/biome', ['check', '--write', '.'])
  ? 0
  : 1;
