import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { applyMapping } from '../../../src/formats/curves/apply-mapping.ts';
import { guessMapping } from '../../../src/formats/curves/guess-mapping.ts';
import { lookAtBytes } from '../../../src/jobs/file-tasks.ts';
import { readWhole } from '../columnar/reading.ts';

const file = (name: string) => readFileSync(new URL(`../../data/columnar/${name}`, import.meta.url));
const lookAt = (content: string | Uint8Array, options = {}) => {
  const { blocks, comments } = readWhole(content, options);
  const guess = guessMapping(blocks[0]!, 0, comments);
  return { blocks, ...guess, applied: guess.mapping ? applyMapping(blocks, guess.mapping) : null };
};
const rows = (row: (i: number) => string, n = 30): string =>
  `${Array.from({ length: n }, (_, i) => row(i)).join('\n')}\n`;

describe('the log of a furnace', () => {
  it('with a clock, decimal commas, a gap and midnight is read by its headings, what was commanded left out', () => {
    const { mapping, doubts, applied } = lookAt(file('log-midnight-gap.csv'));
    expect(doubts).toEqual([]);
    expect(mapping).toMatchObject({
      kind: 'chamber log',
      columns: [
        { role: 'timeS', column: 0, unit: 's' },
        { role: 'temperatureK', column: 2, unit: 'degC' },
        { role: 'pressurePa', column: 3, unit: 'mbar' },
      ],
    });
    if (!applied?.ok) throw new Error('not applied');
    const [timeS, , pressurePa] = applied.value.columns;
    expect([timeS![0], timeS!.at(-1), pressurePa![0]]).toEqual([0, 3600, 20]);
  });

  it('with elapsed minutes, kelvin and mTorr needs no answer', () => {
    const { mapping, doubts, applied } = lookAt(file('log-elapsed.csv'));
    expect(doubts).toEqual([]);
    expect(mapping?.columns.map(({ unit }) => unit)).toEqual(['min', 'K', 'mTorr']);
    if (!applied?.ok) throw new Error('not applied');
    expect(applied.value.columns[0]!.at(-1)).toBe(1800);
    expect(applied.value.columns[2]![0]).toBeCloseTo((150 * 101.325) / 760, 10);
  });

  it('with a date and a time column and a logarithm of the pressure keeps the logarithm', () => {
    const { mapping, doubts, applied } = lookAt(file('log-date-time.tsv'));
    expect(doubts).toEqual([]);
    expect(mapping?.columns).toEqual([
      { role: 'timeS', column: 1, unit: 's' },
      { role: 'temperatureK', column: 2, unit: 'degC' },
      { role: 'log10PressurePa', column: 3, unit: 'log10 Torr' },
    ]);
    if (!applied?.ok) throw new Error('not applied');
    expect(applied.value.columns[2]!.at(-1)).toBeCloseTo(Math.log10((10 ** -0.82 * 101325) / 760), 10);
  });

  it('whose clock is set back is refused with the line before anything is mapped', () => {
    const look = lookAtBytes(file('log-clock-set-back.csv'), 'log.csv');
    expect(look).toMatchObject({ ok: false, failure: { code: 'READ_CLOCK_BACK', line: 17 } });
  });

  it('asks for the unit of a time that has none, and prefers elapsed seconds to the clock', () => {
    const bare = lookAt(`time,T (C)\n${rows((i) => `${i},${700 + i}`)}`);
    expect(bare.mapping?.columns[0]).toEqual({ role: 'timeS', column: 0, unit: '' });
    expect(bare.doubts).toHaveLength(1);
    const clock = (i: number) => `10:00:${String(i).padStart(2, '0')}`;
    expect(
      lookAt(`clock,elapsed (s),T (C)\n${rows((i) => `${clock(i)},${i},${700 + i}`)}`).mapping?.columns[0]
        ?.column,
    ).toBe(1);
    expect(
      lookAt(`clock,time,T (C)\n${rows((i) => `${clock(i)},${i},${700 + i}`)}`).mapping?.columns[0]?.column,
    ).toBe(0);
  });

  it.each([
    ['time (s),T (C)', (i: number) => `${i},${295 + 30 * i}`, /is this in K\?/],
    ['time (s),T (K)', (i: number) => `${i},${20 + 30 * i}`, /is this in degC\?/],
    ['time (s),T (C),p (atm)', (i: number) => `${i},${20 + 30 * i},1e5`, /is this in Pa\?/],
  ])('%s of numbers that look like another unit is asked about', (heading, row, expected) => {
    const { doubts, applied } = lookAt(`${heading}\n${rows(row)}`);
    expect(doubts.join(' ')).toMatch(expected);
    expect(applied?.ok && applied.warnings.map(({ code }) => code)).toContain('MAP_RANGE');
  });

  it('whose elapsed time begins anew is refused', () => {
    const { applied } = lookAt(`time (s),T (C)\n${rows((i) => `${i % 20},${700 + i}`)}`);
    expect(applied).toMatchObject({ ok: false, code: 'MAP_TIME_BACK' });
  });

  it('leaves a curve of resistance with a clock what it was, though the clock goes back', () => {
    const { mapping, applied } = lookAt(
      `Time,T (K),R (ohm)\n${rows((i) => `0${9 - (i % 2)}:00:00,${90 + i},${i}`)}`,
    );
    expect(mapping?.kind).toBe('resistance');
    expect(applied?.ok).toBe(true);
  });
});
