import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CUPROUS,
  D_BA,
  D_BA_BA,
  D_RE,
  D_RE_BA,
  D_RE_RE,
  MELT_FORMS,
  MELT_NUMBERS,
  Melt,
  type MeltParameters,
  OMEGA,
} from '../../../src/science/equilibrium/melt.ts';
import { GAS_CONSTANT, oxygenStateAt } from '../../../src/science/equilibrium/oxygen.ts';
import { printedMelt } from '../../simulate/melt-energy.ts';
import { MEMBERS } from './drawn-conditions.ts';

const placeArb = fc.record({
  m: fc.integer({ min: 0, max: MEMBERS.length - 1 }),
  temperatureK: fc.double({ min: 973, max: 1373, noNaN: true }),
  decade: fc.double({ min: -6, max: 0, noNaN: true }),
  lnY: fc.double({ min: -9, max: -0.8, noNaN: true }),
  part: fc.double({ min: 0.02, max: 0.98, noNaN: true }),
});

function placed(place: { m: number; temperatureK: number; decade: number; lnY: number; part: number }) {
  const y = Math.exp(place.lnY);
  const po2Atm = 10 ** place.decade;
  const { melt } = MEMBERS[place.m]!;
  return {
    y,
    b: (1 - y) * place.part,
    po2Atm,
    parameters: melt,
    melt: new Melt(melt, oxygenStateAt(place.temperatureK, po2Atm)),
  };
}

describe('Melt', () => {
  it('has the energy and the Cu+ share of the form as printed, found by brute force, in every form', () => {
    const met = new Set<string>();
    fc.assert(
      fc.property(placeArb, (place) => {
        const { y, b, po2Atm, parameters, melt } = placed(place);
        met.add(parameters.form);
        const printed = printedMelt(parameters, place.temperatureK, po2Atm, y, b);
        expect(Math.abs(melt.omega(y, b) - printed.omega)).toBeLessThan(1e-3); // J/mol, against some 1e4
        // the share is only as sure as a flat minimum lets it be, and jumps where two valleys are level
        if (parameters.form === 'cooperative')
          expect(melt.cuprousShare(y, b)).toBeCloseTo(printed.cuprousShare, 9);
        else expect(Math.abs(melt.cuprousShare(y, b) - printed.cuprousShare)).toBeLessThan(2e-3);
      }),
      { numRuns: 1500, seed: 1 },
    );
    expect([...met].sort()).toEqual([...MELT_FORMS].sort());
  });

  it('keeps the lower of two valleys of the Cu+ share, where copper of both charges repels itself', () => {
    const parameters: MeltParameters = {
      form: 'ionic-ternary',
      values: { ...MEMBERS[0]!.melt.values, fusionTemperature: 1250, cuCu: 30_000, baCuCu: 20_000 },
    };
    const shares: number[] = [];
    for (let decade = -6; decade <= 0; decade += 0.25) {
      for (const b of [0.05, 0.2, 0.35]) {
        const melt = new Melt(parameters, oxygenStateAt(1123, 10 ** decade));
        const printed = printedMelt(parameters, 1123, 10 ** decade, 0.002, b);
        expect(Math.abs(melt.omega(0.002, b) - printed.omega)).toBeLessThan(1e-3);
        shares.push(melt.cuprousShare(0.002, b));
      }
    }
    expect(Math.min(...shares)).toBeLessThan(0.1);
    expect(Math.max(...shares)).toBeGreaterThan(0.9);
  });

  it('has first and second derivatives that are the limits of differences', () => {
    const n = new Float64Array(MELT_NUMBERS);
    const near = new Float64Array(MELT_NUMBERS);
    fc.assert(
      fc.property(placeArb, (place) => {
        const { y, b, melt } = placed(place);
        melt.evaluate(y, b, n);
        const [hy, hb] = [1e-5 * y, 1e-5 * Math.min(b, 1 - y - b)];
        const slope = (from: number, to: number, h: number): number => (to - from) / (2 * h);
        expect(Math.abs(slope(melt.omega(y - hy, b), melt.omega(y + hy, b), hy) - n[D_RE]!)).toBeLessThan(
          1e-2 + 1e-5 * Math.abs(n[D_RE]!) + 2e-11 / hy,
        );
        expect(Math.abs(slope(melt.omega(y, b - hb), melt.omega(y, b + hb), hb) - n[D_BA]!)).toBeLessThan(
          1e-2 + 1e-5 * Math.abs(n[D_BA]!) + 2e-11 / hb,
        );
        const derivative = (index: number, dy: number, db: number): number => {
          melt.evaluate(y + dy, b + db, near);
          const above = near[index]!;
          melt.evaluate(y - dy, b - db, near);
          return (above - near[index]!) / (2 * (dy + db));
        };
        for (const [second, first, dy, db] of [
          [D_RE_RE, D_RE, hy, 0],
          [D_RE_BA, D_RE, 0, hb],
          [D_RE_BA, D_BA, hy, 0],
          [D_BA_BA, D_BA, 0, hb],
        ] as const) {
          const found = derivative(first, dy, db);
          expect(Math.abs(found - n[second]!)).toBeLessThan(
            1e-4 * Math.abs(n[second]!) + 1e-8 / (dy + db) + 1,
          );
        }
      }),
      { numRuns: 1500, seed: 2 },
    );
  });

  it('lies at its least over the Cu+ share: its slope with the oxygen potential is the oxygen that it holds', () => {
    // Omega = G - n(O2) mu: dOmega/dmu = -n(O2); per mole of cations c f/4 of O2 less than CuO, so +c f/4
    fc.assert(
      fc.property(placeArb, (place) => {
        const { y, b, po2Atm, parameters } = placed(place);
        const step = 1e-5;
        const at = (p: number): Melt => new Melt(parameters, oxygenStateAt(place.temperatureK, p));
        const [below, above] = [at(po2Atm * (1 - step)), at(po2Atm * (1 + step))];
        const rise =
          (above.omega(y, b) - below.omega(y, b)) /
          (GAS_CONSTANT * place.temperatureK * Math.log((1 + step) / (1 - step)));
        const held = ((1 - y - b) * at(po2Atm).cuprousShare(y, b)) / 4;
        expect(Math.abs(rise - held)).toBeLessThan(1e-4);
      }),
      { numRuns: 600, seed: 3 },
    );
  });

  it('gains Cu+ as oxygen leaves', () => {
    for (const member of MEMBERS.slice(0, 12)) {
      const shares = [-6, -4, -2, 0].map((decade) =>
        new Melt(member.melt, oxygenStateAt(1250, 10 ** decade)).cuprousShare(0.005, 0.25),
      );
      expect(shares).toEqual([...shares].sort((p, q) => q - p));
    }
  });

  it('gives the same numbers alone and all at once, and takes an edge of the triangle', () => {
    const n = new Float64Array(MELT_NUMBERS);
    const melt = new Melt(MEMBERS[1]!.melt, oxygenStateAt(1200, 0.1));
    melt.evaluate(0.01, 0.3, n);
    expect(n[OMEGA]).toBeCloseTo(melt.omega(0.01, 0.3), 8);
    expect(n[CUPROUS]).toBe(melt.cuprousShare(0.01, 0.3));
    for (const [y, b] of [
      [0, 0],
      [0, 0.4],
      [0.2, 0],
      [0, 1],
      [1, 0],
    ] as const)
      expect(Number.isFinite(melt.omega(y, b))).toBe(true);
    expect(melt.omega(1e-12, 0.4)).toBeCloseTo(melt.omega(0, 0.4), 5);
  });

  it('is lifted as a whole by an offset', () => {
    const oxygen = oxygenStateAt(1200, 0.1);
    const [plain, lifted] = [new Melt(MEMBERS[2]!.melt, oxygen), new Melt(MEMBERS[2]!.melt, oxygen, 750)];
    for (const [y, b] of [
      [0.01, 0.3],
      [0, 0.1],
      [0.3, 0.6],
    ] as const)
      expect(lifted.omega(y, b) - plain.omega(y, b)).toBeCloseTo(750, 6);
  });
});
