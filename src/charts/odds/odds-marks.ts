// An odds map as marks: shading in steps, labelled contours, and the bar that says what the shades mean.
import type { LabelRoom } from '../label-placing.ts';
import { type FlatPoints, type Mark, SMALLEST_TEXT_PX } from '../scene.ts';
import { fitText, wrappedLines } from '../text-width.ts';
import { type ColourRole, SHADE_COUNT } from '../theme.ts';
import { type OddsMesh, type OddsRegion, oddsRegion } from './odds-regions.ts';

const LABELLED_LEVELS = [0.1, 0.5, 0.9] as const;
const BAR_HEIGHT_PX = 10;

const shadeRole = (i: number): ColourRole => `shade${i}` as ColourRole;

/** Where a map is drawn. */
export interface MapView {
  /** px of a place of the grid: RE and Cu in a triangle */
  project(row: number, column: number): { readonly x: number; readonly y: number };
  /** is a point of the picture inside the map? */
  holdsPoint(x: number, y: number): boolean;
}

function projected(path: readonly number[], view: MapView): FlatPoints {
  const points: number[] = [];
  for (let i = 0; i < path.length; i += 2) {
    const { x, y } = view.project(path[i]!, path[i + 1]!);
    points.push(x, y);
  }
  return points;
}

/** Shades from the lowest up; each region is laid over the one before, so that no seams show. */
function shadeMarks(regions: readonly OddsRegion[], view: MapView): Mark[] {
  return regions
    .filter(({ rings }) => rings.length > 0)
    .map(({ level, rings }) => ({
      kind: 'area',
      rings: rings.map((ring) => projected(ring, view)),
      fill: shadeRole(Math.round(level * SHADE_COUNT)),
    }));
}

function contourMarks(region: OddsRegion, view: MapView, room: LabelRoom): { lines: Mark[]; labels: Mark[] } {
  const text = String(region.level);
  const parts = region.contours.map((contour) => projected(contour, view));
  const lines = parts.map(
    (points): Mark => ({
      kind: 'line',
      points,
      stroke: 'ink',
      strokeWidth: region.level === 0.5 ? 1.75 : 1,
      dash: region.level === 0.1 ? [5, 4] : undefined,
      opacity: 0.8,
    }),
  );
  const longest = parts.reduce<FlatPoints>((a, b) => (b.length > a.length ? b : a), []);
  const labels: Mark[] = [];
  const n = longest.length / 2;
  for (const share of n > 3 ? [0.5, 0.35, 0.65, 0.2, 0.8, 0.05, 0.95] : []) {
    const i = Math.floor(share * (n - 1));
    const x = longest[2 * i]!;
    const y = longest[2 * i + 1]!;
    const box = { left: x - 12, right: x + 12, top: y - 8, bottom: y + 8 };
    if (room.isFree(box) && view.holdsPoint(x, y)) {
      room.take(box);
      labels.push({
        kind: 'text',
        x,
        y,
        text,
        size: SMALLEST_TEXT_PX,
        fill: 'ink',
        anchor: 'middle',
        baseline: 'middle',
        hasHalo: true,
      });
      break;
    }
  }
  return { lines, labels };
}

/** The bar of shades from 0 to 1, right aligned, with what the odds are of under it. */
export function barMarks(right: number, top: number, widthPx: number, of: string): Mark[] {
  const left = right - widthPx;
  const step = widthPx / SHADE_COUNT;
  const marks: Mark[] = Array.from({ length: SHADE_COUNT }, (_, i) => ({
    kind: 'area',
    rings: [
      [
        left + i * step,
        top,
        left + (i + 1) * step,
        top,
        left + (i + 1) * step,
        top + BAR_HEIGHT_PX,
        left + i * step,
        top + BAR_HEIGHT_PX,
      ],
    ],
    fill: shadeRole(i),
  }));
  marks.push({
    kind: 'line',
    points: [left, top, right, top, right, top + BAR_HEIGHT_PX, left, top + BAR_HEIGHT_PX, left, top],
    stroke: 'axis',
    strokeWidth: 0.75,
  });
  for (const share of [0, 0.5, 1]) {
    marks.push({
      kind: 'text',
      x: left + share * widthPx,
      y: top + BAR_HEIGHT_PX + 4,
      text: String(share),
      size: SMALLEST_TEXT_PX,
      fill: 'quiet',
      anchor: 'middle',
      baseline: 'top',
    });
  }
  const words = wrappedLines(`Odds of ${of}`, widthPx + 8, SMALLEST_TEXT_PX, 3);
  words.forEach((line, i) => {
    marks.push({
      kind: 'text',
      x: right,
      y: top + BAR_HEIGHT_PX + 20 + 14 * i,
      ...fitText(line, widthPx + 30, SMALLEST_TEXT_PX),
      size: SMALLEST_TEXT_PX,
      fill: 'ink',
      anchor: 'end',
      baseline: 'top',
    });
  });
  return marks;
}

export interface OddsMarks {
  readonly shades: readonly Mark[];
  readonly lines: readonly Mark[];
  readonly labels: readonly Mark[];
}

/** Shades, contours at 0.1, 0.5 and 0.9, and their labels where there is room. */
export function oddsMarks(mesh: OddsMesh, view: MapView, room: LabelRoom): OddsMarks {
  const regions = Array.from({ length: SHADE_COUNT }, (_, i) => oddsRegion(mesh, i / SHADE_COUNT));
  const contours = LABELLED_LEVELS.map((level) =>
    contourMarks(regions.find((region) => region.level === level)!, view, room),
  );
  return {
    shades: shadeMarks(regions, view),
    lines: contours.flatMap(({ lines }) => lines),
    labels: contours.flatMap(({ labels }) => labels),
  };
}
