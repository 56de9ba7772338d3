// Where a composition stands in the triangle, or in a part of it drawn larger. Cation fractions in, pixels out, and back.
import { DomainError } from '../../science/errors.ts';
import type { TernaryPoint } from '../../science/matter/cation-ratios.ts';
import type { Box } from '../scene.ts';

/**
 * Part of the triangle that is drawn. 'corner': the triangle in which every cation has at least so much, enlarged alike in all
 * directions. 'strip': RE against Cu on two straight axes of unlike stretch, for melts that hold little RE.
 */
export type TriangleWindow =
  | { readonly kind: 'corner'; readonly reMin: number; readonly baMin: number; readonly cuMin: number }
  | {
      readonly kind: 'strip';
      readonly reMin: number;
      readonly reMax: number;
      readonly cuMin: number;
      readonly cuMax: number;
    };

export const WHOLE_TRIANGLE: TriangleWindow = { kind: 'corner', reMin: 0, baMin: 0, cuMin: 0 };

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface TriangleView {
  readonly window: TriangleWindow;
  /** outline of what is drawn, px, corner by corner; a corner window has RE, Ba, Cu in this order */
  readonly outline: readonly Point[];
  readonly frame: Box;
  /** px of a composition, inside the window or not */
  project(composition: TernaryPoint): Point;
  /** composition of a point, inside the triangle or not; the fractions sum to 1 */
  invert(x: number, y: number): TernaryPoint;
  /** is a composition inside the window (rim included)? */
  holds(composition: TernaryPoint): boolean;
}

const RIM = 1e-9;

/**
 * Cation fractions of any three amounts.
 * @throws DomainError CHART_COMPOSITION if an amount is negative or not a number, or all are 0
 */
export function compositionOf(re: number, ba: number, cu: number): TernaryPoint {
  const sum = re + ba + cu;
  if (!(re >= 0 && ba >= 0 && cu >= 0 && sum > 0 && Number.isFinite(sum))) {
    throw new DomainError('CHART_COMPOSITION', `RE, Ba, Cu are ${re}, ${ba}, ${cu}.`);
  }
  return { re: re / sum, ba: ba / sum, cu: cu / sum };
}

function checkWindow(window: TriangleWindow): void {
  const isRight =
    window.kind === 'corner'
      ? window.reMin >= 0 &&
        window.baMin >= 0 &&
        window.cuMin >= 0 &&
        window.reMin + window.baMin + window.cuMin < 1
      : window.reMin >= 0 &&
        window.cuMin >= 0 &&
        window.reMin < window.reMax &&
        window.cuMin < window.cuMax &&
        window.reMax <= 1 &&
        window.cuMax <= 1 &&
        window.reMin + window.cuMin < 1;
  if (!isRight) {
    throw new DomainError('CHART_WINDOW', `The window of the triangle is ${JSON.stringify(window)}.`);
  }
}

/**
 * The affine map of a window onto a frame: x = x0 + a cu + b re, y = y0 - c re, so that the way back is exact to rounding.
 * A corner window is equilateral, as large as fits and in the middle; a strip fills the frame.
 *
 * @throws DomainError CHART_WINDOW if the window holds nothing
 */
export function triangleView(window: TriangleWindow, frame: Box): TriangleView {
  checkWindow(window);
  const width = frame.right - frame.left;
  const height = frame.bottom - frame.top;
  let drawn = frame;
  let perCu: number;
  let perReX: number;
  let perReY: number;
  if (window.kind === 'corner') {
    const side = Math.min(width, (height * 2) / Math.sqrt(3));
    const left = frame.left + (width - side) / 2;
    const top = frame.top + (height - (side * Math.sqrt(3)) / 2) / 2;
    drawn = { left, right: left + side, top, bottom: top + (side * Math.sqrt(3)) / 2 };
    const span = 1 - window.reMin - window.baMin - window.cuMin;
    perCu = side / span;
    perReX = perCu / 2;
    perReY = (perCu * Math.sqrt(3)) / 2;
  } else {
    perCu = width / (window.cuMax - window.cuMin);
    perReX = 0;
    perReY = height / (window.reMax - window.reMin);
  }
  const project = ({ re, cu }: TernaryPoint): Point => ({
    x: drawn.left + perCu * (cu - window.cuMin) + perReX * (re - window.reMin),
    y: drawn.bottom - perReY * (re - window.reMin),
  });
  const invert = (x: number, y: number): TernaryPoint => {
    const re = (drawn.bottom - y) / perReY;
    const cu = (x - drawn.left - perReX * re) / perCu + window.cuMin;
    return { re: re + window.reMin, ba: 1 - (re + window.reMin) - cu, cu };
  };
  const holds = ({ re, ba, cu }: TernaryPoint): boolean =>
    re >= window.reMin - RIM &&
    cu >= window.cuMin - RIM &&
    ba >= (window.kind === 'corner' ? window.baMin : 0) - RIM &&
    (window.kind === 'corner' || (re <= window.reMax + RIM && cu <= window.cuMax + RIM));
  return { window, outline: outlineOf(window).map(project), frame: drawn, project, invert, holds };
}

/** Corners of the part drawn; a strip is cut where Ba would be negative. */
function outlineOf(window: TriangleWindow): TernaryPoint[] {
  const at = (re: number, cu: number): TernaryPoint => ({ re, ba: 1 - re - cu, cu });
  if (window.kind === 'corner') {
    const { reMin, baMin, cuMin } = window;
    return [at(1 - baMin - cuMin, cuMin), at(reMin, cuMin), at(reMin, 1 - reMin - baMin)];
  }
  const { reMin, reMax, cuMin, cuMax } = window;
  const corners = [at(reMin, cuMin), at(reMin, Math.min(cuMax, 1 - reMin))];
  if (1 - reMin > cuMax) {
    corners.push(at(Math.min(reMax, 1 - cuMax), cuMax));
  }
  if (1 - cuMin > reMax) {
    if (1 - reMax < cuMax) {
      corners.push(at(reMax, 1 - reMax));
    } else {
      corners.push(at(reMax, cuMax));
    }
    corners.push(at(reMax, cuMin));
  } else {
    corners.push(at(1 - cuMin, cuMin));
  }
  return corners.filter((corner, i) => {
    const last = corners[(i + corners.length - 1) % corners.length]!;
    return Math.abs(corner.re - last.re) + Math.abs(corner.cu - last.cu) > RIM;
  });
}

/** How many times the RE axis of a strip is drawn larger than the Cu axis; 1 for a corner. */
export function stretchOf(view: TriangleView): number {
  const { window, frame } = view;
  if (window.kind === 'corner') {
    return 1;
  }
  const perCu = (frame.right - frame.left) / (window.cuMax - window.cuMin);
  return (frame.bottom - frame.top) / (window.reMax - window.reMin) / perCu;
}
