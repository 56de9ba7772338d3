import { describe, expect, it } from 'vitest';
import {
  columnAt,
  type DryFilm,
  dryFilmText,
  filmCount,
  mappingFaults,
  withColumnChange,
  withField,
} from '../../src/web/table-mapping.ts';

const EMPTY: DryFilm = {
  row: 1,
  label: 'P01',
  pieceLabel: null,
  cations: null,
  substrate: null,
  route: null,
  temperatureC: null,
  po2Pa: null,
  thicknessNm: null,
  overallRateNmPerS: null,
  tcMidpointK: null,
  tcOnsetK: null,
  transitionWidthK: null,
  jc: [],
  phases: [],
  note: null,
};

describe('a table of past films', () => {
  it('asks which column names the film, and does not let one unit unknown hold the other columns back', () => {
    const mapping = withField({ columns: [] }, 1, 'po2Pa', ['Pa', 'mTorr']);
    expect(mappingFaults(mapping)).toHaveLength(1);
    const named = withField(mapping, 0, 'label', []);
    expect(mappingFaults(named)).toEqual([]);
    expect(columnAt(withColumnChange(named, 1, { unit: 'Pa' }), 1)).toEqual({
      field: 'po2Pa',
      column: 1,
      unit: 'Pa',
    });
  });

  it('keeps one meaning a column, and forgets a column that is taken out', () => {
    const first = withField({ columns: [] }, 2, 'temperatureC', ['degC', 'K']);
    const second = withField(first, 2, 'jcAPerM2', ['A/m2', 'MA/cm2']);
    expect(second.columns).toEqual([{ field: 'jcAPerM2', column: 2, unit: '', at: null }]);
    expect(columnAt(withField(second, 2, '', []), 2)).toBeUndefined();
  });

  it('counts a film once, however many of its pieces have a row', () => {
    const pieces = ['a', 'b'].map((pieceLabel) => ({ ...EMPTY, pieceLabel }));
    expect(filmCount([...pieces, { ...EMPTY, label: 'P02' }])).toBe(2);
  });

  it('writes a row in the units of the trade: 101.325 Pa are 760 mTorr, 3.5e10 A/m2 are 3.5 MA/cm2', () => {
    const film: DryFilm = {
      ...EMPTY,
      cations: { Dy: 1, Ba: 2, Cu: 3 },
      po2Pa: 101.325,
      tcMidpointK: 91.3,
      jc: [{ jcAPerM2: 3.5e10, at: { temperatureK: 77, fieldT: 0 } }],
    };
    expect(dryFilmText(film)).toEqual([
      'Dy 1 : Ba 2 : Cu 3',
      'pO₂ 760 mTorr',
      'Tc midpoint 91.3 K',
      'Jc 3.5 MA/cm² at 77 K, self-field',
    ]);
  });
});
