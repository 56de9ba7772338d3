import { readdirSync, readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnarReader } from '../../../src/formats/columnar/read.ts';
import { bytesOf, numbersOf, readColumnar, readWhole, refusal } from './reading.ts';

const DATA = new URL('../../data/columnar/', import.meta.url);
const file = (name: string): Uint8Array => readFileSync(new URL(name, DATA));
const TABLE = 'T (K),R (ohm)\n1.5,2\n2.5,3\n3.5,4\n';

describe('columnar reader: what it reads', () => {
  it('finds headings and units under lines of any other kind', () => {
    const { blocks, comments, delimiter } = readWhole(file('scan-comma.csv'));
    expect(blocks).toHaveLength(1);
    expect(blocks[0]).toMatchObject({
      headings: ['Angle', 'Intensity'],
      units: ['deg', 'counts'],
      rows: 8,
      firstLine: 6,
    });
    expect([...blocks[0]!.columns[1]!]).toEqual([112, 108, 121, 117, 399, 1204, 407, 119]);
    expect(comments).toEqual({ Sample: 'F012-b', Anode: 'Cu', 'Step time / s': '1.0' });
    expect(delimiter).toBe('comma');
  });

  it('reads a decimal comma with its semicolons, and Latin-1 letters, from a file of CRLF lines', () => {
    const read = readWhole(file('scan-german.txt'));
    expect(read).toMatchObject({ decimalMark: ',', delimiter: 'semicolon', encoding: 'latin-1' });
    expect(read.blocks[0]!.headings).toEqual(['Winkel', 'Z\u00e4hlrate']);
    expect(numbersOf(read)[0]![0]).toEqual([20, 20.02, 20.04, 20.06]);
  });

  it('takes units from a line of their own and leaves an empty field missing', () => {
    const { blocks } = readWhole(file('resistance-units-line.txt'));
    expect(blocks[0]).toMatchObject({ headings: ['T', 'R', 'n'], units: ['K', 'mOhm', ''] });
    expect(blocks[0]!.columns[1]![4]).toBeNaN();
    expect(blocks[0]!.columns[1]![5]).toBe(0.03);
  });

  it('keeps two scans of one file as two blocks, each with the lines above it', () => {
    const { blocks } = readWhole(file('current-voltage-blocks.txt'));
    expect(blocks.map(({ rows }) => rows)).toEqual([5, 4]);
    expect(blocks[1]!.headerLines).toContain('B = 1 T');
    expect(blocks[0]!.shape).toBe(blocks[1]!.shape);
  });

  it('reads quoted fields, a delimiter inside a quoted heading, and an empty text column', () => {
    const { blocks } = readWhole(file('loop-quoted.csv'));
    expect(blocks[0]!.headings).toEqual(['Field', 'Moment', 'Comment']);
    expect(blocks[0]!.units).toEqual(['Oe', 'emu', '']);
  });

  it('parts headings by width where a unit in brackets stands apart from its name', () => {
    const { blocks } = readWhole(file('loop-fixed-width.txt'));
    expect(blocks[0]!.headings).toEqual(['H', 'M', 't']);
    expect(blocks[0]!.units).toEqual(['kOe', 'memu', 's']);
  });

  it('reads a column of clock times as seconds since its first reading and says so', () => {
    const { blocks, warnings } = readWhole(file('clock-column.csv'));
    expect(blocks[0]!.textColumns).toEqual([]);
    expect([...blocks[0]!.columns[0]!].slice(0, 3)).toEqual([0, 2, 4]);
    expect(blocks[0]!.units[0]).toBe('s');
    expect(warnings[0]).toMatchObject({ code: 'READ_CLOCK_COLUMN' });
    expect(warnings[0]!.message).toContain('12:30:01');
  });

  it('reads lines ended by a carriage return alone, printed minus signs and numbers without a leading digit', () => {
    expect(readWhole(file('old-line-ends.txt')).blocks[0]!.rows).toBe(3);
    const { blocks } = readWhole(file('odd-marks.txt'));
    expect([...blocks[0]!.columns[0]!]).toEqual([0, -0.5, -1, -1.5]);
    expect([...blocks[0]!.columns[1]!]).toEqual([1e-6, -2.5e-6, 5e-7, 5e-7]);
  });

  it('takes NaN, dashes, n/a and nothing as missing, and 0 as zero', () => {
    const [t, r, n] = numbersOf(readWhole(file('missing-values.csv')))[0]!;
    expect(t).toEqual([10, 11, 12, 13, 14]);
    expect(r).toEqual([Number.NaN, Number.NaN, Number.NaN, 0.5, 0]);
    expect(n).toEqual([1, 2, 3, Number.NaN, 5]);
  });

  it.each(['utf-16le', 'utf-16be'] as const)('reads %s with and without a byte order mark', (encoding) => {
    for (const mark of ['', '\ufeff']) {
      const units = Array.from(mark + TABLE, (letter) => letter.charCodeAt(0));
      const bytes = new Uint8Array(
        units.flatMap((unit) =>
          encoding === 'utf-16le' ? [unit & 255, unit >> 8] : [unit >> 8, unit & 255],
        ),
      );
      const read = readWhole(bytes);
      expect(read.encoding).toBe(encoding);
      expect(numbersOf(read)).toEqual([
        [
          [1.5, 2.5, 3.5],
          [2, 3, 4],
        ],
      ]);
    }
  });

  it('takes over the headings of the block before where a blank line alone parts two', () => {
    const { blocks } = readWhole('x y\n1 2\n3 4\n\n5 6\n7 8\n');
    expect(blocks[1]).toMatchObject({ headings: ['x', 'y'], hasInheritedHeadings: true, firstLine: 5 });
  });

  it('begins a new block where the number of columns changes for good', () => {
    const { blocks } = readWhole('1 2 3\n4 5 6\n7 8\n9 10\n11 12\n');
    expect(blocks.map(({ rows, columns }) => [rows, columns.length])).toEqual([
      [2, 3],
      [3, 2],
    ]);
  });

  it('reads a row whose first field is empty as a row, not as a comment', () => {
    const { blocks } = readWhole('a;b;c\n1,5;2;3\n;2,5e-3;4\n2,5;2;3\n');
    expect(blocks).toHaveLength(1);
    expect(blocks[0]!.columns[0]![1]).toBeNaN();
    expect(blocks[0]!.columns[1]![1]).toBe(2.5e-3);
  });

  it('settles the decimal mark at the first number that shows it', () => {
    const whole = Array.from({ length: 100 }, (_, i) => `${i};${i}`).join('\n');
    expect(readWhole(`${whole}\n0,5;1\n`)).toMatchObject({ decimalMark: ',' });
    expect(readWhole(`${whole}\n0.5;1\n`)).toMatchObject({ decimalMark: '.' });
    expect(refusal(`${whole}\n1,500;1\n`).code).toBe('READ_NUMBER_DOUBT');
    expect(refusal(`${whole}\n0,5;1\n0.5;1\n`).code).toBe('READ_NUMBER');
  });

  it('keeps a key named __proto__ as a plain pair', () => {
    const { comments } = readWhole(`__proto__: x\n${TABLE}`);
    expect(Object.keys(comments)).toEqual(['__proto__']);
  });
});

describe('columnar reader: what it refuses', () => {
  it.each([
    ['cut-short.csv', 'READ_COLUMN_COUNT', 4],
    ['thousands.csv', 'READ_NUMBER_DOUBT', 2],
    ['letter-for-zero.csv', 'READ_NUMBER', 4],
    ['prose.txt', 'READ_NO_NUMBERS', 2],
    ['blank.txt', 'READ_EMPTY', 1],
    ['mixed-marks.txt', 'READ_NUMBER', 3],
  ])('refuses %s with %s at line %d', (name, code, line) => {
    expect(refusal(file(`refused/${name}`))).toMatchObject({ code, line });
  });

  it('names line, column, what it found and what it expected', () => {
    const { message, column } = refusal('T,R\n1.5,2\n2.5,two\n3.5,4\n');
    expect(message).toContain(
      'Line 3, column 5 (field 2): "two" found, a number with a decimal point expected.',
    );
    expect(column).toBe(5);
  });

  it('says that the file may be cut short, and reads the whole rows when asked', () => {
    const cut = 'a,b,c\n1,2,3\n4,5,6\n7,8';
    expect(refusal(cut).message).toContain(
      'Line 4 has 2 columns, lines 2 to 3 have 3. The file may be cut short.',
    );
    const { blocks, warnings } = readWhole(cut, { wholeRows: true });
    expect(blocks[0]!.rows).toBe(2);
    expect(warnings).toContainEqual(expect.objectContaining({ code: 'READ_ROWS_LEFT_OUT' }));
  });

  it('refuses a short row in the middle, though the rows go on after it', () => {
    expect(refusal('1 2 3\n4 5 6\n7 8\n9 10 11\n')).toMatchObject({ code: 'READ_COLUMN_COUNT', line: 3 });
    expect(readWhole('1 2 3\n4 5 6\n7 8\n9 10 11\n', { wholeRows: true }).blocks[0]!.rows).toBe(3);
  });

  it('refuses a damaged first row instead of taking it for text', () => {
    expect(refusal('T,R\n1.5,2x\n2.5,3\n3.5,4\n')).toMatchObject({ code: 'READ_NUMBER', line: 2, column: 5 });
  });

  it('does not guess whether a comma parts decimals, thousands or columns', () => {
    expect(refusal('a;b\n1,234;2\n2,234;3\n').code).toBe('READ_DECIMAL_DOUBT');
    expect(readWhole('a;b\n1,234;2\n2,234;3\n', { decimalMark: ',' }).blocks[0]!.columns[0]![0]).toBe(1.234);
    expect(readWhole('a;b\n1,234;2\n2,234;3\n', { decimalMark: '.' }).blocks[0]!.columns[0]![0]).toBe(1234);
    expect(refusal('1,5\n2,5\n3,5\n4,5\n').code).toBe('READ_DECIMAL_DOUBT');
    expect(refusal('T,R\n1,5,2,5\n2,5,3,5\n').code).toBe('READ_DECIMAL_DOUBT');
    expect(readWhole('a;b\n0,234;2\n2,234;3\n').blocks[0]!.columns[0]![1]).toBe(2.234);
  });

  it('never switches delimiter or decimal mark after it has found them', () => {
    const rows = Array.from({ length: 5 }, (_, i) => `${i}.5,${i}`).join('\n');
    expect(refusal(`10 90\n0.02 1\nA,B\n${rows}\n`).code).toBe('READ_DELIMITER_CHANGED');
  });

  it.each([
    [[0x50, 0x4b, 3, 4], 'a zip archive'],
    [[0x25, 0x50, 0x44, 0x46], 'a PDF document'],
    [[0x89, 0x50, 0x4e, 0x47], 'a PNG image'],
    [[0x89, 0x48, 0x44, 0x46], 'an HDF5 file'],
    [[1, 2, 3, 4, 5, 6, 7, 8], 'control characters'],
    [[49, 44, 50, 0, 10], 'Byte 4 is zero'],
  ])('refuses bytes %j as %s', (bytes, words) => {
    const refused = refusal(new Uint8Array(bytes));
    expect(refused.code).toBe('READ_BINARY');
    expect(refused.message).toContain(words);
  });

  it('refuses a zero byte far into the text', () => {
    expect(refusal(`${'1.5,2\n'.repeat(3000)}1,\u0000\n`)).toMatchObject({ code: 'READ_BINARY', line: 3001 });
  });

  it('refuses an empty file, a huge one, a line without end and too many columns or blocks', () => {
    expect(refusal('').code).toBe('READ_EMPTY');
    const huge = new Uint8Array(20_000_001).fill(49);
    for (let i = 3; i < huge.length; i += 4) huge[i] = 10;
    expect(refusal(huge).code).toBe('READ_TOO_LARGE');
    expect(refusal(`x${'1'.repeat(1_000_001)}`).code).toBe('READ_LINE_TOO_LONG');
    const wide = `${Array(501).fill('1.5').join(',')}\n`;
    expect(refusal(wide + wide).code).toBe('READ_TOO_MANY_COLUMNS');
    expect(refusal('1 2\n3 4\n\n'.repeat(1001)).code).toBe('READ_TOO_MANY_BLOCKS');
  });

  it('stops taking bytes after a fault', () => {
    const reader = columnarReader.open();
    reader.push(new Uint8Array(5000));
    expect(reader.failure?.code).toBe('READ_BINARY');
    reader.push(bytesOf(TABLE));
    expect(reader.end()).toMatchObject({ ok: false, code: 'READ_BINARY' });
  });
});

describe('columnar reader: what never changes', () => {
  const names = readdirSync(DATA, { recursive: true, encoding: 'utf8' }).filter((name) =>
    /\.\w+$/.test(name),
  );

  it.each(names)('reads %s alike however its bytes are cut', (name) => {
    const whole = readColumnar(file(name));
    for (const piece of [1, 2, 3, 7, 64]) expect(readColumnar(file(name), {}, piece)).toEqual(whole);
  });

  it('gives back every number that it is given, in any delimiter and decimal mark', () => {
    const value = fc.double({ noNaN: true, noDefaultInfinity: true }).map((x) => x + 0); // '-0' prints as '0'
    const rows = fc.integer({ min: 2, max: 5 }).chain((columns) =>
      fc.array(fc.array(value, { minLength: columns, maxLength: columns }), {
        minLength: 2,
        maxLength: 90,
      }),
    );
    const style = fc.constantFrom(
      ['\t', '.', 'tab'] as const,
      [';', '.', 'semicolon'] as const,
      [',', '.', 'comma'] as const,
      ['  ', '.', 'blanks'] as const,
      ['\t', ',', 'tab'] as const,
      [';', ',', 'semicolon'] as const,
      [' ', ',', 'blanks'] as const,
    );
    fc.assert(
      fc.property(rows, style, ([...table], [delimiter, decimalMark, name]) => {
        const text = table
          .map((row) => row.map((x) => String(x).replace('.', decimalMark)).join(delimiter))
          .join('\r\n');
        const { blocks } = readWhole(text, { decimalMark, delimiter: name });
        expect(blocks).toHaveLength(1);
        const back = table.map((_, i) => blocks[0]!.columns.map((column) => column[i]));
        expect(back).toEqual(table);
      }),
      { numRuns: 150, seed: 7 },
    );
  });

  it('gives one shape to files of one kind, another to other headings or units', () => {
    const shape = (text: string): string => readWhole(text).blocks[0]!.shape;
    expect(shape('T (K),R (ohm)\n1,2\n3,4\n')).toBe(shape('t  (K),r (Ohm)\n5,6\n7,8\n9,9\n'));
    expect(shape('T (K),R (ohm)\n1,2\n3,4\n')).not.toBe(shape('T (K),R (mohm)\n1,2\n3,4\n'));
    expect(shape('1.5 2\n3 4\n')).toBe('2-unnamed');
  });

  it('reads 20 MB in bounded time, and the sum of a column is that of the rows written', () => {
    const row = '77.125\t-1.5E-06\t3\n';
    const count = Math.floor(20_000_000 / row.length);
    const bytes = bytesOf(row.repeat(count));
    const started = performance.now();
    const { blocks } = readWhole(bytes);
    expect(performance.now() - started).toBeLessThan(10_000);
    expect(blocks[0]!.rows).toBe(count);
    expect(blocks[0]!.columns[2]!.reduce((sum, value) => sum + value, 0)).toBe(3 * count);
  });
});
