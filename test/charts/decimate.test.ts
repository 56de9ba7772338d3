import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { curveScene } from '../../src/charts/curve-chart.ts';
import { thinnedDots, thinnedLine } from '../../src/charts/decimate.ts';
import { svgText } from '../../src/charts/svg-text.ts';

const point = fc.tuple(
  fc.double({ min: 0, max: 30, noNaN: true }),
  fc.oneof(
    { weight: 9, arbitrary: fc.double({ min: -50, max: 50, noNaN: true }) },
    { weight: 1, arbitrary: fc.constant(Number.NaN) },
  ),
);

describe('thinnedLine', () => {
  it('keeps the first, last, lowest and highest of every pixel column, in order', () => {
    fc.assert(
      fc.property(fc.array(point, { maxLength: 400 }), (points) => {
        const sorted = [...points].sort((a, b) => a[0] - b[0]);
        const x = sorted.map(([at]) => at);
        const y = sorted.map(([, value]) => value);
        const kept = thinnedLine(x, y);
        expect(kept).toEqual([...new Set(kept)].sort((a, b) => a - b));
        const extremes = (indices: number[]) => {
          const columns = new Map<number, [number, number]>();
          for (const i of indices) {
            if (Number.isNaN(y[i]!)) continue;
            const column = Math.floor(x[i]! / 0.5);
            const [low, high] = columns.get(column) ?? [Infinity, -Infinity];
            columns.set(column, [Math.min(low, y[i]!), Math.max(high, y[i]!)]);
          }
          return [...columns].sort((a, b) => a[0] - b[0]);
        };
        expect(extremes(kept)).toEqual(extremes(x.map((_, i) => i)));
      }),
    );
  });

  it('keeps every gap a gap: two points on either side of a missing one are never joined', () => {
    const kept = thinnedLine([0, 0.1, 0.2, 0.3], [1, Number.NaN, Number.NaN, 2]);
    expect(kept).toEqual([0, 1, 3]);
  });

  it('keeps the way round of a loop, whose x goes forth and back', () => {
    const x = [0, 5, 10, 5, 0];
    expect(thinnedLine(x, [0, 1, 2, 3, 4])).toEqual([0, 1, 2, 3, 4]);
  });
});

describe('thinnedDots', () => {
  it('leaves a dot in every half pixel that held one, and only one', () => {
    fc.assert(
      fc.property(fc.array(point, { maxLength: 400 }), (points) => {
        const cell = ([x, y]: readonly [number, number]) => `${Math.floor(x / 0.5)} ${Math.floor(y / 0.5)}`;
        const shown = points.filter(([, y]) => !Number.isNaN(y));
        const kept = thinnedDots(
          points.map(([x]) => x),
          points.map(([, y]) => y),
        ).map((i) => cell(points[i]!));
        expect([...kept].sort()).toEqual([...new Set(shown.map(cell))].sort());
      }),
    );
  });
});

describe('a dense curve', () => {
  const n = 50_000;
  const x = Float64Array.from({ length: n }, (_, i) => i);
  const y = x.map((i) => Math.sin(i / 300) + (i === 31_337 ? 40 : 0));
  const scene = curveScene({
    title: 'One spike in fifty thousand points',
    x: { label: 'Time', unit: 's' },
    y: { label: 'Signal', unit: 'V' },
    series: [{ id: 'a', label: 'signal', look: 'line', x, y }],
  });

  it('takes no more text than the picture is wide, and still shows its one spike', () => {
    const svg = svgText(scene, { theme: 'light' });
    expect(svg.length).toBeLessThan(120_000);
    const path = [...svg.matchAll(/ d="(M[^"]*)"/g)]
      .map((match) => match[1]!)
      .sort((a, b) => b.length - a.length)[0]!;
    const highest = Math.min(
      ...path
        .split(/[ML]/)
        .slice(1)
        .map((pair) => Number(pair.split(',')[1])),
    );
    expect(highest).toBeCloseTo(scene.scales.main.y.at(40 + Math.sin(31_337 / 300)), 2);
  });

  it('keeps every number in its table', () => {
    expect(scene.table.columns[2]!.values.length).toBe(n);
    expect(scene.table.columns[2]!.values[31_337]).toBe(y[31_337]);
  });

  it('finds the datum under the pointer', () => {
    const { main, nearest } = scene.scales;
    const found = nearest(main.x.at(31_337), main.y.at(y[31_337]!));
    expect(found).toMatchObject({ seriesId: 'a', index: 31_337, x: 31_337 });
    expect(nearest(-500, -500)).toBeNull();
  });
});
