// Our columnar reader beside d3-dsv on 50,000 rows: easy and worst shapes, answers compared before times.

import { cpus } from 'node:os';
import { dsvFormat } from 'd3-dsv';
import { columnarReader } from '../src/formats/columnar/read.ts';
import { seededRandom } from '../src/science/numerics/seeded-random.ts';

const ROWS = 50_000;
const WARM_UPS = 3;
const ROUNDS = 15;

interface Shape {
  name: string;
  delimiter: ',' | '\t';
  cell: (random: ReturnType<typeof seededRandom>) => string;
}
const SHAPES: readonly Shape[] = [
  {
    name: 'easy: five columns of six digits',
    delimiter: '\t',
    cell: (random) => (100 * random.uniform()).toFixed(4),
  },
  {
    name: 'worst: five columns of 17 digits with exponents, quoted',
    delimiter: ',',
    cell: (random) => `"${(random.normal() * 1e-6).toExponential(16)}"`,
  },
];

/** Columns by d3-dsv as its manual advises: rows of text, then `+text` a cell; bytes to text is part of the work. */
function byReference(bytes: Uint8Array, delimiter: string): Float64Array[] {
  const rows = dsvFormat(delimiter).parseRows(new TextDecoder().decode(bytes));
  const head = (rows as string[][])[0]!;
  const columns = head.map(() => new Float64Array(rows.length - 1));
  for (let i = 1; i < rows.length; i++)
    for (let j = 0; j < head.length; j++) columns[j]![i - 1] = +rows[i]![j]!;
  return columns;
}

function byOurs(bytes: Uint8Array): readonly Float64Array[] {
  const reader = columnarReader.open();
  for (let at = 0; at < bytes.length; at += 65_536) reader.push(bytes.subarray(at, at + 65_536));
  const result = reader.end();
  if (!result.ok) throw new Error(result.message);
  return result.value.blocks[0]!.columns;
}

function timed<T>(work: () => T): { ms: number; value: T } {
  const started = performance.now();
  const value = work();
  return { ms: performance.now() - started, value };
}

const median = (values: number[]): number => values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;

let consumed = 0;
for (const { name, delimiter, cell } of SHAPES) {
  const random = seededRandom(1);
  const lines = Array.from({ length: ROWS }, () =>
    Array.from({ length: 5 }, () => cell(random)).join(delimiter),
  );
  const bytes = new TextEncoder().encode(
    `${['a', 'b', 'c', 'd', 'e'].join(delimiter)}\n${lines.join('\n')}\n`,
  );
  const ours = byOurs(bytes);
  const theirs = byReference(bytes, delimiter);
  const isSame = theirs.every((column, j) => column.every((value, i) => value === ours[j]![i]));
  if (!isSame || ours[0]!.length !== ROWS) throw new Error(`the answers differ: ${name}`);
  const times: Record<'ours' | 'theirs', number[]> = { ours: [], theirs: [] };
  for (let round = -WARM_UPS; round < ROUNDS; round++) {
    const a = timed(() => byOurs(bytes));
    const b = timed(() => byReference(bytes, delimiter));
    consumed += a.value[0]![round + WARM_UPS]! + b.value[0]![round + WARM_UPS]!;
    if (round < 0) continue;
    times.ours.push(a.ms);
    times.theirs.push(b.ms);
  }
  const ratio = median(times.theirs) / median(times.ours);
  console.log(
    `${name} (${(bytes.length / 1e6).toFixed(1)} MB): ours min ${Math.min(...times.ours).toFixed(1)} median ` +
      `${median(times.ours).toFixed(1)} ms; d3-dsv min ${Math.min(...times.theirs).toFixed(1)} median ` +
      `${median(times.theirs).toFixed(1)} ms; d3-dsv / ours = ${ratio.toFixed(2)}`,
  );
}
console.log(
  `${cpus().length} x ${cpus()[0]?.model ?? 'unknown processor'}, Node ${process.version}, sum ${consumed.toExponential(3)}`,
);
