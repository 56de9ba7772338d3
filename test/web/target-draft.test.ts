import { describe, expect, it } from 'vitest';
import { targetBatch } from '../../src/computations/target/batch.ts';
import { missingCations, precursorFromLibrary } from '../../src/web/drafts/powder-rows.ts';
import { emptyTarget, readTarget } from '../../src/web/drafts/target-draft.ts';
import { fieldOfRefusal } from '../../src/web/drafts/target-words.ts';

const lot = (id: string, formula: string) => ({
  id,
  body: {
    label: formula,
    formula,
    lotNumber: `L-${id}`,
    purity: 0.998,
    assay: null,
    isMetalsBasis: null,
    lossOnDrying: 0.004,
    dryingC: null,
    note: '',
  },
});

describe('readTarget', () => {
  it('proposes a powder for each cation, the newest recorded lot before the library', () => {
    const { rows, request, faults } = readTarget(emptyTarget('1:2:3'), 'Dy', [
      lot('1', 'CuO'),
      lot('2', 'CuO'),
    ]);
    expect(faults).toEqual({});
    expect(rows.map(({ formula, lotId }) => [formula, lotId])).toEqual([
      ['Dy2O3', ''],
      ['BaCO3', ''],
      ['CuO', '2'],
    ]);
    expect(request?.precursors[2]).toEqual({
      formula: 'CuO',
      purity: 0.998,
      lossOnDrying: 0.004,
      lot: 'L-2',
    });
  });

  it('makes a request that the catalogue takes, mixed rare earths and other cations included', () => {
    const { request } = readTarget(emptyTarget('Y0.5 Gd0.5 Ba2 Cu3.3 Zr0.05'), 'Y', []);
    const parsed = targetBatch.request.parse(request);
    const { masses } = targetBatch.run(parsed);
    expect(masses.map(({ formula }) => formula)).toEqual(['Y2O3', 'Gd2O3', 'BaCO3', 'CuO', 'ZrO2']);
  });

  it.each([
    [{ ratio: '1:2' }, 'ratio'],
    [{ totalMassG: '0' }, 'totalMassG'],
    [{ balanceStepMg: '' }, 'balanceStepMg'],
    [{ precursors: [{ ...precursorFromLibrary('a', 'CuO'), formula: 'CuQ' }] }, '0.formula'],
    [{ precursors: [{ ...precursorFromLibrary('a', 'CuO'), purityPercent: '120' }] }, '0.purityPercent'],
  ])('finds the field of a fault in %j', (change, field) => {
    const { request, faults } = readTarget({ ...emptyTarget('1:2:3'), ...change }, 'Y', []);
    expect(request).toBeNull();
    expect(Object.keys(faults)).toEqual([field]);
  });

  it('names the cations that no powder brings', () => {
    expect(missingCations({ Y: 1, Ba: 2, Cu: 3 }, [precursorFromLibrary('a', 'BaCuO2')])).toEqual(['Y']);
  });
});

describe('fieldOfRefusal', () => {
  const refusal = (change: object): string => {
    const request = { ...(targetBatch.example as object), ...change } as Parameters<
      typeof targetBatch.run
    >[0];
    try {
      targetBatch.run(request);
    } catch (error) {
      return (error as { sentence: string }).sentence;
    }
    return 'no refusal';
  };

  it.each([
    [{ precursors: [{ formula: 'CuO', purity: 2, lossOnDrying: 0 }] }, '0.purityPercent'],
    [{ precursors: [{ formula: 'CuO', purity: 1, lossOnDrying: 0 }] }, 'precursors'],
    [{ totalMassG: -1 }, 'totalMassG'],
    [{ composition: { cations: { Y: 1, O: 7 } } }, 'ratio'],
    [{ balanceStepMg: 10_000, totalMassG: 1 }, 'balanceStepMg'],
  ])('sends the refusal of %j to its field', (change, field) => {
    expect(fieldOfRefusal(refusal(change))).toBe(field);
  });
});
