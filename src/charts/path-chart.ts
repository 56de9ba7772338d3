// A heat and gas path: temperature and log pO2 against time in two panels, and pO2 against temperature.
import { type Axis, makeAxis } from './axis.ts';
import type { Table } from './csv.ts';
import type { CurveScales } from './curve-chart.ts';
import { curveScene } from './curve-chart.ts';
import { legend } from './legend.ts';
import { counted, shortNumber } from './number-text.ts';
import {
  axisMarks,
  BELOW_PX,
  emptyMark,
  gridMarks,
  levelMarks,
  type PlotFrame,
  roomAtLeft,
  uprightMarks,
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
import { fitText, textWidth } from './text-width.ts';

/** One step: it runs from where the last ended to `toC`, in its own gas throughout. */
export interface PathStep {
  readonly kind: string;
  readonly toC: number;
  readonly durationS: number;
  /** 0: no oxygen, which a logarithm cannot show */
  readonly po2Atm: number;
}

export interface PathRequest {
  readonly title: string;
  readonly startC: number;
  readonly steps: readonly PathStep[];
  /** further temperatures against time: a measured one, a limit that depends on the gas */
  readonly temperatures?: readonly {
    readonly label: string;
    readonly timeS: ArrayLike<number>;
    readonly temperatureC: ArrayLike<number>;
  }[];
  /** stretches of time to shade: melted, outside the stable field */
  readonly spans?: readonly { readonly label: string; readonly fromS: number; readonly toS: number }[];
  readonly levelsC?: readonly { readonly temperatureC: number; readonly label: string }[];
  /** moment under the reader's hand */
  readonly cursorS?: number | null;
  readonly size?: Size;
}

export interface PathPlaneRequest {
  readonly title: string;
  readonly startC: number;
  readonly steps: readonly PathStep[];
  /** lines of the (T, log pO2) plane, each with its source in the label */
  readonly lines?: readonly {
    readonly label: string;
    readonly temperatureC: ArrayLike<number>;
    readonly po2Atm: ArrayLike<number>;
  }[];
  readonly size?: Size;
}

export interface PathScales {
  readonly temperature: PlotFrame;
  readonly oxygen: PlotFrame;
  /** s at a horizontal position */
  timeSAt(x: number): number;
}

const DEFAULT_SIZE: Size = { width: 720, height: 440 };
const PANEL_GAP_PX = 14;
const TIME_UNITS = [
  { unit: 's', seconds: 1, upToS: 300 },
  { unit: 'min', seconds: 60, upToS: 3 * 3600 },
  { unit: 'h', seconds: 3600, upToS: Number.POSITIVE_INFINITY },
] as const;

interface PathPoints {
  /** s; a step's two ends, so that a sudden change of gas is upright */
  readonly timeS: number[];
  readonly temperatureC: number[];
  readonly po2Atm: number[];
}

function pathPoints(startC: number, steps: readonly PathStep[]): PathPoints {
  const points: PathPoints = { timeS: [], temperatureC: [], po2Atm: [] };
  let timeS = 0;
  let fromC = startC;
  for (const { toC, durationS, po2Atm } of steps) {
    points.timeS.push(timeS, timeS + durationS);
    points.temperatureC.push(fromC, toC);
    points.po2Atm.push(po2Atm, po2Atm);
    timeS += durationS;
    fromC = toC;
  }
  return points;
}

function timeUnitFor(totalS: number): (typeof TIME_UNITS)[number] {
  return TIME_UNITS.find(({ upToS }) => totalS <= upToS)!;
}

function lineOf(frame: PlotFrame, x: ArrayLike<number>, y: ArrayLike<number>): number[] {
  return Array.from(x).flatMap((value, i) => {
    const at = [frame.x.at(value), frame.y.at(y[i]!)];
    return Number.isNaN(at[0]! + at[1]!) ? [Number.NaN, Number.NaN] : at;
  });
}

const oxygenAxis = (values: readonly number[], range: readonly [number, number]): Axis =>
  makeAxis({ label: 'pO₂', unit: 'atm', kind: 'log' }, [values], range, 0.08, 30);

/** Shaded stretches, and their names to be drawn over everything else. */
function spanMarks(
  request: PathRequest,
  frames: readonly PlotFrame[],
  perUnitS: number,
): { areas: Mark[]; names: Mark[] } {
  const areas: Mark[] = [];
  const names: Mark[] = [];
  (request.spans ?? []).forEach(({ label, fromS, toS }, i) => {
    const upper = frames[0]!;
    const left = Math.max(upper.box.left, upper.x.at(fromS / perUnitS));
    const right = Math.min(upper.box.right, upper.x.at(toS / perUnitS));
    if (!(right > left)) return;
    for (const { box } of frames) {
      areas.push({ kind: 'area', rings: [ringOf({ ...box, left, right })], fill: 'series2', opacity: 0.14 });
    }
    const fitted = fitText(label, Math.max(right - left - 4, 60), SMALLEST_TEXT_PX);
    const half = textWidth(fitted.text, SMALLEST_TEXT_PX) / 2 + 2;
    names.push({
      kind: 'text',
      x: Math.max(upper.box.left + half, Math.min(upper.box.right - half, (left + right) / 2)),
      y: upper.box.bottom - 9 - 14 * (i % 3),
      ...fitted,
      size: SMALLEST_TEXT_PX,
      fill: 'series2',
      anchor: 'middle',
      baseline: 'middle',
      hasHalo: true,
    });
  });
  return { areas, names };
}

function describePath(request: PathRequest, totalS: number): string {
  const { steps, startC, spans = [] } = request;
  if (steps.length === 0) return 'A heat and gas path without a step.';
  const hottest = Math.max(startC, ...steps.map(({ toC }) => toC));
  const pressures = steps.map(({ po2Atm }) => po2Atm).filter((value) => value > 0);
  const time = timeUnitFor(totalS);
  const sentences = [
    `Heat and gas path of ${counted(steps.length, 'step')} over ${shortNumber(totalS / time.seconds, 3)} ${time.unit}, from ${shortNumber(startC)} °C, hottest ${shortNumber(hottest)} °C.`,
  ];
  if (pressures.length > 0) {
    sentences.push(
      `Oxygen partial pressure from ${shortNumber(Math.min(...pressures))} to ${shortNumber(Math.max(...pressures))} atm.`,
    );
  }
  const without = steps.length - pressures.length;
  if (without > 0)
    sentences.push(`${counted(without, 'step')} without oxygen, not shown in the lower panel.`);
  for (const { label, fromS, toS } of spans) {
    sentences.push(
      `${label} from ${shortNumber(fromS / time.seconds, 3)} to ${shortNumber(toS / time.seconds, 3)} ${time.unit}.`,
    );
  }
  return sentences.join(' ');
}

function pathTable(startC: number, steps: readonly PathStep[]): Table {
  const points = pathPoints(startC, steps);
  return {
    columns: [
      {
        name: 'step',
        unit: '',
        values: steps.flatMap(({ kind }, i) => [`${i + 1} ${kind}`, `${i + 1} ${kind}`]),
      },
      { name: 'time', unit: 's', values: points.timeS },
      { name: 'temperature', unit: '°C', values: points.temperatureC },
      { name: 'pO₂', unit: 'atm', values: points.po2Atm },
    ],
  };
}

/**
 * Temperature above, oxygen pressure below, over one time axis in s, min or h.
 *
 * @throws DomainError CHART_SIZE, or CHART_LENGTHS if a further temperature's arrays differ in length
 */
export function pathScene(request: PathRequest): Scene<PathScales> {
  const size = checkedSize(request.size ?? DEFAULT_SIZE);
  const { startC, steps, temperatures = [], levelsC = [] } = request;
  for (const { label, timeS, temperatureC } of temperatures) checkLengths(label, { timeS, temperatureC });
  const points = pathPoints(startC, steps);
  const totalS = Math.max(
    points.timeS.at(-1) ?? 0,
    ...temperatures.map(({ timeS }) => timeS[timeS.length - 1] ?? 0),
  );
  const time = timeUnitFor(totalS);
  const inUnit = (timeS: ArrayLike<number>) => Array.from(timeS, (value) => value / time.seconds);

  const further = temperatures.map((one, i) => ({
    ...one,
    role: (['series2', 'series3', 'series4', 'series5'] as const)[i % 4]!,
    dash: [6, 3 + i],
  }));
  const key = legend(
    further.length === 0
      ? []
      : [{ label: 'path', role: 'series1' as const, dash: undefined }, ...further].map(
          ({ label, role, dash }) => ({
            label,
            sample: (x: number, y: number): Mark[] => [
              { kind: 'line', points: [x - 11, y, x + 11, y], stroke: role, strokeWidth: 2, dash },
            ],
          }),
        ),
    16,
    6,
    size.width - 32,
  );
  const top = key.heightPx + 16;
  const bottom = size.height - BELOW_PX;
  const split = top + (bottom - top - PANEL_GAP_PX) * 0.6;
  const temperatureAxis = makeAxis(
    { label: 'Temperature', unit: '°C' },
    [
      points.temperatureC,
      ...temperatures.map(({ temperatureC }) => temperatureC),
      levelsC.map((one) => one.temperatureC),
    ],
    [split, top],
    0.08,
    40,
  );
  const pressureAxis = oxygenAxis(points.po2Atm, [bottom, split + PANEL_GAP_PX]);
  const left = roomAtLeft([temperatureAxis, pressureAxis]);
  const right = size.width - 16;
  const timeAxis = makeAxis(
    { label: 'Time', unit: time.unit, domain: [0, totalS > 0 ? totalS / time.seconds : 1] },
    [],
    [left, right],
    0,
    80,
  );
  const upper: PlotFrame = { box: { left, right, top, bottom: split }, x: timeAxis, y: temperatureAxis };
  const lower: PlotFrame = {
    box: { left, right, top: split + PANEL_GAP_PX, bottom },
    x: timeAxis,
    y: pressureAxis,
  };

  const line = (frame: PlotFrame, y: ArrayLike<number>): Mark => ({
    kind: 'line',
    points: lineOf(frame, inUnit(points.timeS), y),
    stroke: 'series1',
    strokeWidth: 2,
  });
  const spans = spanMarks(request, [upper, lower], time.seconds);
  const cursor = request.cursorS ?? null;
  const cursorLines = cursor === null ? [] : [{ x: cursor / time.seconds, label: '' }];
  const marks: Mark[] = [
    ...gridMarks(upper),
    ...gridMarks(lower),
    ...spans.areas,
    {
      kind: 'group',
      clip: ringOf(upper.box),
      marks: [
        ...further.map(
          ({ timeS, temperatureC, role, dash }): Mark => ({
            kind: 'line',
            points: lineOf(upper, inUnit(timeS), temperatureC),
            stroke: role,
            strokeWidth: 2,
            dash,
          }),
        ),
        line(upper, points.temperatureC),
      ],
    },
    { kind: 'group', clip: ringOf(lower.box), marks: [line(lower, points.po2Atm)] },
    ...levelsC.flatMap(({ temperatureC, label }) => levelMarks(upper, temperatureC, label)),
    ...uprightMarks(upper, cursorLines),
    ...uprightMarks(lower, cursorLines),
    ...(steps.length === 0 ? [emptyMark(upper.box, 'no steps')] : []),
    ...spans.names,
    ...axisMarks(upper, false),
    ...axisMarks(lower),
    ...key.marks,
  ];
  return {
    ...size,
    title: request.title,
    description: describePath(request, totalS),
    marks,
    scales: { temperature: upper, oxygen: lower, timeSAt: (x) => timeAxis.invert(x) * time.seconds },
    get table() {
      return pathTable(startC, steps);
    },
  };
}

/**
 * The same path as a way through the plane of temperature and oxygen pressure, with lines of that plane; the ends of
 * the steps are numbered.
 *
 * @throws DomainError CHART_SIZE, or CHART_LENGTHS if a line's arrays differ in length
 */
export function pathPlaneScene(request: PathPlaneRequest): Scene<CurveScales> {
  const { title, startC, steps, lines = [], size } = request;
  const points = pathPoints(startC, steps);
  // Steps that end in one place share a label.
  const ends = new Map<string, { x: number; y: number; label: string }>();
  const first = steps[0];
  if (first) ends.set(`${startC} ${first.po2Atm}`, { x: startC, y: first.po2Atm, label: 'start' });
  steps.forEach(({ toC, po2Atm }, i) => {
    const key = `${toC} ${po2Atm}`;
    const known = ends.get(key);
    ends.set(key, { x: toC, y: po2Atm, label: known ? `${known.label}, ${i + 1}` : `${i + 1}` });
  });
  return curveScene({
    title,
    x: { label: 'Temperature', unit: '°C' },
    y: { label: 'pO₂', unit: 'atm', kind: 'log' },
    series: [
      { id: 'path', label: 'path', look: 'line', x: points.temperatureC, y: points.po2Atm },
      ...lines.map(({ label, temperatureC, po2Atm }, i) => ({
        id: `line-${i}`,
        label,
        look: 'line' as const,
        x: temperatureC,
        y: po2Atm,
      })),
    ],
    notes: [...ends.values()].filter(({ y }) => y > 0),
    ...(size ? { size } : {}),
  });
}
