import { describe, expect, it } from 'vitest';
import { oxygenAboveSix, po2OfOxygenAtm } from '../../../src/science/equilibrium/oxygen.ts';
import {
  massOf123,
  oxygenAlongFiring,
  type SinterSegment,
  sinterPath,
  startOxygen,
} from '../../../src/science/target/sinter.ts';
import { closureOf, closureTemperatureK } from '../../../src/science/target/sinter-closure.ts';
import { oxygenStateOf, reportedOxygen } from '../../../src/science/target/sinter-state.ts';

const BODY = { grainRadiusM: 5e-6, gasSccmPerG: 2, diffusivityFactor: 1, shiftK: 0 };
const fired = (po2Atm: number, coolS: number, toC = 25): SinterSegment[] => [
  { kind: 'ramp', toC: 940, durationS: 14_400, po2Atm },
  { kind: 'hold', toC: 940, durationS: 86_400, po2Atm },
  { kind: 'cool', toC, durationS: coolS, po2Atm },
];
const pathOf = (segments: SinterSegment[]) =>
  sinterPath({ temperatureC: 25, po2Atm: segments[0]!.po2Atm }, segments);
const endOf = (segments: SinterSegment[], body = {}, start?: number): number => {
  const path = pathOf(segments);
  return oxygenAlongFiring(path, { ...BODY, ...body }, start ?? startOxygen(path.start)).at(-1)!;
};

describe('oxygen along a firing', () => {
  it('is in balance with the gas after a long hot hold, whatever it began with', () => {
    const hold = fired(0.21, 1).slice(0, 2);
    for (const start of [0, 0.5, 1])
      expect(endOf(hold, {}, start)).toBeCloseTo(oxygenAboveSix(1213.15, 0.21), 3);
  });

  it('lies in the published bands: 6.90 to 6.97 slowly cooled in oxygen, 6.0 to 6.2 in argon', () => {
    const inOxygen = reportedOxygen(endOf(fired(1, 72_000)));
    expect(inOxygen.value - inOxygen.scatter).toBeLessThan(0.97);
    expect(inOxygen.value + inOxygen.scatter).toBeGreaterThan(0.9);
    const inArgon = endOf(fired(1e-5, 36_000));
    expect(inArgon).toBeGreaterThan(0);
    expect(inArgon).toBeLessThan(0.2);
  });

  it('keeps what it held hot when it is quenched, more so in coarse grains', () => {
    const hot = oxygenAboveSix(1213.15, 1);
    expect(endOf(fired(1, 5))).toBeLessThan(hot + 0.1);
    expect(endOf(fired(1, 3600), { grainRadiusM: 50e-6 })).toBeLessThan(endOf(fired(1, 3600)));
  });

  it('takes up no more than the gas brings', () => {
    const po2Atm = 1e-4;
    const path = pathOf(fired(po2Atm, 36_000));
    const mean = oxygenAlongFiring(path, BODY, startOxygen(path.start));
    const { timeS } = path.samples;
    const from = mean.indexOf(Math.min(...mean));
    const seconds = timeS.at(-1)! - timeS[from]!;
    // moles of O in what flows past a mole of 123
    const brought = ((2 * po2Atm * BODY.gasSccmPerG * massOf123(0)) / 22_414 / 60) * seconds;
    expect(mean.at(-1)! - mean[from]!).toBeLessThanOrEqual(brought * 1.001);
    expect(endOf(fired(po2Atm, 36_000), { gasSccmPerG: 2e4 })).toBeGreaterThan(0.3);
  });

  it('gives off, in gas without oxygen, what the flow carries at the pressure of balance', () => {
    // 123 of z 0.5 at 700 degC, 3 s: p of balance hardly moves, and dz/dt = -2 M F p
    const path = sinterPath({ temperatureC: 700, po2Atm: 1e-9 }, [
      { kind: 'hold', toC: 700, durationS: 3, po2Atm: 1e-9 },
    ]);
    const end = oxygenAlongFiring(path, { ...BODY, grainRadiusM: 1e-7 }, 0.5).at(-1)!;
    const expected = 2 * massOf123(0.5) * (2 / 22_414 / 60) * po2OfOxygenAtm(973.15, 0.5) * 3;
    expect((0.5 - end) / expected).toBeGreaterThan(0.8);
    expect((0.5 - end) / expected).toBeLessThan(1.01);
  });

  it('does not depend on how a segment is cut', () => {
    const whole = endOf(fired(0.21, 36_000));
    const cut = fired(0.21, 36_000).slice(0, 2);
    for (let i = 1; i <= 6; i++)
      cut.push({ kind: 'cool', toC: 940 - (915 / 6) * i, durationS: 6000, po2Atm: 0.21 });
    expect(endOf(cut)).toBeCloseTo(whole, 2);
  });

  it('exchanges hardly at all once the pores have closed', () => {
    const open = endOf(fired(1, 36_000));
    const closed = endOf(fired(1, 36_000), { closesToPlateM: 2.5e-3 });
    expect(open - closed).toBeGreaterThan(0.5);
    expect(closed).toBeGreaterThan(oxygenAboveSix(1213.15, 1) - 0.01);
  });

  it.each([
    ['hold', 900, /segments\[1\]\.toC is 900 in a hold that begins at 940 degC; allowed is only that/],
    ['cool', 950, /segments\[1\]\.toC is 950 in a cool/],
    ['ramp', 2000, /segments\[1\]\.toC is 2000; allowed is 0 or more and up to 1400/],
  ] as const)('refuses a %s to %d degC', (kind, toC, message) => {
    expect(() => pathOf([fired(1, 1)[0]!, { kind, toC, durationS: 60, po2Atm: 1 }])).toThrow(message);
  });

  it('refuses gas without any oxygen and says what to give', () => {
    expect(() => pathOf(fired(0, 1))).toThrow(/po2Atm is 0 atm/);
    expect(() => pathOf([{ kind: 'hold', toC: 25, durationS: -1, po2Atm: 1 }])).toThrow(/durationS is -1/);
  });
});

describe('the closure temperature', () => {
  it('solves its own equation', () => {
    const body = { shape: 'sphere', lengthM: 5e-6, d0M2PerS: 1e-8, activationJPerMol: 93_600 } as const;
    const kelvin = closureTemperatureK(body, 0.01);
    const tau = (8.314462618 * kelvin ** 2) / (93_600 * 0.01);
    expect((55 * tau * 1e-8 * Math.exp(-93_600 / (8.314462618 * kelvin))) / 25e-12).toBeCloseTo(1, 8);
  });

  it('is where the content at the end was in balance, for a cooling in which D does not meet its limit', () => {
    // air, coarse grains: closes hot enough that z stays below 1
    const segments = fired(0.21, 7200);
    const body = { ...BODY, grainRadiusM: 40e-6, gasSccmPerG: 1e4 };
    const end = endOf(segments, body);
    const closure = closureOf(pathOf(segments), body, end);
    expect(closure.kind).toBe('froze');
    const closureK = closure.kind === 'froze' ? closure.temperatureC + 273.15 : Number.NaN;
    expect(Math.abs(oxygenAboveSix(closureK, 0.21) - end)).toBeLessThan(0.05);
  });

  it('falls with slower cooling, and with a hold to that hold', () => {
    const frozen = (segments: SinterSegment[]) => closureOf(pathOf(segments), BODY, 0.9);
    const [fast, slow] = [frozen(fired(1, 3600)), frozen(fired(1, 360_000))];
    if (fast.kind !== 'froze' || slow.kind !== 'froze') throw new Error('both freeze');
    expect(slow.temperatureC).toBeLessThan(fast.temperatureC);
    const quenched = [
      ...fired(1, 36_000, 450),
      { kind: 'hold', toC: 450, durationS: 36_000, po2Atm: 1 } as const,
    ];
    expect(frozen(quenched).kind).toBe('still open');
    expect(frozen([...quenched, { kind: 'cool', toC: 25, durationS: 10, po2Atm: 1 }])).toEqual({
      kind: 'froze',
      temperatureC: 450,
    });
    expect(frozen([{ kind: 'hold', toC: 25, durationS: 60, po2Atm: 1 }]).kind).toBe('never exchanged');
  });
});

describe('what is reported', () => {
  it('names the state by the published bands', () => {
    for (const [oxygen, state] of [
      [6.9, 'oxygen rich'],
      [6.97, 'oxygen rich'],
      [6.5, 'between'],
      [6.2, 'oxygen poor'],
      [6, 'oxygen poor'],
    ] as const)
      expect(oxygenStateOf(oxygen)).toBe(state);
  });

  it('doubts more where the formula was not fitted', () => {
    expect(reportedOxygen(0.5)).toEqual({ value: 0.5, scatter: 0.013 });
    expect(reportedOxygen(1).value).toBeCloseTo(0.975, 12);
    expect(reportedOxygen(1).scatter).toBeGreaterThan(0.019);
  });
});
