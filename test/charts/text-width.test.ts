import { createRequire } from 'node:module';
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import { fitText, textWidth } from '../../src/charts/text-width.ts';

const fontFile = createRequire(import.meta.url).resolve('dejavu-fonts-ttf/ttf/DejaVuSans.ttf');

/** Width of what is drawn, from a drawing program: bars put at both ends do away with the side bearings. */
function drawnWidth(text: string): number {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="2000" height="50"><text x="0" y="30" font-size="20" font-family="DejaVu Sans">|${text}|</text></svg>`;
  const box = new Resvg(svg, { font: { fontFiles: [fontFile], loadSystemFonts: false } }).getBBox()!;
  return box.width;
}

describe('textWidth', () => {
  it.each([
    'Resistance (mΩ)',
    'S104, as grown',
    '10⁻³ atm O₂',
    'WWWWiiii....',
    'Temperature (°C) 0123456789',
    'YO₁.₅ CuOₓ',
  ])('is what the drawing program makes of "%s"', (text) => {
    const drawn = drawnWidth(text) - drawnWidth('');
    // Kerning, which is left out, only makes the drawn text narrower, by a few hundredths.
    expect(textWidth(text, 20)).toBeGreaterThan(drawn - 1);
    expect(textWidth(text, 20)).toBeLessThan(drawn * 1.04 + 1);
  });
});

describe('fitText', () => {
  it('leaves a text that fits, and cuts another to the width with an ellipsis', () => {
    expect(fitText('short', 100, 12)).toEqual({ text: 'short' });
    const cut = fitText('a name that is much too long', 80, 12);
    expect(cut.fullText).toBe('a name that is much too long');
    expect(cut.text.endsWith('…')).toBe(true);
    expect(textWidth(cut.text, 12)).toBeLessThanOrEqual(80);
  });
});
