// Triangles that several tests draw. The odds and the films are made up for the drawing and mean nothing.
import type { TriangleFilm } from '../../src/charts/ternary/film-marks.ts';
import type { TriangleRequest } from '../../src/charts/ternary/triangle-scene.ts';
import { compositionOf } from '../../src/charts/ternary/triangle-view.ts';

/** A hill of odds about a melt-side composition, on a whole grid of `n` divisions. */
export function oddsHill(n: number): NonNullable<TriangleRequest['odds']> {
  const re: number[] = [];
  const ba: number[] = [];
  const cu: number[] = [];
  const odds: number[] = [];
  for (let i = 0; i <= n; i++) {
    for (let j = 0; j <= n - i; j++) {
      const at = { re: i / n, ba: (n - i - j) / n, cu: j / n };
      re.push(at.re);
      ba.push(at.ba);
      cu.push(at.cu);
      const away = ((at.re - 0.11) / 0.09) ** 2 + ((at.cu - 0.56) / 0.12) ** 2;
      odds.push(Math.exp(-away / 2) * 0.98);
    }
  }
  return { re, ba, cu, odds, of: 'liquid + 123 and nothing else' };
}

const VERDICTS = ['passes', 'falls short', 'cannot say'] as const;

/** Films of ten targets, several to a target. */
export function films(count: number): TriangleFilm[] {
  return Array.from({ length: count }, (_, i) => {
    const target = i % 10;
    return {
      id: `film-${i}`,
      label: `S${100 + i}`,
      at: compositionOf(4 + target * 1.7, 30 - target * 0.4 + (target % 3) * 3, 52 + target * 0.9),
      verdict: VERDICTS[(i * 7) % 3]!,
      isBenchmark: i === 4,
    };
  });
}

export const FULL_TRIANGLE: TriangleRequest = {
  title: 'Where liquid and 123 live together',
  rareEarth: 'Y',
  caption: '850 °C, 10⁻³ atm O₂',
  odds: oddsHill(40),
  lines: [
    { kind: 'border', points: [compositionOf(1, 2, 3), compositionOf(0, 28, 72), compositionOf(0, 0, 1)] },
    { kind: 'border', points: [compositionOf(1, 2, 3), compositionOf(2, 1, 1)] },
    { kind: 'tie line', points: [compositionOf(1, 2, 3), compositionOf(1, 35, 64)] },
    { kind: 'tie line', points: [compositionOf(1, 2, 3), compositionOf(1, 42, 57)] },
  ],
  fields: [{ label: '211 + 123 + CuO', at: compositionOf(24, 20, 56) }],
  phases: [
    { label: '123', at: compositionOf(1, 2, 3) },
    { label: '211', at: compositionOf(2, 1, 1) },
    { label: '011', at: compositionOf(0, 1, 1) },
    { label: '202', at: compositionOf(1, 0, 1) },
    { label: '132', at: compositionOf(1, 3, 2) },
    { label: '210', at: compositionOf(2, 1, 0) },
  ],
  films: films(40),
  proposals: [
    { id: 'p1', label: 'richer in Ba', at: compositionOf(9, 38, 53) },
    { id: 'p2', label: 'richer in Cu', at: compositionOf(6, 28, 66) },
    { id: 'p3', label: 'less Y', at: compositionOf(3, 37, 60) },
  ],
  namedFilmIds: ['film-4'],
  selected: compositionOf(20, 48, 32),
};
