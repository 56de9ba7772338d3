// One quantity over many films: value with standard uncertainty, bounds as arrows, sorted from the highest down.
import { type Axis, type AxisSpec, makeAxis } from './axis.ts';
import type { Table } from './csv.ts';
import { legend } from './legend.ts';
import { counted, shortNumber, uncertainText } from './number-text.ts';
import { axisMarks, BELOW_PX, type PlotFrame } from './plot-frame.ts';
import { checkedSize, type Mark, type Scene, SMALLEST_TEXT_PX, TEXT_PX } from './scene.ts';
import { fitText, textWidth } from './text-width.ts';
import type { VerdictName } from './theme.ts';
import { VERDICT_NAMES, verdictMarks } from './verdict-mark.ts';

export interface IntervalRow {
  readonly id: string;
  readonly label: string;
  /** null: not known */
  readonly value: number | null;
  readonly standardUncertainty: number | null;
  /** the value is a limit: the truth lies above or below it */
  readonly bound?: 'above' | 'below';
  readonly verdict?: VerdictName;
  readonly isBenchmark?: boolean;
}

export interface IntervalRequest {
  readonly title: string;
  readonly quantity: AxisSpec;
  readonly rows: readonly IntervalRow[];
  /** upright line: what the series asks for */
  readonly criterion?: { readonly value: number; readonly label: string };
  readonly widthPx?: number;
}

export interface IntervalScales {
  readonly x: Axis;
  /** id of the row at a height, or null */
  rowAt(y: number): string | null;
}

const ROW_PX = 24;
/** Height that even an empty chart takes, rows. */
const FEWEST_ROWS = 5;
const DEFAULT_WIDTH_PX = 640;
const LONGEST_NAME_SHARE = 0.32;
const ARROW_PX = 26;
const RADIUS_PX = 5;

/** Highest first; what is not known last, in the order given. */
function sortedRows(rows: readonly IntervalRow[]): IntervalRow[] {
  const known = (row: IntervalRow) => row.value !== null && Number.isFinite(row.value);
  return [...rows.filter(known).sort((a, b) => b.value! - a.value!), ...rows.filter((row) => !known(row))];
}

function saidValue({ value, standardUncertainty, bound }: IntervalRow, unit: string): string {
  if (value === null || !Number.isFinite(value)) return 'not known';
  const sign = bound === 'above' ? 'above ' : bound === 'below' ? 'below ' : '';
  return `${sign}${uncertainText(value, standardUncertainty)}${unit === '' || unit === '1' ? '' : ` ${unit}`}`;
}

function arrowMarks(from: number, tip: number, y: number): Mark[] {
  return [
    { kind: 'line', points: [from, y, tip, y], stroke: 'quiet', strokeWidth: 2 },
    {
      kind: 'symbol',
      shape: tip > from ? 'triangle right' : 'triangle left',
      x: tip,
      y,
      radius: 4,
      fill: 'quiet',
    },
  ];
}

function rowMarks(row: IntervalRow, y: number, { box, x }: PlotFrame): Mark[] {
  const { value, standardUncertainty, bound, verdict = 'cannot say', isBenchmark = false } = row;
  const at = value === null ? Number.NaN : x.at(value);
  if (Number.isNaN(at)) {
    return [
      {
        kind: 'text',
        x: box.left + 8,
        y,
        text: value === null ? 'not known' : 'cannot be shown on this axis',
        size: SMALLEST_TEXT_PX,
        fill: 'quiet',
        anchor: 'start',
        baseline: 'middle',
      },
    ];
  }
  const marks: Mark[] = [];
  if (bound) {
    marks.push(...arrowMarks(at, at + (bound === 'above' ? ARROW_PX : -ARROW_PX), y));
  } else if (standardUncertainty !== null && standardUncertainty > 0) {
    for (const [factor, strokeWidth] of [
      [2, 1],
      [1, 3],
    ] as const) {
      const ends = [-1, 1].map((side) => x.at(value! + side * factor * standardUncertainty));
      const low = Number.isNaN(ends[0]!) ? box.left : Math.max(box.left, ends[0]!);
      marks.push({
        kind: 'line',
        points: [low, y, Math.min(box.right, ends[1]!), y],
        stroke: 'quiet',
        strokeWidth,
      });
    }
  }
  const label = `${row.label}: ${saidValue(row, x.unit)}${row.verdict ? `, ${row.verdict}` : ''}${isBenchmark ? ', benchmark' : ''}`;
  // The bars lie over the benchmark's ring, whose rim would hide them.
  const symbols = verdictMarks(verdict, at, y, RADIUS_PX, isBenchmark, { id: row.id, label });
  return [...symbols.slice(0, -1), ...marks, symbols.at(-1)!];
}

function describe({ quantity, rows, criterion }: IntervalRequest, sorted: readonly IntervalRow[]): string {
  const best = sorted[0];
  if (!best) return `${quantity.label}: no films.`;
  const unknown = rows.filter(({ value }) => value === null || !Number.isFinite(value)).length;
  const sentences = [`${quantity.label} of ${counted(rows.length, 'film')}, highest first.`];
  if (unknown < rows.length) {
    const last = sorted[rows.length - unknown - 1]!;
    sentences.push(`Highest: ${best.label}, ${saidValue(best, quantity.unit)}.`);
    if (last !== best) sentences.push(`Lowest: ${last.label}, ${saidValue(last, quantity.unit)}.`);
    sentences.push('Thick bars are one standard uncertainty either way, thin bars two; arrows are limits.');
  }
  if (unknown > 0) sentences.push(`Not known for ${counted(unknown, 'film')}.`);
  if (criterion) sentences.push(`Line at ${shortNumber(criterion.value)}: ${criterion.label}.`);
  return sentences.join(' ');
}

function intervalTable({ quantity }: IntervalRequest, rows: readonly IntervalRow[]): Table {
  return {
    columns: [
      { name: 'film', unit: '', values: rows.map(({ label }) => label) },
      { name: quantity.label, unit: quantity.unit, values: rows.map(({ value }) => value) },
      {
        name: `standard uncertainty of ${quantity.label}`,
        unit: quantity.unit,
        values: rows.map(({ standardUncertainty }) => standardUncertainty),
      },
      { name: 'the truth lies', unit: '', values: rows.map(({ bound }) => bound ?? null) },
      { name: 'verdict', unit: '', values: rows.map(({ verdict }) => verdict ?? null) },
    ],
  };
}

/**
 * Films in rows, the highest value at the top; the height follows from their number.
 * @throws DomainError CHART_SIZE if the width is out of range or there are too many rows for a picture
 */
export function intervalScene(request: IntervalRequest): Scene<IntervalScales> {
  const width = request.widthPx ?? DEFAULT_WIDTH_PX;
  const rows = sortedRows(request.rows);
  const items = VERDICT_NAMES.filter((name) => rows.some(({ verdict }) => verdict === name)).map((name) => ({
    label: name as string,
    sample: (x: number, y: number): readonly Mark[] => verdictMarks(name, x, y, RADIUS_PX, false),
  }));
  if (rows.some(({ isBenchmark }) => isBenchmark)) {
    items.push({
      label: 'benchmark',
      sample: (x, y) => [
        { kind: 'symbol', shape: 'circle', x, y, radius: 7, stroke: 'accent', strokeWidth: 2 },
      ],
    });
  }
  if (rows.some(({ bound, standardUncertainty }) => !bound && (standardUncertainty ?? 0) > 0)) {
    items.push({
      label: '1 and 2 standard uncertainties',
      sample: (x, y) => [
        { kind: 'line', points: [x - 11, y, x + 11, y], stroke: 'quiet', strokeWidth: 1 },
        { kind: 'line', points: [x - 5.5, y, x + 5.5, y], stroke: 'quiet', strokeWidth: 3 },
      ],
    });
  }
  if (rows.some(({ bound }) => bound)) {
    items.push({ label: 'a limit', sample: (x, y) => arrowMarks(x - 9, x + 9, y) });
  }
  const key = legend(items, 16, 6, width - 32);
  const criterionPx = request.criterion ? 20 : 6;
  const top = key.heightPx + 10 + criterionPx;
  const bottom = top + ROW_PX * Math.max(FEWEST_ROWS, rows.length);
  const size = checkedSize({ width, height: bottom + BELOW_PX });

  const names = rows.map(({ label }) => fitText(label, LONGEST_NAME_SHARE * width, TEXT_PX));
  const left = 24 + Math.max(40, ...names.map(({ text }) => textWidth(text, TEXT_PX)));
  const reach = (row: IntervalRow) => (row.bound ? 0 : 2 * (row.standardUncertainty ?? 0));
  const values = rows.flatMap((row) =>
    row.value === null ? [] : [row.value, row.value - reach(row), row.value + reach(row)],
  );
  if (request.criterion) values.push(request.criterion.value);
  const right = width - 20;
  const x = makeAxis(request.quantity, [values], [left, right], 0.06, 90);
  const noTicks = makeAxis({ label: '', unit: '', domain: [0, 1] }, [], [bottom, top], 0, 1e9);
  const frame: PlotFrame = { box: { left, right, top, bottom }, x, y: { ...noTicks, ticks: [] } };

  const marks: Mark[] = [];
  for (const { at, text } of x.ticks) {
    if (text !== '') marks.push({ kind: 'line', points: [at, top, at, bottom], stroke: 'grid' });
  }
  if (request.criterion) {
    const at = x.at(request.criterion.value);
    const isLeftHalf = at < (left + right) / 2;
    marks.push(
      { kind: 'line', points: [at, top - 4, at, bottom], stroke: 'accent', strokeWidth: 1.5, dash: [7, 4] },
      {
        kind: 'text',
        x: at,
        y: top - 12,
        ...fitText(request.criterion.label, (right - left) / 2, SMALLEST_TEXT_PX),
        size: SMALLEST_TEXT_PX,
        fill: 'accent',
        anchor: isLeftHalf ? 'start' : 'end',
        baseline: 'middle',
      },
    );
  }
  rows.forEach((row, i) => {
    const y = top + ROW_PX * (i + 0.5);
    marks.push(
      {
        kind: 'text',
        x: left - 10,
        y,
        ...names[i]!,
        size: TEXT_PX,
        fill: 'ink',
        anchor: 'end',
        baseline: 'middle',
      },
      ...rowMarks(row, y, frame),
    );
  });
  if (rows.length === 0) {
    marks.push({
      kind: 'text',
      x: (left + right) / 2,
      y: (top + bottom) / 2,
      text: 'no films',
      size: TEXT_PX,
      fill: 'quiet',
      anchor: 'middle',
      baseline: 'middle',
    });
  }
  marks.push(...axisMarks(frame), ...key.marks);
  return {
    ...size,
    title: request.title,
    description: describe(request, rows),
    marks,
    scales: {
      x,
      rowAt: (y) => rows[Math.floor((y - top) / ROW_PX)]?.id ?? null,
    },
    get table() {
      return intervalTable(request, rows);
    },
  };
}
