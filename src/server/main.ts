// `npm start`: opens the store, serves pages and API on this machine only, and says where.
import { join } from 'node:path';
import { generateDemo } from '../../demo/generate.ts';
import { describedSeriesId, isLoaded, loadSeries } from '../jobs/load-series.ts';
import { homeFolder, type OpenWorkbench, openWorkbench } from '../jobs/open-workbench.ts';
import { StoreError } from '../logbook/errors.ts';
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
const home = homeFolder();

async function openOrStop(): Promise<OpenWorkbench> {
  try {
    return await openWorkbench(home, 2);
  } catch (error) {
    if (!(error instanceof StoreError)) throw error;
    process.stderr.write(`${error.message}\n`);
    process.exit(2);
  }
}

/** An empty store gets the invented series, so that there is something to look at; a load that broke off goes on. */
async function loadDemoIfEmpty(bench: OpenWorkbench): Promise<void> {
  const demo = generateDemo();
  const { label } = demo.series;
  const series = await bench.store.read.list('series', { includeDeleted: true });
  const isBegun = series.some(({ id }) => id === describedSeriesId(label));
  if (series.length > 0 && (!isBegun || (await isLoaded(bench, label)))) return;
  process.stdout.write('Loading the invented demonstration series (once) ...\n');
  await loadSeries(bench, demo);
}

const bench = await openOrStop();
await bench.store.sweepFiles();
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
  await app.close();
  await bench.close();
  process.exit(0);
}
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.on(signal, () => void stop());

try {
  await app.listen({ host: HOST ?? '127.0.0.1', port });
} catch (error) {
  if ((error as NodeJS.ErrnoException).code !== 'EADDRINUSE') throw error;
  stopWith('PORT_TAKEN', `Port ${port} is taken by another program.`);
}
const address = app.server.address();
if (address !== null && typeof address === 'object') listeningOn = address.port;
if (process.env.PERITECT_DEMO !== 'none') await loadDemoIfEmpty(bench);
process.stdout.write(`Peritect serves http://127.0.0.1:${listeningOn}/ (store: ${home})\n`);
