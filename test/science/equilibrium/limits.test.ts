import { describe, expect, it } from 'vitest';
import { compositionLattice } from '../../../src/science/equilibrium/lattice.ts';
import {
  checkConditions,
  diagramDoubts,
  disputeDoubts,
  placeholderDoubts,
} from '../../../src/science/equilibrium/limits.ts';
import { phaseName, solidsOf } from '../../../src/science/equilibrium/solids.ts';
import { RARE_EARTHS } from '../../../src/science/matter/elements.ts';

const codes = (doubts: readonly { code: string }[]): string[] => doubts.map(({ code }) => code);

describe('checkConditions', () => {
  it('takes 1523 for kelvin and says what to give', () => {
    expect(() => checkConditions(1523, 0.21)).toThrow(/1523 degC.*300 to 1400.*give 1249.85/);
  });

  it('refuses a temperature that is no number of any unit', () => {
    expect(() => checkConditions(-400, 0.21)).toThrow(/EQUILIBRIUM_TEMPERATURE/);
    expect(() => checkConditions(Number.NaN, 0.21)).toThrow(/EQUILIBRIUM_TEMPERATURE/);
  });

  it.each([0, -1, 760, 21000])('refuses %d atm of oxygen', (po2Atm) => {
    expect(() => checkConditions(850, po2Atm)).toThrow(/EQUILIBRIUM_OXYGEN.*760 Torr/);
  });
});

describe('doubts', () => {
  it('say nothing but the reading for Y at 850 C in air', () => {
    expect(codes(diagramDoubts('Y', 850, 0.21, false))).toEqual(['READING_EQUILIBRIUM']);
  });

  it('name the other reading when phases were moved', () => {
    expect(codes(diagramDoubts('Y', 850, 0.21, true))).toEqual(['READING_MOVED']);
  });

  it('name the range where the answer is extrapolated', () => {
    expect(codes(diagramDoubts('Y', 1000, 1e-6, false))).toEqual([
      'READING_EQUILIBRIUM',
      'TEMPERATURE_EXTRAPOLATED',
      'OXYGEN_EXTRAPOLATED',
      'MELT_EXTRAPOLATED',
    ]);
  });

  it('warn above the hottest melting of the calibration', () => {
    expect(codes(diagramDoubts('Y', 1100, 0.21, false))).toContain('MELT_HOT');
  });

  it('say for other rare earths what is moved, for small ones that they lie below the line, for large ones that they may sit on Ba', () => {
    expect(codes(diagramDoubts('Y', 850, 0.21, false))).not.toContain('RE_SHIFT');
    expect(codes(diagramDoubts('Dy', 850, 0.21, false))).toContain('RE_SHIFT');
    expect(codes(diagramDoubts('Dy', 850, 0.21, false))).not.toContain('RE_BA_EXCHANGE_UNKNOWN');
    expect(codes(diagramDoubts('Yb', 850, 0.21, false))).toContain('RE_PERITECTIC_BELOW_LINE');
    expect(codes(diagramDoubts('Nd', 850, 0.21, false))).toContain('RE_BA_EXCHANGE_UNKNOWN');
    expect(codes(diagramDoubts('Ce', 850, 0.21, false))).toContain('RE_FORMS_NO_123');
  });

  it('name placeholders among the phases, and disputed liquid only where members differ', () => {
    expect(placeholderDoubts('Dy', ['Dy2BaO4', 'CuO'])[0]!.message).toContain('Dy2BaO4');
    expect(placeholderDoubts('Dy', ['CuO'])).toEqual([]);
    expect(codes(disputeDoubts(0.5, 0))).toEqual(['LIQUID_DISPUTED']);
    expect(disputeDoubts(1, 0)).toEqual([]);
    expect(codes(disputeDoubts(0, 900))).toEqual(['NO_LIQUID_IS_UNSURE']);
    expect(disputeDoubts(0, 9000)).toEqual([]);
  });
});

describe('solidsOf', () => {
  it.each(RARE_EARTHS)('gives every phase of %s one name', (rareEarth) => {
    const names = solidsOf(rareEarth).map((record) => phaseName(record, rareEarth));
    expect(new Set(names).size).toBe(names.length);
    expect(names).toContain(`${rareEarth}Ba2Cu3O7`);
    expect(names.some((name) => name.includes('{'))).toBe(false);
  });
});

describe('compositionLattice', () => {
  it('holds (n + 1)(n + 2)/2 compositions of the whole triangle, rows of RE with rising Cu, corners exact', () => {
    const { re, ba, cu } = compositionLattice(100);
    expect(re).toHaveLength(5151);
    expect([re[0], ba[0], cu[0]]).toEqual([0, 1, 0]);
    expect([re[100], ba[100], cu[100]]).toEqual([0, 0, 1]);
    expect([re.at(-1), ba.at(-1), cu.at(-1)]).toEqual([1, 0, 0]);
    expect(re.every((share, i) => Math.abs(share + ba[i]! + cu[i]! - 1) < 1e-12)).toBe(true);
  });

  it('keeps to its window', () => {
    const { re, cu } = compositionLattice(20, { cuMin: 0.5, cuMax: 0.8, reMax: 0.2 });
    expect(Math.max(...re)).toBeLessThanOrEqual(0.2 + 1e-12);
    expect(Math.min(...cu)).toBeCloseTo(0.5, 12);
    expect(Math.max(...cu)).toBeCloseTo(0.8, 12);
  });

  it('refuses an empty window', () => {
    expect(() => compositionLattice(20, { cuMin: 0.8, cuMax: 0.5, reMax: 0.2 })).toThrow(/cuMin 0.8/);
  });
});
