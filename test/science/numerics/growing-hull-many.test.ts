import { describe, expect, it } from 'vitest';
import { GrowingHull } from '../../../src/science/numerics/growing-hull.ts';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';

function bowl(seed: number, points: number): GrowingHull {
  const random = seededRandom(seed);
  const hull = new GrowingHull([0, 0, 0]);
  for (let i = 0; i < points; i++) {
    const [a, b, c] = [random.uniform(), random.uniform(), random.uniform()] as const;
    const sum = a + b + c;
    hull.add(a / sum, b / sum, c / sum, -1 + (a * a + b * b + c * c) / (sum * sum) + 0.1 * random.normal());
  }
  return hull;
}

function expectSame(hull: GrowingHull, a: number[], b: number[], c: number[]): void {
  const facets = new Int32Array(a.length);
  const weights = new Float64Array(3 * a.length);
  hull.locateAll(a, b, c, facets, weights);
  const one = new Float64Array(3);
  a.forEach((_, i) => {
    const facet = hull.locate(a[i]!, b[i]!, c[i]!, one);
    const height = (at: number): number => -hull.heightAbove(at, a[i]!, b[i]!, c[i]!, 0);
    // on an edge either neighbour will do: the height there is the same
    expect(Math.abs(height(facets[i]!) - height(facet))).toBeLessThan(1e-9);
    const own = weights.subarray(3 * i, 3 * i + 3);
    expect(Math.min(...own)).toBeGreaterThan(-1e-12);
    const back = [0, 1, 2].map((j) =>
      own.reduce(
        (sum, weight, k) => sum + weight * hull.shares[3 * hull.corners[3 * facets[i]! + k]! + j]!,
        0,
      ),
    );
    expect(Math.abs(back[0]! - a[i]!) + Math.abs(back[1]! - b[i]!) + Math.abs(back[2]! - c[i]!)).toBeLessThan(
      1e-11,
    );
  });
}

describe('GrowingHull.locateAll', () => {
  it.each([1, 2, 3])('agrees with asking one by one along the rows of a lattice (hull %d)', (seed) => {
    const [a, b, c]: [number[], number[], number[]] = [[], [], []];
    for (let i = 0; i <= 40; i++) {
      for (let j = 0; i + j <= 40; j++) {
        a.push(i / 40);
        c.push(j / 40);
        b.push(Math.max(0, 1 - i / 40 - j / 40));
      }
    }
    expectSame(bowl(seed, 200), a, b, c);
  });

  it('agrees where the compositions follow no line, and where a line changes its step', () => {
    const random = seededRandom(9);
    const a = Array.from({ length: 300 }, () => 0.4 * random.uniform());
    const b = a.map(() => 0.4 * random.uniform());
    const line = [0.1, 0.11, 0.12, 0.13, 0.15, 0.17, 0.19, 0.6, 0.5, 0.4];
    a.push(...line);
    b.push(...line.map(() => 0.3));
    expectSame(
      bowl(4, 200),
      a,
      b,
      a.map((share, i) => 1 - share - b[i]!),
    );
  });

  it('answers nothing for nothing', () => {
    expectSame(bowl(5, 20), [], [], []);
  });
});
