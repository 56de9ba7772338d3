import { describe, expect, it } from 'vitest';
import { logUnitDoubts } from '../../../src/science/growth/log-units.ts';
import { checkLog10Po2, checkPo2Atm } from '../../../src/science/growth/oxygen-range.ts';
import { placeSegments, samplePath } from '../../../src/science/growth/path.ts';
import { checkTemperatureC, kelvinDoubt, kelvinDoubts } from '../../../src/science/growth/temperature.ts';

describe('temperatures that were perhaps typed in K', () => {
  it('are refused above 1400 degC, with what they would be in degC', () => {
    expect(() => checkTemperatureC('holdC', 1500)).toThrow(
      /holdC is 1500 degC; allowed is -273\.15 to 1400 degC\. If it was meant in K, give 1227\./,
    );
    expect(() => checkTemperatureC('holdC', 1900)).toThrow(/Give the temperature in degC\./);
    expect(() => checkTemperatureC('holdC', Number.NaN)).toThrow(/holdC is NaN/);
  });

  it.each([
    ['a room in K at the start, hot between', [298, 1073, 1073, 298], true],
    ['a room in K at the end alone', [400, 950, 300], true],
    ['a start that only a room in K has', [300, 700], true],
    ['hotter than any film is held', [700, 1123], true],
    ['a path in degC', [25, 850, 850, 25], false],
    ['a warm start in degC', [450, 850, 450], false],
    ['an anneal at 300 degC', [500, 300], false],
  ] as const)('asks about %s: %j', (_, temperatures, isAsked) => {
    expect(kelvinDoubts(temperatures).map(({ code }) => code)).toEqual(
      isAsked ? ['TEMPERATURE_PERHAPS_K'] : [],
    );
  });

  it('says what the path would be', () => {
    expect(kelvinDoubts([298.15, 1073.15, 298.15])[0]!.message).toMatch(
      /Was K meant\?.*298\.1 over 1073 to 298\.1 degC; read as K that is 25 over 800 to 25 degC/,
    );
    expect(kelvinDoubt('temperatureC', 1073.15)[0]!.message).toMatch(/temperatureC is 1073 degC.*give 800/);
    expect(kelvinDoubt('temperatureC', 850)).toEqual([]);
  });
});

describe('oxygen pressures in another unit', () => {
  it('are refused with what they would be', () => {
    expect(() => checkPo2Atm('start.po2Atm', 150)).toThrow(
      /start\.po2Atm is 150 atm; allowed is 1e-20 to 10 atm\. If it was meant in Pa, give 0\.00148; in mTorr, 0\.0001974/,
    );
    expect(() => checkPo2Atm('start.po2Atm', -1)).toThrow(/-1 atm.*above 0/);
    expect(() => checkLog10Po2('log.log10Po2Atm[3]', 20)).toThrow(
      /log\.log10Po2Atm\[3\] is 20; allowed is -20 to 1,.*If it is a pressure in Pa, give -3\.705/,
    );
    expect(() => checkLog10Po2('log10Po2Atm[0]', Number.NaN)).toThrow(/is NaN/);
  });
});

describe('a log beside its path', () => {
  const START = { temperatureC: 400, po2Atm: 1e-4 };
  const segments = placeSegments(START, [
    { kind: 'ramp', toC: 850, durationS: 450 },
    { kind: 'hold', durationS: 150 },
  ]);
  const path = samplePath(segments, START);
  const timeS = Float64Array.from({ length: 13 }, (_, i) => 50 * i);
  const temperatureK = Float64Array.from(timeS, (t) => 673.15 + Math.min(450, t));
  const log10Po2Atm = new Float64Array(13).fill(-4);

  it('in the same units raises no question, even 20 K off', () => {
    expect(logUnitDoubts({ timeS, temperatureK, log10Po2Atm }, path)).toEqual([]);
    expect(logUnitDoubts({ timeS, temperatureK: temperatureK.map((t) => t + 20) }, path)).toEqual([]);
  });

  it.each([
    [
      'K under degC',
      { timeS, temperatureK: temperatureK.map((t) => t + 273.15) },
      /was K meant\? Then take off 273\.15/,
    ],
    ['Pa under the logarithm', { timeS, log10Po2Atm: log10Po2Atm.map((l) => l + 5.0057) }, /of Pa\?.*5\.006/],
    ['mTorr under the logarithm', { timeS, log10Po2Atm: log10Po2Atm.map((l) => l + 5.8808) }, /of mTorr\?/],
    [
      'pressures in place of logarithms',
      { timeS, log10Po2Atm: log10Po2Atm.map(() => 1e-4) },
      /are these pressures\?/,
    ],
    ['minutes', { timeS: timeS.map((t) => t / 60) }, /lasts 10 s, the path 600 s: was min meant\?/],
    ['hours', { timeS: timeS.map((t) => t / 3600) }, /was h meant\?/],
  ])('in %s is asked about', (_, log, words) => {
    const doubts = logUnitDoubts(log, path);
    expect(doubts.map(({ code }) => code)).toEqual(['LOG_UNIT']);
    expect(doubts[0]!.message).toMatch(words);
  });
});
