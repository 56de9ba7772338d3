import { describe, expect, it } from 'vitest';
import { targetBatch } from '../../src/computations/target/batch.ts';
import { targetSlip } from '../../src/computations/target/slip.ts';
import { powderSchema, type TypedFacts, typedFactsSchema } from '../../src/records/kinds.ts';
import { answerNow } from '../../src/web/drafts/answer-now.ts';
import {
  compositionDraftOf,
  emptyComposition,
  readComposition,
} from '../../src/web/drafts/composition-draft.ts';
import { sheetCautions } from '../../src/web/drafts/own-cautions.ts';
import { EMPTY_POWDER, readPowder } from '../../src/web/drafts/powder-draft.ts';
import { dryingOf, precursorFromLibrary } from '../../src/web/drafts/powder-rows.ts';
import { presetSegments, SINTERING_PRESETS } from '../../src/web/drafts/sintering-draft.ts';
import { EMPTY_SLIP, explanationText, readSlip } from '../../src/web/drafts/slip-draft.ts';
import { emptyTarget, readTarget, type TargetDraft } from '../../src/web/drafts/target-draft.ts';
import { inWords } from '../../src/web/drafts/target-words.ts';

const PIECE = '01890000-0000-7000-8000-000000000001';
const additions: TargetDraft = { ...emptyTarget('1:2:3'), wantedAs: 'additions' };
const faultsOf = (draft: TargetDraft) => readTarget(draft, 'Y', []).faults;

describe('a composition with additions', () => {
  it('asks for powders of all its cations and is weighed as typed', () => {
    const { request, rows, additions: resolved } = readTarget(additions, 'Y', []);
    expect(rows.map(({ formula }) => formula)).toEqual(['Y2O3', 'BaCO3', 'CuO', 'ZrO2']);
    expect(resolved[0]!.molesPerMatrix).toBeCloseTo(0.05, 12);
    const { wanted } = targetBatch.run(targetBatch.request.parse(request));
    expect(wanted.Ba).toBeCloseTo(2.05, 12); // 5 BaZrO3 on 100 YBa2Cu3
    expect(wanted.Zr).toBeCloseTo(0.05, 12);
  });

  it('reads the other meaning of mol%, and cations out of the matrix', () => {
    const { request } = readTarget(
      { ...additions, molPercentMeans: 'ofTotal', additionCations: 'outOfMatrix' },
      'Y',
      [],
    );
    const { wanted } = targetBatch.run(targetBatch.request.parse(request));
    expect(wanted.Ba).toBeCloseTo(2, 12);
    expect(wanted.Zr).toBeCloseTo(0.05 / 0.95, 12);
  });

  it.each([
    [{ base: 'REBa2Cu3O7' }, 'base', /RE not named/],
    [{ base: '' }, 'base', /Found nothing/],
    [{ additions: [{ key: 'a', formula: 'BaXyO3', percent: '5' }] }, 'addition.0.formula', /Xy/],
    [{ additions: [{ key: 'a', formula: 'BaZrO3', percent: '' }] }, 'addition.0.percent', /Found nothing/],
    [
      { percentOf: 'vol' as const, additions: [{ key: 'a', formula: 'Ag', percent: '5' }] },
      'addition.0.formula',
      /cell volume is not tabled/,
    ],
    [
      { percentOf: 'vol' as const, additions: [{ key: 'a', formula: 'BaZrO3', percent: '120' }] },
      'addition.0.percent',
      /to 99.99 vol%/,
    ],
    [
      {
        molPercentMeans: 'ofTotal' as const,
        additions: [
          { key: 'a', formula: 'BaZrO3', percent: '60' },
          { key: 'b', formula: 'BaHfO3', percent: '60' },
        ],
      },
      'addition.1.percent',
      /sum of mol%/,
    ],
  ])('refuses %j in words at its field', (change, field, words) => {
    const faults = faultsOf({ ...additions, ...change });
    expect(Object.keys(faults)).toEqual([field]);
    expect(faults[field]).toMatch(words);
    expect(faults[field]).not.toMatch(/composition\.|molPercent|volPercent/);
  });

  it('weighs a formula with mixed rare earths', () => {
    const { request } = readTarget(
      { ...emptyTarget('1:2:3'), wantedAs: 'formula', formula: '(Y0.5Gd0.5)Ba2Cu3O7' },
      'Y',
      [],
    );
    const { radiusVarianceAngstrom2 } = targetBatch.run(targetBatch.request.parse(request));
    expect(radiusVarianceAngstrom2).toBeCloseTo(((1.053 - 1.019) / 2) ** 2, 9); // Shannon's eightfold Gd and Y
  });

  it('weighs a pellet and refuses one that is denser than full', () => {
    const pellet = { ...emptyTarget('1:2:3'), amountAs: 'pellet' as const };
    const { firedMassG } = targetBatch.run(targetBatch.request.parse(readTarget(pellet, 'Y', []).request));
    expect(firedMassG).toBeCloseTo(0.9 * 6.36 * Math.PI * 1.25 ** 2 * 0.5, 1); // 6.36 g/cm3 of 123 without pores
    expect(Object.keys(faultsOf({ ...pellet, densityPercent: '120' }))).toEqual(['densityPercent']);
  });

  it('needs an uncertainty beside the metal content of a powder', () => {
    const row = { ...precursorFromLibrary('a', 'BaO2'), knownBy: 'assay' as const, assayPercent: '76' };
    const faults = faultsOf({ ...emptyTarget('0:1:0'), precursors: [row] });
    expect(faults).toEqual({ '0.assayPercent': expect.stringContaining('without its uncertainty') });
  });
});

describe('the words of a refusal', () => {
  it.each([
    [
      'precursors[1].purity is 2; allowed is above 0 and up to 1.',
      'The purity of powder 2 (1 is 100 %) is 2; allowed is above 0 and up to 1.',
    ],
    ['precursors[0] (Ba(NO3)2) would need -1 mol', 'Ba(NO3)2 would need -1 mol'],
    [
      'composition.cations.Zr is 0.1, but no precursor brings Zr: precursors are CuO.',
      'The amount of Zr is 0.1, but no powder brings Zr: the powders are CuO.',
    ],
    [
      'factors.Ba is missing: nothing says how Ba goes.',
      'The transfer factor of Ba is missing: nothing says how Ba goes.',
    ],
    ['CuO: lossOnDrying 0.4 % is moisture.', 'CuO: loss on drying 0.4 % is moisture.'],
  ])('turn %s', (sentence, words) => {
    expect(inWords(sentence)).toBe(words);
  });
});

describe('a powder of the user’s own', () => {
  const typed = {
    ...EMPTY_POWDER,
    formula: 'Ba(OH)2',
    label: 'barium hydroxide',
    hazardCodes: 'h302; H314',
    source: 'SDS 2026-01',
  };
  it('is kept by the schema, with its hazard codes read apart', () => {
    const { body, faults } = readPowder(typed, []);
    expect(faults).toEqual({});
    expect(powderSchema.parse(body).hazardCodes).toEqual(['H302', 'H314']);
  });

  it.each([
    [{ formula: 'BaQ' }, 'formula'],
    [{ formula: 'H2O' }, 'formula'],
    [{ hazardCodes: 'toxic' }, 'hazardCodes'],
    [{ source: '' }, 'source'],
  ])('refuses %j', (change, field) => {
    expect(Object.keys(readPowder({ ...typed, ...change }, []).faults)).toEqual([field]);
  });

  it('is refused where the library holds the same substance, however it is written', () => {
    const { body } = readPowder(typed, []);
    expect(readPowder({ ...typed, formula: 'BaO2H2' }, [{ body }]).faults.formula).toContain(
      'barium hydroxide',
    );
  });

  it('stands with its caution on the sheet, in place of a word that nothing is known', () => {
    const { body } = readPowder({ ...typed, caution: 'Corrosive.', drying: '120 °C' }, []);
    const unknown = {
      matter: 'Ba(OH)2',
      statement: 'No caution is stored.',
      codes: [],
      source: 'not established',
    };
    expect(sheetCautions(['Ba(OH)2', 'CuO'], [{ body }], [unknown])).toEqual([
      {
        matter: 'barium hydroxide (Ba(OH)2)',
        statement: 'Corrosive.',
        codes: ['H302', 'H314'],
        source: 'entered here: SDS 2026-01',
      },
    ]);
    expect(sheetCautions(['Ba(OH)2'], [], [unknown])).toEqual([unknown]);
    expect(dryingOf('Ba(OH)2', [{ body }])).toMatch(/^120 °C/);
  });

  it('never hides what the library says of drying', () => {
    const { body } = readPowder({ ...typed, formula: 'BaO2', drying: '400 °C' }, []);
    expect(dryingOf('BaO2', [{ body }])).toMatch(/400 °C \(entered here\); library: do not heat/);
  });
});

describe('a measured composition', () => {
  const state = { pieceId: PIECE, stateTreatmentId: null };
  const typed = {
    ...emptyComposition({ Y: 1, Ba: 2, Cu: 3 }),
    rows: [
      { key: 'a', element: 'Y', amount: '10', uncertainty: '' },
      { key: 'b', element: 'Ba', amount: '19', uncertainty: '0.5' },
    ],
  };

  it('takes one relative uncertainty for all amounts that have none of their own', () => {
    const { body, faults } = readComposition(typed, state, null);
    expect(faults).toEqual({});
    expect(typedFactsSchema.parse(body).composition?.standardUncertainties).toEqual({ Y: 0.2, Ba: 0.5 });
  });

  it('leaves the other facts of the record as they are', () => {
    const kept = {
      ...state,
      numbers: [{ name: 'tcZeroK' }],
      phases: [],
      composition: null,
      source: 'a',
      note: 'b',
    } as unknown as TypedFacts;
    expect(readComposition(typed, state, kept).body.numbers).toEqual([{ name: 'tcZeroK' }]);
  });

  it('comes back as it was from its form', () => {
    const { body } = readComposition(typed, state, null);
    expect(readComposition(compositionDraftOf(body), state, body).body).toEqual(body);
  });

  it.each([
    [{ rows: [{ key: 'a', element: 'O', amount: '7', uncertainty: '1' }, ...typed.rows] }, '0.element'],
    [{ rows: [...typed.rows, { key: 'c', element: 'Ba', amount: '1', uncertainty: '' }] }, '2.element'],
    [{ relativePercent: '' }, '0.uncertainty'],
    [{ rows: typed.rows.slice(0, 1) }, 'rows'],
  ])('refuses %j', (change, field) => {
    expect(Object.keys(readComposition({ ...typed, ...change }, state, null).faults)).toEqual([field]);
  });
});

describe('a slipped weighing', () => {
  it('is found again from the ratio that it made', () => {
    const { request } = readTarget(emptyTarget('1:2:3'), 'Y', []);
    const { masses } = targetBatch.run(targetBatch.request.parse(request));
    const massesMg = masses.map(({ massMg }) => massMg);
    const { more } = readSlip({ ...EMPTY_SLIP, slipMg: '300' }, request!, massesMg, 'Y');
    const made = targetSlip.run(targetSlip.request.parse(more)).slips[2]!.shares; // CuO, 300 mg too much
    const found = Object.entries(made)
      .map(([symbol, share]) => `${symbol}${share.toFixed(6)}`)
      .join(' ');
    const { explain } = readSlip({ ...EMPTY_SLIP, found, foundPercent: '0.5' }, request!, massesMg, 'Y');
    const answer = answerNow(targetSlip, explain);
    const best = 'response' in answer ? answer.response.explanations[0]! : null;
    expect(best?.formula).toBe('CuO');
    expect(best?.errorMg).toBeCloseTo(300, 0);
    expect(explanationText(best!)).toMatch(/^CuO weighed 300 ± \d+ mg too much explains what was found/);
  });

  it('is asked of a powder that is known by its metal content', () => {
    const ask = {
      precursors: [
        {
          formula: 'BaO2',
          assay: { cation: 'Ba', massFraction: 0.76, standardUncertainty: 0.003 },
          lossOnDrying: 0,
          massMg: 100,
        },
        { formula: 'CuO', purity: 1, lossOnDrying: 0, massMg: 100 },
      ],
      slipMg: 10,
    };
    const { slips } = targetSlip.run(targetSlip.request.parse(ask));
    expect(slips[0]!.shares.Ba).toBeGreaterThan(slips[1]!.shares.Ba!);
  });

  it('refuses a ratio that cannot be read, at its field', () => {
    const { request } = readTarget(emptyTarget('1:2:3'), 'Y', []);
    expect(Object.keys(readSlip({ ...EMPTY_SLIP, found: '1:2' }, request!, [1, 1, 1], 'Y').faults)).toEqual([
      'found',
    ]);
  });
});

describe('schedules in common use', () => {
  it.each(SINTERING_PRESETS)('%s can be read as it stands', (name) => {
    let n = 0;
    const segments = presetSegments(name, () => `k${n++}`);
    const { faults, sinter } = readTarget({ ...emptyTarget('1:2:3'), segments }, 'Y', []);
    expect(faults).toEqual({});
    expect(sinter?.segments).toHaveLength(segments.length);
  });

  it('says which step cannot be read, and still weighs', () => {
    const segments = presetSegments('argon', () => 'k').map((row, i) =>
      i === 1 ? { ...row, duration: '24' } : row,
    );
    const { faults, request, sinter } = readTarget({ ...emptyTarget('1:2:3'), segments }, 'Y', []);
    expect(Object.keys(faults)).toEqual(['step.1.duration']);
    expect(request).not.toBeNull();
    expect(sinter).toBeNull();
  });
});
