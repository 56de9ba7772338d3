import { describe, expect, it } from 'vitest';
import { targetBatch } from '../../../src/computations/target/batch.ts';

type Request = Parameters<typeof targetBatch.run>[0];
const example = targetBatch.request.parse(targetBatch.example);
const ask = (changes: Partial<Request>) => targetBatch.run({ ...example, ...changes });

describe('target.batch', () => {
  it('answers its example in its own schema, with cautions', () => {
    const response = targetBatch.run(example);
    expect(targetBatch.response.parse(response)).toEqual(response);
    expect(response.cautions.map((caution) => caution.matter)).toContain('BaCO3');
    expect(response.radiusMeanAngstrom).toBe(1.019);
  });

  it('takes 6.93 oxygen where none is stated, in either place', () => {
    const stated = ask({ composition: { cations: { Y: 1, Ba: 2, Cu: 3 }, oxygenPer123: 6.93 } });
    expect(stated.masses).toEqual(ask({}).masses);
    expect(ask({ oxygenPer123: 6.93 }).masses).toEqual(stated.masses);
    expect(() =>
      ask({ oxygenPer123: 6.5, composition: { ...example.composition, oxygenPer123: 6 } }),
    ).toThrow(/allowed is one number/);
  });

  it('checks what a powder is said to provide against its formula', () => {
    const withProvides = (provides: Request['precursors'][number]['provides']) =>
      ask({
        precursors: [
          { formula: 'Y2O3', purity: 0.999, lossOnDrying: 0 },
          { formula: 'BaCuO2', purity: 0.999, lossOnDrying: 0.001, provides },
          { formula: 'CuO', purity: 0.999, lossOnDrying: 0 },
        ],
      });
    expect(withProvides('Ba').flags.map((flag) => flag.code)).toEqual(['PROVIDES_MORE']);
    expect(withProvides(['Ba', 'Cu']).flags).toEqual([]);
    expect(withProvides({ Ba: 1, Cu: 1 }).flags).toEqual([]);
    expect(() => withProvides({ Ba: 2 })).toThrow(/provides\.Ba is 2, but BaCuO2 holds 1/);
    expect(() => withProvides('Y')).toThrow(/precursors\[1\]\.provides is 'Y', which BaCuO2 does not hold/);
  });

  it('asks about an addition that is named twice, however it is written', () => {
    const zirconate = (formula: string) => ({ formula, molPercent: 5 });
    const composition = (...formulas: string[]) => ({
      base: 'YBa2Cu3O7',
      additions: formulas.map(zirconate),
    });
    const precursors = [
      ...example.precursors,
      { formula: 'ZrO2', provides: 'Zr', purity: 0.999, lossOnDrying: 0.001 },
    ];
    const codes = (...formulas: string[]) =>
      ask({ composition: composition(...formulas), precursors }).flags.map(({ code }) => code);
    expect(codes('BaZrO3', 'BaO\u00b7ZrO2')).toContain('ADDITION_TWICE');
    expect(codes('BaZrO3')).not.toContain('ADDITION_TWICE');
  });

  it('says where an addition leaves the ratio as it is, since all its cations come out of the matrix', () => {
    const codes = (formula: string, additionCations: 'onTop' | 'outOfMatrix') =>
      ask({
        composition: { base: 'YBa2Cu3O7', additions: [{ formula, molPercent: 5 }] },
        additionCations,
        precursors: [
          ...example.precursors,
          ...(formula.includes('Zr') ? [{ formula: 'ZrO2', purity: 0.999, lossOnDrying: 0.001 }] : []),
        ],
      }).flags.map(({ code }) => code);
    expect(codes('Y2BaCuO5', 'outOfMatrix')).toContain('ADDITION_WITHOUT_EFFECT');
    expect(codes('Y2BaCuO5', 'onTop')).not.toContain('ADDITION_WITHOUT_EFFECT');
    expect(codes('BaZrO3', 'outOfMatrix')).not.toContain('ADDITION_WITHOUT_EFFECT');
  });

  it('names the composition, not a field that was not given, where no powder brings a cation of an addition', () => {
    const composition = { base: 'YBa2Cu3O7', additions: [{ formula: 'BaZrO3', molPercent: 100 / 7 }] };
    expect(() => ask({ composition })).toThrow(/: composition\.Zr is 0\.1429, but no precursor brings Zr/);
  });

  it('says which powder brings too much', () => {
    expect(() =>
      ask({
        composition: { cations: { Y: 1, Ba: 3, Cu: 2 } },
        precursors: ['Y2O3', 'BaCuO2', 'CuO'].map((formula) => ({
          formula,
          purity: 0.99,
          lossOnDrying: 0.001,
        })),
      }),
    ).toThrow(
      /precursors\[2\] \(CuO\) would need -1\.000 mol.*precursors\[1\] \(BaCuO2\) brings more Cu than is wanted/,
    );
  });

  it('makes the weighed mass up of the fired mass and of what leaves', () => {
    const { weighedTotalMg, calcinedTotalMg, leavingMg } = ask({});
    const leaving = Object.values(leavingMg).reduce((total, each) => total + each, 0);
    expect(Math.abs((calcinedTotalMg + leaving) / weighedTotalMg - 1)).toBeLessThan(1e-9);
    expect(leavingMg.O2).toBeLessThan(0);
  });

  it.each([
    [
      { diameterMm: 25, thicknessMm: -5, relativeDensity: 0.9 },
      /pellet\.thicknessMm is -5; allowed is above 0/,
    ],
    [{ diameterMm: 25, thicknessMm: 5, relativeDensity: 90 }, /pellet\.relativeDensity is 90; allowed/],
  ])('refuses a pellet of %j and names the field, the value and the range', (pellet, message) => {
    expect(() => ask({ totalMassG: undefined, pellet })).toThrow(message);
  });

  it('refuses a base or an addition that it cannot take, and says where', () => {
    const additions = (molPercent: number) => [{ formula: 'BaZrO3', molPercent }];
    expect(() => ask({ composition: { base: 'YBa2Cu3O7', additions: additions(-1) } })).toThrow(
      /composition\.additions\[0\]\.molPercent is -1; allowed is 0/,
    );
    expect(() => ask({ composition: { formula: 'O2' } })).toThrow(
      /composition\.formula is 'O2', which holds no cation/,
    );
  });
});
