import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  durationText,
  FieldReader,
  readDurationS,
  readNumber,
  readStated,
  readTemperatureC,
  statedText,
  whenText,
} from '../../src/web/drafts/typed-numbers.ts';

describe('readNumber', () => {
  it('takes an empty field as not stated, not as zero', () => {
    expect(readNumber('  ')).toEqual({ value: null });
  });

  it.each(['abc', '1e', '0x10', '--3', 'Infinity'])('refuses %s and shows it', (text) => {
    expect(readNumber(text, { unit: 'mm' })).toEqual({ fault: `Found '${text}'; expected a number mm.` });
  });

  it.each([
    ['0,5', 0.5],
    ['-12,75', -12.75],
    ['0,125', 0.125],
    ['1,5e-3', 1.5e-3],
    [',5', 0.5],
  ])('reads the decimal comma of %s, which can mean nothing else', (text, value) => {
    expect(readNumber(text)).toEqual({ value });
  });

  it('asks where a comma may part thousands, instead of guessing', () => {
    expect(readNumber('1,234')).toEqual({ fault: expect.stringContaining('written as 1.234 or 1234') });
    expect(readNumber('1,234,567')).toHaveProperty('fault');
  });

  it('says why a range is as it is', () => {
    expect(readNumber('0', { min: 1e-4, unit: 'mTorr', because: 'its logarithm is taken' })).toEqual({
      fault: "Found '0'; expected a number from 0.0001 mTorr (its logarithm is taken).",
    });
  });

  it('names the range that a number lies outside of', () => {
    expect(readNumber('-1', { above: 0, max: 5, unit: 'Hz' })).toEqual({
      fault: "Found '-1'; expected a number above 0 and up to 5 Hz.",
    });
    expect(readNumber('1.5', { min: 0, isWhole: true })).toEqual({
      fault: "Found '1.5'; expected a whole number from 0.",
    });
  });
});

describe('readTemperatureC', () => {
  it('takes what a furnace can do, and asks whether a higher number was meant in K', () => {
    expect(readTemperatureC('860,5')).toEqual({ value: 860.5 });
    expect(readTemperatureC('1700')).toEqual({
      fault: expect.stringContaining('above any furnace here. Was it meant in K, which is 1427 °C?'),
    });
    expect(readTemperatureC('3000')).toEqual({
      fault: expect.stringContaining('3000 °C is above any furnace'),
    });
    expect(readTemperatureC('-300')).toHaveProperty('fault');
  });
});

describe('readStated', () => {
  it.each([
    ['60', 60, null],
    ['60 ± 2', 60, 2],
    ['60+-2', 60, 2],
    ['60 +/- 2', 60, 2],
    ['-20 ± 8', -20, 8],
    ['1.050(12)', 1.05, 0.012],
    ['620(30)', 620, 30],
    ['0,5 ± 0,1', 0.5, 0.1],
    ['1,05(12)', 1.05, 0.12],
  ])('reads %s as value and standard uncertainty', (text, value, standardUncertainty) => {
    expect(readStated(text)).toEqual({ value: { value, standardUncertainty } });
  });

  it('refuses an uncertainty below zero, and an uncertainty of nothing', () => {
    expect(readStated('60 ± -2')).toHaveProperty('fault');
    expect(readStated('± 2')).toHaveProperty('fault');
    expect(readStated('60 ±')).toHaveProperty('fault');
  });

  it('reads back what it writes', () => {
    const number = fc.integer({ min: -1e6, max: 1e6 }).map((n) => n / 1000);
    fc.assert(
      fc.property(number, fc.option(number.map(Math.abs)), (value, standardUncertainty) => {
        const stated = { value: value + 0, standardUncertainty: standardUncertainty ?? null };
        expect(readStated(statedText(stated))).toEqual({ value: stated });
      }),
    );
  });
});

describe('readDurationS', () => {
  it.each([
    ['30 s', 30],
    ['5min', 300],
    ['1.5 h', 5400],
    ['2 d', 172_800],
    ['1,5 h', 5400],
  ])('reads %s as %d s', (text, seconds) => {
    expect(readDurationS(text, 1e7)).toEqual({ value: seconds });
  });

  it('refuses a bare number, whose unit is not known', () => {
    expect(readDurationS('30', 1e7)).toHaveProperty('fault');
  });

  it('reads back exactly what it writes', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e6 }), (seconds) => {
        const back = readDurationS(durationText(seconds), 1e7) as { value: number };
        expect(back.value).toBe(seconds);
      }),
    );
  });
});

describe('FieldReader', () => {
  it('keeps a fault under the name of its field', () => {
    const read = new FieldReader();
    expect(read.name('label', ' ', 'a name')).toBe('');
    expect(read.number('pulses', 'many')).toBeNull();
    expect(Object.keys(read.faults)).toEqual(['label', 'pulses']);
  });

  it('shows a stored time in the local zone and reads the same minute back', () => {
    const read = new FieldReader();
    expect(read.when('startedAt', whenText('2026-03-01T10:30:00.000Z'))).toBe('2026-03-01T10:30:00.000Z');
  });
});
