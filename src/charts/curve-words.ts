// The curve chart in words and as a table.
import type { Axis } from './axis.ts';
import type { Table } from './csv.ts';
import type { CurveRequest } from './curve-request.ts';
import { counted, shortNumber } from './number-text.ts';
import type { PlotFrame } from './plot-frame.ts';

function rangeText(axis: Axis, arrays: readonly ArrayLike<number>[]): string {
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (const values of arrays) {
    for (let i = 0; i < values.length; i++) {
      if (Number.isFinite(values[i]!)) {
        min = Math.min(min, values[i]!);
        max = Math.max(max, values[i]!);
      }
    }
  }
  const unit = axis.unit === '' || axis.unit === '1' ? '' : ` ${axis.unit}`;
  return min > max
    ? `${axis.label} without a number`
    : `${axis.label} from ${shortNumber(min)} to ${shortNumber(max)}${unit}`;
}

/** What the curve chart shows, in sentences. */
export function curveDescription(request: CurveRequest, main: PlotFrame, unshownCount: number): string {
  const { series, verticals = [], levels = [] } = request;
  const points = series.reduce((sum, { x }) => sum + x.length, 0);
  if (points === 0) {
    return `${request.y.label} against ${request.x.label}: no data.`;
  }
  const sentences = [
    `${request.y.label} against ${request.x.label}: ${series.map(({ label, x }) => `${label} (${counted(x.length, 'point')})`).join(', ')}.`,
    `${rangeText(
      main.x,
      series.map(({ x }) => x),
    )}; ${rangeText(
      main.y,
      series.map(({ y }) => y),
    )}.`,
  ];
  if (unshownCount > 0) {
    sentences.push(
      `${counted(unshownCount, 'value')} cannot be shown on a log axis or ${unshownCount === 1 ? 'is' : 'are'} infinite.`,
    );
  }
  if (levels.length > 0) {
    sentences.push(`Level lines: ${levels.map(({ label }) => label).join(', ')}.`);
  }
  if (verticals.length > 0) {
    sentences.push(
      `Marked: ${verticals.map(({ label, x }) => `${label} at ${shortNumber(x, 5)}`).join(', ')}.`,
    );
  }
  return sentences.join(' ');
}

/** Every datum, one a row, under the name of its series. */
export function curveTable({ x, y, series, difference }: CurveRequest): Table {
  const all = difference ? [...series, { ...difference, yU: undefined }] : series;
  const hasU = all.some(({ yU }) => yU);
  const join = (of: (one: (typeof all)[number]) => ArrayLike<number> | undefined) =>
    all.flatMap((one) => Array.from(of(one) ?? new Array<number>(one.x.length).fill(Number.NaN)));
  return {
    columns: [
      {
        name: 'series',
        unit: '',
        values: all.flatMap(({ label, x: xs }) => new Array<string>(xs.length).fill(label)),
      },
      { name: x.label, unit: x.unit, values: join((one) => one.x) },
      { name: y.label, unit: y.unit, values: join((one) => one.y) },
      ...(hasU
        ? [{ name: `standard uncertainty of ${y.label}`, unit: y.unit, values: join((one) => one.yU) }]
        : []),
    ],
  };
}
