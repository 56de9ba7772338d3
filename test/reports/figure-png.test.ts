import { describe, expect, it } from 'vitest';
import { svgText } from '../../src/charts/svg-text.ts';
import { triangleScene } from '../../src/charts/ternary/triangle-scene.ts';
import { figurePng } from '../../src/reports/figure-png.ts';
import { FULL_TRIANGLE } from '../charts/triangle-samples.ts';

describe('figurePng', () => {
  const svg = svgText(triangleScene(FULL_TRIANGLE), { theme: 'light' });

  it("is a PNG of the scene's size times the scale", () => {
    const png = figurePng(svg, 2);
    const view = new DataView(png.buffer, png.byteOffset);
    expect([...png.subarray(0, 4)]).toEqual([0x89, 0x50, 0x4e, 0x47]);
    expect([view.getUint32(16), view.getUint32(20)]).toEqual([1280, 1200]);
  });

  it('writes the labels: without its texts the picture is another', () => {
    const without = svg.replace(/<text[\s\S]*?<\/text>/g, '');
    expect(figurePng(svg, 1).length).toBeGreaterThan(figurePng(without, 1).length * 1.1);
  });
});
