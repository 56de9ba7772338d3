import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chamberTimeS,
  PA_PER_ATM,
  pathAtFilm,
  pressureAfterPa,
  throughputPaM3PerS,
  timeToPressureS,
} from '../../../src/science/growth/chamber.ts';
import {
  checkSamples,
  columnAt,
  type PathSegment,
  placeSegments,
  samplePath,
} from '../../../src/science/growth/path.ts';
import { compareColumn, timeAbove } from '../../../src/science/growth/path-log.ts';

const START = { temperatureC: 20, po2Atm: 1e-5 };
const PATH: PathSegment[] = [
  { kind: 'ramp', toC: 820, rateKPerMin: 40 },
  { kind: 'gas', toPo2Atm: 1e-3 },
  { kind: 'deposit', durationS: 100, thicknessNm: 500 },
  { kind: 'gas', toPo2Atm: 1, durationS: 60 },
  { kind: 'cool', toC: 20, durationS: 800 },
];
const placed = placeSegments(START, PATH);
const sampled = samplePath(placed, START);
const refused = (segment: PathSegment) => () => placeSegments(START, [segment]);

describe('a path', () => {
  it('takes 20 minutes for 800 K at 40 K/min and ends where its last segment does', () => {
    expect(placed[0]!.endS).toBe(1200);
    expect(placed.at(-1)!.endS).toBe(1200 + 100 + 60 + 800);
    expect(columnAt(sampled.timeS, sampled.temperatureK, 600)).toBeCloseTo(273.15 + 420, 9);
  });

  it('steps the gas at once where no duration is given, and evenly in its logarithm where one is', () => {
    expect(columnAt(sampled.timeS, sampled.log10Po2Atm, 1199.999)).toBeCloseTo(-5, 6);
    expect(columnAt(sampled.timeS, sampled.log10Po2Atm, 1200)).toBe(-3);
    expect(columnAt(sampled.timeS, sampled.log10Po2Atm, 1330)).toBeCloseTo(-1.5, 9);
  });

  it('is sampled into something that it accepts again', () => {
    expect(() => checkSamples(sampled)).not.toThrow();
  });

  it('never goes back in time and never jumps in temperature, whatever its ramps', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 1000 }), fc.integer({ min: 1, max: 600 })), {
          minLength: 1,
          maxLength: 5,
        }),
        (ramps) => {
          const segments = placeSegments(
            START,
            ramps.map(([toC, rateKPerMin]) => ({ kind: 'ramp', toC, rateKPerMin })),
          );
          const { timeS, temperatureK } = samplePath(segments, START);
          for (let i = 1; i < timeS.length; i++) {
            expect(timeS[i]! >= timeS[i - 1]!).toBe(true);
            expect(Math.abs(temperatureK[i]! - temperatureK[i - 1]!)).toBeLessThanOrEqual(2 + 1e-9);
          }
        },
      ),
      { numRuns: 30 },
    );
  });

  it.each([
    [
      { kind: 'deposit', durationS: 10, thicknessNm: -5 },
      /segments\[0\]\.thicknessNm is -5; allowed is 0 or more/,
    ],
    [{ kind: 'hold', durationS: -1 }, /segments\[0\]\.durationS is -1; allowed is 0 or more/],
    [{ kind: 'ramp', toC: 900, rateKPerMin: 0 }, /rateKPerMin is 0; allowed is above 0/],
    [{ kind: 'ramp', toC: 9000, rateKPerMin: 10 }, /toC is 9000 degC; allowed is -273\.15 to 1400 degC/],
    [{ kind: 'ramp', rateKPerMin: 10 }, /a ramp without toC/],
    [{ kind: 'cool', toC: 100, durationS: 10 }, /toC is 100, above the 20 degC before it/],
    [{ kind: 'gas', durationS: 10 }, /a gas change without toPo2Atm/],
    [{ kind: 'gas', toPo2Atm: 0 }, /toPo2Atm is 0 atm; allowed/],
    [{ kind: 'hold' }, /no duration; allowed is durationS/],
    [{ kind: 'hold', durationS: 5, rateKPerMin: 3 }, /rateKPerMin is 3 in a hold/],
    [{ kind: 'hold', durationS: 5, toC: 30 }, /toC is 30 in a hold/],
    [{ kind: 'ramp', toC: 30, durationS: 5, rateKPerMin: 3 }, /allowed is one of them/],
  ] as [PathSegment, RegExp][])('refuses %j in words', (segment, words) => {
    expect(refused(segment)).toThrow(words);
  });

  it('refuses columns that go back in time, naming the row', () => {
    const columns = {
      temperatureK: Float64Array.of(300, 300, 300),
      log10Po2Atm: Float64Array.of(-5, -5, -5),
    };
    expect(() => checkSamples({ ...columns, timeS: Float64Array.of(0, 5, 3) })).toThrow(
      /timeS\[2\] is 3 s after 5 s/,
    );
  });
});

describe('the chamber', () => {
  const gas = {
    volumeM3: 0.05,
    throughputPaM3PerS: throughputPaM3PerS(100, 273.15),
    pumpingWhileFillingM3PerS: 0,
    pumpingM3PerS: 0.01,
  };

  it('of 50 L takes 5.9 s at 100 sccm to 150 mTorr with the pump shut off', () => {
    expect(timeToPressureS(0, 20, gas.volumeM3, gas.throughputPaM3PerS, 0)).toBeCloseTo(5.92, 2);
  });

  it('reaches after the time found just the pressure wanted, filling against a pump as well', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 15, noNaN: true }),
        fc.double({ min: 1e-4, max: 8e-3, noNaN: true }),
        (toPa, speed) => {
          const timeS = timeToPressureS(0, toPa, gas.volumeM3, gas.throughputPaM3PerS, speed);
          fc.pre(Number.isFinite(timeS));
          expect(pressureAfterPa(0, timeS, gas.volumeM3, gas.throughputPaM3PerS, speed)).toBeCloseTo(toPa, 8);
        },
      ),
    );
  });

  it('never reaches a pressure above flow over pumping speed', () => {
    expect(timeToPressureS(0, 20, 0.05, 0.1, 0.01)).toBe(Number.POSITIVE_INFINITY); // settles at 10 Pa
  });

  it('spreads its time as volume and flow do: 4 % and 3 % give 5 %', () => {
    const time = chamberTimeS(
      {
        volumeL: { value: 50, standardUncertainty: 2 },
        oxygenFlowSccm: { value: 100, standardUncertainty: 3 },
        pumpingWhileFillingLPerS: { value: 0, standardUncertainty: 0 },
        pumpingLPerS: { value: 10, standardUncertainty: null },
        gasC: 25,
      },
      1,
      20,
    )!;
    expect(time.standardUncertainty / time.value).toBeCloseTo(0.05, 3);
  });

  it('lags a long ramp by rate times time constant and keeps no lag in a long hold', () => {
    const segments = placeSegments(START, [
      { kind: 'ramp', toC: 820, rateKPerMin: 60 },
      { kind: 'hold', durationS: 200 },
    ]);
    const film = pathAtFilm(samplePath(segments, START), null, 10);
    expect(columnAt(film.timeS, film.temperatureK, 800)).toBeCloseTo(273.15 + 820 - 10, 6);
    expect(film.temperatureK.at(-1)).toBeCloseTo(273.15 + 820, 6);
  });

  it('lets the pressure follow a step as the gas balance does, and never past the command', () => {
    const segments = placeSegments(START, [
      { kind: 'gas', toPo2Atm: 20 / PA_PER_ATM },
      { kind: 'hold', durationS: 30 },
    ]);
    const path = samplePath(segments, START);
    const film = pathAtFilm(path, gas, 0);
    film.timeS.forEach((timeS, i) => {
      const free = pressureAfterPa(1e-5 * PA_PER_ATM, timeS, gas.volumeM3, gas.throughputPaM3PerS, 0);
      expect(10 ** film.log10Po2Atm[i]! * PA_PER_ATM).toBeCloseTo(Math.min(20, free), 6);
    });
  });
});

describe('a series over a path', () => {
  it('of a triangle spends half its base above half its height', () => {
    const { timeS, intervals } = timeAbove([0, 50, 100], [0, 1, 0], 0.5);
    expect(timeS).toBeCloseTo(50, 12);
    expect(intervals).toEqual([{ fromS: 25, toS: 75 }]);
  });

  it('is not counted where it is not known', () => {
    expect(timeAbove([0, 10, 20, 30], [1, 1, Number.NaN, 1], 0.5).timeS).toBe(10);
  });

  it('of zero crossings has no uncertainty, and one of finer steps a smaller one', () => {
    expect(timeAbove([0, 10], [1, 1], 0.5).standardUncertaintyS).toBe(0);
    const coarse = timeAbove([0, 10, 20], [0, 1, 1], 0.5).standardUncertaintyS;
    const fine = timeAbove([0, 4, 6, 20], [0, 0.4, 0.6, 1], 0.5).standardUncertaintyS;
    expect(fine).toBeLessThan(coarse / 3);
  });
});

describe('a log beside its path', () => {
  const logTimes = [0, 300, 600, 900, 1200, 1300];
  const exact = logTimes.map((timeS) => columnAt(sampled.timeS, sampled.temperatureK, timeS));
  const compare = (logged: number[]) =>
    compareColumn(sampled, placed, logTimes, logged, sampled.temperatureK);

  it('deviates nowhere where it is the path, and most where one reading was moved', () => {
    expect(compare(exact).rootMeanSquare).toBeCloseTo(0, 9);
    const { largest } = compare(exact.map((value, i) => (i === 2 ? value - 15 : value + 1)));
    expect(largest).toMatchObject({ atS: 600, segment: 0 });
    expect(largest!.value).toBeCloseTo(-15, 9);
  });

  it('counts its gaps and names the segments that it cannot see', () => {
    const { missing, readings, unseenSegments, longestGapS } = compare(
      exact.map((value, i) => (i === 3 ? Number.NaN : value)),
    );
    expect([missing, readings, longestGapS]).toEqual([1, 5, 600]);
    expect(unseenSegments).toEqual([2, 3, 4]);
  });
});
