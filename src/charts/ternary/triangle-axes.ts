// Grid, ticks, corner names and axis titles of the triangle, and of a strip of it.
import { ticks } from 'd3-array';
import { format } from 'd3-format';
import type { TernaryPoint } from '../../science/matter/cation-ratios.ts';
import { type Mark, SMALLEST_TEXT_PX, TEXT_PX, type TextMark } from '../scene.ts';
import { type Point, stretchOf, type TriangleView } from './triangle-view.ts';

const TICK_PX = 5;
const ROOT3_HALF = Math.sqrt(3) / 2;

/** Names of the corners as oxides; the rare earth is the series's own. */
export const oxideNames = (rareEarth: string) => ({ re: `${rareEarth}O₁.₅`, ba: 'BaO', cu: 'CuOₓ' }) as const;

const percentText = (fraction: number): string => format('~r')(Number((100 * fraction).toPrecision(6)));

/** Round fractions strictly between two, as many as there is room for. */
function ticksBetween(min: number, max: number, lengthPx: number, hasEnds: boolean): number[] {
  const count = Math.max(2, Math.min(10, Math.floor(lengthPx / 48)));
  const rim = hasEnds ? -1e-9 : 1e-9;
  return ticks(100 * min, 100 * max, count)
    .map((percent) => percent / 100)
    .filter((fraction) => fraction > min + rim && fraction < max - rim);
}

const gridLine = (from: Point, to: Point): Mark => ({
  kind: 'line',
  points: [from.x, from.y, to.x, to.y],
  stroke: 'axis',
  strokeWidth: 0.75,
  opacity: 0.45,
});

function tick(at: Point, dx: number, dy: number, text: string, anchor: TextMark['anchor']): Mark[] {
  return [
    {
      kind: 'line',
      points: [at.x, at.y, at.x + TICK_PX * dx, at.y + TICK_PX * dy],
      stroke: 'axis',
    },
    {
      kind: 'text',
      x: at.x + (TICK_PX + 4) * dx,
      y: at.y + (TICK_PX + 4) * dy + (dy > 0 ? 5 : dy < 0 ? -3 : 0),
      text,
      size: SMALLEST_TEXT_PX,
      fill: 'quiet',
      anchor,
      baseline: 'middle',
    },
  ];
}

function title(text: string, x: number, y: number, angleDeg = 0): Mark {
  return {
    kind: 'text',
    x,
    y,
    text,
    size: TEXT_PX,
    fill: 'ink',
    anchor: 'middle',
    baseline: 'middle',
    angleDeg,
  };
}

/** Grid under the data and ticks around them. */
export interface TriangleAxes {
  readonly under: readonly Mark[];
  readonly over: readonly Mark[];
}

function cornerAxes(view: TriangleView, rareEarth: string): TriangleAxes {
  if (view.window.kind !== 'corner') {
    return { under: [], over: [] };
  }
  const { reMin, baMin, cuMin } = view.window;
  const span = 1 - reMin - baMin - cuMin;
  const isWhole = span > 1 - 1e-9;
  const { frame } = view;
  const side = frame.right - frame.left;
  const under: Mark[] = [];
  const over: Mark[] = [];
  const at = (re: number, cu: number): TernaryPoint => ({ re, ba: 1 - re - cu, cu });
  for (const cu of ticksBetween(cuMin, cuMin + span, side, !isWhole)) {
    const foot = view.project(at(reMin, cu));
    under.push(gridLine(foot, view.project(at(1 - cu - baMin, cu))));
    over.push(...tick(foot, -0.5, ROOT3_HALF, percentText(cu), 'middle'));
  }
  for (const re of ticksBetween(reMin, reMin + span, side, !isWhole)) {
    const foot = view.project(at(re, 1 - re - baMin));
    under.push(gridLine(foot, view.project(at(re, cuMin))));
    over.push(...tick(foot, 1, 0, percentText(re), 'start'));
  }
  for (const ba of ticksBetween(baMin, baMin + span, side, !isWhole)) {
    const foot = view.project(at(1 - ba - cuMin, cuMin));
    under.push(gridLine(foot, view.project(at(reMin, 1 - ba - reMin))));
    over.push(...tick(foot, -0.5, -ROOT3_HALF, percentText(ba), 'end'));
  }
  const [top, left, right] = view.outline as [Point, Point, Point];
  const away = 40;
  const midLeft = { x: (top.x + left.x) / 2 - away * ROOT3_HALF, y: (top.y + left.y) / 2 - away / 2 };
  const midRight = { x: (top.x + right.x) / 2 + away * ROOT3_HALF, y: (top.y + right.y) / 2 - away / 2 };
  over.push(
    title('Ba, at%', midLeft.x, midLeft.y, -60),
    title(`${rareEarth}, at%`, midRight.x, midRight.y, 60),
    title('Cu, at%', (left.x + right.x) / 2, left.y + 34),
  );
  if (isWhole) {
    const names = oxideNames(rareEarth);
    const corner = (text: string, x: number, y: number, anchor: TextMark['anchor']): Mark => ({
      kind: 'text',
      x,
      y,
      text,
      size: 14,
      fill: 'ink',
      anchor,
      baseline: 'middle',
      isBold: true,
    });
    over.push(
      corner(names.re, top.x, top.y - 13, 'middle'),
      corner(names.ba, left.x - 6, left.y + 18, 'middle'),
      corner(names.cu, right.x + 6, right.y + 18, 'middle'),
    );
  }
  return { under, over };
}

function stripAxes(view: TriangleView, rareEarth: string): TriangleAxes {
  if (view.window.kind !== 'strip') {
    return { under: [], over: [] };
  }
  const { reMin, reMax, cuMin, cuMax } = view.window;
  const { frame } = view;
  const under: Mark[] = [];
  const over: Mark[] = [];
  const at = (re: number, cu: number): TernaryPoint => ({ re, ba: 1 - re - cu, cu });
  for (const cu of ticksBetween(cuMin, cuMax, frame.right - frame.left, true)) {
    const foot = view.project(at(reMin, cu));
    under.push(gridLine(foot, view.project(at(Math.min(reMax, 1 - cu), cu))));
    over.push(...tick(foot, 0, 1, percentText(cu), 'middle'));
  }
  for (const re of ticksBetween(reMin, reMax, frame.bottom - frame.top, true)) {
    const foot = view.project(at(re, cuMin));
    under.push(gridLine(foot, view.project(at(re, Math.min(cuMax, 1 - re)))));
    over.push(...tick(foot, -1, 0, percentText(re), 'end'));
  }
  // Lines of one Ba content lean to the left as RE takes Cu's place; they are named where they leave the strip.
  const baMax = 1 - reMax - cuMin;
  for (const ba of ticksBetween(Math.max(0, 1 - reMax - cuMax), baMax, frame.right - frame.left, true)) {
    const head = view.project(at(reMax, 1 - ba - reMax));
    const footRe = Math.max(reMin, 1 - ba - cuMax);
    under.push({ ...gridLine(head, view.project(at(footRe, 1 - ba - footRe))), dash: [2, 3] } as Mark);
    over.push(...tick(head, 0, -1, percentText(ba), 'middle'));
  }
  const middle = (frame.left + frame.right) / 2;
  const stretch = stretchOf(view);
  const stretchText = stretch > 1.05 ? ` (drawn ${format('.2~r')(stretch)} times the Cu scale)` : '';
  over.push(
    title('Cu, at%', middle, frame.bottom + 34),
    title('Ba, at% (dotted)', middle, frame.top - 28),
    title(`${rareEarth}, at%${stretchText}`, frame.left - 46, (frame.top + frame.bottom) / 2, -90),
  );
  return { under, over };
}

/** Axes of whichever window is drawn. */
export function triangleAxes(view: TriangleView, rareEarth: string): TriangleAxes {
  return view.window.kind === 'corner' ? cornerAxes(view, rareEarth) : stripAxes(view, rareEarth);
}
