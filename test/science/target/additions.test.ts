import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withAdditions } from '../../../src/science/target/additions.ts';
import { planBatch } from '../../../src/science/target/batch.ts';
import { density123GPerCm3, pelletMassG } from '../../../src/science/target/pellet.ts';

const BASE = 'YBa2Cu3O7';

describe('a base with additions', () => {
  it('of 5 mol% holds five formulas on a hundred of 123', () => {
    const { cations } = withAdditions(BASE, [{ formula: 'BaZrO3', molPercent: 5 }], 'per100Matrix', 'onTop');
    expect(cations).toEqual({ Y: 1, Ba: 2.05, Cu: 3, Zr: 0.05 });
  });

  it('of 5 mol% of the total holds one formula in twenty', () => {
    const { additions } = withAdditions(BASE, [{ formula: 'BaZrO3', molPercent: 5 }], 'ofTotal', 'onTop');
    const n = additions[0]!.molesPerMatrix;
    expect(n / (1 + n)).toBeCloseTo(0.05, 12);
  });

  it('out of the matrix keeps what the matrix shares with it', () => {
    const { cations } = withAdditions(
      BASE,
      [{ formula: 'Ba2YNbO6', molPercent: 5 }],
      'per100Matrix',
      'outOfMatrix',
    );
    expect(cations).toEqual({ Y: 1, Ba: 2, Cu: 3, Nb: 0.05 });
  });

  it('is refused where additions together take more out of the matrix than it has, though none does alone', () => {
    const halves = ['BaZrO3', 'BaHfO3'].map((formula) => ({ formula, molPercent: 150 }));
    expect(() => withAdditions(BASE, halves.slice(0, 1), 'per100Matrix', 'outOfMatrix')).not.toThrow();
    expect(() => withAdditions(BASE, halves, 'per100Matrix', 'outOfMatrix')).toThrow(
      'composition.additions[1] takes with those before it 3.00 Ba out of a matrix that has 2.',
    );
    expect(() => withAdditions(BASE, halves, 'per100Matrix', 'onTop')).not.toThrow();
  });

  it('takes the cell of the rare earth nearest in radius where its own is not tabled', () => {
    const moles = (formula: string) =>
      withAdditions('YBa2Cu3O7', [{ formula, volPercent: 5 }], 'per100Matrix', 'onTop').additions[0]!
        .molesPerMatrix;
    expect(moles('Sm2O3')).toBe(moles('Gd2O3')); // radii 1.079, 1.053 and 1.019 angstrom
    expect(moles('Ho2O3')).toBe(moles('Y2O3'));
    expect(moles('Gd2O3')).not.toBe(moles('Y2O3'));
  });

  it('by volume gives back the share of volume asked for', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 30, noNaN: true }),
        fc.double({ min: 0.1, max: 30, noNaN: true }),
        (p, q) => {
          const { additions } = withAdditions(
            BASE,
            [
              { formula: 'BaHfO3', volPercent: p },
              { formula: 'Y2O3', volPercent: q },
            ],
            'per100Matrix',
            'onTop',
          );
          expect(100 * additions[0]!.volumeShare!).toBeCloseTo(p, 9);
          expect(100 * additions[1]!.volumeShare!).toBeCloseTo(q, 9);
        },
      ),
    );
  });

  it('is refused where it cannot be said', () => {
    const refuse = (additions: Parameters<typeof withAdditions>[1]) => () =>
      withAdditions(BASE, additions, 'per100Matrix', 'onTop');
    expect(refuse([{ formula: 'BaZrO3' }])).toThrow(/neither molPercent and volPercent/);
    expect(refuse([{ formula: 'BaZrO3', molPercent: -1 }])).toThrow(/additions\[0\]\.molPercent is -1/);
    expect(refuse([{ formula: 'SrZrO3', volPercent: 2 }])).toThrow(/cell volume is not tabled/);
    expect(refuse([{ formula: 'BaZrO3', volPercent: 120 }])).toThrow(
      /volPercent is 120; allowed is 0 to below 100/,
    );
    expect(refuse([{ formula: 'REBaO3', molPercent: 2 }])).toThrow(/RE not named/);
  });
});

describe('a pellet', () => {
  it('weighs its volume times the density of 123 times its relative density', () => {
    const density = density123GPerCm3({ Y: 1, Ba: 2, Cu: 3 }, 6.93);
    const mass = pelletMassG({ diameterMm: 20, thicknessMm: 5, relativeDensity: 0.9 }, { Y: 1 }, 6.93);
    expect(mass).toBeCloseTo(0.9 * density * Math.PI * 0.5, 9);
  });

  it('of no thickness is refused', () => {
    expect(() =>
      pelletMassG({ diameterMm: 20, thicknessMm: 0, relativeDensity: 0.9 }, { Y: 1 }, 6.93),
    ).toThrow(/pellet\.thicknessMm is 0/);
  });
});

describe('a powder with an assay of its metal', () => {
  const powders = (assayed: object) => [
    { formula: 'Y2O3', purity: 1, lossOnDrying: 0 },
    { formula: 'BaO2', lossOnDrying: 0, ...assayed },
    { formula: 'CuO', purity: 1, lossOnDrying: 0 },
  ];
  const request = {
    cations: { Y: 1, Ba: 2, Cu: 3 },
    totalMassG: 20,
    oxygenPer123: 6.93,
    balanceStepMg: 1e-6,
  };

  it('that of the pure compound weighs as the pure compound', () => {
    const inFormula = 137.327 / (137.327 + 2 * 15.999);
    const assay = { cation: 'Ba', massFraction: inFormula, standardUncertainty: 0 };
    const [byAssay, byPurity] = [{ assay }, { purity: 1 }].map((assayed) =>
      planBatch({ ...request, precursors: powders(assayed) }),
    );
    expect(byAssay!.weighed[1]!.exactMassMg / byPurity!.weighed[1]!.exactMassMg).toBeCloseTo(1, 9);
  });

  it('that holds BaO beside BaO2 needs less than the pure peroxide', () => {
    const ba = (share: number) => (share * 137.327) / 169.325 + ((1 - share) * 137.327) / 153.326;
    const assay = { cation: 'Ba', massFraction: ba(0.9), standardUncertainty: 0.004 };
    const batch = planBatch({ ...request, precursors: powders({ assay }) });
    const pure = planBatch({ ...request, precursors: powders({ purity: 1 }) });
    expect(batch.weighed[1]!.exactMassMg).toBeLessThan(pure.weighed[1]!.exactMassMg);
    // 0.5 % of the assay is 0.5 % of the barium, less its own part in the sum
    expect(batch.ratioU.Ba! / 2).toBeCloseTo((0.004 / ba(0.9)) * (1 - 2 / 6), 5);
  });

  it('is refused beside a purity, and for a metal that the powder lacks', () => {
    const assay = { cation: 'Ba', massFraction: 0.8, standardUncertainty: 0.004 };
    expect(() => planBatch({ ...request, precursors: powders({ assay, purity: 0.9 }) })).toThrow(
      /both purity and assay/,
    );
    expect(() => planBatch({ ...request, precursors: powders({}) })).toThrow(/neither purity and assay/);
    expect(() =>
      planBatch({ ...request, precursors: powders({ assay: { ...assay, cation: 'Sr' } }) }),
    ).toThrow(/assay\.cation is 'Sr'/);
  });
});
