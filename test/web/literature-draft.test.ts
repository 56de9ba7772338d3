import { describe, expect, it } from 'vitest';
import { literaturePointSchema } from '../../src/records/kinds.ts';
import {
  EMPTY_LITERATURE,
  literatureDraftOf,
  readLiterature,
} from '../../src/web/drafts/literature-draft.ts';
import { readNumber } from '../../src/web/drafts/typed-numbers.ts';

const TYPED = {
  ...EMPTY_LITERATURE,
  label: '123 melts',
  temperatureC: '1010',
  po2: '160',
  po2Unit: 'Torr' as const,
  phases: '123 + 211 + liquid',
  source: 'A. Author, J. Test 1 (1999) 2',
};

describe('a point of the literature as typed', () => {
  it('is kept in atm, and comes back as typed', () => {
    const { body, faults } = readLiterature(TYPED, []);
    expect(faults).toEqual({});
    expect(literaturePointSchema.parse(body)).toEqual(body);
    expect(body.po2Atm).toBeCloseTo(160 / 760, 9);
    const again = readLiterature(literatureDraftOf(body), []).body;
    expect(again).toEqual({ ...body, po2Atm: again.po2Atm });
    expect(again.po2Atm / body.po2Atm).toBeCloseTo(1, 7); // a field shows eight digits
  });

  it('needs a source, phases, a temperature and a pressure', () => {
    const { faults } = readLiterature(EMPTY_LITERATURE, []);
    expect(Object.keys(faults).sort()).toEqual(['label', 'phases', 'po2', 'source', 'temperatureC']);
  });

  it('asks whether a temperature above any furnace was meant in K', () => {
    const { faults } = readLiterature({ ...TYPED, temperatureC: '1600' }, []);
    expect(faults.temperatureC).toMatch(/Was it meant in K, which is 1327 °C\?/);
    expect(readNumber('1550', { min: 300, max: 1400, unit: '°C' })).toEqual({
      fault: "Found '1550'; expected a number from 300 to 1400 °C. Was it meant in K? That is 1276.85 °C.",
    });
  });

  it('asks about a twin of what is there, whatever its name and the order of its phases, until it is said to be meant', () => {
    const there = [readLiterature({ ...TYPED, label: 'other', phases: 'liquid, 211, 123' }, []).body];
    const asked = readLiterature(TYPED, there);
    expect(asked.twin?.label).toBe('other');
    expect(asked.faults.isTwinMeant).toContain("Found 'other'");
    expect(readLiterature({ ...TYPED, isTwinMeant: true }, there).faults).toEqual({});
    expect(readLiterature({ ...TYPED, temperatureC: '1012' }, there).faults).toEqual({});
  });
});
