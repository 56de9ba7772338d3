import { describe, expect, it } from 'vitest';
import { determinant3, invert3 } from '../../../src/science/numerics/matrix3.ts';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import {
  facetOf,
  type HullPoint,
  locateFacet,
  lowerHull,
} from '../../../src/science/numerics/triangle-hull.ts';
import { lowestMixtureEnergy } from '../../simulate/lowest-mixture.ts';

function randomShares(random: ReturnType<typeof seededRandom>): [number, number, number] {
  const [u, v] = [random.uniform(), random.uniform()].sort((a, b) => a - b) as [number, number];
  return [u, v - u, 1 - v];
}

const CORNERS: HullPoint[] = [
  { shares: [1, 0, 0], height: 0 },
  { shares: [0, 1, 0], height: 0 },
  { shares: [0, 0, 1], height: 0 },
];

describe('invert3', () => {
  it('gives the identity when it multiplies the matrix', () => {
    const m = [2, -1, 0.5, 0, 3, 1, 4, 1, -2];
    const inverse = invert3(m)!;
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        const sum = [0, 1, 2].reduce((s, k) => s + m[i * 3 + k]! * inverse[k * 3 + j]!, 0);
        expect(sum).toBeCloseTo(i === j ? 1 : 0, 14);
      }
    }
  });

  it('has the determinant of a triangular matrix as the product of its diagonal', () => {
    expect(determinant3([2, 5, 7, 0, 3, 9, 0, 0, 4])).toBe(24);
  });

  it('gives nothing for a matrix with two equal rows', () => {
    expect(invert3([1, 2, 3, 1, 2, 3, 0, 1, 0])).toBeUndefined();
  });
});

describe('lowerHull', () => {
  it('has the lowest mixture of 40 random phases at 300 random compositions', () => {
    const random = seededRandom(11);
    const points = [
      ...CORNERS,
      ...Array.from({ length: 37 }, () => ({ shares: randomShares(random), height: -random.uniform() })),
    ];
    const facets = lowerHull(points);
    const candidates = points.map(({ shares, height }) => ({ shares, energy: height }));
    const weights = new Float64Array(3);
    for (let i = 0; i < 300; i++) {
      const [a, b, c] = randomShares(random);
      const { corners } = facets[locateFacet(facets, a, b, c, weights)]!;
      const ours = corners.reduce((sum, corner, k) => sum + weights[k]! * points[corner]!.height, 0);
      expect(ours).toBeCloseTo(lowestMixtureEnergy(candidates, [a, b, c]), 10);
    }
  });

  it('leaves out a phase that lies above the others', () => {
    const facets = lowerHull([...CORNERS, { shares: [0.2, 0.3, 0.5], height: 1 }]);
    expect(facets.map(({ corners }) => corners)).toEqual([[0, 1, 2]]);
  });

  it('covers every composition once when four phases lie in one plane', () => {
    const facets = lowerHull([...CORNERS, { shares: [0.2, 0.3, 0.5], height: 0 }]);
    const weights = new Float64Array(3);
    const { corners } = facets[locateFacet(facets, 0.1, 0.1, 0.8, weights)]!;
    expect(weights.reduce((sum, w) => sum + w, 0)).toBeCloseTo(1, 14);
    expect(corners).toHaveLength(3);
  });
});

describe('facetOf', () => {
  it('gives nothing for three phases on one line', () => {
    const points = [...CORNERS, { shares: [0.5, 0.5, 0] as const, height: -1 }];
    expect(facetOf(points, [0, 1, 3])).toBeUndefined();
  });

  it('gives nothing where another phase lies below the plane', () => {
    expect(facetOf([...CORNERS, { shares: [0.2, 0.3, 0.5], height: -1 }], [0, 1, 2])).toBeUndefined();
  });
});
