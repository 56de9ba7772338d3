import { describe, expect, it } from 'vitest';
import { matterFormula } from '../../../src/computations/matter/formula.ts';
import { matterTernary } from '../../../src/computations/matter/ternary.ts';

describe('matter.formula', () => {
  it('keeps RE open until a rare earth is named', () => {
    const open = matterFormula.run({ formula: 'REBa2Cu3O6.93' });
    expect(open.molarMassGPerMol).toBeNull();
    expect(open.flags.map((flag) => flag.code)).toEqual(['RARE_EARTH_OPEN']);
    const named = matterFormula.run({ formula: 'REBa2Cu3O6.93', rareEarth: 'Y' });
    expect(named.molarMassGPerMol!.value).toBeCloseTo(665.0709, 3);
    expect(named.cations).toEqual({ Y: 1, Ba: 2, Cu: 3 });
  });

  it('adds a named rare earth to one that stands in the formula already', () => {
    expect(matterFormula.run({ formula: 'RE0.5Y0.5Ba2Cu3O7', rareEarth: 'Y' }).elements.Y).toBe(1);
  });

  it('says when the rare earth was not needed, and refuses what is none', () => {
    expect(matterFormula.run({ formula: 'CuO', rareEarth: 'Y' }).flags[0]!.code).toBe('RARE_EARTH_UNUSED');
    expect(() => matterFormula.run({ formula: 'RE2O3', rareEarth: 'Cu' })).toThrow(
      /'Cu' is not one of the rare earths/,
    );
  });

  it('answers its example in its own schema', () => {
    const response = matterFormula.run(matterFormula.request.parse(matterFormula.example));
    expect(matterFormula.response.parse(response)).toEqual(response);
  });
});

describe('matter.ternary', () => {
  it('flags what lies outside and what has no rare earth', () => {
    const response = matterTernary.run({ cations: { Ba: 2, Cu: 3, Zr: 1 } });
    expect(response.flags.map((flag) => flag.code)).toEqual(['NO_RARE_EARTH', 'OUTSIDE_TRIANGLE']);
    expect(response).toMatchObject({ re: 0, ba: 0.4, radiusMeanAngstrom: null });
  });

  it('answers its example in its own schema', () => {
    const response = matterTernary.run(matterTernary.request.parse(matterTernary.example));
    expect(matterTernary.response.parse(response)).toEqual(response);
  });
});
