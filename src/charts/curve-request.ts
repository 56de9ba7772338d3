// What the curve chart is asked to draw.
import type { AxisSpec } from './axis.ts';
import type { Size } from './scene.ts';

export type CurveLook = 'points' | 'line' | 'fit' | 'background';

export interface CurveSeries {
  readonly id: string;
  readonly label: string;
  readonly look: CurveLook;
  /** NaN is a gap */
  readonly x: ArrayLike<number>;
  readonly y: ArrayLike<number>;
  /** standard uncertainty of y; NaN where there is none */
  readonly yU?: ArrayLike<number>;
}

export interface CurveBand {
  readonly label: string;
  /** rising */
  readonly x: ArrayLike<number>;
  readonly lower: ArrayLike<number>;
  readonly upper: ArrayLike<number>;
}

export interface CurveRequest {
  readonly title: string;
  readonly x: AxisSpec;
  readonly y: AxisSpec;
  readonly series: readonly CurveSeries[];
  readonly bands?: readonly CurveBand[];
  /** data minus fit, in a panel of its own under the curves */
  readonly difference?: {
    readonly label: string;
    readonly x: ArrayLike<number>;
    readonly y: ArrayLike<number>;
  };
  /** rows of short ticks under the curves: the lines of one phase a row */
  readonly tickRows?: readonly {
    readonly label: string;
    readonly ticks: readonly { readonly x: number; readonly label: string }[];
  }[];
  /** upright lines with names */
  readonly verticals?: readonly { readonly x: number; readonly label: string }[];
  /** level lines with names: a criterion */
  readonly levels?: readonly { readonly y: number; readonly label: string }[];
  /** single points with names */
  readonly notes?: readonly { readonly x: number; readonly y: number; readonly label: string }[];
  readonly size?: Size;
}
