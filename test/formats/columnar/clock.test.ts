import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ClockText, dayNumber } from '../../../src/formats/text/clock-text.ts';
import { bytesOf, readColumnar, readWhole } from './reading.ts';

const file = (name: string) => readFileSync(new URL(`../../data/columnar/${name}`, import.meta.url));
const table = (stamps: readonly string[]): string =>
  `Time;T (C)\n${stamps.map((stamp, i) => `${stamp};${700 + i},5`).join('\n')}\n`;
const secondsOf = (stamps: readonly string[], options = {}): number[] => [
  ...readWhole(table(stamps), options).blocks[0]!.columns[0]!,
];
const faultOf = (stamps: readonly string[], options = {}) =>
  readWhole(table(stamps), options).blocks[0]!.clocks[0]?.fault;
const clock = new ClockText();
const formOf = (text: string) => clock.read(bytesOf(text), 0, bytesOf(text).length);

describe('days of the calendar', () => {
  it('count as the Date of the language does, leap years and all', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1600, max: 2999 }), fc.integer({ min: 0, max: 365 }), (year, at) => {
        const day = new Date(Date.UTC(year, 0, 1 + at));
        const found = dayNumber(day.getUTCFullYear(), day.getUTCMonth() + 1, day.getUTCDate());
        expect(found).toBe(day.getTime() / 86_400_000);
      }),
    );
  });
  it.each([
    [2026, 2, 29],
    [1900, 2, 29],
    [2026, 13, 1],
    [2026, 4, 31],
  ])('have no %i-%i-%i', (year, month, day) => expect(dayNumber(year, month, day)).toBeNaN());
});

describe('a clock stamp', () => {
  it.each([
    ['2026-03-01 14:05:10', 'date and time'],
    ['2026-03-01T14:05:10.250Z', 'date and time'],
    ['01/03/2026 14:05', 'date and time'],
    ['1-Mar-2026 2:05:10 pm', 'date and time'],
    ['14:05:10', 'time'],
    ['2:05 PM', 'time'],
    ['01.03.2026', 'date'],
    ['12:30', 'none'], // hours and minutes, or minutes and seconds
    ['24:61:00', 'none'],
    ['31/02/2026', 'none'],
    ['1.234.567', 'none'],
    ['2026-03-01 25:00:00', 'none'],
    ['Pt 10%', 'none'],
  ])('%s is %s', (text, form) => expect(formOf(text)).toBe(form));
});

describe('a clock column', () => {
  it('gives back the seconds that its stamps were written from, in any order of the date that is stated', () => {
    const parted = fc.record({
      start: fc.integer({ min: 0, max: 4e9 }),
      steps: fc.array(fc.integer({ min: 0, max: 2e8 }), { minLength: 6, maxLength: 30 }),
      dayFirst: fc.boolean(),
    });
    fc.assert(
      fc.property(parted, ({ start, steps, dayFirst }) => {
        const thousandths = [0];
        for (const step of steps) thousandths.push(thousandths.at(-1)! + step);
        const two = (value: number): string => String(value).padStart(2, '0');
        const stamps = thousandths.map((elapsed) => {
          const at = new Date(start * 1000 + elapsed);
          const [d, m] = [two(at.getUTCDate()), two(at.getUTCMonth() + 1)];
          const date = dayFirst ? `${d}/${m}` : `${m}/${d}`;
          return `${date}/${at.getUTCFullYear()} ${at.toISOString().slice(11, 23)}`;
        });
        const found = secondsOf(stamps, { dateOrder: dayFirst ? 'day first' : 'month first' });
        expect(found).toEqual(thousandths.map((value) => value / 1000));
      }),
    );
  });

  it('asks for the order of day and month where the seconds depend on it, and only there', () => {
    const days = ['01/03/2026', '01/03/2026', '01/03/2026', '02/03/2026', '02/03/2026'];
    const stamps = days.map((day, i) => `${day} 12:00:0${i}`);
    expect(faultOf(stamps)).toMatchObject({ code: 'READ_DATE_DOUBT', line: 2 });
    expect(secondsOf(stamps, { dateOrder: 'day first' })).toEqual([0, 1, 2, 86403, 86404]);
    expect(secondsOf(stamps, { dateOrder: 'month first' })).toEqual([
      0,
      1,
      2,
      31 * 86400 + 3,
      31 * 86400 + 4,
    ]);
    expect(secondsOf(stamps.map((stamp) => `01/03/2026${stamp.slice(10)}`))).toEqual([0, 1, 2, 3, 4]);
    const known = ['12/03/2026', '12/03/2026', '12/03/2026', '13/03/2026', '13/03/2026'];
    expect(secondsOf(known.map((day, i) => `${day} 12:00:0${i}`))).toEqual([0, 1, 2, 86403, 86404]);
  });

  it('passes midnight once a row and says where; a clock that goes back is refused with its line and both stamps', () => {
    const { blocks, warnings } = readWhole(
      table(['22:00:00', '23:59:59', '00:00:01', '12:00:00', '23:00:00', '01:00:00']),
    );
    expect([...blocks[0]!.columns[0]!]).toEqual([0, 7199, 7201, 50400, 90000, 97200]);
    expect(warnings[0]!.message).toContain('passes midnight before lines 4, 7');
    const fault = faultOf(['02:58:00', '02:59:00', '02:00:00', '02:01:00', '02:02:00']);
    expect(fault).toMatchObject({ code: 'READ_CLOCK_BACK', line: 4 });
    expect(fault!.message).toContain('"02:59:00" to "02:00:00"');
  });

  it('takes off a stated zone, so that the end of summer time is no step back', () => {
    const stamps = ['02:58:00+02:00', '02:59:00+02:00', '02:00:00+01:00', '02:01:00+01:00', '02:02:00+01:00'];
    expect(secondsOf(stamps.map((stamp) => `2026-10-25T${stamp}`))).toEqual([0, 60, 120, 180, 240]);
  });

  it('leaves an empty stamp missing and names the line of one that is none', () => {
    const good = Array.from(
      { length: 70 },
      (_, i) => `2026-03-01 10:${String(i % 60).padStart(2, '0')}:00`,
    ).slice(0, 60);
    expect(secondsOf([...good.slice(0, 5), '', ...good.slice(6)])[5]).toBeNaN();
    const damaged = [
      ...Array.from({ length: 66 }, () => '2026-03-01 10:00:00'),
      'power cut',
      '2026-03-01 10:00:01',
    ];
    expect(faultOf(damaged)).toMatchObject({ code: 'READ_CLOCK', line: 68 });
  });

  it('reads a date beside a time as one clock, though one heading stands over both', () => {
    const rows = Array.from({ length: 6 }, (_, i) => `2026-03-01 10:00:0${i} ${700 + i} 0.2`).join('\n');
    const { blocks } = readWhole(`Time T(C) p(mbar)\n${rows}\n`);
    expect(blocks[0]!.headings).toEqual(['', 'Time', 'T', 'p']);
    expect([...blocks[0]!.columns[1]!]).toEqual([0, 1, 2, 3, 4, 5]);
  });

  it.each(['log-midnight-gap.csv', 'log-date-time.tsv', 'log-clock-set-back.csv'])(
    'reads %s alike however its bytes are cut',
    (name) => {
      const whole = JSON.stringify(readColumnar(file(name)));
      for (const piece of [1, 7, 64]) expect(JSON.stringify(readColumnar(file(name), {}, piece))).toBe(whole);
    },
  );
});
