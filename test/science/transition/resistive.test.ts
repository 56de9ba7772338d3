import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { DomainError } from '../../../src/science/errors.ts';
import type { Measured } from '../../../src/science/measured.ts';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { resistiveTransition } from '../../../src/science/transition/resistive.ts';
import {
  evenly,
  type PartTransition,
  simulateResistance,
  trueCrossingK,
} from '../../simulate/resistance-curve.ts';

const SHARP: PartTransition[] = [{ t50K: 90, widthK: 1, share: 1 }];
const LINE = { interceptOhm: 10, slopeOhmPerK: 0.5 };
const quiet = () => 0;
const codes = (result: { flags: { code: string }[] }) => result.flags.map((f) => f.code);

/** Is the known temperature within `factor` standard uncertainties? */
function expectWithin(measured: Measured | null, truth: number, factor = 4): void {
  expect(measured).not.toBeNull();
  expect(Math.abs(measured!.value - truth)).toBeLessThan(factor * measured!.standardUncertainty + 0.02);
}

describe('resistiveTransition', () => {
  it('finds the shares of the extrapolated normal line of a noise-free curve', () => {
    const t = evenly(110, 70, 801);
    const result = resistiveTransition(t, simulateResistance({ ...LINE, parts: SHARP }, t, quiet));
    expect(Math.abs(result.onset!.value - trueCrossingK(SHARP, 0.98))).toBeLessThan(0.01);
    expect(Math.abs(result.t90!.value - trueCrossingK(SHARP, 0.9))).toBeLessThan(0.003);
    expect(Math.abs(result.t50!.value - 90)).toBeLessThan(0.001);
    expect(Math.abs(result.width!.value - 1)).toBeLessThan(0.005);
    expect(result.baseline!.slopePerK).toBeCloseTo(0.5, 4);
    expect(result.flags).toEqual([]);
  });

  it('does not take the slope of the normal state over 200 K for a broad transition', () => {
    const t = evenly(300, 4, 600);
    const broad: PartTransition[] = [{ t50K: 60, widthK: 12, share: 1 }];
    const random = seededRandom(3);
    const result = resistiveTransition(
      t,
      simulateResistance({ ...LINE, parts: broad, noiseOhm: 0.05 }, t, random.normal),
    );
    expectWithin(result.t50, 60);
    expectWithin(result.width, 12);
  });

  it('reads a film whose normal resistance rises on cooling', () => {
    const t = evenly(300, 4, 600);
    const parts: PartTransition[] = [{ t50K: 60, widthK: 6, share: 1 }];
    const curve = { interceptOhm: 200, slopeOhmPerK: -0.4, parts, noiseOhm: 0.05 };
    const result = resistiveTransition(t, simulateResistance(curve, t, seededRandom(4).normal));
    expectWithin(result.t50, 60);
    expectWithin(result.width, 6);
  });

  it('takes a constant below the transition off first, and says so', () => {
    const t = evenly(100, 80, 401);
    const curve = { ...LINE, parts: SHARP, noiseOhm: 0.05, backgroundOhm: 1.5 };
    const result = resistiveTransition(t, simulateResistance(curve, t, seededRandom(5).normal));
    expectWithin(result.t50, 90);
    expect(Math.abs(result.background!.resistance.value - 1.5)).toBeLessThan(
      4 * result.background!.resistance.standardUncertainty,
    );
    expect(codes(result)).toContain('BACKGROUND_REMOVED');
  });

  it('gives no zero where part of the path stays resistive', () => {
    const t = evenly(100, 80, 401);
    const curve = { ...LINE, parts: SHARP, noiseOhm: 0.05, backgroundOhm: 12 };
    const result = resistiveTransition(t, simulateResistance(curve, t, seededRandom(6).normal));
    expect(result.zero).toBeNull();
    expect(codes(result)).toContain('TRANSITION_INCOMPLETE');
  });

  it('tells warming from cooling, flags the lag and puts half of it into the uncertainty', () => {
    const t = [...evenly(100, 80, 301), ...evenly(80, 100, 301)];
    const curve = { ...LINE, parts: SHARP, noiseOhm: 0.05, lagK: 0.1 };
    const result = resistiveTransition(t, simulateResistance(curve, t, seededRandom(7).normal));
    expect(result.sweeps.map((s) => s.direction)).toEqual(['cooling', 'warming']);
    expect(result.sweeps[0]!.t50!.value - result.sweeps[1]!.t50!.value).toBeCloseTo(0.2, 1);
    expect(codes(result)).toContain('SWEEPS_LAG');
    expect(Math.abs(result.t50!.value - 90)).toBeLessThan(0.02);
    expect(result.t50!.standardUncertainty).toBeGreaterThan(0.05);
  });

  it('finds both parts of a double transition and their shares', () => {
    const parts = [
      { t50K: 91, widthK: 0.6, share: 0.6 },
      { t50K: 87, widthK: 1, share: 0.4 },
    ];
    const t = evenly(120, 75, 600);
    const result = resistiveTransition(
      t,
      simulateResistance({ ...LINE, parts, noiseOhm: 0.05 }, t, seededRandom(8).normal),
    );
    expect(codes(result)).toContain('DOUBLE_TRANSITION');
    expect(result.transitions).toHaveLength(2);
    expectWithin(result.transitions[0]!.t50, 91);
    expectWithin(result.transitions[1]!.t50, 87);
    expect(result.transitions[0]!.share).toBeCloseTo(0.6, 1);
  });

  it('does not split a single noisy transition', () => {
    const random = seededRandom(9);
    const t = evenly(110, 70, 401);
    for (let k = 0; k < 100; k++) {
      const result = resistiveTransition(
        t,
        simulateResistance({ ...LINE, parts: SHARP, noiseOhm: 0.5 }, t, random.normal),
      );
      expect(result.transitions).toHaveLength(1);
    }
  });

  it.each([
    [300, 100, 'lies below 100 K'],
    [85, 60, 'above 85 K'],
  ])('says from %d to %d K that the transition %s', (from, to, words) => {
    const t = evenly(from, to, 200);
    const result = resistiveTransition(
      t,
      simulateResistance({ ...LINE, parts: SHARP, noiseOhm: 0.05 }, t, seededRandom(10).normal),
    );
    expect(result.t50).toBeNull();
    expect(result.flags.find((f) => f.code === 'NO_TRANSITION')!.message).toContain(words);
  });

  it('gives what a curve that ends inside the transition shows, and no more', () => {
    const t = evenly(100, 90.1, 200);
    const cut = resistiveTransition(
      t,
      simulateResistance({ ...LINE, parts: SHARP, noiseOhm: 0.05 }, t, seededRandom(11).normal),
    );
    expectWithin(cut.t90, trueCrossingK(SHARP, 0.9));
    expect([cut.t10, cut.zero, cut.width]).toEqual([null, null, null]);
    expect(codes(cut)).toContain('NOT_BELOW_TRANSITION');
    const below = evenly(90.2, 70, 200);
    const noLine = resistiveTransition(below, simulateResistance({ ...LINE, parts: SHARP }, below, quiet));
    expect(codes(noLine)).toContain('NOT_ABOVE_TRANSITION');
    expect(noLine.t50).toBeNull();
  });

  it('keeps a temperature that no 123 film has and a resistance in a wrong unit, and flags both', () => {
    const t = evenly(140, 100, 401);
    const parts = [{ t50K: 120, widthK: 1, share: 1 }];
    const result = resistiveTransition(
      t,
      simulateResistance({ interceptOhm: 1e7, slopeOhmPerK: 1e5, parts }, t, quiet),
    );
    expect(result.t50!.value).toBeCloseTo(120, 2);
    expect(codes(result)).toEqual(expect.arrayContaining(['TEMPERATURE_SUSPECT', 'RESISTANCE_UNIT_SUSPECT']));
  });

  it('has 95 % intervals that hold the truth 90 to 99 times in a hundred', () => {
    const random = seededRandom(20260101);
    const t = evenly(110, 70, 401);
    const truth = {
      onset: trueCrossingK(SHARP, 0.98),
      t90: trueCrossingK(SHARP, 0.9),
      t50: 90,
      t10: trueCrossingK(SHARP, 0.1),
      width: 1,
    };
    const runs = 300;
    const held = { onset: 0, t90: 0, t50: 0, t10: 0, width: 0 };
    for (let k = 0; k < runs; k++) {
      const curve = { ...LINE, parts: SHARP, noiseOhm: 0.1, backgroundOhm: 0.3 };
      const result = resistiveTransition(t, simulateResistance(curve, t, random.normal));
      for (const key of Object.keys(truth) as (keyof typeof truth)[])
        if (Math.abs(result[key]!.value - truth[key]) < 1.96 * result[key]!.standardUncertainty) held[key]++;
    }
    for (const count of Object.values(held)) {
      expect(count / runs).toBeGreaterThanOrEqual(0.9);
      expect(count / runs).toBeLessThanOrEqual(0.99);
    }
  });

  it('moves with the temperature scale and does not see the scale of the resistance', () => {
    const t = evenly(110, 70, 201);
    const r = simulateResistance({ ...LINE, parts: SHARP, noiseOhm: 0.05 }, t, seededRandom(12).normal);
    const before = resistiveTransition(t, r);
    fc.assert(
      fc.property(
        fc.double({ min: -20, max: 5, noNaN: true }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        (shiftK, factor) => {
          const after = resistiveTransition(
            t.map((x) => x + shiftK),
            r.map((x) => x * factor),
          );
          expect(after.t50!.value - before.t50!.value).toBeCloseTo(shiftK, 5);
          expect(after.width!.value).toBeCloseTo(before.width!.value, 5);
        },
      ),
      { numRuns: 20 },
    );
  });

  it.each([0.4, 0.6, 1, 1.5])(
    'has intervals of onset and zero that hold the truth with rows %s K apart, where none lies in the tail',
    (stepK) => {
      const random = seededRandom(21);
      for (let k = 0; k < 20; k++) {
        const t = Array.from({ length: 60 }, (_, i) => 70 + (stepK * k) / 20 + stepK * i);
        const r = simulateResistance({ ...LINE, parts: SHARP, noiseOhm: 0.02 }, t, random.normal);
        const { onset, zero } = resistiveTransition(t, r);
        for (const [measured, share] of [
          [onset, 0.98],
          [zero, 0.005],
        ] as const)
          if (measured)
            expect(Math.abs(measured.value - trueCrossingK(SHARP, share))).toBeLessThan(
              2 * measured.standardUncertainty,
            );
      }
    },
  );

  it('holds the zero that the noise hides in its uncertainty, and says at which level it was read', () => {
    const t = evenly(110, 70, 401);
    const truthK = trueCrossingK(SHARP, 0.005);
    let held = 0;
    for (let seed = 0; seed < 40; seed++) {
      const curve = { ...LINE, parts: SHARP, noiseOhm: 0.4 }; // 0.7 % of the normal resistance
      const result = resistiveTransition(t, simulateResistance(curve, t, seededRandom(seed).normal));
      expect(codes(result)).toContain('ZERO_IN_NOISE');
      if (Math.abs(result.zero!.value - truthK) < 1.96 * result.zero!.standardUncertainty) held++;
    }
    expect(held).toBeGreaterThanOrEqual(34);
  });

  it('gives neither onset nor zero where the noise is larger than what they stand off by', () => {
    const t = evenly(110, 70, 401);
    const curve = { ...LINE, parts: SHARP, noiseOhm: 3 };
    const result = resistiveTransition(t, simulateResistance(curve, t, seededRandom(22).normal));
    expect(result.onset).toBeNull();
    expect(result.zero).toBeNull();
    expect(result.zeroLevelOhm).toBeNull();
    expect(codes(result)).toEqual(expect.arrayContaining(['ONSET_IN_NOISE', 'ZERO_IN_NOISE']));
    expectWithin(result.t50, 90);
  });

  it('leaves out rows without a number and counts them', () => {
    const t = evenly(110, 70, 401);
    const r = simulateResistance({ ...LINE, parts: SHARP }, t, quiet);
    r[50] = Number.NaN;
    const result = resistiveTransition(t, r);
    expect(result.flags[0]).toMatchObject({
      code: 'ROWS_MISSING',
      message: expect.stringContaining('1 of 401'),
    });
  });

  it('refuses unequal columns, too few rows and temperatures in degrees Celsius, and says what to do', () => {
    expect(() => resistiveTransition([90, 91], [1])).toThrow(/2 temperatures but 1 resistances/);
    expect(() => resistiveTransition([90, 91], [1, 2])).toThrow(DomainError);
    expect(() => resistiveTransition(evenly(-190, -170, 30), new Float64Array(30))).toThrow(
      /-190 K.*degrees Celsius.*273\.15/,
    );
  });
});
