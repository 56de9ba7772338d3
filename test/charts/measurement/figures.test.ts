import { describe, expect, it } from 'vitest';
import { curveScene } from '../../../src/charts/curve-chart.ts';
import type {
  LogAnswer,
  LoopAnswer,
  ResistiveAnswer,
  ScanAnswer,
  VoltageAnswer,
} from '../../../src/charts/measurement/answers.ts';
import { logDeviationSentences, logFigures } from '../../../src/charts/measurement/chamber-log.ts';
import { voltageFigure } from '../../../src/charts/measurement/current-voltage.ts';
import { scanFigure } from '../../../src/charts/measurement/diffraction.ts';
import { loopFigures } from '../../../src/charts/measurement/loop.ts';
import { resultRows } from '../../../src/charts/measurement/results.ts';
import { storedCurve } from '../../../src/charts/measurement/stored-curve.ts';
import { resistanceFigure, transitionWindow } from '../../../src/charts/measurement/transition.ts';
import { currentLoop } from '../../../src/computations/current/loop.ts';
import { currentVoltage } from '../../../src/computations/current/voltage.ts';
import { diffractionScan } from '../../../src/computations/diffraction/scan.ts';
import { growthLog } from '../../../src/computations/growth/log.ts';
import { transitionResistive } from '../../../src/computations/transition/resistive.ts';

interface Entry {
  request: { parse(request: unknown): unknown };
  example: unknown;
  run(request: never): unknown;
}

/** An entry's example as a page gets it: the response over the wire, the arrays of the request as columns. */
function viewOf(entry: Entry, changes: Record<string, unknown> = {}) {
  const request = { ...(entry.example as Record<string, unknown>), ...changes };
  const response = entry.run(entry.request.parse(request) as never);
  const wire = JSON.parse(
    JSON.stringify(response, (_, value) => (ArrayBuffer.isView(value) ? Array.from(value as never) : value)),
  );
  const columns = Object.entries(request).filter(([, value]) => Array.isArray(value));
  return {
    measurement: { body: { label: 'D01', settings: {} } },
    analysis: { body: { failure: null as unknown, request, response: wire } },
    roles: columns.map(([role]) => role),
    columns: columns.map(([, values]) => values as number[]),
  };
}

describe('the figure of a scan', () => {
  const curve = storedCurve<ScanAnswer>(viewOf(diffractionScan));
  const look = { scale: 'log' as const, windowDeg: null };

  it('shows counts, background and fit, with the difference in the same counts', () => {
    const { request } = scanFigure(curve, look)!;
    expect(request.series.map(({ id }) => id)).toEqual(['measured', 'background', 'fit']);
    const [measured, , fit] = request.series;
    expect(request.difference!.y[100]).toBeCloseTo(measured!.y[100]! - fit!.y[100]!, 9);
    expect(curveScene(request).description).toContain('fit');
  });

  it('puts the lines of each phase in a row of its own, named by their indices', () => {
    const rows = scanFigure(curve, look)!.request.tickRows!;
    const film = rows.find(({ label }) => label === '123')!;
    expect(film.ticks.map(({ label }) => label)).toContain('005');
    expect(rows.every(({ label }) => !label.includes('('))).toBe(true);
  });

  it('leaves out what lies outside the part shown, so that weak lines there get the height', () => {
    const { request } = scanFigure(curve, { ...look, windowDeg: [30, 34] })!;
    const { x } = request.series[0]!;
    expect(Math.min(...Array.from(x))).toBeGreaterThanOrEqual(30);
    expect(Math.max(...Array.from(x))).toBeLessThanOrEqual(34);
    expect(request.tickRows!.flatMap(({ ticks }) => ticks).every(({ x: at }) => at >= 30 && at <= 34)).toBe(
      true,
    );
  });
});

describe('the figure of a resistance', () => {
  const view = viewOf(transitionResistive);
  const answer = view.analysis.body.response as ResistiveAnswer;

  it('marks zero, 10, 50, 90 % and onset where they were read, and draws the normal line through its window', () => {
    const { request } = resistanceFigure(storedCurve(view), 'whole curve')!;
    expect(request.verticals).toContainEqual({ x: answer.t50!.value, label: '50 %' });
    expect(request.verticals).toHaveLength(5);
    const line = request.series[1]!;
    const { interceptOhm, slopeOhmPerK, toK } = answer.baseline!;
    expect(line.x[1]).toBe(toK);
    expect(line.y[1]).toBeCloseTo(interceptOhm + slopeOhmPerK * toK, 9);
  });

  it('shows every mark and the kelvin around them where only the transition is wanted', () => {
    const { request } = resistanceFigure(storedCurve(view), 'transition')!;
    const [from, to] = request.x.domain!;
    for (const { x } of request.verticals!) {
      expect(x).toBeGreaterThan(from);
      expect(x).toBeLessThan(to);
    }
  });

  it('shows the whole curve where nothing was read, and the bare curve where the reduction failed', () => {
    expect(transitionWindow([])).toBeNull();
    const failed = { ...view, analysis: { body: { ...view.analysis.body, failure: { code: 'X' } } } };
    const { request } = resistanceFigure(storedCurve(failed), 'transition')!;
    expect(request.series.map(({ id }) => id)).toEqual(['measured']);
    expect(request.x.domain).toBeUndefined();
  });
});

describe('the figure of a current-voltage curve', () => {
  const view = viewOf(currentVoltage);
  const answer = view.analysis.body.response as VoltageAnswer;

  it('lets criterion, fit and Ic meet in one point: 1 uV/cm over 1 mm is 0.1 uV', () => {
    const { request } = voltageFigure(storedCurve(view), false)!;
    const level = request.levels![0]!.y;
    expect(level).toBeCloseTo(0.1 + answer.offset!.value * 1e6, 12);
    // the power law alone has the criterion's voltage at Ic; offset and ohmic part come on top
    const ohmicMicrovolt = answer.ohmic!.value * answer.ic!.value * 1e6;
    const fit = request.series.find(({ id }) => id === 'fit')!;
    const at = Array.from(fit.x).findIndex((x) => x >= answer.ic!.value);
    const share = (answer.ic!.value - fit.x[at - 1]!) / (fit.x[at]! - fit.x[at - 1]!);
    const atIc = fit.y[at - 1]! + share * (fit.y[at]! - fit.y[at - 1]!);
    expect(atIc / (level + ohmicMicrovolt)).toBeCloseTo(1, 1); // straight between two rows of a steep curve
  });

  it('takes the offset off and draws sizes where both axes are in logarithms', () => {
    const { request } = voltageFigure(storedCurve(view), true)!;
    expect(request.y.kind).toBe('log');
    const { voltageV } = currentVoltage.example as { voltageV: number[] };
    const last = voltageV.length - 1;
    expect(request.series[0]!.y[last]).toBeCloseTo(
      Math.abs(voltageV[last]! - answer.offset!.value) * 1e6,
      12,
    );
  });

  it('draws the fit by rising current, though the ramp turned back', () => {
    const { currentA, voltageV } = currentVoltage.example as { currentA: number[]; voltageV: number[] };
    const turned = viewOf(currentVoltage, {
      currentA: [...currentA, ...currentA.toReversed()],
      voltageV: [...voltageV, ...voltageV.toReversed()],
    });
    const fit = voltageFigure(storedCurve(turned), false)!.request.series.find(({ id }) => id === 'fit')!;
    const x = Array.from(fit.x);
    expect(x).toEqual([...x].sort((one, other) => one - other));
  });
});

describe('the figures of a loop', () => {
  const view = viewOf(currentLoop);

  it('turn A m2 into emu and A/m2 into MA/cm2, and keep rounded points apart', () => {
    const [loop, density] = loopFigures(storedCurve<LoopAnswer>(view));
    const { momentAmpereM2 } = currentLoop.example as { momentAmpereM2: number[] };
    expect(loop!.request.series[0]!.y[0]).toBeCloseTo(momentAmpereM2[0]! * 1e3, 12);
    const answer = view.analysis.body.response as LoopAnswer;
    const sharp = answer.points.filter(({ isRounded }) => !isRounded);
    expect(density!.request.series.map(({ id }) => id)).toEqual(['jc', 'rounded']);
    expect(density!.request.series[0]!.y[0]).toBeCloseTo(sharp[0]!.jc.value * 1e-10, 9);
  });
});

describe('the rows of results', () => {
  it('begin with what the kind is taken for, each number with its uncertainty and the unit of the trade', () => {
    const rowsOf = (entry: Entry, kind: Parameters<typeof resultRows>[0], changes = {}) =>
      resultRows(kind, viewOf(entry, changes).analysis.body.response);
    expect(rowsOf(diffractionScan, 'diffraction scan')[0]).toMatchObject({
      label: 'c axis',
      isMissing: false,
      text: expect.stringMatching(/^11\.\d+ ± 0\.\d+ Å$/),
    });
    expect(rowsOf(currentVoltage, 'current-voltage')[1]).toMatchObject({
      label: 'Jc',
      text: '3.20 ± 0.14 MA/cm²',
    });
  });

  it('say a bound as a bound where the criterion was not reached', () => {
    const { currentA, voltageV } = currentVoltage.example as { currentA: number[]; voltageV: number[] };
    const short = viewOf(currentVoltage, { currentA: currentA.slice(0, 8), voltageV: voltageV.slice(0, 8) });
    const [ic, jc] = resultRows('current-voltage', short.analysis.body.response);
    expect(ic!.text).toMatch(/^> 0\.3\d* A: the criterion was not reached$/);
    expect(jc).toMatchObject({ isMissing: true, text: 'not given' });
  });
});

describe('the figures of a chamber log', () => {
  const times = Array.from({ length: 200 }, (_, i) => i * 5 + (i > 100 ? 300 : 0));
  const view = viewOf(growthLog, {
    timeS: times,
    temperatureC: undefined,
    temperatureK: times.map((_, i) => 1000 + (i % 3) * 0.1),
    pressurePa: times.map(() => 20),
    oxygenShare: 1,
    plan: undefined,
  });

  it('draw no line across a gap, the holds that were found, and the oxygen pressure in a figure of its own', () => {
    const [temperature, pressure] = logFigures(storedCurve<LogAnswer>(view));
    const logged = temperature!.request.series.find(({ id }) => id === 'measured')!;
    const holes = Array.from(logged.y).filter((value) => Number.isNaN(value));
    expect(holes).toHaveLength(1);
    expect(logged.y.length).toBe(201);
    const holds = temperature!.request.series.find(({ id }) => id === 'holds')!;
    expect(holds.y[0]).toBeCloseTo(1000.1 - 273.15, 1);
    expect(pressure!.request.y).toMatchObject({ label: 'pO\u2082', unit: 'atm', kind: 'log' });
    expect(pressure!.request.series[0]!.y[0]).toBeCloseTo(20 / 101325, 10);
    expect(curveScene(temperature!.request).description).toContain('holds found');
  });

  it('stand beside the hottest reading and the holds, and no sentence where there was no plan', () => {
    const answer = view.analysis.body.response;
    expect(logDeviationSentences(answer)).toBeNull();
    const rows = resultRows('chamber log', answer);
    expect(rows[0]!.label).toBe('Hottest');
    expect(rows.filter(({ label }) => label.startsWith('Hold'))).toHaveLength(2);
    expect(rows.find(({ label }) => label.startsWith('Hold 1'))!.text).toContain('at least');
    expect(new Set(rows.map(({ label }) => label)).size).toBe(rows.length);
  });
});
