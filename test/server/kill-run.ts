// Kills a serving program again and again while a hundred files are sent to it and read in, and looks after each kill
// whether anything acknowledged is lost or anything is half there. The sender is another program: it lives on.
import { type ChildProcess, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { setTimeout as sleep } from 'node:timers/promises';
import { openStore } from '../../src/logbook/store.ts';
import type { Analysis, Measurement } from '../../src/records/kinds.ts';
import { type SeededRandom, seededRandom } from '../../src/science/numerics/seeded-random.ts';
import { filmBody, pieceBody, seriesBody } from '../logbook/bodies.ts';
import { fixedId } from '../logbook/import-of-files.ts';
import { integrityOf } from '../logbook/integrity.ts';
import { resistanceFile } from '../simulate/instrument-files.ts';

const MAIN = join(import.meta.dirname, '..', '..', 'src', 'server', 'main.ts');
/** Files on their way at once, as a page sends them. */
const IN_FLIGHT = 3;
const LONGEST_START_MS = 60_000;

export interface ServerKillFigures {
  files: number;
  kills: number;
  /** what the sender was waiting for when the kill fell; a kill counts once for each kind of request under way */
  killsDuring: { upload: number; import: number; neither: number };
  /** imports that were answered with success, over all */
  acknowledged: number;
  /** acknowledged imports that were not there, whole, after a kill or at the end */
  lost: number;
  /** starts after a kill that did not come to serve */
  failedOpens: number;
  /** imports that the store had kept before the kill cut off their answer, found whole */
  keptUnanswered: number;
  /** other things amiss */
  faults: string[];
  /** measurements at the end */
  measurements: number;
  slowestStartMs: number;
}

interface FileToSend {
  readonly id: string;
  readonly changeId: string;
  readonly name: string;
  readonly bytes: Buffer;
  readonly sha256: string;
}

interface Serving {
  readonly url: string;
  readonly child: ChildProcess;
  readonly gone: Promise<void>;
}

function filesToSend(count: number, seed: number): FileToSend[] {
  return Array.from({ length: count }, (_, i) => {
    const { text } = resistanceFile({
      pieceLabel: 'P',
      midpointK: 88 + i * 0.03,
      widthK: 1 + (i % 7) * 0.2,
      resistanceAt300Ohm: 10 + i,
      seed: seed * 1000 + i,
    });
    const bytes = Buffer.from(text);
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    return {
      id: fixedId(11, i, seed),
      changeId: fixedId(12, i, seed),
      name: `P ${i}.txt`,
      bytes,
      sha256,
    };
  });
}

async function startServing(home: string, cacheFolder: string): Promise<Serving> {
  const child = spawn(process.execPath, [MAIN], {
    env: {
      ...process.env,
      PORT: '0',
      HOST: '',
      PERITECT_HOME: home,
      PERITECT_DEMO: 'none',
      NODE_OPTIONS: '',
      NODE_COMPILE_CACHE: cacheFolder, // twenty starts read the same sources
    },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const gone = new Promise<void>((resolve) => child.once('close', () => resolve()));
  let said = '';
  const url = await new Promise<string>((resolve, reject) => {
    const slow = setTimeout(() => reject(new Error(`The server does not serve: ${said}`)), LONGEST_START_MS);
    const take = (chunk: Buffer): void => {
      said += chunk.toString();
      const found = /serves (http:\/\/[^/\s]+)\//.exec(said);
      if (!found) return;
      clearTimeout(slow);
      resolve(found[1]!);
    };
    child.stdout!.on('data', take);
    child.stderr!.on('data', take);
    child.once('exit', (code) => reject(new Error(`The server ended with ${code}. It said: ${said}`)));
  });
  return { url, child, gone };
}

/** Posts; undefined if the server went away before it answered. @throws Error if it answers anything but success */
async function post(url: string, body: BodyInit, type: string): Promise<unknown> {
  let response: Response;
  let text: string;
  try {
    response = await fetch(url, {
      method: 'POST',
      headers: { 'content-type': type, 'x-peritect': '1' },
      body,
    });
    text = await response.text();
  } catch {
    return undefined;
  }
  if (!response.ok) throw new Error(`${url} answered ${response.status}: ${text}`);
  return JSON.parse(text);
}

const MAPPING = {
  kind: 'resistance',
  block: 0,
  columns: [
    { role: 'temperatureK', column: 0, unit: 'K' },
    { role: 'resistanceOhm', column: 1, unit: 'kOhm' },
  ],
};

class Sender {
  readonly acknowledged = new Set<FileToSend>();
  readonly #files: readonly FileToSend[];
  readonly #seed: number;
  uploading = 0;
  importing = 0;

  constructor(files: readonly FileToSend[], seed: number) {
    this.#files = files;
    this.#seed = seed;
  }

  /** Series, film and piece: under the same identifiers each time, so that a repeat changes nothing. */
  async makePiece(url: string): Promise<boolean> {
    const [series, film, piece] = this.ids();
    const records = [
      ['series', series, seriesBody()],
      ['film', film, filmBody('F', null)],
      ['piece', piece, pieceBody('P', film)],
    ] as const;
    for (const [i, [kind, id, body]] of records.entries()) {
      const changeId = fixedId(13, i, this.#seed);
      const request = JSON.stringify({ id, changeId, seriesId: series, body });
      if (!(await post(`${url}/api/records/${kind}`, request, 'application/json'))) return false;
    }
    return true;
  }

  ids(): [string, string, string] {
    return [fixedId(14, 0, this.#seed), fixedId(15, 0, this.#seed), fixedId(16, 0, this.#seed)];
  }

  /** Sends what is not acknowledged yet, a few files at a time, until all is or the server is gone. */
  async send(url: string, onAcknowledged: (file: FileToSend) => void): Promise<void> {
    const waiting = this.#files.filter((file) => !this.acknowledged.has(file));
    let isGone = !(await this.makePiece(url));
    const lane = async (): Promise<void> => {
      for (let file = waiting.shift(); file !== undefined && !isGone; file = waiting.shift()) {
        if (!(await this.#sendOne(url, file))) isGone = true;
        else {
          this.acknowledged.add(file);
          onAcknowledged(file);
        }
      }
    };
    await Promise.all(Array.from({ length: IN_FLIGHT }, lane));
  }

  async #sendOne(url: string, file: FileToSend): Promise<boolean> {
    const [seriesId, , pieceId] = this.ids();
    this.uploading++;
    const taken = (await post(
      `${url}/api/files`,
      new Uint8Array(file.bytes),
      'application/octet-stream',
    ).finally(() => this.uploading--)) as { sha256: string } | undefined;
    if (!taken) return false;
    if (taken.sha256 !== file.sha256) throw new Error(`${file.name} was taken in as ${taken.sha256}.`);
    const order = {
      id: file.id,
      changeId: file.changeId,
      seriesId,
      pieceId,
      stateTreatmentId: null,
      fileSha256: file.sha256,
      fileName: file.name,
      mapping: MAPPING,
      settings: {},
      isRemembered: false,
    };
    this.importing++;
    const answer = await post(`${url}/api/imports`, JSON.stringify(order), 'application/json').finally(
      () => this.importing--,
    );
    return answer !== undefined;
  }
}

interface Look {
  readonly faults: string[];
  readonly measurementIds: Set<string>;
}

/** Straight at the database: each measurement has its one analysis, and both files it names have a row. */
export function lookForHalves(home: string): Look {
  const faults: string[] = [];
  const database = new DatabaseSync(join(home, 'logbook.sqlite'), { readOnly: true });
  try {
    const all = (query: string) => database.prepare(query).all() as Record<string, string>[];
    const bodies = <Body>(kind: string) =>
      all(`select id, body from records where kind = '${kind}' and is_deleted = 0`).map(({ id, body }) => ({
        id: id!,
        body: JSON.parse(body!) as Body,
      }));
    if (all("select 1 from sqlite_schema where name = 'records'").length === 0)
      return { faults, measurementIds: new Set() };
    const files = new Set(all('select sha256 from files').map(({ sha256 }) => sha256));
    const analyses = bodies<Analysis>('analysis');
    const measurements = bodies<Measurement>('measurement');
    for (const { id, body } of measurements) {
      const own = analyses.filter((each) => each.body.measurementId === id);
      if (own.length !== 1) faults.push(`Measurement ${id} has ${own.length} analyses.`);
      if (own[0]?.body.failure) faults.push(`Measurement ${id}: ${own[0].body.failure.message}`);
      if (!files.has(body.fileSha256)) faults.push(`Measurement ${id} lacks the row of its file.`);
      if (!files.has(body.columns.blob)) faults.push(`Measurement ${id} lacks the row of its columns.`);
    }
    const measurementIds = new Set(measurements.map(({ id }) => id));
    for (const { id, body } of analyses)
      if (!measurementIds.has(body.measurementId)) faults.push(`Analysis ${id} has no measurement.`);
    if (files.size !== 2 * measurements.length)
      faults.push(`${files.size} rows of files for ${measurements.length} measurements.`);
    return { faults, measurementIds };
  } finally {
    database.close();
  }
}

/** Acknowledged files that cannot be had back through the store's own door, byte for byte. */
async function lostOf(home: string, acknowledged: ReadonlySet<FileToSend>): Promise<string[]> {
  const lost: string[] = [];
  const store = await openStore({ folder: home });
  try {
    for (const { id, name, sha256, bytes } of acknowledged) {
      const record = await store.read.find(id);
      const isNamed = record?.kind === 'measurement' && record.body.fileSha256 === sha256;
      const kept = isNamed ? await store.fileBytes(sha256).catch(() => null) : null;
      if (!kept || !bytes.equals(kept)) lost.push(name);
    }
  } finally {
    await store.close();
  }
  return lost;
}

/** Kills once so many imports of this process are acknowledged, and a moment more. */
function killerAfter(count: number, random: SeededRandom, kill: () => void): (acks: number) => void {
  const delayMs = random.uniform() * 120;
  let isArmed = true;
  return (acks) => {
    if (!isArmed || acks < count) return;
    isArmed = false;
    void sleep(delayMs).then(kill);
  };
}

/**
 * Sends `files` files to a server that is killed `kills` times on the way, then lets it finish.
 *
 * @param options report: told of each kill
 */
export async function runServerKills(options: {
  kills: number;
  seed: number;
  files?: number;
  report?: (line: string) => void;
}): Promise<ServerKillFigures> {
  const { kills, seed, files: count = 100, report } = options;
  const random = seededRandom(seed);
  const files = filesToSend(count, seed);
  const sender = new Sender(files, seed);
  const folder = await mkdtemp(join(tmpdir(), 'peritect-server-kill-'));
  const home = join(folder, 'home');
  const figures: ServerKillFigures = {
    files: count,
    kills: 0,
    killsDuring: { upload: 0, import: 0, neither: 0 },
    acknowledged: 0,
    lost: 0,
    failedOpens: 0,
    keptUnanswered: 0,
    faults: [],
    measurements: 0,
    slowestStartMs: 0,
  };
  const look = async (): Promise<void> => {
    if (!existsSync(join(home, 'logbook.sqlite'))) return; // killed before it made anything
    const whole = integrityOf(home);
    const { faults, measurementIds } = lookForHalves(home);
    figures.faults.push(...whole.faults, ...faults);
    const answered = new Set([...sender.acknowledged].map(({ id }) => id));
    figures.keptUnanswered += [...measurementIds].filter((id) => !answered.has(id)).length;
    const lost = await lostOf(home, sender.acknowledged);
    figures.lost += lost.length;
    figures.measurements = measurementIds.size;
    report?.(
      `kill ${figures.kills}: ${answered.size} acknowledged, ${measurementIds.size} there, ${lost.length} lost, ` +
        `${whole.filesWithoutRow} files without row, ${whole.leftovers} half-written, ` +
        `${whole.faults.length + faults.length} faults`,
    );
  };
  let serving: Serving | undefined;
  try {
    while (sender.acknowledged.size < count) {
      const started = performance.now();
      try {
        serving = await startServing(home, join(folder, 'compiled'));
      } catch (error) {
        figures.failedOpens++;
        figures.faults.push(String(error));
        break;
      }
      figures.slowestStartMs = Math.max(figures.slowestStartMs, Math.round(performance.now() - started));
      const { url, child, gone } = serving;
      const killsLeft = kills - figures.kills;
      const kill = () => {
        const { uploading, importing } = sender;
        if (child.exitCode !== null || child.signalCode !== null || !child.kill('SIGKILL')) return;
        figures.kills++;
        if (uploading > 0) figures.killsDuring.upload++;
        if (importing > 0) figures.killsDuring.import++;
        if (uploading + importing === 0) figures.killsDuring.neither++;
      };
      // the files left are spread over the kills left, so that the kills are spread over the whole import
      const share = (count - sender.acknowledged.size) / (killsLeft + 1);
      const after = Math.floor(share * (0.5 + random.uniform()));
      const watch =
        killsLeft > 0 && sender.acknowledged.size + IN_FLIGHT < count
          ? killerAfter(after, random, kill)
          : () => {};
      watch(0);
      let acks = 0;
      await sender.send(url, () => watch(++acks));
      if (sender.acknowledged.size < count) {
        await gone;
        await look();
      }
    }
    figures.acknowledged = sender.acknowledged.size;
    if (serving) {
      serving.child.kill('SIGTERM');
      await serving.gone;
      await look();
      await lookAfterSweep(home, figures);
    }
  } finally {
    serving?.child.kill('SIGKILL');
    await serving?.gone;
    await rm(folder, { recursive: true, force: true });
  }
  return figures;
}

/** A sweep takes all leftovers of the killed, and nothing else. */
async function lookAfterSweep(home: string, figures: ServerKillFigures): Promise<void> {
  const store = await openStore({ folder: home });
  await store.sweepFiles();
  await store.close();
  const { faults, filesWithoutRow, leftovers, claims } = integrityOf(home);
  figures.faults.push(...faults);
  const left = filesWithoutRow + leftovers + claims;
  if (left > 0) figures.faults.push(`After the sweep ${left} leftovers are still there.`);
}
