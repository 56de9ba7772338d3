// A figure's SVG text as PNG bytes, with the font we ship, so that a picture is the same on every machine. Node only.
import { createRequire } from 'node:module';
import { Resvg } from '@resvg/resvg-js';

const require = createRequire(import.meta.url);
const FONT_FILES = ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'].map((file) =>
  require.resolve(`dejavu-fonts-ttf/ttf/${file}`),
);

/**
 * PNG of a chart's SVG text made with a fixed theme (colours left to a style sheet cannot be drawn here).
 *
 * @param scale px of the picture per px of the chart; 2 is sharp on paper up to about 150 mm width
 */
export function figurePng(svg: string, scale = 2): Uint8Array {
  const picture = new Resvg(svg, {
    fitTo: { mode: 'zoom', value: scale },
    font: { fontFiles: FONT_FILES, loadSystemFonts: false, defaultFontFamily: 'DejaVu Sans' },
  });
  return picture.render().asPng();
}
