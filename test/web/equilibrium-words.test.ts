import { describe, expect, it } from 'vitest';
import {
  type Assemblage,
  absentPhases,
  namesOver,
  oddsOf,
  oddsText,
  remarksOver,
  superconductorOf,
} from '../../src/web/assemblage.ts';
import { publishedLines, publishedObservations, publishedPoints } from '../../src/web/plane/published.ts';
import { REACTIONS, reactionPhases } from '../../src/web/plane/reactions.ts';
import {
  cationsWith,
  heldBackChoices,
  heldBackFor,
  readingFields,
  readingText,
} from '../../src/web/reading.ts';
import { companions, regionOf } from '../../src/web/region-words.ts';
import { groupedRemarks } from '../../src/web/trust.ts';

const ANSWER: Assemblage = {
  odds: { 'DyBa2Cu3O7 + liquid': 0.5, 'CuO + liquid': 0.2, 'BaCuO2 + CuO': 0.3 },
  phases: [{ name: 'liquid', share: 0.4, shareU: 0.1 }],
  liquidShare: { value: 0.4, standardUncertainty: 0.1 },
  liquidInterval: { low: 0, high: 0.6 },
  cuprousShare: 0.9,
  driving: { liquid: 0, CuO: 500, Dy2O3: 9000, BaCuO2: 20 },
  flags: [{ code: 'READING_EQUILIBRIUM', message: 'bulk' }],
};

describe('an answer in two readings', () => {
  const readings = [
    { title: 'Equilibrium', answer: ANSWER },
    {
      title: 'As set free',
      answer: { ...ANSWER, phases: [], flags: [{ code: 'READING_MOVED', message: 'moved' }] },
    },
  ];

  it('adds the odds of every field that holds the phases asked', () => {
    expect(oddsOf(ANSWER.odds, 'liquid')).toBeCloseTo(0.7, 12);
    expect(oddsOf(ANSWER.odds, 'liquid', 'DyBa2Cu3O7')).toBe(0.5);
    expect([oddsText(0), oddsText(0.034), oddsText(0.42), oddsText(1)]).toEqual([
      'none',
      '3.4 %',
      '42 %',
      'all members',
    ]);
  });

  it('orders absent phases by the energy they lack, and names liquid first', () => {
    expect(absentPhases(readings, 2)).toEqual(['BaCuO2', 'CuO']);
    expect(namesOver(readings, () => ['CuO', 'liquid'])).toEqual(['liquid', 'CuO']);
  });

  it('says whose a remark is that only one reading makes', () => {
    expect(remarksOver(readings).map(({ message }) => message)).toEqual([
      'Equilibrium: bulk',
      'As set free: moved',
    ]);
    expect(remarksOver(readings.slice(0, 1))[0]!.message).toBe('bulk');
  });

  it('names 123 after the most abundant rare earth', () => {
    expect(superconductorOf({ Gd: 0.4, Dy: 0.6, Ba: 2, Cu: 3 })).toBe('DyBa2Cu3O7');
    expect(superconductorOf({ Ba: 2, Cu: 3 })).toBe('YBa2Cu3O7');
  });
});

describe('the remarks of an answer', () => {
  it('come in groups, each sentence once, with unknown codes last', () => {
    const groups = groupedRemarks([
      { code: 'NEW_CODE', message: 'something new' },
      { code: 'MELT_EXTRAPOLATED', message: 'thin air' },
      { code: 'MELT_EXTRAPOLATED', message: 'thin air' },
      { code: 'LIQUID_DISPUTED', message: 'who knows' },
    ]);
    expect(groups).toEqual([
      { title: 'Disputed', messages: ['who knows'] },
      { title: 'Extrapolated', messages: ['thin air'] },
      { title: 'Also', messages: ['something new'] },
    ]);
  });
});

describe('the reading', () => {
  it('is said in words wherever it is not equilibrium', () => {
    expect(readingText({ meltOffsetJPerMol: 0, heldBack: [] })).toBe('equilibrium');
    expect(readingText({ meltOffsetJPerMol: -2000, heldBack: ['BaCu2O2'] })).toBe(
      'not equilibrium: melt set free by 2 kJ/mol, BaCu2O2 held back',
    );
    expect(readingFields({ meltOffsetJPerMol: 0, heldBack: [] })).toEqual({
      offsetsJPerMol: {},
      heldBack: [],
    });
  });

  it('goes over to another rare earth as far as its phases exist', () => {
    expect(heldBackChoices('Dy')).toContain('Dy2Cu2O5');
    expect(heldBackChoices('Dy')).not.toContain('DyBa2Cu3O7');
    expect(heldBackFor(['Dy2BaCuO5', 'BaCu2O2', 'Dy2Cu2O5'], 'Dy', 'Sm')).toEqual(['Sm2BaCuO5', 'BaCu2O2']);
    expect(cationsWith({ Y: 0.5, Gd: 0.5, Ba: 2, Cu: 3 }, 'Sm')).toEqual({ Sm: 1, Ba: 2, Cu: 3 });
  });
});

describe('the region of liquid with 123 in words', () => {
  const answer = {
    re: [0, 0.1, 0.2],
    ba: [0.3, 0.3, 0.3],
    cu: [0.7, 0.6, 0.5],
    oddsLiquidAnd123: [0, 0.6, 0.9],
    medianField: [0, 1, 2],
    fieldNames: ['CuO + liquid', 'DyBa2Cu3O7 + liquid', 'Dy2BaCuO5 + DyBa2Cu3O7 + liquid'],
    tieLines: [],
    borders: [],
    phasePoints: [],
    flags: [],
  };

  it('spans the compositions with even odds or better, and is their part of all', () => {
    expect(regionOf(answer)).toEqual({
      re: { low: 0.1, high: 0.2 },
      ba: { low: 0.3, high: 0.3 },
      cu: { low: 0.5, high: 0.6 },
      part: 2 / 3,
    });
    expect(regionOf(answer, 0.95)).toBeNull();
  });

  it('lists what stands beside both in the median member', () => {
    expect(companions(answer, 'DyBa2Cu3O7')).toEqual([
      { name: 'nothing else', part: 0.5 },
      { name: 'Dy2BaCuO5', part: 0.5 },
    ]);
  });
});

describe('what is published, over the map', () => {
  it('has a source and a tag in every row, and one mark a row', () => {
    const rows = publishedObservations();
    expect(rows.length).toBe(publishedLines().length + publishedPoints().length);
    for (const { source, tag, po2Atm } of rows) {
      expect(source.length).toBeGreaterThan(5);
      expect(tag).toMatch(/^\[/);
      for (const atm of po2Atm) expect(atm).toBeGreaterThan(0);
    }
  });

  it('follows log10 of pO2 = a + b / T', () => {
    const line = publishedLines().find(({ id }) => id === 'cuo-cu2o')!;
    const at = line.points[0]!;
    expect(at.temperatureC).toBe(727);
    expect(Math.log10(at.x)).toBeCloseTo(9.8178 - 13613.3 / 1000.15, 6);
  });

  it('offers reactions of the rare earth shown', () => {
    expect(reactionPhases(REACTIONS[0]!, 'Gd')).toEqual(['GdBa2Cu3O7', 'Gd2BaCuO5', 'liquid']);
  });
});
