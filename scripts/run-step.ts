// Runs one program of the project's own tools on the pinned runtime and says whether it passed.
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';

export const ROOT = join(import.meta.dirname, '..');

/** @returns true if the program ended with 0; its output goes to the terminal */
export function runStep(title: string, script: string, args: readonly string[] = []): boolean {
  process.stdout.write(`== ${title}\n`);
  const { status, error } = spawnSync(process.execPath, [join(ROOT, script), ...args], {
    cwd: ROOT,
    stdio: 'inherit',
  });
  if (error) process.stderr.write(`${title}: ${error.message}\n`);
  return status === 0;
}
