import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { curveScene } from '../../src/charts/curve-chart.ts';
import { pathScene } from '../../src/charts/path-chart.ts';
import { ChartView } from '../../src/charts/react-scene.tsx';
import { svgText } from '../../src/charts/svg-text.ts';
import { triangleScene } from '../../src/charts/ternary/triangle-scene.ts';
import { PATH, TRANSITION } from './curve-samples.ts';
import { FULL_TRIANGLE } from './triangle-samples.ts';

const pathsOf = (markup: string) =>
  [...markup.matchAll(/<path[^>]* d="([^"]+)"/g)].map((match) => match[1]!).sort();

describe('ChartView', () => {
  it.each([
    ['a triangle', triangleScene(FULL_TRIANGLE)],
    ['a curve', curveScene(TRANSITION)],
    ['a path', pathScene(PATH)],
  ])('draws the same paths of %s as the SVG text', (_, scene) => {
    const view = renderToStaticMarkup(createElement(ChartView, { scene }));
    expect(pathsOf(view)).toEqual(pathsOf(svgText(scene, { theme: 'page' })));
  });

  it('is one image with a name and a description while nothing can be chosen', () => {
    const view = renderToStaticMarkup(createElement(ChartView, { scene: triangleScene(FULL_TRIANGLE) }));
    expect(view).toMatch(/role="img" aria-label="Where liquid and 123 live together"/);
    expect(view).not.toContain('tabindex');
  });

  it('gives all films one stop in the tab order, each with its name, once they can be chosen', () => {
    const scene = triangleScene(FULL_TRIANGLE);
    const view = renderToStaticMarkup(
      createElement(ChartView, { scene, onChoose: () => undefined, chosenId: 'film-7' }),
    );
    expect(view.match(/role="button"/g)!.length).toBe(43);
    expect(view.match(/tabindex="0"/g)!.length).toBe(1);
    expect(view).toMatch(/aria-label="S107, Y [^"]*" aria-pressed="true"/);
    expect(view).toContain('role="group"');
  });

  it('writes a hostile name as text', () => {
    const hostile = '<script>alert(1)</script>"';
    const scene = curveScene({
      ...TRANSITION,
      title: hostile,
      series: [{ ...TRANSITION.series[0]!, label: hostile }],
    });
    expect(renderToStaticMarkup(createElement(ChartView, { scene }))).not.toContain('<script');
  });
});
