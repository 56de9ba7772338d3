import { describe, expect, it } from 'vitest';
import type { VoltageCurveInput } from '../../../src/science/current/voltage.ts';
import { voltageCurve } from '../../../src/science/current/voltage.ts';
import type { Measured } from '../../../src/science/measured.ts';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { ramp, simulateVoltage, type VoltageCurveTruth } from '../../simulate/voltage-curve.ts';

const TAPS_M = 1e-3;
const CRITERION_V = 1e-7; // 1 uV/cm over 1 mm
const BRIDGE: VoltageCurveTruth = { icA: 0.4, n: 25, criterionV: CRITERION_V, noiseV: 1e-9 };
const FOUR_RAMPS = [
  ...ramp(0.45, 91),
  ...ramp(0.45, 91).reverse(),
  ...ramp(-0.45, 91),
  ...ramp(-0.45, 91).reverse(),
];

function read(
  truth: VoltageCurveTruth,
  currentA: number[],
  seed = 1,
  extra: Partial<VoltageCurveInput> = {},
) {
  const timeS = currentA.map((_, i) => 0.5 * i);
  const voltageV = simulateVoltage(truth, currentA, timeS, seededRandom(seed).normal);
  const geometry = {
    tapDistanceM: TAPS_M,
    widthM: 50e-6,
    thicknessM: 250e-9,
    widthU: 1e-6,
    thicknessU: 1e-8,
  };
  return voltageCurve({ timeS, currentA, voltageV, ...geometry, ...extra });
}
const codes = (result: { flags: { code: string }[] }) => result.flags.map((f) => f.code);
function expectWithin(measured: Measured | null, truth: number): void {
  expect(measured).not.toBeNull();
  expect(Math.abs(measured!.value - truth)).toBeLessThan(4 * measured!.standardUncertainty);
}

describe('voltageCurve', () => {
  it('finds critical current and exponent of a power law', () => {
    const result = read(BRIDGE, ramp(0.45, 91));
    expectWithin(result.ic, 0.4);
    expectWithin(result.n, 25);
    expect(result.jc!.value).toBeCloseTo(result.ic!.value / (50e-6 * 250e-9), 0);
    expect(result.icPerWidthAPerM!.value).toBeCloseTo(result.ic!.value / 50e-6, 6);
    expect(result.reached).toBe(true);
  });

  it('tells offset, drift and ohmic part from the power law on ramps of both polarities', () => {
    const result = read({ ...BRIDGE, offsetV: 2e-7, driftVPerS: 1e-9, seriesOhm: 1e-7 }, FOUR_RAMPS);
    expectWithin(result.ic, 0.4);
    expectWithin(result.offset, 2e-7);
    expectWithin(result.drift, 1e-9);
    expectWithin(result.ohmic, 1e-7);
    expect(codes(result)).toContain('OHMIC_PART');
  });

  it('takes 5 % of the width and 7 % of the thickness where nobody states their uncertainty, and says so', () => {
    const result = read(BRIDGE, ramp(0.45, 91), 1, { widthU: undefined, thicknessU: undefined });
    const ofIc = result.ic!.standardUncertainty / result.ic!.value;
    const share = (measured: Measured): number => measured.standardUncertainty / measured.value;
    expect(share(result.jc!)).toBeCloseTo(Math.hypot(ofIc, 0.05, 0.07), 10);
    expect(share(result.icPerWidthAPerM!)).toBeCloseTo(Math.hypot(ofIc, 0.05), 10);
    expect(codes(result)).toContain('GEOMETRY_UNCERTAINTY_MISSING');
    expect(codes(read(BRIDGE, ramp(0.45, 91)))).not.toContain('GEOMETRY_UNCERTAINTY_MISSING');
  });

  it('reads a curve whose taps are exchanged as the same film, and never as one that stays below its critical current', () => {
    const currentA = ramp(0.45, 91);
    const upright = read(BRIDGE, currentA);
    const turned = voltageCurve({
      currentA,
      voltageV: simulateVoltage(BRIDGE, currentA, currentA, seededRandom(1).normal).map((v) => -v),
      tapDistanceM: TAPS_M,
    });
    expect(turned.icAbove).toBeNull();
    expect(turned.ic!.value).toBeCloseTo(upright.ic!.value, 6);
    expect(codes(turned)).toContain('VOLTAGE_SIGN');
    expect(turned.curve.at(-1)).toBeLessThan(-CRITERION_V); // drawn over the curve as it was given
    const below = read({ ...BRIDGE, driftVPerS: -1e-9 }, ramp(0.3, 91));
    expect(below.icAbove).toBeCloseTo(0.3, 10);
    expect(codes(below)).not.toContain('VOLTAGE_SIGN');
  });

  it('keeps the critical current of the superconductor apart from the crossing of the measured curve', () => {
    const result = read({ ...BRIDGE, seriesOhm: 1e-7 }, ramp(0.45, 181));
    expectWithin(result.ic, 0.4);
    // by hand: 1e-7 (I/0.4)^25 + 1e-7 I = 1e-7 at I = 0.3921
    expect(result.crossing!.value).toBeCloseTo(0.392, 2);
    expect(result.crossing!.value).toBeLessThan(result.ic!.value - 0.004);
  });

  it('finds a shunt and the current without it, where the curve passes the criterion at Ic + Vc/R', () => {
    const result = read({ ...BRIDGE, shuntOhm: 1e-5 }, ramp(0.5, 201));
    expectWithin(result.ic, 0.4);
    expectWithin(result.n, 25);
    expectWithin(result.shunt, 1e-5);
    expect(Math.abs(result.crossing!.value - (0.4 + CRITERION_V / 1e-5))).toBeLessThan(
      3 * result.crossing!.standardUncertainty,
    );
    expect(codes(result)).toContain('SHUNT');
  });

  it('averages polarities that differ, and says so', () => {
    const up = ramp(0.45, 91);
    const down = ramp(-0.45, 91);
    const time = [...up, ...down].map((_, i) => i);
    const random = seededRandom(2);
    const voltageV = [
      ...simulateVoltage(BRIDGE, up, time, random.normal),
      ...simulateVoltage({ ...BRIDGE, icA: 0.39 }, down, time, random.normal),
    ];
    const result = voltageCurve({ currentA: [...up, ...down], voltageV, tapDistanceM: TAPS_M });
    expect(result.ic!.value).toBeCloseTo(0.395, 3);
    expect(result.ic!.standardUncertainty).toBeGreaterThan(0.005 / Math.sqrt(3) - 1e-4);
    expect(codes(result)).toContain('POLARITIES_DIFFER');
  });

  it.each([0.3, 0.39])('gives a bound, not a value, when the current stops at %d A', (largestA) => {
    const result = read(BRIDGE, ramp(largestA, 91));
    expect([result.reached, result.ic, result.n, result.jc]).toEqual([false, null, null, null]);
    expect(result.icAbove).toBe(largestA);
    expect(result.flags.find((f) => f.code === 'IC_NOT_REACHED')!.message).toContain(`Ic > ${largestA} A`);
  });

  it('never calls noise a critical current', () => {
    for (let seed = 0; seed < 100; seed++)
      expect(read({ ...BRIDGE, icA: 40, noiseV: 3e-8 }, ramp(0.45, 60), seed).ic).toBeNull();
  });

  it('gives no bound where an ohmic bridge hides it', () => {
    const result = read({ ...BRIDGE, icA: 100, seriesOhm: 1e-3 }, ramp(0.45, 91));
    expect([result.ic, result.icAbove]).toEqual([null, null]);
    expect(codes(result)).toContain('IC_MASKED_BY_OHMIC');
  });

  it('cuts a quench after the criterion and keeps the critical current', () => {
    const result = read({ ...BRIDGE, quench: { aboveA: 0.42, ohm: 10 } }, ramp(0.45, 91));
    expectWithin(result.ic, 0.4);
    expect(codes(result)).toContain('QUENCH_CUT');
    expect(result.curve.at(-1)).toBeNaN();
  });

  it('gives the current before a quench that came below the criterion as a bound', () => {
    const result = read({ ...BRIDGE, quench: { aboveA: 0.35, ohm: 10 } }, ramp(0.45, 91));
    expect(result.ic).toBeNull();
    expect(result.icAbove).toBeCloseTo(0.35, 9);
  });

  it('flags a bridge that heats', () => {
    const result = read({ ...BRIDGE, heatingPerW: 1e5 }, ramp(0.45, 181));
    expect(codes(result).some((code) => code === 'HEATING' || code === 'QUENCH_CUT')).toBe(true);
  });

  it('extrapolates down from three times the noise, with its window, when the criterion lies in the noise', () => {
    const result = read({ ...BRIDGE, noiseV: 1e-7 }, ramp(0.5, 300));
    expectWithin(result.ic, 0.4);
    expect(codes(result)).toContain('IC_EXTRAPOLATED');
    expect(result.fitWindow!.fromVPerM).toBeGreaterThan(1e-4);
  });

  it('gives no exponent from two rows', () => {
    const result = read(BRIDGE, ramp(0.45, 12));
    expect(result.n).toBeNull();
    expect(codes(result)).toContain('N_NOT_RESOLVED');
  });

  it('keeps a thickness wrong by 1000, flags it and says why', () => {
    const result = read(BRIDGE, ramp(0.45, 91), 1, { thicknessM: 0.25e-9 });
    expect(result.jc!.value).toBeGreaterThan(1e13);
    expect(codes(result)).toEqual(expect.arrayContaining(['LENGTH_UNIT_SUSPECT', 'JC_ABOVE_DEPAIRING']));
  });

  it('adds width, thickness and tap distance over n to the uncertainty of Jc in squares', () => {
    const result = read(BRIDGE, ramp(0.45, 91), 3, { tapDistanceU: 1e-4 });
    const ic = result.ic!.standardUncertainty / result.ic!.value;
    const expected = Math.hypot(ic, 1e-6 / 50e-6, 1e-8 / 250e-9, 0.1 / result.n!.value);
    expect(result.jc!.standardUncertainty / result.jc!.value).toBeCloseTo(expected, 10);
  });

  it.each([
    ['one ramp', BRIDGE, ramp(0.45, 91)],
    [
      'four ramps with offset, drift and ohmic part',
      { ...BRIDGE, offsetV: 2e-7, driftVPerS: 1e-9, seriesOhm: 1e-7, noiseV: 5e-9 },
      [...ramp(0.45, 61), ...ramp(-0.45, 61)],
    ],
    ['a low exponent', { ...BRIDGE, n: 8, noiseV: 5e-9 }, ramp(0.6, 121)],
    ['a criterion in the noise', { ...BRIDGE, noiseV: 1e-7 }, ramp(0.5, 300)],
  ] as const)(
    'has 95 %% intervals that hold the truth 90 to 99 times in a hundred: %s',
    (_, truth, currents) => {
      const runs = 200;
      let ic = 0;
      let n = 0;
      for (let seed = 0; seed < runs; seed++) {
        const result = read(truth, [...currents], 1000 + seed);
        if (Math.abs(result.ic!.value - truth.icA) < 1.96 * result.ic!.standardUncertainty) ic++;
        if (Math.abs(result.n!.value - truth.n) < 1.96 * result.n!.standardUncertainty) n++;
      }
      for (const held of [ic, n]) {
        expect(held / runs).toBeGreaterThanOrEqual(0.9);
        expect(held / runs).toBeLessThanOrEqual(0.99);
      }
    },
  );

  it('refuses unequal columns, few rows and lengths that are not above zero', () => {
    expect(() => voltageCurve({ currentA: [1, 2], voltageV: [1], tapDistanceM: 1 })).toThrow(
      /2 currents, 1 voltages/,
    );
    expect(() => voltageCurve({ currentA: [1, 2], voltageV: [1, 2], tapDistanceM: 1 })).toThrow(
      /2 of 2 rows/,
    );
    expect(() => read(BRIDGE, ramp(0.45, 20), 1, { widthM: 0 })).toThrow(/widthM is 0 m/);
  });
});
