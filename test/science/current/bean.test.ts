import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beanJcAPerM2,
  beanSensitivities,
  bridgeSelfFieldT,
  saturatedMomentAmpereM2,
  stripPenetrationT,
} from '../../../src/science/current/bean.ts';
import { atOtherCriterion, offsetCriterion } from '../../../src/science/current/criterion.ts';
import { depairingAPerM2 } from '../../../src/science/current/depairing.ts';
import { expectPrinted } from '../../printed.ts';
import { distanceIntegral } from '../../simulate/magnetisation-loop.ts';

const PIECE = { aM: 4e-3, bM: 6e-3, thicknessM: 500e-9 };

describe('the critical state of a rectangle', () => {
  it.each([
    [4e-3, 6e-3],
    [5e-3, 5e-3],
    [1e-3, 20e-3],
  ])('has the moment of its stream function, summed cell by cell: %d by %d m', (aM, bM) => {
    const summed = 2e10 * 500e-9 * distanceIntegral(aM, bM, 600);
    expect(saturatedMomentAmpereM2(2e10, { aM, bM, thicknessM: 500e-9 }) / summed).toBeCloseTo(1, 4);
  });

  it('gives Jc back from the opening of its own loop', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e-2, noNaN: true }),
        fc.double({ min: 1, max: 20, noNaN: true }),
        (aM, ratio) => {
          const shape = { aM, bM: aM * ratio, thicknessM: 3e-7 };
          expect(beanJcAPerM2(2 * saturatedMomentAmpereM2(3e10, shape), shape) / 3e10).toBeCloseTo(1, 10);
        },
      ),
    );
  });

  it('gives 3 dM/a for a square and 2 dM/a for a long strip', () => {
    const square = { aM: 4e-3, bM: 4e-3, thicknessM: 1e-6 };
    expect(beanJcAPerM2(1e5 * 16e-6 * 1e-6, square)).toBeCloseTo((3 * 1e5) / 4e-3, 3);
    const strip = { aM: 1e-3, bM: 1e3, thicknessM: 1e-6 };
    expect(beanJcAPerM2(1e5 * 1e-3 * 1e3 * 1e-6, strip) / ((2 * 1e5) / 1e-3)).toBeCloseTo(1, 5);
  });

  it('has the sensitivities of its own formula, by differences', () => {
    const h = 1e-6;
    const ln = (shape: typeof PIECE) => Math.log(beanJcAPerM2(1e-4, shape));
    const by = beanSensitivities(PIECE);
    expect(by.a).toBeCloseTo((ln({ ...PIECE, aM: 4e-3 * (1 + h) }) - ln(PIECE)) / h, 4);
    expect(by.b).toBeCloseTo((ln({ ...PIECE, bM: 6e-3 * (1 + h) }) - ln(PIECE)) / h, 4);
  });
});

describe('fields of the piece itself', () => {
  it('is fully penetrated at the field that Biot and Savart give in its middle', () => {
    // the last place to be reached is the axis: sum mu0 Jc x/(2 pi r^2) of both halves over the section
    const jc = 3e10;
    const [halfWidth, half] = [2.5e-3, 125e-9];
    let field = 0;
    const n = 4000;
    for (let i = 0; i < n; i++) {
      // cells finer towards the axis
      const x = halfWidth * ((i + 0.5) / n) ** 4;
      const dx = halfWidth * (((i + 1) / n) ** 4 - (i / n) ** 4);
      // inner integral over the thickness in closed form: 2 atan(h/x)/x times x
      field += 2 * ((4e-7 * jc) / 2) * 2 * Math.atan(half / x) * dx;
    }
    expect(stripPenetrationT(jc, 2 * halfWidth, 2 * half) / field).toBeCloseTo(1, 3);
  });

  it('is between face and edge field for a bridge, and grows with its width only as a logarithm', () => {
    const { edgeT, faceT } = bridgeSelfFieldT(3e10, 50e-6, 250e-9);
    expect(faceT).toBeCloseTo(4.71e-3, 5);
    expect(edgeT).toBeCloseTo(10.5e-3, 4);
    expect(bridgeSelfFieldT(3e10, 500e-6, 250e-9).edgeT / edgeT).toBeLessThan(1.5);
  });
});

describe('criteria', () => {
  it('turns a criterion ten times higher into 1.0798 of the current at n 30', () => {
    expectPrinted(atOtherCriterion(1, 30, 1e-5, 1e-4), '1.0798');
  });

  it('meets zero field with the tangent at the offset current', () => {
    const [ic, n, h] = [0.4, 20, 1e-7];
    const e = (i: number) => (i / ic) ** n;
    const slope = (e(ic + h) - e(ic - h)) / (2 * h);
    expect(offsetCriterion(ic, n)).toBeCloseTo(ic - e(ic) / slope, 6);
  });

  it('falls from depairing at 0 K to none at 92 K', () => {
    expect(depairingAPerM2(0)).toBeGreaterThan(depairingAPerM2(77));
    expect(depairingAPerM2(92)).toBe(0);
    expect(depairingAPerM2(120)).toBe(0);
  });
});
