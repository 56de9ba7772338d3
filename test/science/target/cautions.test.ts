import { describe, expect, it } from 'vitest';
import { CAUTIONS } from '../../../src/science/tables/cautions.ts';
import { PRECURSORS } from '../../../src/science/tables/precursors.ts';
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

  it('knows nitrates, hydrates and metals, by their own row or by their kind', () => {
    const matter = (formula: string) => cautionsFor([formula])[0]!.matter;
    expect(matter('Y(NO3)3\u00b76H2O')).toBe('nitrate of a rare earth');
    expect(matter('Cu(NO3)2\u00b73H2O')).toBe('Cu(NO3)2 and its hydrates');
    expect(matter('Ba(OH)2\u00b78H2O')).toBe('Ba(OH)2 and its hydrates');
    expect(matter('Zr')).toBe('Zr or Hf metal');
    expect(matter('Ba')).toBe('Ba metal');
    expect(matter('Ba(CH3COO)2')).toBe('other compound of Ba');
    expect(matter('Sr(NO3)2')).toBe('fine powder'); // nothing of its own stored
    expect(cautionsFor(['Sr(NO3)2']).at(-1)!.statement).toMatch(/No caution for Sr\(NO3\)2/);
  });

  it('reads every formula that it stores, and every precursor of the library', () => {
    const compounds = CAUTIONS.records.filter(({ kind }) => kind === 'compound');
    for (const { formulas, matter } of compounds)
      for (const formula of formulas) expect(cautionsFor([formula])[0]!.matter).toBe(matter);
    for (const { formula } of PRECURSORS.records) expect(cautionsFor([formula]).length).toBeGreaterThan(1);
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
    expect(sameSubstance({ Ba: 1 }, { Zr: 1 })).toBe(false); // once alike, since neither held the other's element
  });
});
