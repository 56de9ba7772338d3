// Curves over one x axis: data, fit, background, bands, marked positions, and the differences below.
import { type Axis, makeAxis } from './axis.ts';
import {
  bandMark,
  type CurveStyle,
  curveMarks,
  curvePixels,
  curveSample,
  curveStyles,
} from './curve-marks.ts';
import type { CurveRequest } from './curve-request.ts';
import { curveDescription, curveTable } from './curve-words.ts';
import { LabelRoom, labelMarks } from './label-placing.ts';
import { type LegendItem, legend } from './legend.ts';
import {
  axisMarks,
  BELOW_PX,
  emptyMark,
  gridMarks,
  levelMarks,
  type PlotFrame,
  roomAtLeft,
  uprightMarks,
  uprightRoom,
} from './plot-frame.ts';
import {
  checkedSize,
  checkLengths,
  type Mark,
  ringOf,
  type Scene,
  type Size,
  SMALLEST_TEXT_PX,
} from './scene.ts';
import { type ColourRole, SERIES_ROLES } from './theme.ts';

export interface NearestPoint {
  readonly seriesId: string;
  readonly index: number;
  readonly x: number;
  readonly y: number;
  readonly xPx: number;
  readonly yPx: number;
}

export interface CurveScales {
  readonly main: PlotFrame;
  readonly difference: PlotFrame | null;
  /** the datum nearest to a point of the picture, at most `reachPx` (24 if left out) away */
  nearest(x: number, y: number, reachPx?: number): NearestPoint | null;
}

const DEFAULT_SIZE: Size = { width: 720, height: 420 };
const TICK_ROW_PX = 26;
const PANEL_GAP_PX = 10;

interface Layout {
  readonly main: PlotFrame;
  readonly difference: PlotFrame | null;
}

function layOut(request: CurveRequest, size: Size, top: number): Layout {
  const { series, bands = [], difference, tickRows = [], notes = [] } = request;
  const bottom = size.height - BELOW_PX;
  const differencePx = difference ? Math.max(54, 0.22 * (bottom - top)) : 0;
  const mainBottom = difference ? bottom - differencePx - PANEL_GAP_PX : bottom;
  const curveBottom = mainBottom - TICK_ROW_PX * tickRows.length;
  const xs = [...series.map(({ x }) => x), ...bands.map(({ x }) => x), notes.map(({ x }) => x)];
  const ys = [
    ...series.map(({ y }) => y),
    ...bands.flatMap(({ lower, upper }) => [lower, upper]),
    notes.map(({ y }) => y),
    (request.levels ?? []).map(({ y }) => y),
  ];
  const yAxisBelow = (room: number) => makeAxis(request.y, ys, [curveBottom, top + room], 0.05, 44);
  let yAxis = yAxisBelow(0);
  // The differences share zero in the middle, and the unit of y.
  let largest = 0;
  for (let i = 0; difference && i < difference.y.length; i++) {
    const away = Math.abs(difference.y[i]!);
    if (Number.isFinite(away) && away > largest) largest = away;
  }
  const differenceAxis: Axis | null = difference
    ? makeAxis(
        { label: difference.label, unit: request.y.unit, domain: [-largest * 1.1, largest * 1.1] },
        [],
        [bottom, bottom - differencePx],
        0,
        34,
      )
    : null;
  const left = roomAtLeft(differenceAxis ? [yAxis, differenceAxis] : [yAxis]);
  const right = size.width - 16;
  const xAxis = makeAxis(request.x, xs, [left, right], 0.02, 80);
  // The curves begin under the names of the upright lines.
  const room = uprightRoom(left, right, xAxis, request.verticals ?? []);
  if (room > 0) yAxis = yAxisBelow(Math.min(room, (curveBottom - top) / 3));
  const box = { left, right, top, bottom: mainBottom };
  return {
    main: { box, x: xAxis, y: yAxis },
    difference: differenceAxis
      ? { box: { left, right, top: bottom - differencePx, bottom }, x: xAxis, y: differenceAxis }
      : null,
  };
}

function tickRowMarks(
  request: CurveRequest,
  { box, x }: PlotFrame,
  roleOf: (row: number) => ColourRole,
): Mark[] {
  const rows = request.tickRows ?? [];
  return rows.flatMap(({ ticks }, row): Mark[] => {
    const bottom = box.bottom - TICK_ROW_PX * (rows.length - 1 - row) - 2;
    let clearFrom = box.left;
    return [...ticks]
      .sort((a, b) => a.x - b.x)
      .flatMap(({ x: value, label }): Mark[] => {
        const at = x.at(value);
        if (!(at >= box.left && at <= box.right)) return [];
        const line: Mark = {
          kind: 'line',
          points: [at, bottom, at, bottom - 8],
          stroke: roleOf(row),
          strokeWidth: 1.5,
        };
        const half = (label.length * SMALLEST_TEXT_PX * 0.64) / 2;
        if (label === '' || at - half < clearFrom || at + half > box.right) return [line];
        clearFrom = at + half + 3;
        return [
          line,
          {
            kind: 'text',
            x: at,
            y: bottom - 10,
            text: label,
            size: SMALLEST_TEXT_PX,
            fill: roleOf(row),
            anchor: 'middle',
            baseline: 'bottom',
            hasHalo: true,
          },
        ];
      });
  });
}

function noteMarks(request: CurveRequest, frame: PlotFrame): Mark[] {
  const room = new LabelRoom(frame.box);
  const points = (request.notes ?? []).map(({ x, y, label }) => ({
    x: frame.x.at(x),
    y: frame.y.at(y),
    label,
  }));
  const shown = points.filter(({ x, y }) => !Number.isNaN(x + y));
  for (const { x, y } of shown) room.takeAround(x, y, 4);
  return shown.flatMap(({ x, y, label }): Mark[] => {
    const mark: Mark = {
      kind: 'symbol',
      shape: 'circle',
      x,
      y,
      radius: 3.5,
      fill: 'accent',
      hasHalo: true,
      target: { id: `note:${label}`, label },
    };
    return [mark, ...labelMarks(room, { text: label, x, y, gapPx: 7, fill: 'ink' })];
  });
}

function legendItems(
  request: CurveRequest,
  styles: readonly CurveStyle[],
  rowRole: (row: number) => ColourRole,
): LegendItem[] {
  return [
    ...request.series.map(
      (series, i): LegendItem => ({
        label: series.label,
        sample: (x, y) => curveSample(series, styles[i]!, x, y),
      }),
    ),
    ...(request.bands ?? []).map(
      ({ label }, i): LegendItem => ({
        label,
        sample: (x, y) => [
          {
            kind: 'area',
            rings: [ringOf({ left: x - 11, right: x + 11, top: y - 5, bottom: y + 5 })],
            fill: bandRole(i),
            opacity: 0.2,
          },
        ],
      }),
    ),
    ...(request.tickRows ?? []).map(
      ({ label }, row): LegendItem => ({
        label,
        sample: (x, y) => [
          { kind: 'line', points: [x, y - 5, x, y + 5], stroke: rowRole(row), strokeWidth: 1.5 },
        ],
      }),
    ),
  ];
}

const bandRole = (i: number): ColourRole => SERIES_ROLES[i % SERIES_ROLES.length]!;

function nearestOf(request: CurveRequest, frame: PlotFrame): CurveScales['nearest'] {
  let pixels: ({ series: CurveRequest['series'][number] } & ReturnType<typeof curvePixels>)[] | null = null;
  return (x, y, reachPx = 24) => {
    pixels ??= request.series.map((series) => ({ series, ...curvePixels(series, frame) }));
    let nearest: NearestPoint | null = null;
    let nearestGap = reachPx;
    for (const { series, xPx, yPx } of pixels) {
      for (let index = 0; index < xPx.length; index++) {
        const gap = Math.hypot(xPx[index]! - x, yPx[index]! - y);
        if (gap <= nearestGap) {
          nearestGap = gap;
          nearest = {
            seriesId: series.id,
            index,
            x: series.x[index]!,
            y: series.y[index]!,
            xPx: xPx[index]!,
            yPx: yPx[index]!,
          };
        }
      }
    }
    return nearest;
  };
}

/**
 * Curves as a scene. Dense curves are thinned to what half a pixel can show; the table holds every number.
 *
 * @throws DomainError CHART_SIZE, or CHART_LENGTHS if the arrays of one curve differ in length
 */
export function curveScene(request: CurveRequest): Scene<CurveScales> {
  const size = checkedSize(request.size ?? DEFAULT_SIZE);
  for (const { label, x, y, yU } of request.series) checkLengths(label, { x, y, yU });
  for (const { label, x, lower, upper } of request.bands ?? []) checkLengths(label, { x, lower, upper });
  if (request.difference)
    checkLengths(request.difference.label, { x: request.difference.x, y: request.difference.y });

  const styles = curveStyles(request.series);
  const usedColours = request.series.filter(({ look }) => look === 'points' || look === 'line').length;
  const rowRole = (row: number): ColourRole => SERIES_ROLES[(usedColours + row) % SERIES_ROLES.length]!;
  const items = legendItems(request, styles, rowRole);
  const key = legend(items, 16, 6, size.width - 32);
  const { main, difference } = layOut(request, size, key.heightPx + 16);

  const curves = request.series.map((series, i) => curveMarks(series, styles[i]!, main));
  const bands = (request.bands ?? []).map((band, i) => bandMark(band, bandRole(i), main));
  const marks: Mark[] = [
    ...gridMarks(main),
    { kind: 'group', clip: ringOf(main.box), marks: [...bands, ...curves.flatMap((curve) => curve.marks)] },
    ...(curves.every(({ shownCount }) => shownCount === 0) ? [emptyMark(main.box, 'no data')] : []),
    ...(request.levels ?? []).flatMap(({ y, label }) => levelMarks(main, y, label)),
    ...uprightMarks(main, request.verticals ?? []),
    ...tickRowMarks(request, main, rowRole),
    ...noteMarks(request, main),
    ...axisMarks(main, difference === null),
    ...key.marks,
  ];
  if (difference && request.difference) {
    const { x, y } = request.difference;
    const style: CurveStyle = { role: 'quiet', strokeWidth: 1, shape: 'circle' };
    const zero = difference.y.at(0);
    marks.push(
      ...gridMarks(difference),
      {
        kind: 'line',
        points: [difference.box.left, zero, difference.box.right, zero],
        stroke: 'ink',
        strokeWidth: 0.75,
      },
      {
        kind: 'group',
        clip: ringOf(difference.box),
        marks: curveMarks({ id: 'difference', label: '', look: 'line', x, y }, style, difference).marks,
      },
      ...axisMarks(difference),
    );
  }
  const unshownCount = curves.reduce((sum, curve) => sum + curve.unshownCount, 0);
  return {
    ...size,
    title: request.title,
    description: curveDescription(request, main, unshownCount),
    marks,
    scales: { main, difference, nearest: nearestOf(request, main) },
    get table() {
      return curveTable(request);
    },
  };
}
