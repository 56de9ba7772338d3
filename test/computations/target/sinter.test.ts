import { describe, expect, it } from 'vitest';
import { targetSinter } from '../../../src/computations/target/sinter.ts';

const ask = (changes: object = {}) =>
  targetSinter.run(targetSinter.request.parse({ ...(targetSinter.example as object), ...changes }));
const codes = ({ flags }: { flags: readonly { code: string }[] }) => flags.map(({ code }) => code);
const fired = (po2Atm: number, toC = 940) => [
  { kind: 'ramp', toC, durationS: 14_400, po2Atm },
  { kind: 'hold', toC, durationS: 86_400, po2Atm },
  { kind: 'cool', toC: 25, durationS: 36_000, po2Atm },
];

describe('target.sinter', () => {
  it('answers its example in its own schema: a target annealed in oxygen is rich in it', () => {
    const response = ask();
    expect(targetSinter.response.parse(response)).toEqual(response);
    expect(response.oxygenState).toBe('oxygen rich');
    expect(response.danger).toMatchObject({ liquidOdds: 0, no123Odds: 0 });
    expect(response.massChangePercent).toBeCloseTo(
      ((response.oxygenPer123!.value - response.atHottest.oxygenPer123) * 15.999 * 100) /
        (609.072 + (response.atHottest.oxygenPer123 - 6) * 15.999 + 41.127),
      1,
    );
  });

  it('says that argon at 940 degC melts and decomposes the target, and what is published of it', () => {
    const response = ask({ segments: fired(1e-5) });
    expect(response.oxygenState).toBe('oxygen poor');
    expect(codes(response)).toEqual(
      expect.arrayContaining(['TARGET_MELTS', 'TARGET_DECOMPOSES', 'INERT_ABOVE_725']),
    );
    expect(response.danger!.no123Odds).toBeGreaterThan(0.9);
    expect(response.consequences.find(({ route }) => route === 'ex situ')!.source).toMatch(/common practice/);
  });

  it('names the most dangerous point, which need not be the hottest', () => {
    const response = ask({
      segments: [
        ...fired(1).slice(0, 2),
        { kind: 'cool', toC: 850, durationS: 3600, po2Atm: 1 },
        { kind: 'hold', toC: 850, durationS: 3600, po2Atm: 1e-5 },
        { kind: 'cool', toC: 25, durationS: 3600, po2Atm: 1e-5 },
      ],
    });
    expect(response.danger).toMatchObject({ temperatureC: 850, po2Atm: 1e-5 });
    expect(response.hottestC).toBe(940);
  });

  it('widens the answer where pores close, and gives none where the powder decides', () => {
    const dense = ask({ segments: fired(1), isPorous: false });
    expect(codes(dense)).toContain('NO_OPEN_PORES');
    expect(dense.oxygenPer123!.standardUncertainty).toBeGreaterThan(
      3 * ask({ segments: fired(1) }).oxygenPer123!.standardUncertainty,
    );
    const cold = ask({ segments: [{ kind: 'hold', toC: 25, durationS: 60, po2Atm: 1 }] });
    expect(cold.oxygenPer123).toBeNull();
    expect(codes(cold)).toEqual(
      expect.arrayContaining(['START_MATTERS', 'EXCHANGE_NEVER', 'CARBONATE_STAYS']),
    );
  });

  it('grows more sure with a measured grain, and less with a doubtful temperature', () => {
    const u = (changes: object) =>
      ask({ segments: fired(0.21).map((s, i) => (i === 2 ? { ...s, durationS: 600 } : s)), ...changes })
        .oxygenPer123!.standardUncertainty;
    expect(u({ grainRadiusUm: { value: 5, standardUncertainty: 0.5 } })).toBeLessThan(
      u({ grainRadiusUm: undefined }),
    );
    expect(u({ temperatureUK: 30 })).toBeGreaterThan(u({ temperatureUK: 0 }));
  });

  it('asks for what was assumed, and says why a ratio has no diagram', () => {
    expect(codes(ask({ grainRadiusUm: undefined, isPorous: undefined }))).toEqual(
      expect.arrayContaining(['GRAIN_ASSUMED', 'PORES_ASSUMED']),
    );
    expect(codes(ask({ grainRadiusUm: 5 }))).toContain('UNCERTAINTY_NOT_STATED');
    expect(codes(ask({ cations: { Gd: 1, Ba: 2, Cu: 3 } }))).toContain('OXYGEN_OF_Y');
    expect(() => ask({ grainRadiusUm: -1 })).toThrow(/grainRadiusUm is -1/);
  });
});
