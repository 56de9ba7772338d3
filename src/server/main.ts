// `npm start`: opens the store, serves pages and API on this machine only, and says where.
import { join } from 'node:path';
import { DEMO_LABEL } from '../../demo/shared-records.ts';
import { describedSeriesId, isLoaded, loadSeries } from '../jobs/load-series.ts';
import { homeFolder, type OpenWorkbench, openWorkbench } from '../jobs/open-workbench.ts';
import { StoreError } from '../logbook/errors.ts';
import { buildApp } from './app.ts';
import { SERVER_CODES } from './errors.ts';

const DEFAULT_PORT = '4530';
const ROOT = join(import.meta.dirname, '..', '..');
/** Requests under way get so long to end when the program is told to stop. What is acknowledged is on the disk. */
const LONGEST_STOP_MS = 1500;

function stopWith(code: keyof typeof SERVER_CODES, sentence: string): never {
  process.stderr.write(`${code}: ${sentence} ${SERVER_CODES[code]}\n`);
  process.exit(code === 'FAULT' ? 70 : 2);
}

const portText = process.env.PORT || DEFAULT_PORT;
const port = /^\d{1,5}$/.test(portText) ? Number(portText) : Number.NaN;
if (!(port <= 65535)) {
  stopWith('PORT_INVALID', `PORT is '${portText}', expected a whole number from 0 to 65535.`);
}
const host = process.env.HOST || '127.0.0.1';
if (!['127.0.0.1', 'localhost', '::1'].includes(host)) {
  stopWith('ADDRESS_REFUSED', `HOST is '${host}', expected 127.0.0.1, localhost or ::1.`);
}
const home = homeFolder();

async function openOrStop(): Promise<OpenWorkbench> {
  try {
    const opened = await openWorkbench(home, 2);
    await opened.store.sweepFiles();
    return opened;
  } catch (error) {
    if (!(error instanceof StoreError)) throw error;
    process.stderr.write(`${error.message}\n`);
    process.exit(2);
  }
}

/** An empty store gets the invented series, so that there is something to look at; a load that broke off goes on. */
async function loadDemoIfEmpty(bench: OpenWorkbench): Promise<void> {
  const series = await bench.store.read.list('series', { includeDeleted: true });
  const isBegun = series.some(({ id }) => id === describedSeriesId(DEMO_LABEL));
  if (series.length > 0 && (!isBegun || (await isLoaded(bench, DEMO_LABEL)))) return;
  process.stdout.write('Loading the invented demonstration series (once) ...\n');
  const { generateDemo } = await import('../../demo/generate.ts');
  await loadSeries(bench, generateDemo());
}

const bench = await openOrStop();
let listeningOn = port;
const app = await buildApp({
  bench,
  clock: () => new Date(),
  pagesFolder: join(ROOT, 'dist', 'web'),
  port: () => listeningOn,
});

let isStopping = false;
async function stop(): Promise<void> {
  if (isStopping) return;
  isStopping = true;
  setTimeout(() => process.exit(0), LONGEST_STOP_MS);
  await app.close();
  await bench.close();
  process.exit(0);
}
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void stop());

try {
  await app.listen({ host, port });
} catch (error) {
  const { code } = error as NodeJS.ErrnoException;
  if (code === 'EADDRINUSE') stopWith('PORT_TAKEN', `Port ${port} is taken by another program.`);
  if (code === 'EACCES') stopWith('PORT_INVALID', `This account may not listen on port ${port}.`);
  if (code === 'EADDRNOTAVAIL') stopWith('ADDRESS_REFUSED', `This machine has no address ${host}.`);
  throw error;
}
const address = app.server.address();
if (address !== null && typeof address === 'object') listeningOn = address.port;
try {
  if (process.env.PERITECT_DEMO !== 'none') await loadDemoIfEmpty(bench);
} catch (error) {
  if (!isStopping) throw error;
}
const name = host === '::1' ? '[::1]' : host;
if (!isStopping) process.stdout.write(`Peritect serves http://${name}:${listeningOn}/ (store: ${home})\n`);
