import { describe, expect, it } from 'vitest';
import { alignedToPlan } from '../../../src/science/growth/log-alignment.ts';
import { type LogDeviation, USUAL_TOLERANCES } from '../../../src/science/growth/log-deviation.ts';
import { logDeviations } from '../../../src/science/growth/log-deviations.ts';
import { holdsAndRamps } from '../../../src/science/growth/log-holds.ts';
import { logSeries } from '../../../src/science/growth/log-series.ts';
import { deviationInWords } from '../../../src/science/growth/log-words.ts';
import { placeSegments } from '../../../src/science/growth/path.ts';
import { type LogOptions, randomOf, type SimulatedStep, simulatedLog } from '../../simulate/chamber-log.ts';

const STEPS: SimulatedStep[] = [
  { toC: 850, durationS: 1650, log10Po2: -5 },
  { toC: 850, durationS: 600 },
  { toC: 850, durationS: 1200, log10Po2: -3.7 },
  { toC: 450, durationS: 2400 },
  { toC: 450, durationS: 3600, log10Po2: 0 },
  { toC: 50, durationS: 4000 },
];
const PLAN = placeSegments({ temperatureC: 25, po2Atm: 1e-5 }, [
  { kind: 'ramp', toC: 850, durationS: 1650 },
  { kind: 'hold', durationS: 600 },
  { kind: 'gas', toPo2Atm: 10 ** -3.7, durationS: 0 },
  { kind: 'hold', durationS: 1200 },
  { kind: 'cool', toC: 450, durationS: 2400 },
  { kind: 'gas', toPo2Atm: 1, durationS: 0 },
  { kind: 'hold', durationS: 3600 },
  { kind: 'cool', toC: 50, durationS: 4000 },
]);
const USUAL: LogOptions = {
  seed: 1,
  startC: 25,
  steps: STEPS,
  intervalS: 5,
  noiseK: 0.5,
  noiseDecades: 0.02,
};

function judged(options: Partial<LogOptions> = {}) {
  const log = simulatedLog({ ...USUAL, ...options });
  const series = logSeries(log.timeS, log.temperatureK);
  const shape = holdsAndRamps(series);
  const alignment = alignedToPlan(series, shape.pieces, PLAN);
  const oxygen = {
    timeS: Float64Array.from(log.timeS),
    log10Po2Atm: Float64Array.from(log.log10Po2Atm),
    standardUncertainty: 0.01,
    longestIntervalS: series.longestIntervalS,
  };
  const deviations = logDeviations({
    series,
    shape,
    segments: PLAN,
    alignment,
    tolerances: USUAL_TOLERANCES,
    temperatureUK: 1,
    oxygen,
    isStartAssumed: false,
  });
  return { log, series, shape, alignment, deviations };
}
const changed = (at: number, change: Partial<SimulatedStep>): SimulatedStep[] =>
  STEPS.map((step, i) => (i === at ? { ...step, ...change } : step));
const named = (deviations: readonly LogDeviation[]) =>
  deviations.map(({ kind, firstSegment, lastSegment }) => [kind, firstSegment, lastSegment]);

describe('holds and ramps of a log', () => {
  it('lie within the uncertainty stated for 95 of 100 ends and means, whatever noise, sampling and level', () => {
    const off: number[] = [];
    for (let seed = 1; seed <= 100; seed++) {
      const random = randomOf(1000 + seed);
      const [highC, lowC] = [700 + 200 * random.even(), 300 + 200 * random.even()];
      const steps = [
        { toC: highC, durationS: 600 + 1200 * random.even() },
        { toC: highC, durationS: 600 + 1200 * random.even() },
        { toC: lowC, durationS: 1200 + 2400 * random.even() },
        { toC: lowC, durationS: 1200 + 1200 * random.even() },
        { toC: 50, durationS: 3000 },
      ];
      let total = 0;
      const ends = steps.map(({ durationS }) => {
        total += durationS;
        return total;
      });
      const log = simulatedLog({
        ...USUAL,
        seed,
        steps,
        intervalS: 2 + 8 * random.even(),
        noiseK: 0.2 + random.even(),
        jitter: 0.8,
      });
      const { holds } = holdsAndRamps(logSeries(log.timeS, log.temperatureK));
      expect(holds).toHaveLength(2);
      holds.forEach(({ begin, end, meanK, standardUncertaintyK }, i) => {
        off.push(Math.abs(begin.atS - ends[2 * i]!) / begin.standardUncertaintyS);
        off.push(Math.abs(end.atS - ends[2 * i + 1]!) / end.standardUncertaintyS);
        off.push(Math.abs(meanK - 273.15 - [highC, lowC][i]!) / standardUncertaintyK);
      });
    }
    const within = (limit: number): number => off.filter((value) => value <= limit).length / off.length;
    expect(within(3)).toBeGreaterThan(0.95);
    expect(within(2)).toBeGreaterThan(0.85);
  });

  it('never reach across a gap, and say that their ends there were not seen', () => {
    const gaps = [
      [1800, 2100],
      [5000, 5600],
    ] as const;
    const { shape, series } = judged({ gaps });
    expect(series.gaps).toHaveLength(2);
    for (const { fromS, toS } of series.gaps) {
      for (const hold of shape.holds) expect(hold.begin.atS >= toS || hold.end.atS <= fromS).toBe(true);
      for (const ramp of shape.ramps) expect(ramp.fromS >= toS || ramp.toS <= fromS).toBe(true);
    }
    const before = shape.holds[0]!;
    expect([before.begin.isUnseen, before.end.isUnseen]).toEqual([false, true]);
    expect(shape.holds[1]!.begin).toMatchObject({ isUnseen: true });
  });

  it('move with the clock: shifting all times shifts all that was found, and nothing else', () => {
    const [plain, late] = [judged(), judged({ offsetS: 86_400 })];
    expect(late.alignment.offsetS - plain.alignment.offsetS).toBeCloseTo(86_400, 3);
    expect(late.shape.holds.map(({ begin, end }) => [begin.atS - 86_400, end.atS - 86_400])).toEqual(
      plain.shape.holds.map(({ begin, end }) => [expect.closeTo(begin.atS, 4), expect.closeTo(end.atS, 4)]),
    );
    expect(named(late.deviations)).toEqual(named(plain.deviations));
  });

  it('take the steps of a display of whole degrees for no ramps', () => {
    const { shape } = judged({ noiseK: 0, stepK: 1 });
    expect(shape.holds).toHaveLength(2);
    expect(shape.holds[0]!.meanK).toBeCloseTo(850 + 273.15, 1);
  });

  it('leave a lone wild reading out and say so', () => {
    const log = simulatedLog(USUAL);
    const at = log.timeS.findIndex((timeS) => timeS > 2000);
    log.temperatureK[at] = 1645;
    const { wild } = logSeries(log.timeS, log.temperatureK);
    expect(wild).toEqual([{ atS: log.timeS[at], temperatureK: 1645 }]);
  });

  it('are found in 400,000 readings in seconds', () => {
    const log = simulatedLog({ ...USUAL, intervalS: 0.0337 });
    expect(log.timeS.length).toBeGreaterThan(399_000);
    const began = performance.now();
    const { holds } = holdsAndRamps(logSeries(log.timeS, log.temperatureK));
    expect(performance.now() - began).toBeLessThan(10_000);
    expect(holds.map(({ meanK }) => Math.round(meanK - 273.15))).toEqual([850, 450]);
  });

  it('need three readings', () => {
    expect(() => logSeries([0, 1, 2], [300, Number.NaN, 301])).toThrow(/2 readings/);
    expect(() => logSeries([0, 2, 1], [300, 300, 300])).toThrow(/timeS\[2\] is 1 s after 2 s/);
    expect(() => logSeries([5, 5, 5], [300, 300, 300])).toThrow(/rise/);
  });
});

describe('a log beside its plan', () => {
  it('with noise alone has no deviation named in at least 95 of 100 cases', () => {
    let clean = 0;
    for (let seed = 1; seed <= 100; seed++) {
      const random = randomOf(seed);
      const { deviations } = judged({
        seed,
        intervalS: 1 + 14 * random.even(),
        jitter: random.even(),
        noiseK: 1.2 * random.even(),
        offsetS: 5000 * random.even(),
        idleS: 900 * random.even(),
      });
      if (deviations.length === 0) clean++;
    }
    expect(clean).toBeGreaterThanOrEqual(95);
  });

  it.each([
    ['overshoot', 1, 3, { overshoot: { K: 14, timeS: 80, step: 1 } }],
    ['hold too short', 1, 3, { steps: changed(2, { durationS: 500 }) }],
    ['hold too long', 6, 6, { steps: changed(4, { durationS: 5000 }) }],
    ['ramp too slow', 4, 4, { steps: changed(3, { durationS: 4000 }) }],
    ['ramp too fast', 4, 4, { steps: changed(3, { durationS: 1500 }) }],
    ['too little oxygen', 3, 4, { steps: changed(2, { log10Po2: -4.2 }) }],
  ] as const)('names a %s, and nothing else of the temperature', (kind, first, last, change) => {
    const { deviations } = judged(change as Partial<LogOptions>);
    expect(named(deviations)).toContainEqual([kind, first, last]);
    const others = deviations.filter((each) => each.kind !== kind && !each.kind.includes('oxygen'));
    expect(others).toEqual([]);
  });

  it('gives a hold too hot its size, and a late gas its delay, within three of their uncertainties', () => {
    const hot = judged({ steps: STEPS.map((step, i) => (i < 3 ? { ...step, toC: 858 } : step)) }).deviations;
    expect(named(hot)).toEqual([['hold too hot', 1, 3]]);
    expect(Math.abs(hot[0]!.size!.value - 8) / hot[0]!.size!.standardUncertainty).toBeLessThan(3);
    const steps = STEPS.map((step, i) => ({ ...step, durationS: [1650, 800, 1000, 2400, 3600, 4000][i]! }));
    const late = judged({ steps }).deviations;
    expect(named(late)).toEqual([['oxygen late', 2, 2]]);
    expect(Math.abs(late[0]!.size!.value - 200) / late[0]!.size!.standardUncertainty).toBeLessThan(3);
    expect(deviationInWords(late[0]!, PLAN)).toMatch(
      /^The oxygen of the change of gas at 850 °C \(segment 3\) came [\d.]+ ± [\d.]+ s late, from [\d.]+ min to [\d.]+ min of the log\.$/,
    );
  });

  it('names a temperature that leaves a hold at once and comes back as a dip or an overshoot, not as a short hold', () => {
    for (const [kind, toC] of [
      ['dip', 835],
      ['overshoot', 862],
    ] as const) {
      const steps = [
        ...STEPS.slice(0, 2),
        { toC: 850, durationS: 500, log10Po2: -3.7 },
        { toC, durationS: 0 },
        { toC, durationS: 100 },
        { toC: 850, durationS: 0 },
        { toC: 850, durationS: 600 },
        ...STEPS.slice(3),
      ];
      expect(named(judged({ steps }).deviations)).toEqual([[kind, 1, 3]]);
    }
  });

  it('that swings by 3 K about the command is no overshoot and no long hold, though ramps fall into pieces', () => {
    for (const [amplitude, periodS] of [
      [3, 120],
      [2, 300],
      [3, 300],
    ] as const) {
      const { deviations } = judged({ intervalS: 2, noiseK: 0.3, swing: { K: amplitude, periodS } });
      expect(named(deviations)).toEqual([]);
    }
  });

  it('calls a hold missing only where there are readings that could show it', () => {
    const steps = [...STEPS.slice(0, 3), { toC: 50, durationS: 9000 }];
    expect(named(judged({ steps }).deviations)).toContainEqual(['segment missing', 6, 6]);
    const unseen = named(judged({ gaps: [[5700, 9600]] }).deviations);
    expect(unseen).toContainEqual(['not seen', 6, 6]);
    expect(unseen.flat()).not.toContain('segment missing');
    expect(named(judged({ intervalS: 300 }).deviations)).toEqual([['not seen', 1, 1]]);
  });

  it('finds where the plan began, within three of the uncertainty stated', () => {
    for (let seed = 1; seed <= 20; seed++) {
      const { alignment } = judged({ seed, offsetS: 3333, idleS: 600, jitter: 0.5 });
      const u = Math.hypot(alignment.standardUncertaintyS, 0.5);
      expect(Math.abs(alignment.offsetS - 3333) / u).toBeLessThan(3);
    }
  });
});
