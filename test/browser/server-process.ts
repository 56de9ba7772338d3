// A real server in a process of its own, on a store in a folder of its own.
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const ROOT = join(import.meta.dirname, '..', '..');

export interface ServerProcess {
  /** `http://127.0.0.1:41234` */
  readonly url: string;
  /** ends it as a terminal would; resolves once it is gone */
  stop(): Promise<void>;
}

/** A new folder for a store, and the way to remove it. */
export function storeFolder(): { path: string; remove: () => void } {
  const path = mkdtempSync(join(tmpdir(), 'peritect-browser-'));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

/** A port that nothing listens on at the moment: for a server that is to come back at the same address. */
export async function freePort(): Promise<number> {
  const listener = createServer();
  await new Promise<void>((resolve) => listener.listen(0, '127.0.0.1', resolve));
  const address = listener.address();
  await new Promise((resolve) => listener.close(resolve));
  if (address === null || typeof address === 'string') throw new Error('No port was given.');
  return address.port;
}

async function addressOf(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    let said = '';
    const take = (chunk: Buffer): void => {
      said += chunk.toString();
      const found = /serves (http:\/\/[^/\s]+)\//.exec(said);
      if (found) resolve(found[1]!);
    };
    child.stdout!.on('data', take);
    child.stderr!.on('data', take);
    child.once('exit', (code) => reject(new Error(`The server ended with ${code}. It said: ${said}`)));
  });
}

/**
 * Starts `src/server/main.ts`, which serves the built pages of dist/web.
 *
 * @param home folder of the store
 * @param options port 0 (the usual) takes any free one; hasDemo: an empty store gets the invented series
 */
export async function startServer(
  home: string,
  { port = 0, hasDemo = false }: { port?: number; hasDemo?: boolean } = {},
): Promise<ServerProcess> {
  const { HOST: _host, ...env } = process.env;
  const child = spawn(process.execPath, [join(ROOT, 'src', 'server', 'main.ts')], {
    env: {
      ...env,
      PORT: String(port),
      PERITECT_HOME: home,
      PERITECT_DEMO: hasDemo ? '' : 'none',
      NODE_OPTIONS: '',
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const isGone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const url = await addressOf(child);
  return {
    url,
    stop: async () => {
      child.kill('SIGTERM');
      await isGone;
    },
  };
}
