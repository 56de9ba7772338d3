// What benchmarks share: two programs timed in turn, and the SciPy program asked over a pipe.
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

const WARM_UPS = 3;
const ROUNDS = 15;

export interface Time {
  readonly wallMs: number;
  /** of all threads of the process: a compiler or collector at work counts */
  readonly cpuMs: number;
}

/** A piece of work timed over some repeats; milliseconds of one. */
export function timeOf(work: () => void, repeats = 1): Time {
  const cpu = process.cpuUsage();
  const wall = performance.now();
  for (let i = 0; i < repeats; i++) work();
  const wallMs = (performance.now() - wall) / repeats;
  const { user, system } = process.cpuUsage(cpu);
  return { wallMs, cpuMs: (user + system) / 1000 / repeats };
}

const median = (values: readonly number[]): number =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;

export interface Summary {
  readonly name: string;
  readonly minimumMs: number;
  readonly medianMs: number;
  readonly medianCpuMs: number;
}

/** Runs every piece in turn, three rounds to warm up and fifteen timed. */
export async function inTurn(
  pieces: readonly (readonly [name: string, run: () => Time | Promise<Time>])[],
): Promise<Summary[]> {
  const times = pieces.map((): Time[] => []);
  for (let round = -WARM_UPS; round < ROUNDS; round++) {
    for (const [i, [, run]] of pieces.entries()) {
      const time = await run();
      if (round >= 0) times[i]!.push(time);
    }
  }
  return pieces.map(([name], i) => {
    const walls = times[i]!.map(({ wallMs }) => wallMs);
    return {
      name,
      minimumMs: Math.min(...walls),
      medianMs: median(walls),
      medianCpuMs: median(times[i]!.map(({ cpuMs }) => cpuMs)),
    };
  });
}

export function printSummaries(summaries: readonly Summary[]): void {
  for (const { name, minimumMs, medianMs, medianCpuMs } of summaries) {
    console.log(
      `  ${name}: minimum ${minimumMs.toFixed(2)} ms, median ${medianMs.toFixed(2)} ms, processor ${medianCpuMs.toFixed(2)} ms`,
    );
  }
}

export const machine = (): string =>
  `${cpus().length} x ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}`;

/** The SciPy program at work on one problem. */
export class PythonBaseline {
  readonly #folder = mkdtempSync(join(tmpdir(), 'peritect-bench-'));
  readonly #child: ChildProcess;
  readonly #lines: AsyncIterator<string>;

  constructor(script: string, problem: object) {
    const path = join(this.#folder, 'problem.json');
    writeFileSync(path, JSON.stringify(problem));
    const oneThread = { OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1', MKL_NUM_THREADS: '1' };
    this.#child = spawn('python3', [join(import.meta.dirname, script), path], {
      stdio: ['pipe', 'pipe', 'inherit'],
      env: { ...process.env, ...oneThread },
    });
    this.#child.on('error', () => this.#cannotSay());
    this.#lines = createInterface({ input: this.#child.stdout! })[Symbol.asyncIterator]();
  }

  #cannotSay(): never {
    console.error('The comparison needs python3 with NumPy and SciPy; nothing was timed.');
    process.exit(3);
  }

  async ask<T>(command: string): Promise<T> {
    this.#child.stdin!.write(`${command}\n`);
    const { value, done } = await this.#lines.next();
    if (done) this.#cannotSay();
    return JSON.parse(value) as T;
  }

  close(): void {
    this.#child.stdin!.end();
    rmSync(this.#folder, { recursive: true });
  }
}
