import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { oddsMesh, oddsRegion } from '../../../src/charts/odds/odds-regions.ts';
import { hitTest, targetsOf } from '../../../src/charts/scene.ts';
import { svgText } from '../../../src/charts/svg-text.ts';
import { placeFilms } from '../../../src/charts/ternary/film-marks.ts';
import { triangleScene } from '../../../src/charts/ternary/triangle-scene.ts';
import {
  compositionOf,
  stretchOf,
  type TriangleWindow,
  triangleView,
  WHOLE_TRIANGLE,
} from '../../../src/charts/ternary/triangle-view.ts';
import { FULL_TRIANGLE, films, oddsHill } from '../triangle-samples.ts';

const FRAME = { left: 40, right: 640, top: 30, bottom: 560 };
const CORNER: TriangleWindow = { kind: 'corner', reMin: 0.05, baMin: 0.1, cuMin: 0.4 };
const STRIP: TriangleWindow = { kind: 'strip', reMin: 0, reMax: 0.02, cuMin: 0.5, cuMax: 0.8 };
const WINDOWS = [
  ['the whole triangle', WHOLE_TRIANGLE],
  ['a corner', CORNER],
  ['a strip', STRIP],
] as const;
const amount = fc.double({ min: 0, max: 1, noNaN: true });

describe('triangleView', () => {
  it.each(WINDOWS)('brings every composition back from its point in %s within 1e-12', (_, window) => {
    const view = triangleView(window, FRAME);
    fc.assert(
      fc.property(amount, amount, amount, (re, ba, cu) => {
        fc.pre(re + ba + cu > 1e-6);
        const at = compositionOf(re, ba, cu);
        const { x, y } = view.project(at);
        const back = view.invert(x, y);
        for (const cation of ['re', 'ba', 'cu'] as const) {
          expect(Math.abs(back[cation] - at[cation])).toBeLessThan(1e-12);
        }
      }),
    );
  });

  it('draws the whole triangle with equal sides, RE on top, Ba left, Cu right', () => {
    const [re, ba, cu] = triangleView(WHOLE_TRIANGLE, FRAME).outline as [P, P, P];
    const side = (a: P, b: P) => Math.hypot(a.x - b.x, a.y - b.y);
    expect(side(re, ba)).toBeCloseTo(side(ba, cu), 9);
    expect(side(re, cu)).toBeCloseTo(side(ba, cu), 9);
    expect(re.y).toBeLessThan(ba.y);
    expect(ba.x).toBeLessThan(cu.x);
  });

  it('puts the middle of two compositions in the middle of their points: straight lines stay straight', () => {
    const view = triangleView(STRIP, FRAME);
    const [a, b] = [compositionOf(1, 40, 59), compositionOf(0.2, 30, 70)];
    const middle = view.project({ re: (a.re + b.re) / 2, ba: (a.ba + b.ba) / 2, cu: (a.cu + b.cu) / 2 });
    const [pa, pb] = [view.project(a), view.project(b)];
    expect(middle.x).toBeCloseTo((pa.x + pb.x) / 2, 9);
    expect(middle.y).toBeCloseTo((pa.y + pb.y) / 2, 9);
  });

  it('says how much a strip is stretched, and the axis repeats it', () => {
    expect(stretchOf(triangleView(STRIP, FRAME))).toBeCloseTo(530 / 0.02 / (600 / 0.3), 9);
    expect(
      svgText(triangleScene({ title: 'Melt', rareEarth: 'Y', window: STRIP }), { theme: 'light' }),
    ).toMatch(/Y, at% \(drawn \d+ times the Cu scale\)/);
  });

  it('cuts a strip where Ba would be negative', () => {
    const view = triangleView({ kind: 'strip', reMin: 0, reMax: 0.2, cuMin: 0.6, cuMax: 0.9 }, FRAME);
    for (const { x, y } of view.outline) expect(view.invert(x, y).ba).toBeGreaterThan(-1e-12);
    expect(view.outline.length).toBe(5);
  });

  it.each([
    { ...CORNER, reMin: 0.6 },
    { ...STRIP, reMax: 0 },
    { ...STRIP, cuMax: Number.NaN },
  ])('refuses the window %o', (window) => {
    expect(() => triangleView(window as TriangleWindow, FRAME)).toThrow(/CHART_WINDOW/);
  });

  it.each([
    [-1, 1, 1],
    [0, 0, 0],
    [Number.NaN, 1, 1],
  ])('refuses the composition %d, %d, %d', (re, ba, cu) => {
    expect(() => compositionOf(re, ba, cu)).toThrow(/CHART_COMPOSITION/);
  });
});

interface P {
  x: number;
  y: number;
}

/** Signed area of a ring in (Cu, RE), by the shoelace sum. */
function area(path: readonly number[]): number {
  let sum = 0;
  const n = path.length / 2;
  for (let i = 0; i < n; i++) {
    const j = (i + 1) % n;
    sum += path[2 * i + 1]! * path[2 * j]! - path[2 * j + 1]! * path[2 * i]!;
  }
  return sum / 2;
}

const mapOf = (n: number, odds: (re: number, cu: number) => number) => {
  const hill = oddsHill(n);
  const values = Array.from(hill.re, (re, i) => odds(re, hill.cu[i]!));
  return { ...hill, odds: values };
};

describe('oddsRegion', () => {
  it('is the whole triangle at level 0 and nothing above the highest odds', () => {
    const mesh = oddsMesh(oddsHill(20));
    expect(Math.abs(oddsRegion(mesh, 0).rings.reduce((sum, ring) => sum + area(ring), 0))).toBeCloseTo(
      0.5,
      12,
    );
    expect(oddsRegion(mesh, 0).contours).toEqual([]);
    expect(oddsRegion(mesh, 1).rings).toEqual([]);
  });

  it('cuts odds that rise evenly with Cu at the very line: the area is exact', () => {
    const mesh = oddsMesh(mapOf(17, (_, cu) => cu));
    for (const level of [0.1, 0.35, 0.5, 0.9]) {
      const { rings, contours } = oddsRegion(mesh, level);
      expect(Math.abs(rings.reduce((sum, ring) => sum + area(ring), 0))).toBeCloseTo(
        (1 - level) ** 2 / 2,
        10,
      );
      for (const contour of contours)
        for (let i = 1; i < contour.length; i += 2) expect(contour[i]).toBeCloseTo(level, 12);
    }
  });

  it('follows a round hill: the area of the half-odds region is that of the ellipse', () => {
    const [a, b] = [0.1, 0.12];
    const mesh = oddsMesh(
      mapOf(160, (re, cu) => Math.exp(-(((re - 0.3) / a) ** 2 + ((cu - 0.35) / b) ** 2) / 2)),
    );
    const { rings, contours } = oddsRegion(mesh, 0.5);
    expect(rings.length).toBe(1);
    expect(contours.length).toBe(1);
    const exact = Math.PI * a * b * 2 * Math.log(2);
    expect(Math.abs(Math.abs(area(rings[0]!)) / exact - 1)).toBeLessThan(2e-3); // straight pieces of 1/160
  });

  it('leaves a hole in the shading where odds are low inside, turned the other way', () => {
    const mesh = oddsMesh(mapOf(60, (re, cu) => Math.min(1, ((re - 0.3) ** 2 + (cu - 0.3) ** 2) * 40)));
    const areas = oddsRegion(mesh, 0.5)
      .rings.map(area)
      .sort((x, y) => Math.abs(x) - Math.abs(y));
    expect(areas.length).toBe(2);
    expect(Math.sign(areas[0]!)).toBe(-Math.sign(areas[1]!));
  });

  it('leaves missing nodes blank, whatever order the nodes come in', () => {
    const map = mapOf(12, (re) => (re > 0.5 ? Number.NaN : 1));
    const whole = Math.abs(oddsRegion(oddsMesh(map), 0.5).rings.reduce((sum, ring) => sum + area(ring), 0));
    expect(whole).toBeCloseTo(0.5 - 0.5 ** 2 / 2, 12);
    const flip = (values: ArrayLike<number>) => Array.from(values).reverse();
    const reversed = { re: flip(map.re), ba: flip(map.ba), cu: flip(map.cu), odds: flip(map.odds) };
    const again = oddsRegion(oddsMesh(reversed), 0.5).rings.reduce((sum, ring) => sum + area(ring), 0);
    expect(Math.abs(again)).toBeCloseTo(whole, 12);
  });

  it('takes a grid with unlike steps in RE and Cu, as a strip has', () => {
    const nodes = Array.from({ length: 11 * 21 }, (_, i) => ({
      re: (i % 11) * 0.002,
      cu: 0.5 + Math.floor(i / 11) * 0.01,
    }));
    const mesh = oddsMesh({
      re: nodes.map(({ re }) => re),
      cu: nodes.map(({ cu }) => cu),
      ba: nodes.map(({ re, cu }) => 1 - re - cu),
      odds: nodes.map(({ re }) => re / 0.02),
    });
    const half = oddsRegion(mesh, 0.5).rings.reduce((sum, ring) => sum + area(ring), 0);
    expect(Math.abs(half)).toBeCloseTo(0.2 * 0.01, 10);
  });

  it('refuses nodes off the grid', () => {
    expect(() =>
      oddsMesh({ re: [0, 0.1, 0.17], ba: [0.5, 0.4, 0.33], cu: [0.5, 0.5, 0.5], odds: [1, 1, 1] }),
    ).toThrow(/CHART_GRID/);
  });
});

describe('placeFilms', () => {
  const view = triangleView(WHOLE_TRIANGLE, FRAME);

  it('leaves a lone film on its composition and never lets two marks cover each other', () => {
    expect(placeFilms(films(1), view.project)[0]!.drawn).toEqual(view.project(films(1)[0]!.at));
    const placed = placeFilms(films(40), view.project);
    for (const [i, a] of placed.entries()) {
      for (const b of placed.slice(i + 1)) {
        expect(Math.hypot(a.drawn.x - b.drawn.x, a.drawn.y - b.drawn.y)).toBeGreaterThan(8);
      }
    }
  });

  it('gives the same places every time', () => {
    expect(placeFilms(films(40), view.project)).toEqual(placeFilms(films(40), view.project));
  });
});

describe('triangleScene', () => {
  const scene = triangleScene(FULL_TRIANGLE);

  it('makes every one of 40 films and 3 proposals reachable under its own id', () => {
    const targets = targetsOf(scene);
    expect(new Set(targets.map(({ target }) => target.id)).size).toBe(43);
    for (const { target, x, y } of targets) expect(hitTest(scene, x, y)!.id).toBe(target.id);
  });

  it('tells in words how many films pass and where the odds are highest', () => {
    expect(scene.description).toMatch(/40 films: 14 pass, 13 fall short, 13 cannot be judged/);
    expect(scene.description).toMatch(/highest, 0\.97, at Y 10\.0 Ba 35\.0 Cu 55\.0 at%/);
  });

  it('turns a click into the composition under it', () => {
    const at = compositionOf(1, 2, 3);
    const { x, y } = scene.scales.project(at);
    expect(scene.scales.invert(x, y).cu).toBeCloseTo(0.5, 12);
  });

  it('leaves out what lies outside the window, and says how much', () => {
    const strip = triangleScene({ ...FULL_TRIANGLE, window: STRIP });
    expect(targetsOf(strip).length).toBe(0);
    expect(strip.description).toMatch(/43 marks outside the part drawn/);
  });

  it('draws no films, and odds that are all missing', () => {
    const none = triangleScene({
      ...FULL_TRIANGLE,
      films: [],
      proposals: [],
      odds: { ...oddsHill(5), odds: new Array(21).fill(Number.NaN) },
    });
    expect(none.description).toMatch(/not known anywhere/);
    expect(svgText(none, { theme: 'light' })).not.toMatch(/NaN/);
  });

  it('names the benchmark and writes only the names asked for', () => {
    const svg = svgText(scene, { theme: 'light' });
    expect(svg).toMatch(/<title>S104, [^<]*benchmark<\/title>/);
    expect(svg.match(/>S1\d\d<\/text>/g) ?? []).toEqual(['>S104</text>']);
  });
});
