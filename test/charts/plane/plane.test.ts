import { describe, expect, it } from 'vitest';
import { csvText } from '../../../src/charts/csv.ts';
import { joinedChanges } from '../../../src/charts/plane/joined-changes.ts';
import { planeScene } from '../../../src/charts/plane/plane-scene.ts';
import { hitTest, type Mark, targetsOf } from '../../../src/charts/scene.ts';
import { PLANE } from '../plane-samples.ts';

const allMarks = (marks: readonly Mark[]): Mark[] =>
  marks.flatMap((mark) => (mark.kind === 'group' ? allMarks(mark.marks) : [mark]));

describe('planeScene', () => {
  const scene = planeScene(PLANE);

  it('gives the place under a pixel back, and none outside the frame', () => {
    const { frame, placeAt } = scene.scales;
    const at = placeAt(frame.x.at(1e-3), frame.y.at(870))!;
    expect(Math.log10(at.x)).toBeCloseTo(-3, 9);
    expect(at.temperatureC).toBeCloseTo(870, 9);
    expect(placeAt(2, 2)).toBeNull();
  });

  it('makes every published line and point inside the frame reachable with its source', () => {
    const labels = new Map(targetsOf(scene).map(({ target }) => [target.id, target.label]));
    expect(labels.get('bulk-line')).toBe('a line. made up');
    expect(labels.get('film-line')).toBe('a line of films. made up too');
    expect(labels.get('p1')).toBe('a point: 1010 ± 8 °C. made up');
    expect(labels.get('own')).toBe('mine: 760 °C. a notebook');
    expect(labels.has('far')).toBe(false);
    expect(scene.description).toContain('1 point outside the part drawn');
    const { frame } = scene.scales;
    expect(hitTest(scene, frame.x.at(0.21), frame.y.at(1010))?.id).toBe('p1');
  });

  it('tells lines of films and metastable stretches by another dash', () => {
    const lines = allMarks(scene.marks).filter((mark) => mark.kind === 'line');
    const dashes = new Set(
      lines
        .filter((mark) => mark.stroke === 'series1' || mark.stroke === 'series5')
        .map(({ dash }) => String(dash)),
    );
    expect(dashes.size).toBeGreaterThan(1);
    const reaction = lines.filter((mark) => mark.stroke === 'series4' && mark.points.length > 6);
    expect(reaction.map(({ dash }) => dash !== undefined).sort()).toEqual([false, true]);
  });

  it('writes every number with its source into the table', () => {
    const csv = csvText(scene.table);
    const rows = csv.trim().split('\r\n');
    expect(rows[0]).toBe('kind,label,pO₂ (atm),temperature (°C),uncertainty (K),odds,source');
    expect(rows.filter((row) => row.startsWith('odds,'))).toHaveLength(13 * 15);
    expect(rows.filter((row) => row.startsWith('change,'))).toHaveLength(26);
    expect(csv).toContain('bulk point,outside,1,1090,,,made up');
  });

  it('says that nothing is computed yet where there is no map', () => {
    const { map: _map, ...empty } = PLANE;
    const texts = allMarks(planeScene(empty).marks).flatMap((mark) =>
      mark.kind === 'text' ? [mark.text] : [],
    );
    expect(texts).toContain('not computed yet');
  });

  it('refuses a map whose columns and odds do not fit together', () => {
    const map = { ...PLANE.map!, field: [0, 1] };
    expect(() => planeScene({ ...PLANE, map })).toThrow(/hold/);
  });
});

describe('joinedChanges', () => {
  const change = (column: number, temperatureC: number, above = 'b') => ({
    column,
    temperatureC,
    below: 'a',
    above,
  });

  it('joins neighbouring columns between the same two fields and begins anew after a gap', () => {
    const lines = joinedChanges([change(2, 820), change(0, 800), change(1, 810), change(4, 840)], 30);
    expect(lines.map(({ columns }) => columns)).toEqual([[0, 1, 2], [4]]);
    expect(lines[0]!.temperatureC).toEqual([800, 810, 820]);
  });

  it('keeps two changes of one kind in one column apart, each with the line nearest to it', () => {
    const lines = joinedChanges([change(0, 800), change(0, 900), change(1, 905), change(1, 802)], 30);
    expect(lines.map(({ temperatureC }) => temperatureC)).toEqual([
      [800, 802],
      [900, 905],
    ]);
  });

  it('does not join other fields, nor a step that is too far', () => {
    expect(joinedChanges([change(0, 800), change(1, 801, 'c')], 30)).toHaveLength(2);
    expect(joinedChanges([change(0, 800), change(1, 900)], 30)).toHaveLength(2);
  });
});
