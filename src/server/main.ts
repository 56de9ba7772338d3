// `npm start`: opens the store, serves pages and API on this machine only, and says where.
import { homedir } from 'node:os';
import { join } from 'node:path';
import { workerThreadRunner } from '../jobs/worker-threads.ts';
import { buildApp } from './app.ts';
import { SERVER_CODES } from './errors.ts';

const DEFAULT_PORT = 4530;
const ROOT = join(import.meta.dirname, '..', '..');

function stopWith(code: keyof typeof SERVER_CODES, sentence: string): never {
  process.stderr.write(`${code}: ${sentence} ${SERVER_CODES[code]}\n`);
  process.exit(code === 'FAULT' ? 70 : 2);
}

const portText = process.env.PORT ?? String(DEFAULT_PORT);
const port = Number(portText);
if (!Number.isInteger(port) || port < 0 || port > 65535) {
  stopWith('PORT_TAKEN', `PORT is '${portText}', expected a whole number from 0 to 65535.`);
}
const { HOST } = process.env;
if (HOST !== undefined && !['127.0.0.1', 'localhost', '::1'].includes(HOST)) {
  stopWith('ADDRESS_REFUSED', `HOST is '${HOST}'.`);
}
const home = process.env.PERITECT_HOME ?? join(homedir(), '.peritect');
const runner = workerThreadRunner(2);
let listeningOn = port;
const app = await buildApp({
  runner,
  clock: () => new Date(),
  pagesFolder: join(ROOT, 'dist', 'web'),
  port: () => listeningOn,
});
try {
  await app.listen({ host: HOST ?? '127.0.0.1', port });
} catch (error) {
  if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw error;
  stopWith('PORT_TAKEN', `Port ${port} is taken by another program.`);
}
const address = app.server.address();
if (address !== null && typeof address === 'object') listeningOn = address.port;
process.stdout.write(`Peritect serves http://127.0.0.1:${listeningOn}/ (store: ${home})\n`);

let isStopping = false;
async function stop(): Promise<void> {
  if (isStopping) return;
  isStopping = true;
  await app.close();
  await runner.close();
  process.exit(0);
}
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void stop());
