import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  coarsenedRadius,
  coarseningConstant,
  grownOver,
  startRadius,
} from '../../../src/science/growth/coarsening.ts';
import { arrivalLimitMPerS, layerLimitMPerS, liquidLimitMPerS } from '../../../src/science/growth/limit.ts';
import { expectPrinted } from '../../printed.ts';

const MELT = { interfacialEnergy: 0.5, diffusivity: 5e-10, solute: 286, molarVolume: 3.7e-5 };

describe('coarsening', () => {
  it('of 211 in its melt at 1040 degC is estimated at 8e-21 m3/s, 3.1 um after an hour', () => {
    // [derived: the formula worked out apart with these inputs]
    const k = coarseningConstant(MELT, 1313.15);
    expectPrinted(k * 1e21, '8.0');
    expectPrinted(coarsenedRadius(0, 3600 * k) * 1e6, '3.1');
  });

  it('is the same with c as a volume fraction and one molar volume', () => {
    const { interfacialEnergy, diffusivity, solute, molarVolume } = MELT;
    const fraction = solute * molarVolume;
    const other = (8 * interfacialEnergy * diffusivity * fraction * molarVolume) / (9 * 8.314462618 * 1300);
    expect(coarseningConstant(MELT, 1300) / other).toBeCloseTo(1, 12);
  });

  it('follows a single particle of theory: the cube grows by 4/9 of the capillary length times D c Vm', () => {
    // r* dr*/dt of the mean in the theory: d(r^3)/dt = (4/9) l D c Vm with l = 2 gamma Vm/(R T)
    const capillary = (2 * 0.5 * 3.7e-5) / (8.314462618 * 1300);
    expect(coarseningConstant(MELT, 1300) / ((4 / 9) * capillary * 5e-10 * 286 * 3.7e-5)).toBeCloseTo(1, 9);
  });

  it('conserves the volume that the nuclei share', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-4, max: 1, noNaN: true }),
        fc.double({ min: 15, max: 24, noNaN: true }),
        (fraction, decade) => {
          const n = 10 ** decade;
          expect((n * (4 * Math.PI) * startRadius(fraction, n) ** 3) / 3 / fraction).toBeCloseTo(1, 9);
        },
      ),
    );
  });

  it('over a path of one temperature is that of a hold', () => {
    const change = { referenceK: 1200, diffusionJPerMol: 1e5, dissolutionJPerMol: 2e5 };
    expect(
      grownOver([0, 10, 30], [1200, 1200, 1200], MELT, change) / (30 * coarseningConstant(MELT, 1200)),
    ).toBeCloseTo(1, 12);
    expect(grownOver([0, 30], [1150, 1150], MELT, change)).toBeLessThan(30 * coarseningConstant(MELT, 1150));
  });

  it('is refused without an interface', () => {
    expect(() => coarseningConstant({ ...MELT, interfacialEnergy: 0 }, 1200)).toThrow(
      /interfacialEnergy is 0; allowed is above 0/,
    );
    expect(() => startRadius(1.2, 1e20)).toThrow(/volumeFraction is 1\.2; allowed is above 0 and up to 1/);
  });
});

describe('growth limited by transport', () => {
  const liquid = { diffusivity: 5e-10, bulk: 336, atFace: 286, crystal: 9568, boundaryM: 1e-6 };

  it('through 1 um of liquid supersaturated by 50 mol/m3 reaches 2.7 um/s, through 100 um a hundredth', () => {
    // [derived: R = D dC/(delta (Cs - Ci)), worked out apart]
    expectPrinted(liquidLimitMPerS(liquid) * 1e6, '2.7');
    expectPrinted(liquidLimitMPerS({ ...liquid, boundaryM: 1e-4 }) * 1e9, '27');
  });

  it('stands still without supersaturation and is refused below it', () => {
    expect(liquidLimitMPerS({ ...liquid, bulk: 286 })).toBe(0);
    expect(() => liquidLimitMPerS({ ...liquid, bulk: 200 })).toThrow(
      /liquid\.atFace is 286; allowed is 0 or more and up to 200/,
    );
  });

  it('by 10 Pa of oxygen alone would let a micrometre take an atom a formula in a fiftieth of a second', () => {
    const seconds = 1e-6 / arrivalLimitMPerS(10, 1123, 1, 1, 9568);
    expect(seconds).toBeGreaterThan(0.015);
    expect(seconds).toBeLessThan(0.025);
  });

  it('through a carrier gas falls as its pressure and its layer grow', () => {
    const rate = (totalPressurePa: number, boundaryM: number) =>
      layerLimitMPerS(10, 1123, { totalPressurePa, boundaryM, diffusivity: 1.9e-5 }, 1, 9568);
    expect(rate(101325, 0.01) / rate(10132.5, 0.01)).toBeCloseTo(0.1, 9);
    expect(rate(101325, 0.01) / rate(101325, 0.001)).toBeCloseTo(0.1, 9);
    expect(() => rate(5, 0.01)).toThrow(/totalPressurePa is 5; allowed is 10 or more/);
  });
});
