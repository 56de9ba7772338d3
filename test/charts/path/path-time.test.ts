import { describe, expect, it } from 'vitest';
import { csvText } from '../../../src/charts/csv.ts';
import { pathOnPlane } from '../../../src/charts/path/path-on-plane.ts';
import { timeText } from '../../../src/charts/path/path-time-request.ts';
import { longestIntervalS, pathTimeScene } from '../../../src/charts/path/path-time-scene.ts';
import { planeScene } from '../../../src/charts/plane/plane-scene.ts';
import type { Mark } from '../../../src/charts/scene.ts';
import { svgText } from '../../../src/charts/svg-text.ts';
import { COMMAND, FILM, PATH_TIME } from '../path-samples.ts';

const flat = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) => (mark.kind === 'group' ? flat(mark.marks) : [mark]));

describe('a path over time', () => {
  const scene = pathTimeScene(PATH_TIME);
  const marks = flat(scene.marks);

  it('is drawn with the command thin and the film bold, in both panels', () => {
    const widths = marks.flatMap((mark) =>
      mark.kind === 'line' && mark.stroke === 'series1' && mark.points.length > 4 ? [mark.strokeWidth] : [],
    );
    expect(widths).toEqual([1, 2.5, 1, 2.5]);
  });

  it('shades likely liquid from 90 to 170 s in both panels', () => {
    const shades = marks.filter((mark) => mark.kind === 'area' && mark.fill === 'series3').slice(0, 2);
    const { temperature } = scene.scales;
    for (const shade of shades) {
      if (shade.kind !== 'area') throw new Error('not an area');
      const ring = shade.rings[0]!;
      expect(ring[0]).toBeCloseTo(temperature.x.at(90), 6);
      expect(ring[2]).toBeCloseTo(temperature.x.at(170), 6);
    }
    expect(shades).toHaveLength(2);
  });

  it('leaves the log open where a reading is missing and where nothing was read for long', () => {
    const log = marks.find(
      (mark) => mark.kind === 'line' && mark.stroke === 'series2' && mark.points.length > 8,
    );
    if (log?.kind !== 'line') throw new Error('no log');
    const gaps = log.points.filter((value, i) => i % 2 === 0 && Number.isNaN(value)).length;
    expect(gaps).toBe(2);
    expect(longestIntervalS(PATH_TIME.log!.timeS)).toBe(50);
    const dots = marks.find((mark) => mark.kind === 'dots' && mark.points.length > 2);
    expect(dots?.kind === 'dots' && dots.points.length / 2).toBe(6);
  });

  it('turns a position back into time', () => {
    const { temperature, timeSAt } = scene.scales;
    expect(timeSAt(temperature.x.at(123))).toBeCloseTo(123, 6);
  });

  it('says in words and in its table what it shows', () => {
    expect(scene.description).toMatch(/5 steps over 6\.67 min: at the film 25 to 800 °C/);
    expect(scene.description).toMatch(/liquid is likely from 90 s to 170 s/);
    const csv = csvText(scene.table);
    expect(csv.split('\r\n')[0]).toBe('course,time (s),surface temperature (°C),log10 pO₂/atm');
    expect(csv).toContain('film,200,800,-3.4');
    expect(csv).toContain('log,20,,');
  });

  it('is drawn without a film, a log or a step, and without NaN', () => {
    const bare = { title: 'None', command: COMMAND, film: null, segments: [] };
    for (const each of [scene, pathTimeScene(bare)])
      expect(svgText(each, { theme: 'light' })).not.toMatch(/NaN|Infinity|undefined/);
    expect(svgText(pathTimeScene(bare), { theme: 'light' })).toContain('no steps');
  });

  it('refuses columns of unlike length', () => {
    expect(() => pathTimeScene({ ...PATH_TIME, film: { ...FILM, timeS: [0, 1] } })).toThrow(/film/);
  });
});

describe('timeText', () => {
  it.each([
    [45, '45 s'],
    [-30, '−30 s'],
    [600, '10 min'],
    [36_000, '10 h'],
  ])('writes %d s as %s', (seconds, text) => {
    expect(timeText(seconds)).toBe(text);
  });
});

describe('a path on the plane', () => {
  const path = pathOnPlane({ label: 'path', command: COMMAND, film: FILM, segments: PATH_TIME.segments });

  it('ends each step where the film is then; steps that end in one place share a number', () => {
    expect(path.ends.map(({ number }) => number)).toEqual(['1, 2, 3', '4', '5']);
    expect(path.ends[1]).toMatchObject({ temperatureC: 800, label: 'end of step 4, hold' });
    expect(path.ends[1]!.x).toBeCloseTo(10 ** -3.4, 9);
    expect(path.command).toHaveLength(6);
    expect(pathOnPlane({ label: 'path', command: COMMAND, film: null, segments: [] }).ends).toEqual([]);
  });

  it('writes the numbers beside the ends that the map shows', () => {
    const scene = planeScene({
      title: 'map',
      across: { kind: 'oxygen', fromAtm: 1e-6, toAtm: 1 },
      temperatureC: [700, 1000],
      path,
    });
    const texts = flat(scene.marks).flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []));
    expect(texts).toContain('1, 2, 3');
    expect(texts).toContain('4');
    expect(texts).not.toContain('5'); // at 25 degC, off the map
    expect(texts).toContain('commanded');
  });
});
