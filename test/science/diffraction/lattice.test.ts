import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cellVolumeCubicAngstrom,
  planeSpacingAngstrom,
  spacingAngstromOfTwoTheta,
  twoThetaDegOfSpacing,
  twoThetaDegPerRelativeSpacing,
} from '../../../src/science/diffraction/lattice.ts';

const right = { betaDeg: 90, gammaDeg: 90 };

describe('planeSpacingAngstrom', () => {
  it('is a/sqrt(h2 + k2 + l2) in a cubic cell', () => {
    const cell = { aAngstrom: 4, bAngstrom: 4, cAngstrom: 4, ...right };
    expect(planeSpacingAngstrom(cell, [2, 1, 3])).toBeCloseTo(4 / Math.sqrt(14), 12);
  });

  it('follows the hexagonal formula 1/d2 = 4/3 (h2 + hk + k2)/a2 + l2/c2', () => {
    const cell = { aAngstrom: 3.9, bAngstrom: 3.9, cAngstrom: 6.1, betaDeg: 90, gammaDeg: 120 };
    const direct = 1 / Math.sqrt(((4 / 3) * (4 + 2 + 1)) / 3.9 ** 2 + 9 / 6.1 ** 2);
    expect(planeSpacingAngstrom(cell, [2, 1, 3])).toBeCloseTo(direct, 12);
  });

  it('follows the monoclinic formula with the sign of h l', () => {
    const beta = (99.54 * Math.PI) / 180;
    const cell = { aAngstrom: 4.6837, bAngstrom: 3.4226, cAngstrom: 5.1288, betaDeg: 99.54, gammaDeg: 90 };
    const direct = (h: number, k: number, l: number): number =>
      1 /
      Math.sqrt(
        (h ** 2 / 4.6837 ** 2 + l ** 2 / 5.1288 ** 2 - (2 * h * l * Math.cos(beta)) / (4.6837 * 5.1288)) /
          Math.sin(beta) ** 2 +
          k ** 2 / 3.4226 ** 2,
      );
    expect(planeSpacingAngstrom(cell, [1, 1, 1])).toBeCloseTo(direct(1, 1, 1), 12);
    expect(planeSpacingAngstrom(cell, [-1, 1, 1])).toBeCloseTo(direct(-1, 1, 1), 12);
  });

  it('halves when the indices double, in any cell', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2, max: 20, noNaN: true }),
        fc.double({ min: 60, max: 120, noNaN: true }),
        fc.integer({ min: -4, max: 4 }),
        fc.integer({ min: 1, max: 4 }),
        (a, betaDeg, h, l) => {
          const cell = { aAngstrom: a, bAngstrom: 5, cAngstrom: 7, betaDeg, gammaDeg: 90 };
          const once = planeSpacingAngstrom(cell, [h, 1, l]);
          const twice = planeSpacingAngstrom(cell, [2 * h, 2, 2 * l]);
          expect(once / twice).toBeCloseTo(2, 9);
        },
      ),
    );
  });

  it('gives a right-angled cell the volume a b c', () => {
    const cell = { aAngstrom: 2, bAngstrom: 3, cAngstrom: 4, ...right };
    expect(cellVolumeCubicAngstrom(cell)).toBeCloseTo(24, 12);
  });
});

describe('Bragg positions', () => {
  it('go from spacing to angle and back', () => {
    expect(spacingAngstromOfTwoTheta(twoThetaDegOfSpacing(2.337, 1.5406), 1.5406)).toBeCloseTo(2.337, 12);
  });

  it('do not exist for planes closer than half a wavelength', () => {
    expect(twoThetaDegOfSpacing(0.7, 1.5406)).toBeNaN();
  });

  it('move by -2 tan(theta) dd/d, found again by a small difference', () => {
    const step = 1e-6;
    const slope =
      (twoThetaDegOfSpacing(2 * (1 + step), 1.54) - twoThetaDegOfSpacing(2 * (1 - step), 1.54)) / (2 * step);
    expect(twoThetaDegPerRelativeSpacing(twoThetaDegOfSpacing(2, 1.54)) / -slope).toBeCloseTo(1, 8);
  });
});
