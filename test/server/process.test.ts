import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startServer } from '../browser/server-process.ts';

const MAIN = join(import.meta.dirname, '..', '..', 'src', 'server', 'main.ts');

let home: string;
beforeAll(() => {
  home = mkdtempSync(join(tmpdir(), 'peritect-process-'));
});
afterAll(() => rmSync(home, { recursive: true, force: true }));

/** Starts the program as it cannot start; what it said and its exit code. */
function refusal(env: Record<string, string>): Promise<{ code: number | null; said: string }> {
  const child = spawn(process.execPath, [MAIN], {
    env: {
      ...process.env,
      PERITECT_HOME: join(home, 'store'),
      PERITECT_DEMO: 'none',
      NODE_OPTIONS: '',
      PORT: '0',
      HOST: '',
      ...env,
    },
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said += text;
  });
  const tooLong = setTimeout(() => child.kill('SIGKILL'), 60_000);
  return new Promise((resolve) =>
    child.on('close', (code) => {
      clearTimeout(tooLong);
      resolve({ code, said });
    }),
  );
}

describe('the program', () => {
  it.each([
    [{ HOST: '0.0.0.0' }, /^ADDRESS_REFUSED: HOST is '0\.0\.0\.0', expected 127\.0\.0\.1.*only this machine/],
    [{ PORT: 'nonsense' }, /^PORT_INVALID: PORT is 'nonsense', expected a whole number from 0 to 65535/],
    [{ PORT: '1e3' }, /^PORT_INVALID: PORT is '1e3'/],
  ])('told %j says what is wrong in one line and ends with 2', async (env, line) => {
    const { code, said } = await refusal(env);
    expect(said).toMatch(line);
    expect(said.trim().split('\n')).toHaveLength(1);
    expect(code).toBe(2);
  });

  it('whose port is taken says so and what to do, and the one that has it serves on', async () => {
    const first = await startServer(join(home, 'first'));
    try {
      const { port } = new URL(first.url);
      const { code, said } = await refusal({ PORT: port });
      expect(said).toBe(
        `PORT_TAKEN: Port ${port} is taken by another program. End the other program, or choose a port: PORT=4711 npm start.\n`,
      );
      expect(code).toBe(2);
      expect((await fetch(`${first.url}/api/series`)).status).toBe(200);
    } finally {
      await first.stop();
    }
  });

  it('whose folder holds a file of another program says so and ends with 2', async () => {
    const folder = mkdtempSync(join(home, 'other-'));
    writeFileSync(join(folder, 'logbook.sqlite'), 'not a database, but words '.repeat(100));
    const { code, said } = await refusal({ PERITECT_HOME: folder });
    expect(said).toMatch(/^STORE_[A-Z_]+: /);
    expect(code).toBe(2);
  });

  it('told to stop while it computes and is listened to ends within two seconds', async () => {
    const server = await startServer(join(home, 'stopped'));
    const headers = { 'content-type': 'application/json', 'x-peritect': '1' };
    const ask = (temperatureC: number) => {
      const body = JSON.stringify({
        cations: { Y: 1, Ba: 3, Cu: 6 },
        temperatureC: [temperatureC, 1050],
        po2Atm: [1e-4, 1],
        rows: 60,
        columns: 60,
      });
      return fetch(`${server.url}/api/computations/equilibrium.window`, { method: 'POST', headers, body });
    };
    // more than can be done in the five seconds that a short answer is waited for
    const answers = await Promise.all([ask(800), ask(801), ask(802)]);
    const job = answers.findLast(({ status }) => status === 202)!;
    const events = await fetch(`${server.url}${job.headers.get('location')}/events`);
    const told = events.text().catch(() => 'cut off');
    const waiting = ask(803).catch(() => 'cut off');
    const at = performance.now();
    await server.stop();
    expect(performance.now() - at).toBeLessThan(2000);
    await Promise.all([told, waiting]);
  });
});
