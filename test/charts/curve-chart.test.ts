import { describe, expect, it } from 'vitest';
import { curveScene } from '../../src/charts/curve-chart.ts';
import type { CurveRequest } from '../../src/charts/curve-request.ts';
import { intervalScene } from '../../src/charts/interval-chart.ts';
import { pathScene } from '../../src/charts/path-chart.ts';
import { hitTest, targetsOf } from '../../src/charts/scene.ts';
import { svgText } from '../../src/charts/svg-text.ts';
import { intervals, PATH } from './curve-samples.ts';

const request = (x: number[], y: number[], kind: 'linear' | 'log' | 'sqrt' = 'linear'): CurveRequest => ({
  title: 'A curve',
  x: { label: 'Field', unit: 'T' },
  y: { label: 'Jc', unit: 'A/m²', kind },
  series: [
    { id: 'a', label: 'data', look: 'points', x, y, yU: y.map(() => 0.1) },
    { id: 'b', label: 'fit', look: 'fit', x, y },
  ],
  bands: [{ label: 'band', x, lower: y.map((value) => value / 2), upper: y }],
});

describe('curveScene', () => {
  it.each([
    ['no data', [], []],
    ['one point', [1], [2]],
    ['only missing ones', [1, 2], [Number.NaN, Number.NaN]],
    ['sixty decades', [1, 2, 3], [1e-30, 1, 1e30]],
    ['negative and zero', [1, 2, 3], [-5, 0, 5]],
    ['infinite', [1, 2], [Number.POSITIVE_INFINITY, 1]],
  ])('draws %s on every kind of axis without a broken number', (_, x, y) => {
    for (const kind of ['linear', 'log', 'sqrt'] as const) {
      expect(svgText(curveScene(request(x, y, kind)), { theme: 'light' })).not.toMatch(/NaN|Infinity|e\+/);
    }
  });

  it('says that there is nothing to see where every number is missing', () => {
    const svg = svgText(curveScene(request([1, 2], [Number.NaN, Number.NaN])), { theme: 'light' });
    expect(svg).toContain('>no data</text>');
    expect(curveScene({ ...request([], []), series: [] }).description).toMatch(/no data/);
  });

  it('counts the numbers that a log axis cannot show', () => {
    expect(curveScene({ ...request([1, 2, 3], [0, -1, 10], 'log'), bands: [] }).description).toMatch(
      /4 values cannot be shown/,
    );
  });

  it('breaks the line at a gap', () => {
    const scene = curveScene({
      ...request([], []),
      bands: [],
      series: [{ id: 'a', label: 'a', look: 'line', x: [0, 1, 2, 3, 4], y: [0, 1, Number.NaN, 1, 0] }],
    });
    const paths = [...svgText(scene, { theme: 'light' }).matchAll(/ d="(M[^"Z]*)"/g)].map(
      (match) => match[1]!,
    );
    expect(
      paths.some((path) => (path.match(/M/g) ?? []).length === 2 && (path.match(/L/g) ?? []).length === 2),
    ).toBe(true);
  });

  it('goes back from pixels to numbers in both panels', () => {
    const scene = curveScene({
      ...request([0, 10], [1, 100], 'log'),
      difference: { label: 'Difference', x: [0, 10], y: [-3, 2] },
    });
    const { main, difference } = scene.scales;
    expect(main.x.invert(main.x.at(4))).toBeCloseTo(4, 12);
    expect(main.y.invert(main.y.at(37))).toBeCloseTo(37, 10);
    expect(difference!.y.invert(difference!.y.at(-3))).toBeCloseTo(-3, 12);
    expect(difference!.box.top).toBeGreaterThan(main.box.bottom);
  });

  it('refuses arrays of unlike length and names them', () => {
    const bad = {
      ...request([], []),
      series: [{ id: 'a', label: 'scan 7', look: 'line' as const, x: [1, 2], y: [1] }],
    };
    expect(() => curveScene(bad)).toThrow(/CHART_LENGTHS: scan 7: x holds 2 numbers but y holds 1/);
  });

  it.each([10, Number.NaN, 1e6])('refuses a width of %d px', (width) => {
    expect(() => curveScene({ ...request([], []), size: { width, height: 300 } })).toThrow(
      /CHART_SIZE: The chart's width/,
    );
  });
});

describe('intervalScene', () => {
  it('puts the highest value first and what is not known last', () => {
    const scene = intervalScene(intervals(14));
    const values = Array.from(scene.table.columns[1]!.values as (number | null)[]);
    const known = values.filter((value) => value !== null);
    expect(known).toEqual([...known].sort((a, b) => b - a));
    expect(values.at(-1)).toBeNull();
  });

  it('finds the row under the pointer and the film on it', () => {
    const scene = intervalScene(intervals(14));
    for (const { target, x, y } of targetsOf(scene)) {
      expect(scene.scales.rowAt(y)).toBe(target.id);
      expect(hitTest(scene, x + 1, y)!.id).toBe(target.id);
    }
    expect(scene.scales.rowAt(0)).toBeNull();
  });

  it.each([0, 1, 40])('draws %d films', (count) => {
    const scene = intervalScene(intervals(count));
    expect(svgText(scene, { theme: 'print' })).not.toMatch(/NaN|undefined/);
    expect(targetsOf(scene).length).toBe(count - Math.floor((count + 0) / 9));
  });
});

describe('pathScene', () => {
  it('turns a change of gas into an upright step: time stands still while pO2 jumps', () => {
    const columns = pathScene({ ...PATH, temperatures: [] }).table.columns;
    const time = Array.from(columns[1]!.values as number[]);
    const oxygen = Array.from(columns[3]!.values as number[]);
    const jumps = time.flatMap((at, i) => (i > 0 && oxygen[i] !== oxygen[i - 1] ? [at - time[i - 1]!] : []));
    expect(jumps).toEqual([0, 0]);
    expect(time.at(-1)).toBe(7200);
  });

  it('gives back the time under the pointer in seconds, whatever unit the axis has', () => {
    const { scales } = pathScene(PATH);
    expect(scales.timeSAt(scales.temperature.x.at(40))).toBeCloseTo(2400, 9); // the axis is in minutes
  });

  it('says which steps have no oxygen, since a logarithm cannot show them', () => {
    const scene = pathScene({ ...PATH, steps: [{ kind: 'hold', toC: 800, durationS: 60, po2Atm: 0 }] });
    expect(scene.description).toMatch(/1 step without oxygen/);
    expect(svgText(scene, { theme: 'light' })).not.toMatch(/NaN|Infinity/);
  });

  it('draws a path without a step', () => {
    expect(svgText(pathScene({ title: 'None', startC: 25, steps: [] }), { theme: 'light' })).toContain(
      '>no steps</text>',
    );
  });
});
