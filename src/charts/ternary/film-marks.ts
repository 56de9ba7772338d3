// Films in the triangle, pushed apart where they would cover each other, so that each can be seen and reached.
import type { TernaryPoint } from '../../science/matter/cation-ratios.ts';
import type { Mark } from '../scene.ts';
import type { VerdictName } from '../theme.ts';
import { verdictMarks } from '../verdict-mark.ts';
import type { Point } from './triangle-view.ts';

export interface TriangleFilm {
  readonly id: string;
  readonly label: string;
  readonly at: TernaryPoint;
  readonly verdict: VerdictName;
  readonly isBenchmark?: boolean;
  /** said after the label: the reason, the control, a warning */
  readonly note?: string;
}

export const FILM_RADIUS_PX = 5;
/** Marks nearer than this to each other are pushed apart, px. */
const APART_PX = 2 * FILM_RADIUS_PX + 1.5;
const GOLDEN_ANGLE = Math.PI * (3 - Math.sqrt(5));
const ROUNDS = 60;
/** Above this many the marks stay where they are: a crowd reads as a crowd. */
const MOST_SPREAD = 300;
/** A mark moved less than this counts as in its place, px. */
const MOVED_PX = 1;

export interface PlacedFilm {
  readonly film: TriangleFilm;
  /** where the composition is */
  readonly true: Point;
  /** where the mark stands */
  readonly drawn: Point;
}

export interface Obstacle extends Point {
  readonly radius: number;
}

/**
 * Places for films: on the composition where there is room, else pushed aside by as little as keeps the marks apart. The same
 * films in the same order always get the same places.
 *
 * @param obstacles marks that stay where they are
 */
export function placeFilms(
  films: readonly TriangleFilm[],
  project: (at: TernaryPoint) => Point,
  obstacles: readonly Obstacle[] = [],
): PlacedFilm[] {
  const truePoints = films.map(({ at }) => project(at));
  // Films of one composition start a hair apart, each in its own direction, so that there is a way to push.
  const points = truePoints.map(({ x, y }, i) => ({
    x: x + 0.01 * Math.cos(i * GOLDEN_ANGLE),
    y: y + 0.01 * Math.sin(i * GOLDEN_ANGLE),
  }));
  const n = points.length;
  for (let round = 0; n <= MOST_SPREAD && round < ROUNDS; round++) {
    let isCrowded = false;
    for (let i = 0; i < n; i++) {
      const a = points[i]!;
      for (let j = i + 1; j < n; j++) {
        const b = points[j]!;
        const dx = b.x - a.x;
        const dy = b.y - a.y;
        const gap = Math.hypot(dx, dy);
        if (gap < APART_PX) {
          const push = (APART_PX - gap) / 2 / gap;
          a.x -= push * dx;
          a.y -= push * dy;
          b.x += push * dx;
          b.y += push * dy;
          isCrowded = true;
        }
      }
      for (const { x, y, radius } of obstacles) {
        const gap = Math.max(1e-3, Math.hypot(a.x - x, a.y - y));
        const room = radius + FILM_RADIUS_PX + 1.5;
        if (gap < room) {
          a.x += ((room - gap) / gap) * (a.x - x || 1e-3);
          a.y += ((room - gap) / gap) * (a.y - y);
          isCrowded = true;
        }
      }
    }
    if (!isCrowded) break;
  }
  return films.map((film, i) => {
    const at = truePoints[i]!;
    const drawn = points[i]!;
    const isMoved = Math.hypot(drawn.x - at.x, drawn.y - at.y) > MOVED_PX;
    return { film, true: at, drawn: isMoved ? drawn : at };
  });
}

/** What is said of a film: its name, composition in at%, verdict. */
export function filmLabel(
  { label, at, verdict, isBenchmark, note }: TriangleFilm,
  rareEarth: string,
): string {
  const parts = [label, compositionText(at, rareEarth), verdict];
  if (isBenchmark) parts.push('benchmark');
  if (note) parts.push(note);
  return parts.join(', ');
}

/** `Y 16.7 Ba 33.3 Cu 50.0 at%`. */
export function compositionText({ re, ba, cu }: TernaryPoint, rareEarth: string): string {
  const percent = (fraction: number) => (100 * fraction).toFixed(1);
  return `${rareEarth} ${percent(re)} Ba ${percent(ba)} Cu ${percent(cu)} at%`;
}

/** Marks of the films: first the threads to their true places, then the films. */
export function filmMarks(placed: readonly PlacedFilm[], rareEarth: string): Mark[] {
  const threads = placed
    .filter((film) => film.drawn !== film.true)
    .map(
      (film): Mark => ({
        kind: 'line',
        points: [film.true.x, film.true.y, film.drawn.x, film.drawn.y],
        stroke: 'quiet',
        strokeWidth: 0.75,
      }),
    );
  const benchmarkLast = [...placed].sort(
    (a, b) => Number(a.film.isBenchmark ?? false) - Number(b.film.isBenchmark ?? false),
  );
  const symbols = benchmarkLast.flatMap(({ film, drawn }) =>
    verdictMarks(film.verdict, drawn.x, drawn.y, FILM_RADIUS_PX, film.isBenchmark ?? false, {
      id: film.id,
      label: filmLabel(film, rareEarth),
    }),
  );
  return [...threads, ...symbols];
}
