import { describe, expect, it } from 'vitest';
import {
  coolingPart,
  filmAt,
  intervalsAbove,
  lengthS,
  middleOfHottestS,
  thinned,
} from '../../src/web/drafts/film-along-path.ts';

/** Up at 1 K/s, a hold at 850 degC with the gas let in at its middle, down at 1 K/s; one sample a second. */
const TIMES = Array.from({ length: 1751 }, (_, i) => i);
const FILM = {
  timeS: TIMES,
  temperatureC: TIMES.map((timeS) => Math.min(25 + timeS, 850, 1775 - timeS)),
  log10Po2Atm: TIMES.map((timeS) => (timeS < 875 ? -5 : -2)),
};

describe('a path with fewer samples', () => {
  const few = thinned(FILM, 200);

  it('keeps both ends, every corner and the step of the gas', () => {
    expect(few.timeS.length).toBeLessThanOrEqual(200);
    expect([few.timeS[0], few.timeS.at(-1)]).toEqual([0, 1750]);
    for (const timeS of [0, 200, 824, 825, 874, 875, 925, 1400])
      expect(Math.abs(filmAt(few, timeS).temperatureC - filmAt(FILM, timeS).temperatureC)).toBeLessThan(0.5);
    expect(filmAt(few, 874).log10Po2Atm).toBe(-5);
    expect(filmAt(few, 875).log10Po2Atm).toBe(-2);
  });

  it('keeps a path that is short enough as it is', () => {
    expect(thinned(FILM, 5000)).toBe(FILM);
  });

  it('takes the same time as the whole', () => {
    const dose = ({ timeS, temperatureC }: typeof FILM | typeof few) =>
      timeS
        .slice(1)
        .reduce(
          (sum, each, i) =>
            sum +
            (each - timeS[i]!) *
              (Math.exp(-40_000 / (temperatureC[i]! + 273)) +
                Math.exp(-40_000 / (temperatureC[i + 1]! + 273))),
          0,
        );
    expect(Math.abs(dose(thinned(FILM, 800)) / dose(FILM) - 1)).toBeLessThan(5e-3);
  });
});

describe('where the path is hottest', () => {
  it('is met in the middle of its hold, and the cooling begins at its end', () => {
    expect(middleOfHottestS(FILM)).toBeCloseTo(875, 0);
    expect(middleOfHottestS(FILM, [{ fromS: 800, toS: 851 }])).toBeCloseTo(837.5, 0);
    expect(middleOfHottestS(FILM, [{ fromS: 1000, toS: 1100 }])).toBeCloseTo(1000.5, 0);
    const cooling = coolingPart(FILM)!;
    expect(cooling.timeS[0]).toBe(926); // the last sample within 1 K of the highest
    expect(cooling.temperatureC.at(-1)).toBe(25);
  });

  it('ends there without a cooling', () => {
    expect(coolingPart({ timeS: [0, 10], temperatureC: [25, 850], log10Po2Atm: [0, 0] })).toBeNull();
  });
});

describe('stretches above a level', () => {
  it('begin and end where the straight lines between the points cross it', () => {
    expect(intervalsAbove([0, 10, 20, 30], [0, 1, 1, 0], 0.5)).toEqual([{ fromS: 5, toS: 25 }]);
    expect(intervalsAbove([0, 10, 20, 30, 40], [1, 0, 0, 0, 1], 0.5)).toEqual([
      { fromS: 0, toS: 5 },
      { fromS: 35, toS: 40 },
    ]);
  });

  it('are none below it, and none of a level that is only touched', () => {
    expect(intervalsAbove([0, 10], [0.1, 0.4], 0.5)).toEqual([]);
    expect(intervalsAbove([0, 10, 20], [0, 0.5, 0], 0.5)).toEqual([]);
  });

  it('add up to the time above it', () => {
    expect(lengthS(intervalsAbove(FILM.timeS, FILM.temperatureC, 800))).toBe(200);
  });
});
