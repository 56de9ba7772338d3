import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  cationsAtTernary,
  cationsOf,
  placeInTriangle,
  rareEarthRadius,
  sharesOf,
  sumOf,
  ternaryCoordinates,
  triangleDistance,
} from '../../../src/science/matter/cation-ratios.ts';

describe('ternaryCoordinates', () => {
  it('puts 1:2:3 at a sixth, a third and a half, whatever the rare earths', () => {
    const point = ternaryCoordinates({ Y: 0.4, Gd: 0.6, Ba: 2, Cu: 3 });
    expect(point.re).toBeCloseTo(1 / 6, 12);
    expect(point.ba).toBeCloseTo(1 / 3, 12);
    expect(point).toMatchObject({ outside: 0 });
  });

  it('counts additions apart', () => {
    expect(ternaryCoordinates({ Y: 1, Ba: 2, Cu: 3, Zr: 1.5 }).outside).toBeCloseTo(0.2, 12);
  });

  it('goes there and back for any composition', () => {
    const share = fc.double({ min: 0.01, max: 10, noNaN: true });
    fc.assert(
      fc.property(share, share, share, share, (y, gd, ba, cu) => {
        const back = cationsAtTernary(ternaryCoordinates({ Y: y, Gd: gd, Ba: ba, Cu: cu }), { Y: y, Gd: gd });
        const total = y + gd + ba + cu;
        expect(sumOf(back)).toBeCloseTo(1, 9);
        expect(back.Gd).toBeCloseTo(gd / total, 9);
        expect(back.Cu).toBeCloseTo(cu / total, 9);
      }),
      { seed: 3 },
    );
  });

  it('refuses a ratio with nothing in the triangle and a symbol that is no element', () => {
    expect(() => ternaryCoordinates({ Zr: 1 })).toThrow(/0 mol of RE, Ba and Cu/);
    expect(() => ternaryCoordinates({ Qq: 1, Ba: 1 })).toThrow(/cations.Qq/);
  });

  it('refuses a rare earth that is none', () => {
    expect(() => cationsAtTernary({ re: 1, ba: 1, cu: 1 }, { Zr: 1 })).toThrow(
      /'Zr' is not one of the rare earths/,
    );
    expect(() => cationsAtTernary({ re: 1, ba: 1, cu: 1 }, { Y: 0 })).toThrow(/no rare earth with an amount/);
  });
});

describe('triangleDistance', () => {
  it('is 1 from corner to corner and symmetric', () => {
    const re = { re: 1, ba: 0, cu: 0 };
    const ba = { re: 0, ba: 1, cu: 0 };
    const cu = { re: 0, ba: 0, cu: 1 };
    expect(triangleDistance(re, ba)).toBeCloseTo(1, 12);
    expect(triangleDistance(ba, cu)).toBeCloseTo(1, 12);
    expect(triangleDistance(cu, re)).toBeCloseTo(1, 12);
  });
});

describe('rareEarthRadius', () => {
  it('has no variance for one rare earth and none at all without', () => {
    expect(rareEarthRadius({ Gd: 3, Ba: 6 })).toEqual({ meanAngstrom: 1.053, varianceAngstrom2: 0 });
    expect(rareEarthRadius({ Ba: 2, Cu: 3 })).toBeNull();
  });
});

describe('shares', () => {
  it('leave anions out and add to 1', () => {
    expect(sharesOf(cationsOf({ Ba: 1, Cu: 3, O: 5, C: 1 }))).toEqual({ Ba: 0.25, Cu: 0.75 });
    expect(sharesOf({})).toEqual({});
  });
});

describe('placeInTriangle', () => {
  it('is the place of a ratio, and null where there is none: unknown, no cation of the triangle, no element', () => {
    expect(placeInTriangle({ Dy: 1, Ba: 2, Cu: 3 })).toEqual(ternaryCoordinates({ Dy: 1, Ba: 2, Cu: 3 }));
    expect(placeInTriangle(null)).toBeNull();
    expect(placeInTriangle({ Zr: 1 })).toBeNull();
    expect(placeInTriangle({ Xx: 1 })).toBeNull();
  });
});
