import { describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../../src/science/tables/cautions.ts';
import { cautionsFor, sameSubstance } from '../../../src/science/target/cautions.ts';

describe('cautionsFor', () => {
  it('knows a compound however it is written, and adds powder and furnace', () => {
    expect(cautionsFor(['BaN2O6']).map((c) => c.matter)).toEqual(['Ba(NO3)2', 'fine powder', 'furnace']);
  });

  it('falls back to the element for a barium compound without a row', () => {
    expect(cautionsFor(['BaCuO2'])[0]).toMatchObject({
      matter: 'other compound of Ba',
      codes: ['H302', 'H332'],
    });
  });

  it('says that it knows nothing rather than that there is no danger', () => {
    expect(cautionsFor(['PbO']).at(-1)!.statement).toMatch(/does not mean that it is harmless/);
  });

  it('defers to local rules and the safety data sheet in every line', () => {
    for (const row of CAUTIONS.records)
      expect(row.statement).toMatch(/Local rules .* safety data sheet prevails\.$/);
  });
});

describe('sameSubstance', () => {
  it('compares proportions, not amounts', () => {
    expect(sameSubstance({ Y: 1, O: 1.5 }, { Y: 2, O: 3 })).toBe(true);
    expect(sameSubstance({ Y: 1, O: 1.5 }, { Y: 2, O: 3, H: 1 })).toBe(false);
    expect(sameSubstance({ Ba: 1, O: 1 }, { Ba: 1, O: 2 })).toBe(false);
    expect(sameSubstance({}, {})).toBe(false);
  });
});
