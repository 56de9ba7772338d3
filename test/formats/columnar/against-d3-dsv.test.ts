import { csvParseRows, dsvFormat } from 'd3-dsv';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { readWhole } from './reading.ts';

// A comparison with a reference library (d3-dsv 3.0.2), not with a published value.
describe('columnar reader beside d3-dsv', () => {
  it.each([
    [',', 'comma'],
    [';', 'semicolon'],
    ['\t', 'tab'],
  ] as const)(
    'reads the same headings and numbers from quoted and plain fields parted by %j',
    (delimiter, name) => {
      const random = seededRandom(11);
      const plain = (): string =>
        (random.normal() * 10 ** random.below(12)).toPrecision(1 + random.below(17));
      const quoted = (text: string): string => (random.uniform() < 0.3 ? `"${text}"` : text);
      const headings = ['"Field, in Oe; say ""H"""', 'M', '"third"'];
      const rows = Array.from({ length: 400 }, () => [plain(), plain(), plain()].map(quoted).join(delimiter));
      const text = [headings.join(delimiter), ...rows].join('\n');
      const theirs = (delimiter === ',' ? { parseRows: csvParseRows } : dsvFormat(delimiter)).parseRows(text);
      const { blocks } = readWhole(text, { delimiter: name, decimalMark: '.' });
      expect(blocks[0]!.headings).toEqual(theirs[0]);
      expect(blocks[0]!.rows).toBe(theirs.length - 1);
      theirs.slice(1).forEach((row, i) => {
        expect(blocks[0]!.columns.map((column) => column[i])).toEqual(row.map(Number));
      });
    },
  );
});
