import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvText } from '../../src/charts/csv.ts';
import { triangleScene } from '../../src/charts/ternary/triangle-scene.ts';
import { FULL_TRIANGLE } from './triangle-samples.ts';

/** Reads RFC 4180 text; written apart from the writer. */
function readCsv(text: string): string[][] {
  const rows: string[][] = [[]];
  let cell = '';
  let isQuoted = false;
  for (let i = 0; i < text.length; i++) {
    const sign = text[i]!;
    if (isQuoted) {
      if (sign === '"' && text[i + 1] === '"') {
        cell += '"';
        i++;
      } else if (sign === '"') isQuoted = false;
      else cell += sign;
    } else if (sign === '"') isQuoted = true;
    else if (sign === ',') {
      rows.at(-1)!.push(cell);
      cell = '';
    } else if (sign === '\r' && text[i + 1] === '\n') {
      rows.at(-1)!.push(cell);
      cell = '';
      rows.push([]);
      i++;
    } else cell += sign;
  }
  return rows.slice(0, -1);
}

const column = (values: (string | number | null)[]) => ({
  columns: [
    { name: 'a', unit: 'K', values },
    { name: 'b', unit: '', values },
  ],
});

describe('csvText', () => {
  it('writes the unit in the header, and missing cells empty', () => {
    expect(csvText(column([1.5, Number.NaN, null]))).toBe('a (K),b\r\n1.5,1.5\r\n,\r\n,\r\n');
  });

  it('gives every number back exactly', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ noNaN: true, noDefaultInfinity: true })), (numbers) => {
        const read = readCsv(csvText(column(numbers)))
          .slice(1)
          .map((row) => Number(row[0]));
        expect(read).toEqual(numbers.map((value) => value + 0 || 0));
      }),
    );
  });

  it('gives every text back, whatever commas, quotes and line ends it holds', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'binary' })), (texts) => {
        const read = readCsv(csvText(column(texts)))
          .slice(1)
          .map((row) => row[1]!);
        expect(read).toEqual(texts.map((text) => (/^[=+\-@\t\r]/.test(text) ? `'${text}` : text)));
      }),
    );
  });

  it.each(['=1+1', '+1', '-1', '@SUM(A1)', '=cmd|"/c calc"!A0'])(
    'does not let the text %s run as a formula',
    (text) => {
      expect(readCsv(csvText(column([text])))[1]![0]).toBe(`'${text}`);
    },
  );

  it('leaves a negative number a number', () => {
    expect(csvText(column([-2.5e-7]))).toContain('\r\n-2.5e-7,');
  });

  it('holds every film, proposal, phase and odds of a triangle, in at%', () => {
    const rows = readCsv(csvText(triangleScene(FULL_TRIANGLE).table));
    expect(rows[0]).toEqual(['kind', 'label', 'Y (at%)', 'Ba (at%)', 'Cu (at%)', 'verdict', 'odds']);
    expect(rows.filter((row) => row[0] === 'film').length).toBe(40);
    expect(rows.filter((row) => row[0] === 'odds').length).toBe((41 * 42) / 2);
    for (const row of rows.slice(1))
      expect(Number(row[2]) + Number(row[3]) + Number(row[4])).toBeCloseTo(100, 9);
  });
});
