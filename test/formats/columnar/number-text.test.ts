import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type DecimalMark,
  DOUBT,
  MISSING,
  NUMBER,
  NumberText,
  TEXT,
} from '../../../src/formats/text/number-text.ts';
import { bytesOf } from './reading.ts';

function read(text: string, mark: DecimalMark = '.', allowsGroups = false) {
  const number = new NumberText();
  const bytes = bytesOf(text);
  const kind = number.read(bytes, 0, bytes.length, mark, allowsGroups);
  return { kind, value: number.value, couldBeGrouped: number.couldBeGrouped };
}

describe('NumberText', () => {
  it('reads every double as the language itself does', () => {
    const double = fc.double({ noNaN: true, min: -1e308, max: 1e308 }); // rounding up may not overflow
    const written = fc
      .tuple(double, fc.integer({ min: 1, max: 21 }))
      .map(([x, n]) => [
        String(x),
        x.toExponential(),
        x.toPrecision(n),
        x.toExponential(n - 1).toUpperCase(),
      ]);
    fc.assert(
      fc.property(written, (texts) => {
        for (const text of texts) expect(read(text)).toMatchObject({ kind: NUMBER, value: Number(text) });
      }),
      { numRuns: 2000, seed: 3 },
    );
  });

  it.each(['1.5E+03', ' -.5', '1.', '+7', '1d3', '0001', '1e-320'])('takes %j as a number', (text) => {
    expect(read(text)).toMatchObject({ kind: NUMBER, value: Number(text.replace('d', 'e')) });
  });

  it.each(['', '  ', '-', '--', '---', 'NaN', 'nan', 'N/A', 'null'])('takes %j as missing', (text) => {
    expect(read(text).kind).toBe(MISSING);
  });

  it.each([
    '.',
    '+',
    'e5',
    '1e',
    '1e+',
    '1.2.3',
    '12O',
    '0x10',
    '1_000',
    'Infinity',
    '1e999',
    '1e-999',
    '5 T',
    '1 234',
  ])('takes %j as no number at all, never as zero', (text) =>
    expect(read(text)).toMatchObject({ kind: TEXT, value: Number.NaN }),
  );

  it('takes a decimal comma only where it is the mark', () => {
    expect(read('1,5e-3', ',')).toMatchObject({ kind: NUMBER, value: 1.5e-3 });
    expect(read('1,5').kind).toBe(TEXT);
    expect(read('1.5', ',').kind).toBe(TEXT);
    expect(read('1,', ',').kind).toBe(TEXT);
  });

  it('doubts parted thousands unless a person has named the mark', () => {
    expect(read('1.234,5', ',').kind).toBe(DOUBT);
    expect(read('1.234,5', ',', true)).toMatchObject({ kind: NUMBER, value: 1234.5 });
    expect(read('-12,345,678.25', '.', true)).toMatchObject({ kind: NUMBER, value: -12345678.25 });
    expect(read('1.23,5', ',', true).kind).toBe(TEXT);
    expect(read('1,234', ',').couldBeGrouped).toBe(true);
    expect(read('0,234', ',').couldBeGrouped).toBe(false);
    expect(read('1,2345', ',').couldBeGrouped).toBe(false);
  });
});
