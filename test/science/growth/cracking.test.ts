import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  biaxialModulus,
  criticalThickness,
  energyReleaseRate,
  expansionRecord,
  inPlanePoisson,
  mechanicsRecord,
  mismatchStrain,
  planeStrainModulus,
} from '../../../src/science/growth/cracking.ts';

describe('cracking', () => {
  it('of an isotropic film has the modulus E/(1 - nu)', () => {
    const [lambda, mu] = [60, 80];
    const c = {
      c11: lambda + 2 * mu,
      c22: lambda + 2 * mu,
      c33: lambda + 2 * mu,
      c12: lambda,
      c13: lambda,
      c23: lambda,
    };
    const e = (mu * (3 * lambda + 2 * mu)) / (lambda + mu);
    const nu = lambda / (2 * (lambda + mu));
    expect(biaxialModulus(c)).toBeCloseTo(e / (1 - nu), 9);
  });

  it('begins where the energy freed equals that of toughness, whatever the stress', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e7, max: 5e9, noNaN: true }), (stress) => {
        const h = criticalThickness(1.1e6, 1.976, stress);
        expect(energyReleaseRate(1.976, stress, h, 3e11) / (1.1e6 ** 2 / 3e11)).toBeCloseTo(1, 9);
      }),
    );
  });

  it('does not begin in compression', () => {
    expect(mismatchStrain(11e-6, 13e-6, 800)).toBeLessThan(0);
    expect(criticalThickness(1.1e6, 1.976, -1e8)).toBe(Number.POSITIVE_INFINITY);
    expect(criticalThickness(1.1e6, 1.976, 0)).toBe(Number.POSITIVE_INFINITY);
  });

  it('has factors of surface and channel that come from 1.1215 squared times pi', () => {
    expect(mechanicsRecord('z-surface').value).toBeCloseTo(1.1215 ** 2 * Math.PI, 3);
    expect(mechanicsRecord('z-channel').value * 2).toBeCloseTo(mechanicsRecord('z-surface').value, 2);
  });

  it('on a substrate that is not in the table lists those that are', () => {
    expect(() => expansionRecord('GaAs')).toThrow(
      /'GaAs' has no thermal expansion in the table; known are 123, SrTiO3/,
    );
  });
});

describe('the plane-strain modulus', () => {
  it('of an isotropic film is E/(1 - nu^2), and its Poisson ratio that of the film', () => {
    const [lambda, mu] = [60, 80];
    const along = lambda + 2 * mu;
    const c = { c11: along, c22: along, c33: along, c12: lambda, c13: lambda, c23: lambda };
    const e = (mu * (3 * lambda + 2 * mu)) / (lambda + mu);
    const nu = lambda / (2 * (lambda + mu));
    expect(planeStrainModulus(c)).toBeCloseTo(e / (1 - nu ** 2), 9);
    expect(inPlanePoisson(c)).toBeCloseTo(nu, 9);
  });

  it('gives the energy that Irwin gives for an edge crack in plane strain, K^2 (1 - nu^2)/E', () => {
    // the energy once was printed with the biaxial modulus E/(1 - nu), low by 1 + nu
    const [e, nu, stress, h] = [150e9, 0.3, 4e8, 1e-6];
    const intensity = 1.1215 * stress * Math.sqrt(Math.PI * h);
    const freed = energyReleaseRate(mechanicsRecord('z-surface').value, stress, h, e / (1 - nu ** 2));
    expect(freed / ((intensity ** 2 * (1 - nu ** 2)) / e)).toBeCloseTo(1, 3);
  });
});
