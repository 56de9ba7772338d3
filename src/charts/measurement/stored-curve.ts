// A measurement with its newest analysis, as its figures and tables take it. Pure.
import type { CurveRequest } from '../curve-request.ts';

/** A figure of the page, and its place among the others. */
export interface MeasuredFigure {
  readonly id: string;
  readonly request: CurveRequest;
}

/** The parts of a stored measurement and of its newest analysis that are shown. */
export interface StoredView {
  readonly measurement: {
    readonly body: { readonly label: string; readonly settings: Readonly<Record<string, unknown>> };
  };
  readonly analysis: {
    readonly body: { readonly failure: unknown; readonly request: unknown; readonly response: unknown };
  } | null;
  readonly roles: readonly string[];
  /** one array a role, SI */
  readonly columns: readonly ArrayLike<number | null>[];
}

export interface StoredCurve<Response> {
  /** one column in SI by its role; null if the file has none */
  column(role: string): Float64Array | null;
  /** null: nothing was reduced, or it failed */
  readonly response: Response | null;
  /** what the reduction was asked, arrays as references */
  readonly request: Readonly<Record<string, unknown>>;
  readonly settings: Readonly<Record<string, unknown>>;
  readonly title: string;
}

/** Numbers as they came over the wire: null is missing. */
export function wireNumbers(values: ArrayLike<number | null>): Float64Array {
  const numbers = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) numbers[i] = values[i] ?? Number.NaN;
  return numbers;
}

export function storedCurve<Response>(view: StoredView): StoredCurve<Response> {
  const { measurement, analysis, roles, columns } = view;
  const columnOf = new Map(roles.map((role, i) => [role, wireNumbers(columns[i] ?? [])]));
  return {
    column: (role) => columnOf.get(role) ?? null,
    response: analysis && !analysis.body.failure ? (analysis.body.response as Response) : null,
    request: (analysis?.body.request ?? {}) as Record<string, unknown>,
    settings: measurement.body.settings,
    title: measurement.body.label,
  };
}

/** Every value times a factor: from SI to the unit of an axis. */
export function scaled(values: ArrayLike<number>, factor: number): Float64Array {
  const result = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) result[i] = values[i]! * factor;
  return result;
}

export function without(values: ArrayLike<number>, background: ArrayLike<number>): Float64Array {
  const result = new Float64Array(values.length);
  for (let i = 0; i < values.length; i++) result[i] = values[i]! - background[i]!;
  return result;
}

/** Rows whose x lies in a window; all of them without one. */
export function rowsInside(x: ArrayLike<number>, window: readonly [number, number] | null): number[] {
  const rows: number[] = [];
  for (let i = 0; i < x.length; i++) {
    if (!window || (x[i]! >= window[0] && x[i]! <= window[1])) rows.push(i);
  }
  return rows;
}

export const picked = (values: ArrayLike<number>, rows: readonly number[]): Float64Array =>
  Float64Array.from(rows, (i) => values[i]!);

/** Smallest and largest finite number; null if there is none. */
export function extent(values: ArrayLike<number>): [number, number] | null {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    const value = values[i]!;
    if (!Number.isFinite(value)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  return low <= high ? [low, high] : null;
}
