// What the readers are fuzzed with: each target takes any bytes, must not throw, must end soon, and checks itself.

import { columnarReader } from '../../src/formats/columnar/read.ts';
import type { Columnar } from '../../src/formats/columnar/schema.ts';
import { applyMapping } from '../../src/formats/curves/apply-mapping.ts';
import { guessMapping } from '../../src/formats/curves/guess-mapping.ts';
import { guessFilmColumns } from '../../src/formats/film-table/guess-columns.ts';
import { filmTableReader } from '../../src/formats/film-table/read.ts';
import { readFilms } from '../../src/formats/film-table/read-films.ts';
import { documentReader } from '../../src/formats/peritect-json/read.ts';
import type { OpenReader, ReadResult } from '../../src/formats/reader.ts';

export interface FuzzTarget {
  readonly name: string;
  readonly seedInputs: readonly Uint8Array[];
  /** takes any bytes; throws only a broken promise of the reader */
  run(bytes: Uint8Array): void;
}

const bytesOf = (text: string): Uint8Array => new TextEncoder().encode(text);

/** Reads whole and in pieces whose sizes the bytes themselves set; the two must agree. */
function readTwice<Value>(open: () => OpenReader<Value>, bytes: Uint8Array): ReadResult<Value> {
  const whole = open();
  whole.push(bytes);
  const result = whole.end();
  const cut = open();
  let at = 0;
  let turn = bytes.length;
  while (at < bytes.length) {
    turn = (turn * 31 + (bytes[at] ?? 0) + 7) % 97;
    const size = turn % 5 === 0 ? 1 : 1 + turn;
    cut.push(bytes.slice(at, at + size));
    at += size;
  }
  const same = cut.end();
  if (textOf(result) !== textOf(same))
    throw new Error(`pieces changed the result: ${textOf(same).slice(0, 300)}`);
  if (!result.ok && (result.message === '' || result.line < 0 || result.column < 0))
    throw new Error('a bare refusal');
  return result;
}

/** A result as text; NaN and -0 stay apart from null and 0. */
function textOf(value: unknown): string {
  return JSON.stringify(value, (_, held: unknown) => {
    if (held instanceof Float64Array) return Array.from(held, (x) => (Object.is(x, -0) ? '-0' : String(x)));
    return typeof held === 'number' && Number.isNaN(held) ? 'NaN' : held;
  });
}

/** A zero in a result must have been written as one: there are no more of them than fields that spell zero. */
function checkZeros({ blocks, encoding }: Columnar, bytes: Uint8Array): void {
  let zeros = 0;
  for (const { columns, rows, clocks } of blocks) {
    for (const [at, column] of columns.entries()) {
      if (clocks.some((clock) => clock.column === at)) continue; // counted from its first reading
      if (column.length !== rows) throw new Error('a column has another length than the block has rows');
      for (const value of column) {
        if (value === 0) zeros++;
        if (value === Number.POSITIVE_INFINITY || value === Number.NEGATIVE_INFINITY)
          throw new Error('infinity read');
      }
    }
  }
  if (zeros === 0) return;
  const text = new TextDecoder(encoding === 'latin-1' ? 'windows-1252' : encoding).decode(bytes);
  const spelled =
    text.match(/(?<![\d])[-+\u2212]?(?:0+[.,]?0*|[.,]0+)(?:[eEdD][-+]?\d+)?(?![\d])/g)?.length ?? 0;
  if (zeros > spelled) throw new Error(`${zeros} zeros read, ${spelled} written`);
}

export const FUZZ_TARGETS: readonly FuzzTarget[] = [
  {
    name: 'columnar',
    seedInputs: [
      'Sample: A\nT (K),R (ohm)\n1.5,0\n2.5,3\n3.5,--\n4.5,1e-3\n',
      '; T = 77 K\nI/A;U/V;n\n1,5;2,25;0\n-,5;1.234,5;1\n,5;3;2\n\n7;8;9\n1;2;3\n',
      '# a b\r\n 1 2 3\r\n 4 5 6\r\n 7 8\r\n',
      '\ufeff"H, Oe"\t"M, emu"\r0\t-1D-3\r\r\n5\t\u22122\r9\tNaN\r',
      'time,T\n12:30:01,1,2\n12:30:02,1,2\n12:30:03,1,2\n12:30:04,1,2\n12:30:05,1,2\n',
    ].map(bytesOf),
    run(bytes) {
      for (const options of [{}, { wholeRows: true }, { decimalMark: ',' as const }]) {
        const result = readTwice(() => columnarReader.open(options), bytes);
        if (!result.ok) continue;
        checkZeros(result.value, bytes);
        result.value.blocks.forEach((block, i) => {
          const { mapping } = guessMapping(block, i, result.value.comments);
          if (mapping === null) return;
          const applied = applyMapping(result.value.blocks, mapping);
          if (applied.ok && applied.value.columns.some((column) => column.length !== applied.value.rows)) {
            throw new Error('columns of a curve differ in length');
          }
        });
      }
    },
  },
  {
    name: 'clock-columns',
    seedInputs: [
      'Time,T (C)\n2026-03-01 14:05:10,1\n2026-03-01 14:05:11.5,2\n2026-03-01T14:05:12Z,3\n2026-03-01 14:05:13,4\n2026-03-01 14:05:14,5\n',
      'Date\tTime\tT\tp\n01/03/2026\t23:59:58\t1\t2\n01/03/2026\t23:59:59\t1\t2\n02/03/2026\t00:00:00\t1\t2\n02/03/2026\t00:00:01\t1\t2\n02/03/2026\t00:00:02\t1\t2\n',
      't;T\n11:59:58 PM;1,5\n11:59:59 PM;1,5\n12:00:00 AM;1,5\n12:00:01 AM;2,5\n12:00:02 AM;3,5\n',
      't T(C) p\n29.02.2024 1:00 1 2\n29.02.2024 1:01 1 2\n01.03.2024 1:02 1 2\n01.03.2024 1:03 1 2\n01.03.2024 1:04 1 2\n',
    ].map(bytesOf),
    run(bytes) {
      for (const options of [
        {},
        { dateOrder: 'day first' as const },
        { dateOrder: 'month first' as const },
      ]) {
        const result = readTwice(() => columnarReader.open(options), bytes);
        if (!result.ok) continue;
        for (const { clocks, columns, textColumns, units, rows } of result.value.blocks) {
          for (const { column, fault } of clocks) {
            if (column >= columns.length) continue;
            const values = columns[column]!;
            if (values.length !== rows) throw new Error('a clock has another length than its block');
            if (textColumns.includes(column) === (fault === null))
              throw new Error('a clock read is still text');
            if (fault !== null) {
              if (fault.message === '') throw new Error('a bare fault');
              continue;
            }
            const read = values.filter((value) => !Number.isNaN(value));
            if (units[column] !== 's') throw new Error('a clock without its unit');
            if (read.length > 0 && read[0] !== 0) throw new Error('a clock does not begin at 0');
            for (let i = 1; i < read.length; i++)
              if (!(read[i]! >= read[i - 1]!)) throw new Error('a clock goes back');
          }
        }
      }
    },
  },
  {
    name: 'film-table',
    seedInputs: [
      'Film,Piece,RE,Composition,T (degC),Thickness (nm),Jc 77 K sf (MA/cm2),Note\nA,A-1,Y,1:2:3,790,300,3.1,"x ""y"""\nB,,Gd,REBa2Cu3,,0.3,--,\n',
      'Film;Rare earth;RE amount;Ba;Cu;d (um)\nA;Y0.5Gd0.5;1;2,3;3,8;0,3\nB;Fe;1;2;3;\n',
    ].map(bytesOf),
    run(bytes) {
      const result = readTwice(() => filmTableReader.open(), bytes);
      if (!result.ok) return;
      const films = readFilms(result.value, guessFilmColumns(result.value).mapping);
      if (!films.ok) return;
      for (const film of films.films) {
        const numbers = [
          film.thicknessNm,
          film.tcMidpointK,
          film.temperatureC,
          ...Object.values(film.cations ?? {}),
        ];
        if (numbers.some((x) => x !== null && !Number.isFinite(x)))
          throw new Error('a number of a film is not finite');
      }
    },
  },
  {
    name: 'peritect-json',
    seedInputs: [
      '{"format":"peritect","version":1,"kind":"series","a":[1,2.5e-3,null,true],"b":{"__proto__":"\\u00e9\\n"}}',
      '{"format":"peritect","version":1,"kind":"x","d":[[[[[[]]]]]]}',
    ].map(bytesOf),
    run(bytes) {
      readTwice(() => documentReader.open(), bytes);
    },
  },
];
