// Kills an import again and again at seeded moments, and looks after each kill whether anything acknowledged is lost.
import { type ChildProcess, spawn } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as sleep } from 'node:timers/promises';
import { openStore } from '../../src/logbook/store.ts';
import { seededRandom } from '../../src/science/numerics/seeded-random.ts';
import { fileText, ids } from './import-of-files.ts';
import { integrityOf } from './integrity.ts';

export interface KillFigures {
  kills: number;
  /** kills before the first acknowledgement of their process */
  killsDuringStart: number;
  /** imports brought to their end */
  imports: number;
  acknowledged: number;
  /** acknowledged files that were not there, whole, after a kill */
  lost: number;
  /** other things amiss after a kill */
  faults: string[];
  /** kills that fell between a file and its row */
  filesWithoutRow: number;
  /** kills that fell into the writing of a file */
  leftovers: number;
}

const IMPORT = join(import.meta.dirname, 'import-of-files.ts');

/** Starts an import and kills it after so many acknowledgements and a delay; undefined: lets it finish. */
async function importUntil(
  folder: string,
  count: number,
  seed: number,
  kill: { afterAcks: number; delayMs: number } | undefined,
  acknowledged: Set<number>,
): Promise<{ isDone: boolean; acks: number }> {
  const child: ChildProcess = spawn(process.execPath, [IMPORT, folder, '0', String(count), String(seed)], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let errors = '';
  child.stderr!.setEncoding('utf8').on('data', (text: string) => {
    errors += text;
  });
  const ended = new Promise<{ code: number | null; signal: string | null }>((resolve) => {
    child.on('close', (code, signal) => resolve({ code, signal }));
  });
  let acks = 0;
  let isDone = false;
  const killLater = async (delayMs: number) => {
    await sleep(delayMs);
    child.kill('SIGKILL');
  };
  if (kill?.afterAcks === 0) void killLater(kill.delayMs);
  for await (const line of createInterface({ input: child.stdout! })) {
    if (line === 'done') isDone = true;
    else {
      acknowledged.add(Number(line.replace('ack ', '')));
      acks++;
      if (kill !== undefined && acks === kill.afterAcks) void killLater(kill.delayMs);
    }
  }
  const { code, signal } = await ended;
  if (signal !== 'SIGKILL' && code !== 0) throw new Error(`The import ended with ${code}: ${errors}`);
  return { isDone, acks };
}

/** Every acknowledged file is there with its bytes, through the store's own door. @returns numbers of those that are not */
async function lostOf(folder: string, seed: number, acknowledged: ReadonlySet<number>): Promise<number[]> {
  const lost: number[] = [];
  const store = await openStore({ folder });
  try {
    for (const number of acknowledged) {
      const content = Buffer.from(fileText(number, seed));
      const sha256 = createHash('sha256').update(content).digest('hex');
      const record = await store.read.find(ids.measurement(number, seed));
      const isNamed = record?.kind === 'measurement' && record.body.fileSha256 === sha256;
      if (!isNamed || !content.equals(await store.fileBytes(sha256))) lost.push(number);
    }
  } finally {
    await store.close();
  }
  return lost;
}

/**
 * Imports `filesPerImport` files again and again, killing the process, until so many kills have fallen.
 *
 * @param options report: told of each kill
 */
export async function runKills(options: {
  kills: number;
  seed: number;
  filesPerImport?: number;
  report?: (line: string) => void;
}): Promise<KillFigures> {
  const { kills, seed, filesPerImport = 100, report } = options;
  const random = seededRandom(seed);
  const figures: KillFigures = {
    kills: 0,
    killsDuringStart: 0,
    imports: 0,
    acknowledged: 0,
    lost: 0,
    faults: [],
    filesWithoutRow: 0,
    leftovers: 0,
  };
  while (figures.kills < kills) {
    const folder = await mkdtemp(join(tmpdir(), 'peritect-kill-'));
    const importSeed = seed + figures.imports;
    const acknowledged = new Set<number>();
    let before = { filesWithoutRow: 0, leftovers: 0 };
    try {
      for (let isDone = false; !isDone; ) {
        const isEnough = figures.kills >= kills;
        // A new process first repeats what is done, which is answered at once: kills must reach beyond that.
        const isInStart = random.uniform() < 0.15;
        const kill = isInStart
          ? { afterAcks: 0, delayMs: random.uniform() * 400 }
          : { afterAcks: acknowledged.size + 1 + random.below(10), delayMs: random.uniform() * 6 };
        const run = await importUntil(
          folder,
          filesPerImport,
          importSeed,
          isEnough ? undefined : kill,
          acknowledged,
        );
        isDone = run.isDone;
        if (!isDone) {
          figures.kills++;
          if (run.acks === 0) figures.killsDuringStart++;
        }
        if (!existsSync(join(folder, 'logbook.sqlite'))) continue; // killed before it made anything
        const after = integrityOf(folder);
        figures.faults.push(...after.faults);
        if (after.filesWithoutRow > before.filesWithoutRow) figures.filesWithoutRow++;
        if (after.leftovers > before.leftovers) figures.leftovers++;
        before = after;
        const lost = await lostOf(folder, importSeed, acknowledged);
        figures.lost += lost.length;
        report?.(
          `kill ${figures.kills}: ${acknowledged.size} acknowledged, ${lost.length} lost, ${after.records} records, ` +
            `${after.filesWithoutRow} files without row, ${after.leftovers} half-written, ${after.faults.length} faults`,
        );
      }
      figures.imports++;
      figures.acknowledged += acknowledged.size;
      await sweepAndLook(folder, figures);
    } finally {
      await rm(folder, { recursive: true, force: true });
    }
  }
  return figures;
}

/** A sweep takes all leftovers of the killed, and nothing else. */
async function sweepAndLook(folder: string, figures: KillFigures): Promise<void> {
  const store = await openStore({ folder });
  await store.sweepFiles();
  await store.close();
  const { faults, filesWithoutRow, leftovers, claims } = integrityOf(folder);
  figures.faults.push(...faults);
  const left = filesWithoutRow + leftovers + claims;
  if (left > 0) figures.faults.push(`After the sweep ${left} leftovers are still there.`);
}
