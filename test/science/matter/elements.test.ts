import { describe, expect, it } from 'vitest';
import { atomicWeight, isCation, isRareEarth, RARE_EARTHS } from '../../../src/science/matter/elements.ts';
import { molarMass, volatileFraction } from '../../../src/science/matter/molar-mass.ts';
import { ATOMIC_WEIGHTS } from '../../../src/science/tables/atomic-weights.ts';
import { expectPrinted } from '../../printed.ts';

describe('atomicWeight', () => {
  it('takes the half-width of Ba as rectangular', () => {
    // [looked-up: standard atomic weights 2007, Ba 137.327(7)]
    expect(atomicWeight('Ba')).toEqual({
      value: 137.327,
      standardUncertainty: expect.closeTo(0.007 / Math.sqrt(3), 9),
    });
  });

  it('reaches to the far end of the interval of O, whose conventional value lies outside it', () => {
    const { value, standardUncertainty } = atomicWeight('O');
    expect(value).toBe(15.999);
    expect(standardUncertainty).toBeCloseTo((15.99977 - 15.999) / Math.sqrt(3), 9);
  });

  it('refuses what is no element and what has no stable isotope', () => {
    expect(() => atomicWeight('Xx')).toThrow(/'Xx' is not the symbol/);
    expect(() => atomicWeight('Pm')).toThrow(/Pm has no standard atomic weight/);
  });

  it('has every element up to uranium once, in order, with a range that holds together', () => {
    expect(ATOMIC_WEIGHTS.records.map((row) => row.number)).toEqual(
      Array.from({ length: 92 }, (_, i) => i + 1),
    );
    for (const row of ATOMIC_WEIGHTS.records) if (row.low !== null) expect(row.high).toBeGreaterThan(row.low);
  });

  it('knows yttrium and the lanthanides as rare earths and oxygen as no cation', () => {
    expect(RARE_EARTHS.every(isRareEarth)).toBe(true);
    expect(isRareEarth('Ba')).toBe(false);
    expect([isCation('O'), isCation('C'), isCation('Cu')]).toEqual([false, false, true]);
  });
});

describe('molarMass', () => {
  it('adds the weights of Y-123 and their uncertainties', () => {
    const mass = molarMass({ Y: 1, Ba: 2, Cu: 3, O: 6.93 });
    expectPrinted(mass.gramPerMol, '665.071');
    const parts = [2 * 0.007, 3 * 0.003, 6.93 * 0.00077, 0.000002];
    expect(mass.standardUncertaintyGramPerMol).toBeCloseTo(Math.hypot(...parts) / Math.sqrt(3), 9);
  });
});

describe('volatileFraction', () => {
  it.each([
    [{ Ba: 1, C: 1, O: 3 }, 0.22302],
    [{ Ba: 1, N: 2, O: 6 }, 0.4133],
    [{ Y: 2, O: 3 }, 0],
  ])('of %o is %d', (amounts, share) => {
    expect(volatileFraction(amounts)).toBeCloseTo(share, 4);
  });
});
