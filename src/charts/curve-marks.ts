// One curve's marks: points with uncertainty, lines, bands. Numbers in, thinned pixels out.
import type { CurveBand, CurveSeries } from './curve-request.ts';
import { thinnedDots, thinnedLine } from './decimate.ts';
import type { PlotFrame } from './plot-frame.ts';
import type { FlatPoints, Mark, SymbolShape } from './scene.ts';
import { type ColourRole, SERIES_ROLES } from './theme.ts';

/** Colour, dash and symbol of one curve. */
export interface CurveStyle {
  readonly role: ColourRole;
  readonly dash?: readonly number[];
  readonly strokeWidth: number;
  readonly shape: SymbolShape;
}

const SHAPES: readonly SymbolShape[] = [
  'circle',
  'square',
  'triangle up',
  'diamond',
  'triangle down',
  'plus',
];
const DASHES: readonly (readonly number[] | undefined)[] = [
  undefined,
  [7, 3],
  [2, 2.5],
  [8, 3, 2, 3],
  [12, 3],
  [4, 2],
];
/** Up to so many points get symbols and bars of their own; more become dots and a band. */
const MOST_SYMBOLS = 200;
/** Dots are wider than this, so that two in one cell look like one. */
const DOT_CELL_PX = 1;

/** Styles in the order of the series; fits and backgrounds do not use up a colour. */
export function curveStyles(series: readonly CurveSeries[]): CurveStyle[] {
  let nextPoints = 0;
  let nextLine = 0;
  return series.map(({ look }): CurveStyle => {
    if (look === 'fit') return { role: 'ink', strokeWidth: 1.5, shape: 'circle' };
    if (look === 'background') return { role: 'quiet', dash: [5, 3], strokeWidth: 1.25, shape: 'circle' };
    const colour = SERIES_ROLES[(nextPoints + nextLine) % SERIES_ROLES.length]!;
    const shape = SHAPES[look === 'points' ? nextPoints++ % SHAPES.length : 0]!;
    const dash = DASHES[look === 'line' ? nextLine++ % DASHES.length : 0];
    return { role: colour, dash, strokeWidth: 1.5, shape };
  });
}

/** All pixels of a curve, thinned by nothing yet. */
export function curvePixels(
  { x, y }: { x: ArrayLike<number>; y: ArrayLike<number> },
  frame: PlotFrame,
): { xPx: Float64Array; yPx: Float64Array } {
  const n = x.length;
  const xPx = new Float64Array(n);
  const yPx = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    xPx[i] = frame.x.at(x[i]!);
    yPx[i] = frame.y.at(y[i]!);
  }
  return { xPx, yPx };
}

function pick(xPx: Float64Array, yPx: Float64Array, indices: readonly number[]): number[] {
  const points: number[] = [];
  for (const i of indices) {
    const isGap = Number.isNaN(xPx[i]! + yPx[i]!);
    points.push(isGap ? Number.NaN : xPx[i]!, isGap ? Number.NaN : yPx[i]!);
  }
  return points;
}

/** The sample of a curve beside its name. */
export function curveSample({ look }: CurveSeries, style: CurveStyle, x: number, y: number): Mark[] {
  return look === 'points'
    ? [symbol(style, x, y, 3.2)]
    : [
        {
          kind: 'line',
          points: [x - 11, y, x + 11, y],
          stroke: style.role,
          strokeWidth: style.strokeWidth,
          dash: style.dash,
        },
      ];
}

function symbol({ role, shape }: CurveStyle, x: number, y: number, radius: number): Mark {
  const isOpen = shape === 'plus' || shape === 'cross';
  return {
    kind: 'symbol',
    shape,
    x,
    y,
    radius,
    fill: isOpen ? undefined : role,
    stroke: isOpen ? role : undefined,
    strokeWidth: 1.75,
  };
}

export interface CurvePicture {
  readonly marks: readonly Mark[];
  /** numbers there that the axes cannot show */
  readonly unshownCount: number;
  readonly shownCount: number;
}

/** One curve in its frame. */
export function curveMarks(series: CurveSeries, style: CurveStyle, frame: PlotFrame): CurvePicture {
  const { xPx, yPx } = curvePixels(series, frame);
  let unshownCount = 0;
  let shownCount = 0;
  for (let i = 0; i < xPx.length; i++) {
    if (!Number.isNaN(xPx[i]! + yPx[i]!)) shownCount++;
    else if (!Number.isNaN(series.x[i]! + series.y[i]!)) unshownCount++;
  }
  if (series.look !== 'points') {
    const points = pick(xPx, yPx, thinnedLine(xPx, yPx));
    const { role, strokeWidth, dash } = style;
    return { marks: [{ kind: 'line', points, stroke: role, strokeWidth, dash }], unshownCount, shownCount };
  }
  const kept = thinnedDots(xPx, yPx, DOT_CELL_PX);
  const isFew = kept.length <= MOST_SYMBOLS;
  const marks: Mark[] = [];
  if (series.yU && isFew) {
    for (const i of kept) {
      const reach = series.yU[i]!;
      const ends = [frame.y.at(series.y[i]! - reach), frame.y.at(series.y[i]! + reach)];
      // On a log axis the lower end may lie below zero: the bar then runs out of the frame.
      const low = Number.isNaN(ends[0]!) ? frame.box.bottom : ends[0]!;
      if (Number.isFinite(reach)) {
        marks.push({ kind: 'line', points: [xPx[i]!, low, xPx[i]!, ends[1]!], stroke: style.role });
      }
    }
  } else if (series.yU) {
    const { x, y, yU } = series;
    const lower = Float64Array.from(y, (value, i) => value - yU[i]!);
    const upper = Float64Array.from(y, (value, i) => value + yU[i]!);
    marks.push(bandMark({ label: '', x, lower, upper }, style.role, frame));
  }
  if (isFew) {
    const radius = kept.length > 60 ? 2.4 : 3.2;
    marks.push(...kept.map((i) => symbol(style, xPx[i]!, yPx[i]!, radius)));
  } else {
    marks.push({ kind: 'dots', points: pick(xPx, yPx, kept), radius: 1.25, fill: style.role });
  }
  return { marks, unshownCount, shownCount };
}

/** A band between two curves; a gap in either cuts it. */
export function bandMark(band: CurveBand, role: ColourRole, frame: PlotFrame): Mark {
  const upper = curvePixels({ x: band.x, y: band.upper }, frame);
  const lower = curvePixels({ x: band.x, y: band.lower }, frame);
  // A lower edge that a log axis cannot show lies under the frame.
  const lowerPx = lower.yPx.map((value, i) => (band.lower[i]! <= 0 ? frame.box.bottom : value));
  const rings: FlatPoints[] = [];
  const n = band.x.length;
  let first = 0;
  for (let i = 0; i <= n; i++) {
    if (i === n || Number.isNaN(upper.xPx[i]! + upper.yPx[i]! + lowerPx[i]!)) {
      if (i - first > 1) {
        const x = upper.xPx.subarray(first, i);
        const high = upper.yPx.subarray(first, i);
        const low = lowerPx.subarray(first, i);
        const back = thinnedLine(x, low).reverse();
        rings.push([...pick(x, high, thinnedLine(x, high)), ...pick(x, low, back)]);
      }
      first = i + 1;
    }
  }
  return { kind: 'area', rings, fill: role, opacity: 0.2 };
}
