import { describe, expect, it } from 'vitest';
import { growthLog } from '../../../src/computations/growth/log.ts';
import { simulatedLog } from '../../simulate/chamber-log.ts';

const run = (request: Record<string, unknown>) => growthLog.run(growthLog.request.parse(request) as never);
const log = simulatedLog({
  seed: 7,
  startC: 25,
  steps: [
    { toC: 800, durationS: 1550, log10Po2: -3.7 },
    { toC: 800, durationS: 1800 },
    { toC: 100, durationS: 3500 },
  ],
  intervalS: 5,
  noiseK: 0.4,
});
const columns = { timeS: log.timeS, temperatureK: log.temperatureK };
const pressurePa = log.log10Po2Atm.map((decades) => (101325 * 10 ** decades) / 0.21);
const segments = [
  { kind: 'ramp', toC: 800, durationS: 1550, toPo2Atm: 10 ** -3.7 },
  { kind: 'hold', durationS: 1800 },
  { kind: 'cool', toC: 100, durationS: 3500 },
];
const codes = (answer: ReturnType<typeof run>) => answer.flags.map(({ code }) => code);

describe('growth.log', () => {
  it('answers its own example with the hold that is too hot', () => {
    const answer = run(growthLog.example as Record<string, unknown>);
    expect(growthLog.response.parse(answer)).toBeTruthy();
    expect(answer.deviations.map(({ kind }) => kind)).toEqual(['hold too hot']);
    expect(answer.deviations[0]!.sentence).toMatch(
      /^The hold at 850 °C \(segment 2\) was 7\.\d ± 1\.\d K too hot for /,
    );
  });

  it('gives hottest, hold, oxygen of air at the gauge, and no deviation of a log that follows its plan', () => {
    const answer = run({
      ...columns,
      pressurePa,
      oxygenShare: 0.21,
      temperatureUK: 1,
      log10Po2U: 0.01,
      plan: { segments },
    });
    expect(answer.hottestC.value).toBeGreaterThan(799);
    expect(answer.holds).toHaveLength(1);
    expect(Math.abs(answer.holds[0]!.meanC.value - 800)).toBeLessThan(2);
    expect(answer.holds[0]!.log10Po2!.value).toBeCloseTo(-3.7, 6);
    expect(answer.deviations).toEqual([]);
    expect(codes(answer)).toEqual(['START_ASSUMED']);
    expect(answer.planOnLog!.temperatureC).toEqual([25, 800, 800, 100]);
  });

  it('takes the logarithm of a gauge for the pressure that it is of', () => {
    const log10PressurePa = pressurePa.map((value) => Math.log10(value));
    const [plain, logarithm] = [{ pressurePa }, { log10PressurePa }].map((pressure) =>
      run({ ...columns, ...pressure, oxygenShare: 0.21 }),
    );
    expect(logarithm!.log10Po2Range!.highest).toBeCloseTo(plain!.log10Po2Range!.highest, 10);
  });

  it('gives no oxygen pressure without the share of oxygen, and says why', () => {
    const answer = run({ ...columns, pressurePa });
    expect(answer.log10Po2Range).toBeNull();
    expect(codes(answer)).toContain('OXYGEN_SHARE_MISSING');
  });

  it('doubts a temperature in kelvin given as degC, and a pressure of a hundred thousand atm', () => {
    const hot = run({ timeS: log.timeS, temperatureC: log.temperatureK.map((value) => value + 500) });
    expect(hot.flags.find(({ code }) => code === 'LOG_UNIT_DOUBT')!.message).toContain('in K?');
    const dense = run({
      ...columns,
      pressurePa: pressurePa.map((value) => value * 101325 * 1e3),
      oxygenShare: 1,
    });
    expect(codes(dense)).toContain('LOG_UNIT_DOUBT');
  });

  it('does not judge the pressure of a planned vacuum, and leaves readings of zero out', () => {
    const plan = { segments: segments.map((segment) => ({ ...segment, toPo2Atm: 0 })) };
    const answer = run({
      ...columns,
      pressurePa: pressurePa.map((value, i) => (i % 2 ? value : 0)),
      oxygenShare: 1,
      plan,
    });
    expect(codes(answer)).toEqual(expect.arrayContaining(['VACUUM_NOT_JUDGED', 'PRESSURE_NOT_POSITIVE']));
    expect(answer.deviations).toEqual([]);
  });

  it('refuses two temperatures, lengths that differ and a plan of no time', () => {
    expect(() => run({ ...columns, temperatureC: log.temperatureK })).toThrow(/both given/);
    expect(() => run({ timeS: log.timeS })).toThrow(/both left out/);
    expect(() => run({ ...columns, pressurePa: [1, 2], oxygenShare: 1 })).toThrow(/2 pressures/);
    expect(() => run({ ...columns, plan: { segments: [{ kind: 'hold', durationS: 0 }] } })).toThrow(
      /lasts 0 s/,
    );
  });
});
