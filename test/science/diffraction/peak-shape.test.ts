import { describe, expect, it } from 'vitest';
import {
  addPeakCurve,
  kAlpha2TwoThetaDeg,
  peakCounts,
  peakHeightCounts,
  pseudoVoigtPerDeg,
} from '../../../src/science/diffraction/peak-shape.ts';
import { radiationOf } from '../../../src/science/diffraction/radiation.ts';

const { radiation } = radiationOf('Cu');

function areaBy(curve: (x: number) => number, from: number, to: number, steps: number): number {
  const step = (to - from) / steps;
  let sum = 0;
  for (let i = 0; i < steps; i++) sum += curve(from + (i + 0.5) * step) * step;
  return sum;
}

describe('pseudoVoigtPerDeg', () => {
  it.each([0, 0.3, 1])(
    'has unit area for a Lorentzian share of %d, tails counted in closed form',
    (share) => {
      const reach = 200;
      const inside = areaBy((x) => pseudoVoigtPerDeg(x, 0.2, share), -reach, reach, 4_000_000);
      const tails = share * (1 - (2 / Math.PI) * Math.atan((2 * reach) / 0.2));
      expect(inside + tails).toBeCloseTo(1, 6);
    },
  );

  it.each([0, 0.4, 1])('falls to half its height at half its width (share %d)', (share) => {
    expect(pseudoVoigtPerDeg(0.1, 0.2, share) / pseudoVoigtPerDeg(0, 0.2, share)).toBeCloseTo(0.5, 12);
  });
});

describe('a K-alpha doublet', () => {
  const peak = { twoThetaDeg: 60, areaCountsDeg: 500, fwhmDeg: 0.08, lorentzShare: 0 };

  it('splits more at higher angle', () => {
    const split = (at: number): number => kAlpha2TwoThetaDeg(at, radiation) - at;
    expect(split(80)).toBeGreaterThan(2 * split(40));
  });

  it('holds its whole area in both lines together, 0.51 to 1', () => {
    expect(areaBy((x) => peakCounts(peak, x, radiation), 58, 62, 100_000)).toBeCloseTo(500, 6);
    const middle = 60 + (kAlpha2TwoThetaDeg(60, radiation) - 60) / 2;
    const first = areaBy((x) => peakCounts(peak, x, radiation), 58, middle, 100_000);
    expect((500 - first) / first).toBeCloseTo(0.51, 1);
  });

  it('is a single line when a monochromator takes K-alpha1 only', () => {
    const { radiation: single } = radiationOf('Cu', undefined, true);
    expect(kAlpha2TwoThetaDeg(60, single)).toBeNaN();
    expect(peakHeightCounts(peak, single)).toBeCloseTo(500 * pseudoVoigtPerDeg(0, 0.08, 0), 9);
  });

  it('adds onto what is in the curve already', () => {
    const curve = Float64Array.of(7);
    addPeakCurve(curve, [60], peak, radiation);
    expect(curve[0]).toBeCloseTo(7 + peakHeightCounts(peak, radiation), 9);
  });
});

describe('radiationOf', () => {
  it('rescales the doublet to the older angstrom scale', () => {
    const old = radiationOf('Cu', 1.540562);
    expect(old.reading).toBe('kAlpha1');
    expect(old.radiation.kAlpha2Angstrom! / old.radiation.kAlpha1Angstrom).toBeCloseTo(
      radiation.kAlpha2Angstrom! / radiation.kAlpha1Angstrom,
      12,
    );
  });

  it('knows the doublet’s mean when it is given that', () => {
    expect(radiationOf('Cu', 1.5418)).toMatchObject({
      reading: 'mean',
      radiation: { kAlpha1Angstrom: 1.54059292 },
    });
  });

  it('takes any other wavelength for a single line without K-beta', () => {
    const { reading, radiation: single } = radiationOf('Cu', 1.24);
    expect(reading).toBe('single');
    expect(single).toMatchObject({
      kAlpha1Angstrom: 1.24,
      kAlpha2Angstrom: undefined,
      kBetaAngstrom: undefined,
    });
  });
});
