import { describe, expect, it } from 'vitest';
import { columnMappingSchema } from '../../src/records/kinds.ts';
import {
  draftOf,
  type MappingDraft,
  mappingFrom,
  mappingText,
  withColumn,
} from '../../src/web/column-mapping.ts';

const CHOICES = [
  { role: 'temperatureK', isRequired: true, units: ['K', 'degC'] },
  { role: 'resistanceOhm', isRequired: true, units: ['ohm', 'mohm'] },
  { role: 'timeS', isRequired: false, units: ['s'] },
];
const MAPPING = {
  kind: 'resistance' as const,
  block: 1,
  columns: [
    { role: 'temperatureK', column: 2, unit: 'K' },
    { role: 'resistanceOhm', column: 0, unit: 'mohm' },
  ],
};

describe('the column-mapping step', () => {
  it('gives a mapping back unchanged, and what it gives is one the records take', () => {
    const given = mappingFrom(draftOf(MAPPING), CHOICES);
    expect(given).toEqual({ mapping: MAPPING });
    expect(columnMappingSchema.safeParse((given as { mapping: unknown }).mapping).success).toBe(true);
  });

  it('names each column and unit that is still to be chosen', () => {
    const draft: MappingDraft = {
      kind: 'resistance',
      block: 0,
      columns: { temperatureK: { column: 0, unit: '' } },
    };
    expect(mappingFrom(draft, CHOICES)).toEqual({
      faults: ['Temperature: choose its unit.', 'Resistance: choose its column.'],
    });
  });

  it('refuses one column for two quantities', () => {
    const draft = draftOf({ ...MAPPING, columns: MAPPING.columns.map((each) => ({ ...each, column: 3 })) });
    expect(mappingFrom(draft, CHOICES)).toEqual({
      faults: ['Column 4 is taken as Temperature and as Resistance.'],
    });
  });

  it('takes the unit that the file states if the quantity may have it, and never guesses another', () => {
    const [temperature, , time] = CHOICES;
    const draft = draftOf(null);
    expect(withColumn(draft, temperature!, 0, 'degC').columns.temperatureK).toEqual({
      column: 0,
      unit: 'degC',
    });
    expect(withColumn(draft, temperature!, 0, 'F').columns.temperatureK).toEqual({ column: 0, unit: '' });
    expect(withColumn(draft, time!, 1, '').columns.timeS).toEqual({ column: 1, unit: 's' });
  });

  it('asks first of all what was measured', () => {
    expect(mappingFrom(draftOf(null), [])).toEqual({ faults: ['Say what was measured.'] });
  });

  it('stands in one line with columns counted from one', () => {
    expect(mappingText(MAPPING)).toBe(
      'table 2: Temperature from column 3 in K, Resistance from column 1 in mohm',
    );
  });
});
