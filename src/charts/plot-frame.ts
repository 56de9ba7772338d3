// A rectangle with an axis below and one at the left: its grid, ticks and titles as marks.
import type { Axis } from './axis.ts';
import { type Box, type Mark, SMALLEST_TEXT_PX, TEXT_PX } from './scene.ts';
import { type FittedText, fitText, textWidth } from './text-width.ts';

export interface PlotFrame {
  readonly box: Box;
  readonly x: Axis;
  readonly y: Axis;
}

const TICK_PX = 5;
/** Room below a frame for tick texts and the axis's title. */
export const BELOW_PX = 46;
const TITLE_BAND_PX = 20;

/** Room left of a frame for the widest tick text and the title. */
export function roomAtLeft(axes: readonly Axis[]): number {
  const widest = Math.max(
    0,
    ...axes.flatMap(({ ticks }) => ticks.map(({ text }) => textWidth(text, SMALLEST_TEXT_PX))),
  );
  return Math.ceil(widest) + TICK_PX + 6 + TITLE_BAND_PX + 4;
}

/** Grid lines at the named ticks. */
export function gridMarks({ box, x, y }: PlotFrame): Mark[] {
  const line = (points: number[]): Mark => ({ kind: 'line', points, stroke: 'grid' });
  return [
    ...x.ticks.filter(({ text }) => text !== '').map(({ at }) => line([at, box.top, at, box.bottom])),
    ...y.ticks.filter(({ text }) => text !== '').map(({ at }) => line([box.left, at, box.right, at])),
  ];
}

/** Rim, ticks and titles. An upper panel leaves the x axis's texts to the lowest. */
export function axisMarks({ box, x, y }: PlotFrame, hasXTexts = true): Mark[] {
  const { left, right, top, bottom } = box;
  const marks: Mark[] = [
    { kind: 'line', points: [left, top, right, top, right, bottom, left, bottom, left, top], stroke: 'axis' },
  ];
  let clearFrom = Number.NEGATIVE_INFINITY;
  for (const { at, text } of x.ticks) {
    const reach = text === '' ? TICK_PX / 2 : TICK_PX;
    marks.push({ kind: 'line', points: [at, bottom, at, bottom + reach], stroke: 'axis' });
    const half = textWidth(text, SMALLEST_TEXT_PX) / 2;
    if (hasXTexts && text !== '' && at - half > clearFrom) {
      clearFrom = at + half + 4;
      marks.push({
        kind: 'text',
        x: at,
        y: bottom + TICK_PX + 3,
        text,
        size: SMALLEST_TEXT_PX,
        fill: 'quiet',
        anchor: 'middle',
        baseline: 'top',
      });
    }
  }
  for (const { at, text } of y.ticks) {
    const reach = text === '' ? TICK_PX / 2 : TICK_PX;
    marks.push({ kind: 'line', points: [left - reach, at, left, at], stroke: 'axis' });
    if (text !== '') {
      marks.push({
        kind: 'text',
        x: left - TICK_PX - 4,
        y: at,
        text,
        size: SMALLEST_TEXT_PX,
        fill: 'quiet',
        anchor: 'end',
        baseline: 'middle',
      });
    }
  }
  if (hasXTexts) {
    marks.push({
      kind: 'text',
      x: (left + right) / 2,
      y: bottom + BELOW_PX - 10,
      ...fitText(x.title, right - left, TEXT_PX),
      size: TEXT_PX,
      fill: 'ink',
      anchor: 'middle',
      baseline: 'middle',
    });
  }
  if (y.title === '') return marks;
  marks.push({
    kind: 'text',
    x: TITLE_BAND_PX / 2 + 2,
    y: (top + bottom) / 2,
    ...fitText(y.title, Math.max(40, bottom - top), TEXT_PX),
    size: TEXT_PX,
    fill: 'ink',
    anchor: 'middle',
    baseline: 'middle',
    angleDeg: -90,
  });
  return marks;
}

/** What stands in a frame that holds nothing. */
export function emptyMark({ left, right, top, bottom }: Box, text: string): Mark {
  return {
    kind: 'text',
    x: (left + right) / 2,
    y: (top + bottom) / 2,
    text,
    size: TEXT_PX,
    fill: 'quiet',
    anchor: 'middle',
    baseline: 'middle',
  };
}

export interface Upright {
  readonly x: number;
  readonly label: string;
}

/** Height of one row of names of upright lines, px. */
const NAME_ROW_PX = 14;

interface PlacedUpright {
  readonly at: number;
  readonly text: FittedText;
  readonly isAtRight: boolean;
  readonly row: number;
}

/** Names in as few rows as keep them from overlapping. */
function placedUprights(left: number, right: number, x: Axis, lines: readonly Upright[]): PlacedUpright[] {
  const rowEnds: number[] = [];
  return lines
    .map((line) => ({ ...line, at: x.at(line.x) }))
    .filter(({ at }) => at >= left - 0.5 && at <= right + 0.5)
    .sort((a, b) => a.at - b.at)
    .map(({ at, label }) => {
      const text = fitText(label, Math.min(200, right - left), SMALLEST_TEXT_PX);
      const width = textWidth(text.text, SMALLEST_TEXT_PX);
      const isAtRight = at + width + 8 > right;
      const start = isAtRight ? at - 4 - width : at + 4;
      let row = rowEnds.findIndex((end) => end < start);
      if (row < 0) row = rowEnds.push(0) - 1;
      rowEnds[row] = start + width + 6;
      return { at, text, isAtRight, row };
    });
}

/** Height that the names of upright lines take at the top of a frame, px. */
export function uprightRoom(left: number, right: number, x: Axis, lines: readonly Upright[]): number {
  const placed = placedUprights(left, right, x, lines);
  return placed.length === 0 ? 0 : NAME_ROW_PX * (1 + Math.max(...placed.map(({ row }) => row))) + 4;
}

/** Upright dashed lines with their names in rows at the top of the frame; a name may be empty. */
export function uprightMarks({ box, x }: PlotFrame, lines: readonly Upright[]): Mark[] {
  const placed = placedUprights(box.left, box.right, x, lines);
  return [
    ...placed.map(
      ({ at }): Mark => ({
        kind: 'line',
        points: [at, box.top, at, box.bottom],
        stroke: 'accent',
        dash: [5, 3],
      }),
    ),
    ...placed
      .filter(({ text }) => text.text !== '')
      .map(
        ({ at, text, isAtRight, row }): Mark => ({
          kind: 'text',
          x: isAtRight ? at - 4 : at + 4,
          y: box.top + 11 + NAME_ROW_PX * row,
          ...text,
          size: SMALLEST_TEXT_PX,
          fill: 'accent',
          anchor: isAtRight ? 'end' : 'start',
          baseline: 'middle',
          hasHalo: true,
        }),
      ),
  ];
}

/** A level dashed line with its name at the right end. */
export function levelMarks({ box, y }: PlotFrame, value: number, label: string): Mark[] {
  const at = y.at(value);
  if (!(at >= box.top && at <= box.bottom)) return [];
  return [
    {
      kind: 'line',
      points: [box.left, at, box.right, at],
      stroke: 'accent',
      dash: [7, 4],
      strokeWidth: 1.25,
    },
    {
      kind: 'text',
      x: box.right - 5,
      y: at - box.top < 16 ? at + 10 : at - 9,
      ...fitText(label, box.right - box.left - 10, SMALLEST_TEXT_PX),
      size: SMALLEST_TEXT_PX,
      fill: 'accent',
      anchor: 'end',
      baseline: 'middle',
      hasHalo: true,
    },
  ];
}
