import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  boundShare,
  filmComposition,
  SINK_LAYERS,
} from '../../../src/science/equilibrium/film-composition.ts';
import {
  PERITECTIC_LINE,
  peritecticByRadiusC,
  radiusBeyondY,
} from '../../../src/science/equilibrium/rare-earth-shift.ts';
import { RARE_EARTHS } from '../../../src/science/matter/elements.ts';

const codes = (doubts: readonly { code: string }[]): string[] => doubts.map(({ code }) => code);

describe('filmComposition', () => {
  it('takes a cation at 0 for one that is left out', () => {
    expect(filmComposition({ Y: 1, Ba: 2, Cu: 3, Dy: 0, Zr: 0 })).toEqual(
      filmComposition({ Y: 1, Ba: 2, Cu: 3 }),
    );
  });

  it('does not depend on the scale of the cations, with additions or without', () => {
    fc.assert(
      fc.property(fc.double({ min: 1e-3, max: 1e3, noNaN: true }), (scale) => {
        const cations = { Y: 1, Ba: 2.4, Cu: 3.5, Zr: 0.1 };
        const scaled = Object.fromEntries(Object.entries(cations).map(([symbol, n]) => [symbol, n * scale]));
        const [one, other] = [filmComposition(cations), filmComposition(scaled)];
        one.shares.forEach((share, k) => {
          expect(other.shares[k]).toBeCloseTo(share, 12);
        });
        expect(other.inert[0]!.share).toBeCloseTo(one.inert[0]!.share, 12);
      }),
      { numRuns: 50, seed: 80 },
    );
  });

  it('lets an addition bind its own Ba: BaZrO3 leaves the Ba that is left', () => {
    const { shares, inert } = filmComposition({ Y: 1, Ba: 2.1, Cu: 3, Zr: 0.1 });
    expect(shares[1] / shares[0]).toBeCloseTo(2, 12);
    expect(shares[2] / shares[0]).toBeCloseTo(3, 12);
    expect(inert).toEqual([
      { name: 'BaZrO3', share: expect.closeTo(0.2 / 6.2, 12), composition: { Zr: 1, Ba: 1 } },
    ]);
  });

  it('lets Nb bind Ba and the rare earth, named after the most abundant', () => {
    const { shares, inert, rareEarth } = filmComposition({ Gd: 0.7, Y: 0.4, Ba: 2.2, Cu: 3, Nb: 0.1 });
    expect(rareEarth).toBe('Gd');
    expect(inert[0]).toMatchObject({ name: 'Ba2GdNbO6', composition: { Nb: 1, Ba: 2, Gd: 1 } });
    expect(shares[1] / shares[0]).toBeCloseTo(2, 12);
  });

  it('keeps every cation: those of the triangle, of bound phases and of the substrate make up the film', () => {
    fc.assert(
      fc.property(
        fc.record({
          Dy: fc.double({ min: 0.5, max: 2, noNaN: true }),
          Ba: fc.double({ min: 1.5, max: 4, noNaN: true }),
          Cu: fc.double({ min: 1, max: 8, noNaN: true }),
          Hf: fc.double({ min: 0, max: 0.3, noNaN: true }),
        }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (cations, consumedNm) => {
          const film = filmComposition(cations, [{ layer: 'CeO2', consumedNm, filmNm: 300 }]);
          const total = Object.values(cations).reduce((sum, n) => sum + n, 0);
          const bound = film.sunk.Ba!;
          expect(bound).toBeCloseTo(boundShare({ layer: 'CeO2', consumedNm, filmNm: 300 }), 12);
          const inertBa = film.inert.reduce((sum, { share, composition }) => {
            const n = Object.values(composition).reduce((all, amount) => all + amount, 0);
            return sum + (share * composition.Ba!) / n;
          }, 0);
          const rest = 1 - film.inert.reduce((sum, { share }) => sum + share, 0);
          // shares are of what is left once the substrate took its Ba
          const ba = (film.shares[1] * rest + inertBa) * (1 - bound);
          expect(ba).toBeCloseTo(cations.Ba / total - bound, 9);
        },
      ),
      { numRuns: 200, seed: 81 },
    );
  });

  it('takes Ba out by a layer eaten into, in proportion to its thickness over that of the film', () => {
    const one = boundShare({ layer: 'CeO2', consumedNm: 1, filmNm: 100 });
    expect(boundShare({ layer: 'CeO2', consumedNm: 3, filmNm: 100 })).toBeCloseTo(3 * one, 14);
    expect(boundShare({ layer: 'CeO2', consumedNm: 1, filmNm: 200 })).toBeCloseTo(one / 2, 14);
    // 4 Ce in 0.5411^3 nm3 against 6 cations in a cell of 123 of some 0.1735 nm3
    expect(one).toBeCloseTo((4 / 0.5411 ** 3 / (6 / 0.1735)) * 0.01, 4);
    const plain = filmComposition({ Y: 1, Ba: 2, Cu: 3 });
    const sunk = filmComposition({ Y: 1, Ba: 2, Cu: 3 }, [{ layer: 'CeO2', consumedNm: 5, filmNm: 100 }]);
    expect(sunk.shares[1]).toBeLessThan(plain.shares[1]);
    expect(sunk.shares[0] / sunk.shares[2]).toBeCloseTo(1 / 3, 12);
    expect(codes(sunk.doubts)).toContain('SINK_BINDS_BARIUM');
  });

  it('changes nothing where no layer is eaten into', () => {
    for (const layer of SINK_LAYERS) {
      const { shares, doubts } = filmComposition({ Y: 1, Ba: 2, Cu: 3 }, [
        { layer, consumedNm: 0, filmNm: 100 },
      ]);
      expect(shares).toEqual(filmComposition({ Y: 1, Ba: 2, Cu: 3 }).shares);
      expect(doubts).toEqual([]);
    }
  });

  it('gives the film the La that a LaMnO3 layer lets go', () => {
    const film = filmComposition({ Y: 1, Ba: 2, Cu: 3 }, [{ layer: 'LaMnO3', consumedNm: 2, filmNm: 100 }]);
    expect(codes(film.doubts)).toContain('RARE_EARTHS_AS_ONE');
    expect(film.radiusBeyondYAngstrom).toBeGreaterThan(0);
  });

  it('refuses to bind more than there is, and says what to give', () => {
    expect(() => filmComposition({ Y: 1, Ba: 0.1, Cu: 3, Zr: 0.5 })).toThrow(
      /EQUILIBRIUM_ADDITION.*more Ba.*less Zr/s,
    );
    expect(() => filmComposition({ Ba: 2, Cu: 3, Nb: 0.5 })).toThrow(/EQUILIBRIUM_ADDITION.*rare earth/s);
    expect(() =>
      filmComposition({ Y: 1, Ba: 2, Cu: 3 }, [{ layer: 'CeO2', consumedNm: 100, filmNm: 50 }]),
    ).toThrow(/EQUILIBRIUM_SINK.*100 nm of CeO2/s);
    expect(() => filmComposition({ Zr: 1 })).toThrow(/TERNARY_EMPTY/);
  });

  it('names mixed rare earths after the most abundant, and elements that it leaves out with their share', () => {
    const mixed = filmComposition({ Gd: 0.3, Dy: 0.7, Ba: 2, Cu: 3 });
    expect(mixed.rareEarth).toBe('Dy');
    expect(mixed.radiusBeyondYAngstrom).toBeCloseTo(0.3 * 0.034 + 0.7 * 0.008, 9);
    const ignored = filmComposition({ Y: 1, Ba: 2, Cu: 3, Mg: 0.25 });
    expect(ignored.doubts[0]).toMatchObject({ code: 'ELEMENTS_IGNORED' });
    expect(ignored.doubts[0]!.message).toContain('Mg (4.0 % of the cations)');
  });
});

describe('the peritectic by radius', () => {
  it('is a line: a mixture lies between its ends by the mean radius', () => {
    const mixed = peritecticByRadiusC(radiusBeyondY({ Gd: 1, Y: 1 })).value;
    const ends = (['Gd', 'Y'] as const).map(
      (symbol) => peritecticByRadiusC(radiusBeyondY({ [symbol]: 1 })).value,
    );
    expect(mixed).toBeCloseTo((ends[0]! + ends[1]!) / 2, 9);
  });

  it('is least sure far from the rare earths that it was laid through', () => {
    const [near, far] = [radiusBeyondY({ Dy: 1 }), radiusBeyondY({ La: 1 })].map(
      (radius) => peritecticByRadiusC(radius).standardUncertainty,
    ) as [number, number];
    expect(far).toBeGreaterThan(3 * near);
    expect(PERITECTIC_LINE.slopeKPerAngstrom).toBeGreaterThan(0);
  });

  it.each(RARE_EARTHS)('has a radius for %s', (symbol) => {
    expect(Number.isFinite(radiusBeyondY({ [symbol]: 1 }))).toBe(true);
    if (symbol !== 'Y') expect(radiusBeyondY({ [symbol]: 1 })).not.toBe(0);
  });
});
