// Path data of marks, shared by the painters. Every number is rounded to a thousandth of a pixel.
import { line } from 'd3-shape';
import type { FlatPoints, SymbolShape, TextMark } from './scene.ts';

const DIGITS = 3;

/** A number as it stands in a picture. */
export function px(value: number): string {
  const rounded = Number(value.toFixed(DIGITS));
  return String(Object.is(rounded, -0) ? 0 : rounded);
}

/** Path of a line; a NaN pair is a gap. Empty if nothing can be drawn. */
export function linePath(points: FlatPoints): string {
  const n = points.length >> 1;
  return (
    line<number>()
      .x((i) => points[2 * i]!)
      .y((i) => points[2 * i + 1]!)
      .defined((i) => !Number.isNaN(points[2 * i]! + points[2 * i + 1]!))
      .digits(DIGITS)(Array.from({ length: n }, (_, i) => i)) ?? ''
  );
}

/** Path of closed rings. */
export const areaPath = (rings: readonly FlatPoints[]): string =>
  rings.map((ring) => `${linePath(ring)}Z`).join('');

/** Path of a dot at every point: strokes of no length, which round caps turn into dots. */
export function dotsPath(points: FlatPoints): string {
  let path = '';
  for (let i = 0; i + 1 < points.length; i += 2) {
    path += `M${px(points[i]!)},${px(points[i + 1]!)}h0`;
  }
  return path;
}

// Corners in units of the radius; shapes are sized to look alike in area.
const OUTLINES: Readonly<Record<Exclude<SymbolShape, 'circle' | 'cross' | 'plus'>, readonly number[]>> = {
  square: [-0.85, -0.85, 0.85, -0.85, 0.85, 0.85, -0.85, 0.85],
  diamond: [0, -1.15, 1.15, 0, 0, 1.15, -1.15, 0],
  'triangle up': [0, -1.15, 1.05, 0.8, -1.05, 0.8],
  'triangle down': [0, 1.15, 1.05, -0.8, -1.05, -0.8],
  'triangle left': [-1.15, 0, 0.8, -1.05, 0.8, 1.05],
  'triangle right': [1.15, 0, -0.8, -1.05, -0.8, 1.05],
};

/** Path of a symbol about a point; a cross and a plus are open strokes. */
export function symbolPath(shape: SymbolShape, x: number, y: number, radius: number): string {
  const at = (dx: number, dy: number) => `${px(x + dx * radius)},${px(y + dy * radius)}`;
  if (shape === 'circle') {
    const r = px(radius);
    return `M${at(-1, 0)}A${r},${r} 0 1 1 ${at(1, 0)}A${r},${r} 0 1 1 ${at(-1, 0)}Z`;
  }
  if (shape === 'cross') {
    return `M${at(-0.8, -0.8)}L${at(0.8, 0.8)}M${at(-0.8, 0.8)}L${at(0.8, -0.8)}`;
  }
  if (shape === 'plus') {
    return `M${at(-1, 0)}L${at(1, 0)}M${at(0, -1)}L${at(0, 1)}`;
  }
  const corners = OUTLINES[shape];
  let path = '';
  for (let i = 0; i < corners.length; i += 2) {
    path += `${i === 0 ? 'M' : 'L'}${at(corners[i]!, corners[i + 1]!)}`;
  }
  return `${path}Z`;
}

/** Width of the rim that parts a mark or a text from what lies under it, px. */
export const HALO_PX = 2.5;

const BASELINE_SHIFT = { bottom: 0, middle: 0.36, top: 0.74 } as const;

/** Baseline of a text; worked out here because painters differ in what they make of the attribute for it. */
export function textOrigin(mark: TextMark): { x: string; y: string; transform?: string } {
  const origin = { x: px(mark.x), y: px(mark.y + BASELINE_SHIFT[mark.baseline] * mark.size) };
  return mark.angleDeg
    ? { ...origin, transform: `rotate(${px(mark.angleDeg)} ${px(mark.x)} ${px(mark.y)})` }
    : origin;
}
