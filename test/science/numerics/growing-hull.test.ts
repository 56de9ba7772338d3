import { describe, expect, it } from 'vitest';
import { GrowingHull } from '../../../src/science/numerics/growing-hull.ts';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { type Candidate, lowestMixtureEnergy } from '../../simulate/lowest-mixture.ts';

type Triple = readonly [number, number, number];

function drawnTriple(random: ReturnType<typeof seededRandom>): Triple {
  const [p, q] = [random.uniform(), random.uniform()].sort((a, b) => a - b) as [number, number];
  return [p, q - p, 1 - q];
}

const CORNERS: readonly Candidate[] = [
  { shares: [1, 0, 0], energy: 0 },
  { shares: [0, 1, 0], energy: 0 },
  { shares: [0, 0, 1], energy: 0 },
];

describe('GrowingHull', () => {
  it('has the energy of the lowest mixture found by trying every triple, inside, on edges and in corners', () => {
    const random = seededRandom(50);
    for (let round = 0; round < 25; round++) {
      const hull = new GrowingHull([0, 0, 0]);
      const candidates: Candidate[] = [...CORNERS];
      for (let i = 0; i < 18; i++) {
        const [a, b, c] = drawnTriple(random);
        const shares: Triple = i % 6 === 0 ? [0, b / (b + c), c / (b + c)] : [a, b, c];
        const energy = -100 * random.uniform();
        candidates.push({ shares, energy });
        hull.add(...shares, energy);
      }
      const weights = new Float64Array(3);
      const asked: Triple[] = [
        ...Array.from({ length: 10 }, () => drawnTriple(random)),
        [0, 0.3, 0.7],
        [0, 1, 0],
      ];
      for (const shares of asked) {
        const facet = hull.locate(...shares, weights);
        const ours = [0, 1, 2].reduce(
          (sum, k) => sum + weights[k]! * hull.heights[hull.corners[3 * facet + k]!]!,
          0,
        );
        expect(ours).toBeCloseTo(lowestMixtureEnergy(candidates, shares), 6);
        for (let k = 0; k < 3; k++) {
          const sum = [0, 1, 2].reduce(
            (total, j) => total + weights[j]! * hull.shares[3 * hull.corners[3 * facet + j]! + k]!,
            0,
          );
          expect(sum).toBeCloseTo(shares[k]!, 9);
        }
      }
    }
  });

  it('does not depend on the order in which points come', () => {
    const random = seededRandom(51);
    const points = Array.from({ length: 40 }, () => ({
      shares: drawnTriple(random),
      height: -50 * random.uniform(),
    }));
    const energies = [points, [...points].reverse()].map((list) => {
      const hull = new GrowingHull([0, 0, 0]);
      for (const { shares, height } of list) hull.add(...shares, height);
      const weights = new Float64Array(3);
      return Array.from({ length: 30 }, (_, i) => {
        const shares: Triple = [(i + 1) / 62, (i % 7) / 14, 1 - (i + 1) / 62 - (i % 7) / 14];
        const facet = hull.locate(...shares, weights);
        return -hull.heightAbove(facet, ...shares, 0);
      });
    }) as [number[], number[]];
    energies[0].forEach((energy, i) => {
      expect(energy).toBeCloseTo(energies[1][i]!, 7);
    });
  });

  it('leaves a point out that lies on or above it, and keeps one that lies below', () => {
    const hull = new GrowingHull([-1, -1, -1]);
    expect(hull.add(0.2, 0.3, 0.5, -1)).toBe(-1);
    expect(hull.add(0.2, 0.3, 0.5, 5)).toBe(-1);
    expect(hull.add(0.2, 0.3, 0.5, -1.01)).toBe(3);
    expect(hull.add(0.2, 0.3, 0.5, -1.005)).toBe(-1);
  });

  it('takes a hundred points of one line, as the melt of an edge has, without a flat facet', () => {
    const hull = new GrowingHull([0, 0, 0]);
    for (let i = 1; i < 100; i++) hull.add(0, i / 100, 1 - i / 100, -(i / 100) * (1 - i / 100));
    const weights = new Float64Array(3);
    for (const b of [0.005, 0.123, 0.5, 0.999]) {
      const facet = hull.locate(0, b, 1 - b, weights);
      expect(-hull.heightAbove(facet, 0, b, 1 - b, 0)).toBeCloseTo(-b * (1 - b), 3);
      expect(hull.planes.every(Number.isFinite)).toBe(true);
    }
  });
});
