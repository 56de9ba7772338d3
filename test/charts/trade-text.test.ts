import { describe, expect, it } from 'vitest';
import { filmCell, filmColumns } from '../../src/charts/film-columns.ts';
import {
  conditionText,
  criterionText,
  factText,
  pressureText,
  ratioText,
} from '../../src/charts/trade-text.ts';
import type { Fact } from '../../src/science/learning/facts.ts';

const jc: Fact = {
  name: 'jcAPerM2',
  at: { temperatureK: 77, fieldT: 0 },
  value: 2.5e10,
  standardUncertainty: 1e9,
  origin: 'measured',
  method: 'transport',
};

describe('numbers as the trade writes them', () => {
  it('turn 1e10 A/m2 into 1 MA/cm2, with the uncertainty turned alike', () => {
    expect(factText(jc)).toBe('2.50 ± 0.10 MA/cm²');
    expect(factText({ ...jc, bound: 'above' })).toBe('> 2.5 MA/cm²');
  });

  it('say a condition as temperature, field and angle; field 0 is the self-field', () => {
    expect(conditionText({ temperatureK: 77, fieldT: 0 })).toBe('77 K, self-field');
    expect(conditionText({ temperatureK: 30, fieldT: 5, thetaDeg: 90 })).toBe('30 K, 5 T, 90° from c');
    expect(conditionText(undefined)).toBe('');
  });

  it('choose the unit of a pressure by its size: 760 Torr are 1 atm', () => {
    expect(pressureText(1)).toBe('1 atm');
    expect(pressureText(1 / 76)).toBe('10 Torr');
    expect(pressureText(0.1 / 760)).toBe('100 mTorr');
  });

  it('leave an element that is not there out of a ratio', () => {
    expect(ratioText({ Dy: 1, Ba: 2.44, Cu: 4.02, Ag: 0 })).toBe('Dy 1 : Ba 2.44 : Cu 4.02');
  });

  it('say a criterion in trade units, or as a share of the benchmark', () => {
    const asked = {
      kind: 'number',
      fact: 'jcAPerM2',
      at: { temperatureK: 77 },
      comparison: 'at least',
    } as const;
    expect(criterionText({ ...asked, wanted: 2.5e10, relativeTo: 'nothing' })).toBe(
      'Jc at 77 K at least 2.5 MA/cm²',
    );
    expect(criterionText({ ...asked, wanted: 0.8, relativeTo: 'benchmark' })).toBe(
      "Jc at 77 K at least 0.8 of the benchmark's",
    );
  });
});

describe('the columns that compare films', () => {
  it('have one for the coil where the series names its condition', () => {
    expect(filmColumns(null).some(({ heading }) => heading.includes('30 K'))).toBe(false);
    expect(filmColumns({ temperatureK: 30, fieldT: 5 })[4]!.heading).toBe('Jc 30 K 5 T, MA/cm²');
  });

  it('give the number without its unit, or nothing', () => {
    const [tc, , , jcColumn] = filmColumns(null);
    expect(filmCell(jcColumn!, [jc], [])).toBe('2.50 ± 0.10');
    expect(filmCell(tc!, [jc], [])).toBe('');
    expect(filmCell(jcColumn!, [{ ...jc, measurementId: 'm' }], ['m'])).toBe('2.50 ± 0.10 (old)');
  });
});
