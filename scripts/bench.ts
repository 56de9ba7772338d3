// Runs every benchmark in bench/, or those whose name holds a word: `npm run bench -- columnar`.
import { globSync } from 'node:fs';
import { ROOT, runStep } from './run-step.ts';

const word = process.argv[2] ?? '';
const scripts = globSync('bench/*.ts', { cwd: ROOT }).filter((path) => path.includes(word));
const failed = scripts.filter((path) => !runStep(path, path));
process.exitCode = failed.length === 0 ? 0 : 1;
