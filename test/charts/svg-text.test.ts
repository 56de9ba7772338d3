import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { curveScene } from '../../src/charts/curve-chart.ts';
import { intervalScene } from '../../src/charts/interval-chart.ts';
import { pathScene } from '../../src/charts/path-chart.ts';
import { escapeXml, svgText } from '../../src/charts/svg-text.ts';
import { triangleScene } from '../../src/charts/ternary/triangle-scene.ts';
import { figurePng } from '../../src/reports/figure-png.ts';
import { PATH } from './curve-samples.ts';
import { FULL_TRIANGLE } from './triangle-samples.ts';

const HOSTILE = '<script>alert("1")</script> & \'x\' \u0000\u0007\u001b]]>';

describe('escapeXml', () => {
  it('leaves no sign that opens or closes anything, and none that XML forbids', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const escaped = escapeXml(text);
        expect(escaped.replace(/&(amp|lt|gt|quot|#39);/g, '')).not.toMatch(/[<>"'&]/);
        // biome-ignore lint/suspicious/noControlCharactersInRegex: they must not be there
        expect(escaped).not.toMatch(/[\u0000-\u0008\u000b\u000c\u000e-\u001f]/);
      }),
    );
  });

  it('leaves plain and far-off scripts as they are, and replaces half of a pair', () => {
    expect(escapeXml('Jc µ₀ 𝛽 日本')).toBe('Jc µ₀ 𝛽 日本');
    expect(escapeXml('a\ud800b')).toBe('a\ufffdb');
  });
});

describe('svgText', () => {
  const hostile = curveScene({
    title: HOSTILE,
    x: { label: HOSTILE, unit: HOSTILE },
    y: { label: HOSTILE, unit: HOSTILE },
    series: [{ id: HOSTILE, label: HOSTILE, look: 'points', x: [1, 2], y: [3, 4] }],
    verticals: [{ x: 1.5, label: HOSTILE }],
    notes: [{ x: 1, y: 3, label: HOSTILE }],
  });

  it('writes a hostile label as text in every place', () => {
    const svg = svgText(hostile, { theme: 'light' });
    expect(svg).not.toContain('<script');
    // The drawing program refuses a document that is not well formed.
    expect(figurePng(svg, 1).length).toBeGreaterThan(1000);
  });

  it('does so for films and rows too', () => {
    const film = { ...FULL_TRIANGLE.films![0]!, label: HOSTILE, note: HOSTILE };
    const triangle = triangleScene({
      ...FULL_TRIANGLE,
      rareEarth: HOSTILE,
      caption: HOSTILE,
      films: [film],
      namedFilmIds: [film.id],
    });
    const row = { id: 'a', label: HOSTILE, value: 1, standardUncertainty: 0.1 };
    const rows = intervalScene({ title: HOSTILE, quantity: { label: HOSTILE, unit: HOSTILE }, rows: [row] });
    for (const scene of [triangle, rows]) {
      const svg = svgText(scene, { theme: 'dark', idPrefix: 'p-' });
      expect(svg).not.toContain('<script');
      expect(figurePng(svg, 1).length).toBeGreaterThan(1000);
    }
  });

  it('cuts a very long name and keeps the whole of it in a title', () => {
    const long = `film ${'of a long series '.repeat(40)}end`;
    const scene = intervalScene({
      title: 'Long names',
      quantity: { label: 'Jc', unit: 'MA/cm²' },
      rows: [{ id: 'a', label: long, value: 1, standardUncertainty: null }],
    });
    const svg = svgText(scene, { theme: 'light' });
    expect(svg).toContain(`<title>${long}</title>film of a long`);
    expect(svg).toMatch(/film of a long[^<]{0,30}…<\/text>/);
  });

  it('is an image with a name and a description, whose ids carry the prefix', () => {
    const svg = svgText(pathScene(PATH), { theme: 'page', idPrefix: 'fig3-' });
    expect(svg).toMatch(/role="img" aria-labelledby="fig3-title fig3-desc"/);
    expect(svg).toContain('<title id="fig3-title">Heat and gas path of treatment A2</title>');
    for (const [, id] of svg.matchAll(/ id="([^"]+)"/g)) expect(id).toMatch(/^fig3-/);
    for (const [, id] of svg.matchAll(/url\(#([^)]+)\)/g)) expect(svg).toContain(` id="${id}"`);
  });

  it('leaves its colours to the page, to the reader, or to one theme', () => {
    const scene = pathScene(PATH);
    expect(svgText(scene, { theme: 'page' })).toMatch(/fill="var\(--chart-ink, #18212c\)"/);
    expect(svgText(scene, { theme: 'reader' })).toContain('@media (prefers-color-scheme:dark)');
    expect(svgText(scene, { theme: 'dark' })).not.toContain('var(');
  });
});
