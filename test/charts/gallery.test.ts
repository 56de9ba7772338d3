// Every chart as a stored picture: a change in how a chart looks shows up here. The files are the gallery.
import { describe, expect, it } from 'vitest';
import { curveScene } from '../../src/charts/curve-chart.ts';
import { intervalScene } from '../../src/charts/interval-chart.ts';
import { pathTimeScene } from '../../src/charts/path/path-time-scene.ts';
import { pathPlaneScene, pathScene } from '../../src/charts/path-chart.ts';
import { planeScene } from '../../src/charts/plane/plane-scene.ts';
import type { Scene } from '../../src/charts/scene.ts';
import { svgText } from '../../src/charts/svg-text.ts';
import { triangleScene } from '../../src/charts/ternary/triangle-scene.ts';
import { CURRENT_VOLTAGE, intervals, PATH, STEPS, scanRequest, TRANSITION } from './curve-samples.ts';
import { PATH_TIME } from './path-samples.ts';
import { PLANE } from './plane-samples.ts';
import { FULL_TRIANGLE, oddsHill } from './triangle-samples.ts';

const GALLERY: readonly [string, () => Scene, 'light' | 'dark' | 'print' | 'reader'][] = [
  ['triangle', () => triangleScene(FULL_TRIANGLE), 'light'],
  [
    'triangle-corner-dark',
    () =>
      triangleScene({
        ...FULL_TRIANGLE,
        window: { kind: 'corner', reMin: 0, baMin: 0.1, cuMin: 0.4 },
        size: { width: 420, height: 400 },
      }),
    'dark',
  ],
  [
    'triangle-strip',
    () =>
      triangleScene({
        ...FULL_TRIANGLE,
        odds: oddsHill(50),
        window: { kind: 'strip', reMin: 0, reMax: 0.1, cuMin: 0.4, cuMax: 0.9 },
        size: { width: 640, height: 460 },
      }),
    'light',
  ],
  ['triangle-empty', () => triangleScene({ title: 'Nothing tried yet', rareEarth: 'Gd' }), 'light'],
  ['plane', () => planeScene(PLANE), 'light'],
  [
    'plane-composition-dark',
    () => {
      const { lines: _lines, points: _points, reaction: _reaction, path: _path, ...rest } = PLANE;
      const { x } = PLANE.map!;
      return planeScene({
        ...rest,
        across: { kind: 'composition', from: 'Y 1 : Ba 2 : Cu 3', to: 'Ba 3 : Cu 7' },
        map: { ...PLANE.map!, x: Array.from(x, (_, i) => i / (x.length - 1)) },
        selected: null,
      });
    },
    'dark',
  ],
  ['scan', () => curveScene(scanRequest(1200)), 'light'],
  ['transition-dark', () => curveScene(TRANSITION), 'dark'],
  ['current-voltage', () => curveScene(CURRENT_VOLTAGE), 'print'],
  [
    'curve-empty',
    () =>
      curveScene({
        title: 'Nothing measured yet',
        x: { label: 'Field', unit: 'T' },
        y: { label: 'Moment', unit: 'A m²' },
        series: [],
      }),
    'light',
  ],
  ['path', () => pathScene(PATH), 'reader'],
  ['path-time', () => pathTimeScene({ ...PATH_TIME, caption: 'Liquid read as equilibrium' }), 'reader'],
  ['path-time-dark', () => pathTimeScene({ ...PATH_TIME, film: null, log: null }), 'dark'],
  [
    'path-plane',
    () =>
      pathPlaneScene({
        title: 'The path through temperature and oxygen pressure',
        startC: 25,
        steps: STEPS,
        lines: [
          {
            label: 'a limit',
            temperatureC: [700, 750, 800, 850, 900],
            po2Atm: [1e-4, 4e-4, 1.4e-3, 4e-3, 1.1e-2],
          },
        ],
      }),
    'light',
  ],
  ['intervals', () => intervalScene(intervals(14)), 'light'],
  ['intervals-40-dark', () => intervalScene(intervals(40)), 'dark'],
];

describe('the gallery', () => {
  it.each(GALLERY)('%s is drawn as stored', async (name, scene, theme) => {
    await expect(svgText(scene(), { theme })).toMatchFileSnapshot(`gallery/${name}.svg`);
  });

  it.each(GALLERY)(
    '%s is valid: no NaN, no number of more than three decimals, no text under 11 px',
    (_, scene, theme) => {
      const svg = svgText(scene(), { theme });
      expect(svg).not.toMatch(/NaN|Infinity|undefined/);
      expect(svg.replace(/<(title|desc|text)[^>]*>[^<]*/g, '')).not.toMatch(/\d\.\d{4,}/);
      const sizes = [...svg.matchAll(/font-size="([\d.]+)"/g)].map((match) => Number(match[1]));
      expect(Math.min(...sizes)).toBeGreaterThanOrEqual(11);
    },
  );

  it.each(GALLERY)('%s says in words what it shows', (_, scene) => {
    const { title, description } = scene();
    expect(title.length).toBeGreaterThan(3);
    expect(description).toMatch(/^\S.{15,}\.$/s);
  });
});
