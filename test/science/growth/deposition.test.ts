import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fluenceJPerM2,
  oxygenPressurePa,
  surfaceTemperatureC,
} from '../../../src/science/growth/deposition.ts';

const stated = (value: number, standardUncertainty: number | null) => ({ value, standardUncertainty });

describe('fluenceJPerM2', () => {
  it('gives 2 J/cm2 for 60 mJ on 3 mm2', () => {
    expect(fluenceJPerM2(stated(0.06, null), stated(3e-6, null)).value).toBeCloseTo(2e4, 8);
  });

  it('spreads as a quotient of two seeded normal samples does', () => {
    let seed = 12345;
    const uniform = () => {
      seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
      return (seed + 0.5) / 2 ** 32;
    };
    const normal = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    const values = Array.from(
      { length: 40_000 },
      () => (0.06 + 0.0018 * normal()) / (3e-6 + 0.12e-6 * normal()),
    );
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const spread = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
    const { standardUncertainty } = fluenceJPerM2(stated(0.06, 0.0018), stated(3e-6, 0.12e-6));
    // 3 % and 4 % give 5 %; the sample's own scatter is 0.35 %, the second order about 0.5 %
    expect(standardUncertainty! / spread).toBeGreaterThan(0.98);
    expect(standardUncertainty! / spread).toBeLessThan(1.02);
  });

  it('keeps its relative uncertainty when energy and area grow alike', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 100, noNaN: true }), (factor) => {
        const one = fluenceJPerM2(stated(1, 0.1), stated(2, 0.1));
        const other = fluenceJPerM2(stated(factor, 0.1 * factor), stated(2 * factor, 0.1 * factor));
        expect(other.standardUncertainty! / one.standardUncertainty!).toBeCloseTo(1, 9);
      }),
    );
  });

  it('has no uncertainty where nothing states one', () => {
    expect(fluenceJPerM2(stated(1, null), stated(2, null)).standardUncertainty).toBeNull();
  });

  it('refuses an area of 0 and names it', () => {
    expect(() => fluenceJPerM2(stated(1, null), stated(0, null))).toThrow(/spotAreaM2 is 0.*above 0/);
  });
});

describe('surfaceTemperatureC', () => {
  it('takes the uncertainty of the offset', () => {
    expect(surfaceTemperatureC(870, stated(-20, 8))).toEqual(stated(850, 8));
  });

  it('is the reading without an uncertainty where no offset is known', () => {
    expect(surfaceTemperatureC(870, null)).toEqual(stated(870, null));
  });
});

describe('oxygenPressurePa', () => {
  // [memory: dry air holds 20.95 % O2 by volume, US Standard Atmosphere 1976]
  it('finds 21.2 kPa of oxygen in air at one atmosphere', () => {
    expect(oxygenPressurePa(101_325, 'total', 0.2095)).toBeCloseTo(21_227.6, 1);
  });

  it('leaves a gauge of oxygen alone as it is', () => {
    expect(oxygenPressurePa(20, 'oxygen partial', 0.5)).toBe(20);
  });

  it('refuses a share of 21, which is meant in per cent', () => {
    expect(() => oxygenPressurePa(1, 'total', 21)).toThrow(/oxygenShare is 21; expected 0 to 1/);
  });
});
