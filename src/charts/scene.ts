// What every chart is made of before it is painted: marks in pixels, the scales that made them, and the table behind.
import { DomainError } from '../science/errors.ts';
import type { Table } from './csv.ts';
import type { ColourRole } from './theme.ts';

export interface Size {
  /** px at 1x */
  readonly width: number;
  readonly height: number;
}

export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** What a pointer or the keyboard can reach; the label is said in full, whatever is drawn. */
export interface MarkTarget {
  readonly id: string;
  readonly label: string;
}

interface Paint {
  readonly fill?: ColourRole;
  readonly stroke?: ColourRole;
  readonly strokeWidth?: number;
  readonly dash?: readonly number[];
  /** 0 to 1; 1 if left out */
  readonly opacity?: number;
  readonly target?: MarkTarget;
}

/** x0, y0, x1, y1, ... in px; a NaN pair is a gap. */
export type FlatPoints = readonly number[];

export interface LineMark extends Paint {
  readonly kind: 'line';
  readonly points: FlatPoints;
}

/** Closed rings, filled by the even-odd rule. */
export interface AreaMark extends Paint {
  readonly kind: 'area';
  readonly rings: readonly FlatPoints[];
}

/** Many round dots of one look, for dense data; not reachable one by one. */
export interface DotsMark {
  readonly kind: 'dots';
  readonly points: FlatPoints;
  readonly radius: number;
  readonly fill: ColourRole;
}

export type SymbolShape =
  | 'circle'
  | 'square'
  | 'diamond'
  | 'cross'
  | 'plus'
  | 'triangle up'
  | 'triangle down'
  | 'triangle left'
  | 'triangle right';

export interface SymbolMark extends Paint {
  readonly kind: 'symbol';
  readonly shape: SymbolShape;
  readonly x: number;
  readonly y: number;
  readonly radius: number;
  /** a rim in the background's colour, so that the mark stands out on any shading */
  readonly hasHalo?: boolean;
}

export interface TextMark {
  readonly kind: 'text';
  readonly x: number;
  readonly y: number;
  readonly text: string;
  readonly size: number;
  readonly fill: ColourRole;
  readonly anchor: 'start' | 'middle' | 'end';
  /** where y lies in the line of text */
  readonly baseline: 'bottom' | 'middle' | 'top';
  /** clockwise, deg, about (x, y) */
  readonly angleDeg?: number;
  readonly isBold?: boolean;
  readonly hasHalo?: boolean;
  /** the whole text where `text` was cut */
  readonly fullText?: string;
}

export interface GroupMark {
  readonly kind: 'group';
  /** nothing is drawn outside this ring */
  readonly clip?: FlatPoints;
  readonly marks: readonly Mark[];
}

export type Mark = LineMark | AreaMark | DotsMark | SymbolMark | TextMark | GroupMark;

/** A box as a ring. */
export const ringOf = ({ left, top, right, bottom }: Box): FlatPoints => [
  left,
  top,
  right,
  top,
  right,
  bottom,
  left,
  bottom,
];

export interface Scene<Scales = unknown> extends Size {
  readonly title: string;
  /** what the picture shows, in words, for who cannot see it */
  readonly description: string;
  readonly marks: readonly Mark[];
  /** from pixels back to numbers; what it holds depends on the chart */
  readonly scales: Scales;
  /** every number drawn, and those too dense to draw; made when first read */
  readonly table: Table;
}

/** Smallest text that a chart writes, px. */
export const SMALLEST_TEXT_PX = 11;
export const TEXT_PX = 12;
const SMALLEST_SIDE_PX = 160;
const LARGEST_SIDE_PX = 20_000;

/**
 * The size, or an error if no chart fits it.
 * @throws DomainError CHART_SIZE if a side is not a number from 160 to 20000 px
 */
export function checkedSize(size: Size): Size {
  for (const [side, value] of [
    ['width', size.width],
    ['height', size.height],
  ] as const) {
    if (!(value >= SMALLEST_SIDE_PX && value <= LARGEST_SIDE_PX)) {
      throw new DomainError('CHART_SIZE', `The chart's ${side} is ${value} px.`);
    }
  }
  return { width: size.width, height: size.height };
}

/** Throws CHART_LENGTHS unless all arrays named are as long as the first. */
export function checkLengths(where: string, arrays: Record<string, ArrayLike<unknown> | undefined>): void {
  const given = Object.entries(arrays).filter((entry) => entry[1] !== undefined);
  const first = given[0];
  for (const [name, values] of given) {
    if (values!.length !== first![1]!.length) {
      throw new DomainError(
        'CHART_LENGTHS',
        `${where}: ${first![0]} holds ${first![1]!.length} numbers but ${name} holds ${values!.length}.`,
      );
    }
  }
}

function* symbolTargets(marks: readonly Mark[]): Generator<SymbolMark & { target: MarkTarget }> {
  for (const mark of marks) {
    if (mark.kind === 'group') {
      yield* symbolTargets(mark.marks);
    } else if (mark.kind === 'symbol' && mark.target) {
      yield { ...mark, target: mark.target };
    }
  }
}

/** Marks that can be reached, in drawing order. */
export function targetsOf(scene: Scene): (SymbolMark & { target: MarkTarget })[] {
  return [...symbolTargets(scene.marks)];
}

/**
 * The reachable mark nearest to a point, if one is near enough to be meant.
 * @param reachPx how far outside its rim a mark is still hit, px
 */
export function hitTest(scene: Scene, x: number, y: number, reachPx = 6): MarkTarget | null {
  let nearest: MarkTarget | null = null;
  let nearestGap = reachPx;
  for (const mark of symbolTargets(scene.marks)) {
    const gap = Math.hypot(mark.x - x, mark.y - y) - mark.radius;
    if (gap <= nearestGap) {
      nearest = mark.target;
      nearestGap = gap;
    }
  }
  return nearest;
}
