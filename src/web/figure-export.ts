// A figure as a file: SVG and CSV from the scene, PNG by drawing the SVG on a canvas with the font that comes along.
import fontUrl from 'dejavu-fonts-ttf/ttf/DejaVuSans.ttf?url';
import { csvText } from '../charts/csv.ts';
import type { Scene } from '../charts/scene.ts';
import { svgText } from '../charts/svg-text.ts';

export type FigureFormat = 'SVG' | 'PNG' | 'CSV';

/** Pixels of the PNG per pixel of the scene. */
const PNG_SCALE = 2;

async function fontAsDataUrl(): Promise<string> {
  const bytes = new Uint8Array(await (await fetch(fontUrl)).arrayBuffer());
  let text = '';
  for (let i = 0; i < bytes.length; i += 0x8000)
    text += String.fromCharCode(...bytes.subarray(i, i + 0x8000));
  return `data:font/ttf;base64,${btoa(text)}`;
}

async function pngOf(scene: Scene): Promise<Blob> {
  const face = `<style>@font-face{font-family:"DejaVu Sans";src:url(${await fontAsDataUrl()})}</style>`;
  const svg = svgText(scene, { theme: 'light' }).replace(/(<svg[^>]*>)/, `$1${face}`);
  const url = URL.createObjectURL(new Blob([svg], { type: 'image/svg+xml' }));
  try {
    const image = new Image();
    image.src = url;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = scene.width * PNG_SCALE;
    canvas.height = scene.height * PNG_SCALE;
    canvas.getContext('2d')!.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve, reject) => {
      canvas.toBlob(
        (blob) => (blob ? resolve(blob) : reject(new Error('The picture could not be drawn.'))),
        'image/png',
      );
    });
  } finally {
    URL.revokeObjectURL(url);
  }
}

async function figureBlob(scene: Scene, format: FigureFormat): Promise<Blob> {
  switch (format) {
    case 'SVG':
      return new Blob([svgText(scene, { theme: 'light' })], { type: 'image/svg+xml' });
    case 'CSV':
      return new Blob([csvText(scene.table)], { type: 'text/csv' });
    case 'PNG':
      return pngOf(scene);
  }
}

/** Lets the browser save a figure under a name made from its title. */
export async function saveFigure(scene: Scene, format: FigureFormat): Promise<void> {
  const url = URL.createObjectURL(await figureBlob(scene, format));
  const link = document.createElement('a');
  link.href = url;
  link.download = `${scene.title.replaceAll(/[^\p{L}\p{N}.-]+/gu, '-').slice(0, 80) || 'figure'}.${format.toLowerCase()}`;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
