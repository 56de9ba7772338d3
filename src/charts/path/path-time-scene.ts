// A path over time: temperature above, oxygen below, as commanded and as it likely is at the film, with what was logged.
import { makeAxis } from '../axis.ts';
import type { Column, Table } from '../csv.ts';
import { thinnedLine } from '../decimate.ts';
import { type LegendItem, legend } from '../legend.ts';
import { counted } from '../number-text.ts';
import { axisMarks, BELOW_PX, emptyMark, gridMarks, type PlotFrame, roomAtLeft } from '../plot-frame.ts';
import {
  checkedSize,
  checkLengths,
  type Mark,
  ringOf,
  type Scene,
  type Size,
  SMALLEST_TEXT_PX,
} from '../scene.ts';
import { fitText, textWidth } from '../text-width.ts';
import { pressureText } from '../trade-text.ts';
import {
  type PathCourse,
  type PathTimeRequest,
  stepName,
  timeText,
  timeUnitOf,
} from './path-time-request.ts';

export interface PathTimeScales {
  readonly temperature: PlotFrame;
  readonly oxygen: PlotFrame;
  /** s at a horizontal position */
  timeSAt(x: number): number;
}

const DEFAULT_SIZE: Size = { width: 760, height: 470 };
const PANEL_GAP_PX = 14;
const RIGHT_PX = 16;
const STEP_BAND_PX = 18;
/** A log is broken where nothing was read for so many times its usual interval. */
const GAP_INTERVALS = 5;
/** More readings than this are drawn as a line alone. */
const MOST_DOTS = 400;

const atmOf = (log10: number | null | undefined): number =>
  log10 === null || log10 === undefined ? Number.NaN : 10 ** log10;
const numberOf = (value: number | null | undefined): number => value ?? Number.NaN;

/** Upright places of a step in a course are kept; points that no eye can tell apart are left out. */
function courseLine(frame: PlotFrame, timeS: ArrayLike<number>, y: (i: number) => number): number[] {
  const px = Float64Array.from(timeS, (at) => frame.x.at(at));
  const py = Float64Array.from(timeS, (_, i) => frame.y.at(y(i)));
  return thinnedLine(px, py).flatMap((i) =>
    Number.isNaN(px[i]! + py[i]!) ? [Number.NaN, Number.NaN] : [px[i]!, py[i]!],
  );
}

/** Times between two readings beyond which a log says nothing, s: five of its usual intervals. */
export function longestIntervalS(timeS: ArrayLike<number>): number {
  const intervals = Array.from({ length: Math.max(0, timeS.length - 1) }, (_, i) => timeS[i + 1]! - timeS[i]!)
    .filter((interval) => interval > 0)
    .sort((one, other) => one - other);
  return intervals.length === 0
    ? Number.POSITIVE_INFINITY
    : GAP_INTERVALS * intervals[intervals.length >> 1]!;
}

function logMarks(frame: PlotFrame, timeS: ArrayLike<number>, y: (i: number) => number): Mark[] {
  const gapS = longestIntervalS(timeS);
  const line: number[] = [];
  const dots: number[] = [];
  for (let i = 0; i < timeS.length; i++) {
    const [px, py] = [frame.x.at(timeS[i]!), frame.y.at(y(i))];
    if (i > 0 && timeS[i]! - timeS[i - 1]! > gapS) line.push(Number.NaN, Number.NaN);
    if (Number.isNaN(px + py)) line.push(Number.NaN, Number.NaN);
    else {
      line.push(px, py);
      dots.push(px, py);
    }
  }
  return [
    { kind: 'line', points: line, stroke: 'series2', strokeWidth: 1.25 },
    ...(dots.length / 2 <= MOST_DOTS
      ? [{ kind: 'dots', points: dots, radius: 2, fill: 'series2' } as const]
      : []),
  ];
}

/** Numbers of the steps over the upper panel, where there is room, and thin lines between the steps. */
function stepMarks(request: PathTimeRequest, frames: readonly PlotFrame[]): Mark[] {
  const marks: Mark[] = [];
  const [upper] = frames;
  let clearFrom = Number.NEGATIVE_INFINITY;
  request.segments.forEach(({ kind, startS, endS }, i) => {
    const { box, x } = upper!;
    const [left, right] = [x.at(startS), x.at(endS)];
    if (i > 0)
      for (const frame of frames)
        marks.push({
          kind: 'line',
          points: [left, frame.box.top, left, frame.box.bottom],
          stroke: 'axis',
          strokeWidth: 0.75,
          dash: [2, 3],
        });
    const whole = `${i + 1} ${stepName(kind)}`;
    const text = textWidth(whole, SMALLEST_TEXT_PX) + 6 <= right - left ? whole : String(i + 1);
    const half = textWidth(text, SMALLEST_TEXT_PX) / 2;
    const middle = Math.min(box.right - half, Math.max(box.left + half, (left + right) / 2));
    if (middle - half < clearFrom) return;
    clearFrom = middle + half + 3;
    marks.push({
      kind: 'text',
      x: middle,
      y: box.top - STEP_BAND_PX / 2,
      text,
      size: SMALLEST_TEXT_PX,
      fill: 'quiet',
      anchor: 'middle',
      baseline: 'middle',
      fullText: whole,
    });
  });
  return marks;
}

function describe(request: PathTimeRequest, totalS: number): string {
  const { command, film, segments, liquid, log } = request;
  if (segments.length === 0) return 'A heat and gas path without a step.';
  const reach = (values: ArrayLike<number>): [number, number] => [
    Array.from(values).reduce((low, value) => Math.min(low, value), Number.POSITIVE_INFINITY),
    Array.from(values).reduce((high, value) => Math.max(high, value), Number.NEGATIVE_INFINITY),
  ];
  const course = film ?? command;
  const [coldC, hotC] = reach(course.temperatureC);
  const [lowLog, highLog] = reach(course.log10Po2Atm);
  const sentences = [
    `Heat and gas path of ${counted(segments.length, 'step')} over ${timeText(totalS)}: ${film ? 'at the film ' : ''}${coldC.toFixed(0)} to ${hotC.toFixed(0)} °C, oxygen ${pressureText(10 ** lowLog)} to ${pressureText(10 ** highLog)}.`,
  ];
  for (const { fromS, toS } of liquid?.spans ?? [])
    sentences.push(`${liquid!.label} from ${timeText(fromS)} to ${timeText(toS)}.`);
  if (log) sentences.push(`With ${counted(log.timeS.length, 'reading')} of ${log.label}.`);
  return sentences.join(' ');
}

function timeTable({ command, film, liquid, log }: PathTimeRequest): Table {
  type Row = readonly (string | number | null)[];
  const rows: Row[] = [];
  const add = (name: string, course: PathCourse) => {
    for (let i = 0; i < course.timeS.length; i++)
      rows.push([name, course.timeS[i]!, course.temperatureC[i]!, course.log10Po2Atm[i]!]);
  };
  add('command', command);
  if (film) add('film', film);
  for (const { fromS, toS } of liquid?.spans ?? [])
    rows.push([`${liquid!.label}, begins`, fromS, null, null], [`${liquid!.label}, ends`, toS, null, null]);
  for (let i = 0; log && i < log.timeS.length; i++)
    rows.push(['log', log.timeS[i]!, log.temperatureC?.[i] ?? null, log.log10Po2Atm?.[i] ?? null]);
  const column = (name: string, unit: string, i: number): Column => ({
    name,
    unit,
    values: rows.map((row) => row[i]!),
  });
  return {
    columns: [
      column('course', '', 0),
      column('time', 's', 1),
      column('surface temperature', '°C', 2),
      column('log10 pO₂/atm', '', 3),
    ],
  };
}

/**
 * The command thin, the likely path at the film bold, likely liquid shaded, a log as dots and a line with its gaps open.
 *
 * @throws DomainError CHART_SIZE, or CHART_LENGTHS if the arrays of a course differ in length
 */
export function pathTimeScene(request: PathTimeRequest): Scene<PathTimeScales> {
  const size = checkedSize(request.size ?? DEFAULT_SIZE);
  const { command, film, segments, liquid, log } = request;
  checkLengths('command', { ...command });
  if (film) checkLengths('film', { ...film });
  if (log)
    checkLengths('log', {
      timeS: log.timeS,
      ...(log.temperatureC ? { temperatureC: log.temperatureC } : {}),
      ...(log.log10Po2Atm ? { log10Po2Atm: log.log10Po2Atm } : {}),
    });
  const totalS = Math.max(0, ...segments.map(({ endS }) => endS));
  const time = timeUnitOf(totalS);
  const items: LegendItem[] = [
    {
      label: film ? 'commanded' : 'path',
      sample: (x, y) => [
        { kind: 'line', points: [x - 11, y, x + 11, y], stroke: 'series1', strokeWidth: film ? 1 : 2.5 },
      ],
    },
  ];
  if (film)
    items.push({
      label: 'likely at the film',
      sample: (x, y) => [
        { kind: 'line', points: [x - 11, y, x + 11, y], stroke: 'series1', strokeWidth: 2.5 },
      ],
    });
  if (liquid && liquid.spans.length > 0)
    items.push({
      label: liquid.label,
      sample: (x, y) => [
        {
          kind: 'area',
          rings: [[x - 10, y - 6, x + 10, y - 6, x + 10, y + 6, x - 10, y + 6]],
          fill: 'series3',
          opacity: 0.2,
        },
      ],
    });
  if (log)
    items.push({
      label: log.label,
      sample: (x, y) => [
        { kind: 'line', points: [x - 11, y, x + 11, y], stroke: 'series2', strokeWidth: 1.25 },
        { kind: 'dots', points: [x, y], radius: 2, fill: 'series2' },
      ],
    });
  const key = legend(items, 12, 6, size.width - 24);
  const top = key.heightPx + 10 + STEP_BAND_PX;
  const bottom = size.height - BELOW_PX - (request.caption ? 20 : 0);
  const split = top + (bottom - top - PANEL_GAP_PX) * 0.58;
  const logC = log?.temperatureC ? Float64Array.from(log.temperatureC, numberOf) : null;
  const logAtm = log?.log10Po2Atm ? Float64Array.from(log.log10Po2Atm, atmOf) : null;
  const courses = film ? [command, film] : [command];
  const temperatureAxis = makeAxis(
    { label: 'Surface temperature', unit: '°C' },
    [...courses.map(({ temperatureC }) => temperatureC), ...(logC ? [logC] : [])],
    [split, top],
    0.06,
    40,
  );
  const pressureAxis = makeAxis(
    { label: 'pO₂', unit: 'atm', kind: 'log' },
    [...courses.map(({ log10Po2Atm }) => Float64Array.from(log10Po2Atm, atmOf)), ...(logAtm ? [logAtm] : [])],
    [bottom, split + PANEL_GAP_PX],
    0.08,
    30,
  );
  const left = roomAtLeft([temperatureAxis, pressureAxis]);
  const right = size.width - RIGHT_PX;
  const shownAxis = makeAxis(
    { label: 'Time', unit: time.unit, domain: [0, totalS > 0 ? totalS / time.seconds : 1] },
    [],
    [left, right],
    0,
    80,
  );
  // data are in s, the axis reads in its own unit
  const timeAxis = { ...shownAxis, at: (atS: number) => shownAxis.at(atS / time.seconds) };
  const frameOf = (from: number, to: number, y: PlotFrame['y']): PlotFrame => ({
    box: { left, right, top: from, bottom: to },
    x: timeAxis,
    y,
  });
  const upper = frameOf(top, split, temperatureAxis);
  const lower = frameOf(split + PANEL_GAP_PX, bottom, pressureAxis);
  const shades = (liquid?.spans ?? []).flatMap(({ fromS, toS }) =>
    [upper, lower].map(
      ({ box }): Mark => ({
        kind: 'area',
        rings: [
          ringOf({
            ...box,
            left: Math.max(box.left, timeAxis.at(fromS)),
            // a flash of liquid is still seen
            right: Math.min(box.right, Math.max(timeAxis.at(toS), timeAxis.at(fromS) + 1.5)),
          }),
        ],
        fill: 'series3',
        opacity: 0.2,
      }),
    ),
  );
  const lines = (frame: PlotFrame, y: (course: PathCourse, i: number) => number): Mark[] =>
    courses.map((course, i) => ({
      kind: 'line',
      points: courseLine(frame, course.timeS, (k) => y(course, k)),
      stroke: 'series1',
      strokeWidth: i === courses.length - 1 ? 2.5 : 1,
    }));
  const marks: Mark[] = [
    ...gridMarks(upper),
    ...gridMarks(lower),
    ...shades,
    ...stepMarks(request, [upper, lower]),
    {
      kind: 'group',
      clip: ringOf(upper.box),
      marks: [
        ...lines(upper, ({ temperatureC }, i) => temperatureC[i]!),
        ...(log && logC ? logMarks(upper, log.timeS, (i) => logC[i]!) : []),
      ],
    },
    {
      kind: 'group',
      clip: ringOf(lower.box),
      marks: [
        ...lines(lower, ({ log10Po2Atm }, i) => atmOf(log10Po2Atm[i])),
        ...(log && logAtm ? logMarks(lower, log.timeS, (i) => logAtm[i]!) : []),
      ],
    },
    ...(segments.length === 0 ? [emptyMark(upper.box, 'no steps')] : []),
    ...axisMarks(upper, false),
    ...axisMarks(lower),
    ...key.marks,
  ];
  if (request.caption)
    marks.push({
      kind: 'text',
      x: 12,
      y: size.height - 10,
      ...fitText(request.caption, size.width - 24, 12),
      size: 12,
      fill: 'quiet',
      anchor: 'start',
      baseline: 'middle',
    });
  return {
    ...size,
    title: request.title,
    description: describe(request, totalS),
    marks,
    scales: { temperature: upper, oxygen: lower, timeSAt: (x) => shownAxis.invert(x) * time.seconds },
    get table() {
      return timeTable(request);
    },
  };
}
