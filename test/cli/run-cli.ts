// Runs the command line in a process of its own, as a shell does.
import { spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const MAIN = join(import.meta.dirname, '..', '..', 'src', 'cli', 'main.ts');

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** A folder of its own; whoever asks takes it away. */
export const freshFolder = (): string => mkdtempSync(join(tmpdir(), 'peritect-cli-'));

export interface Setting {
  /** PERITECT_HOME */
  readonly home: string;
  readonly input?: string;
  readonly cwd?: string;
}

export function runCli(words: readonly string[], { home, input = '', cwd }: Setting): Promise<Ran> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [MAIN, ...words], {
      cwd,
      env: { ...process.env, PERITECT_HOME: home, NODE_OPTIONS: '' },
    });
    let out = '';
    let err = '';
    child.stdout.setEncoding('utf8').on('data', (text) => {
      out += text;
    });
    child.stderr.setEncoding('utf8').on('data', (text) => {
      err += text;
    });
    child.stdin.on('error', () => {}); // a command that reads no input may be over first
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, out, err }));
    child.stdin.end(input);
  });
}
