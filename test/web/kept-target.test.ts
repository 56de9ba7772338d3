import { describe, expect, it } from 'vitest';
import { targetBatch } from '../../src/computations/target/batch.ts';
import { type Target, targetSchema } from '../../src/records/kinds.ts';
import type { SeriesView } from '../../src/records/series-view.ts';
import { NOTHING_KNOWN } from '../../src/web/drafts/film-aim.ts';
import { filmAimOf, targetDraftOf, targetOf } from '../../src/web/drafts/kept-target.ts';
import { lotOf, precursorFromLibrary, withFormula } from '../../src/web/drafts/powder-rows.ts';
import { presetSegments, sinterAnswerOf } from '../../src/web/drafts/sintering-draft.ts';
import { emptyTarget, readTarget, type TargetDraft } from '../../src/web/drafts/target-draft.ts';

const LOT_ID = '01890000-0000-7000-8000-00000000000';

let nKeys = 0;
const newKey = (): string => {
  nKeys += 1;
  return `key ${nKeys}`;
};

/** Keeps a draft as the page does, and takes it up again. */
function keptAgain(draft: TargetDraft): {
  before: ReturnType<typeof readTarget>;
  again: TargetDraft;
  target: Target;
} {
  const before = readTarget(draft, 'Y', [], NOTHING_KNOWN);
  expect(before.faults).toEqual({});
  const batch = targetBatch.run(targetBatch.request.parse(before.request));
  const lots = before.rows.map((row, i) => ({
    id: `${LOT_ID}${i}`,
    body: lotOf(row, before.request!.precursors[i]!, draft.label),
  }));
  const oxygen = before.sinter
    ? { version: 1, request: before.sinter, response: { oxygenState: 'between', consequences: [] } }
    : null;
  const lotIds = lots.map(({ id }) => id);
  const target = targetSchema.parse(targetOf(draft, before, lotIds, batch, oxygen));
  const view = {
    series: { body: { rareEarths: ['Y'] } },
    lots,
    targets: [{ body: target }],
  } as unknown as SeriesView;
  return { before, again: targetDraftOf({ body: target }, view, newKey), target };
}

const ratio: TargetDraft = { ...emptyTarget('Y0.5 Gd0.5 Ba2 Cu3.3'), label: 'T1' };
const additions: TargetDraft = {
  ...emptyTarget('1:2:3'),
  label: 'T2',
  wantedAs: 'additions',
  base: 'YBa2Cu3O7',
  additions: [
    { key: 'a', formula: 'BaHfO3', percent: '4' },
    { key: 'b', formula: 'Y2O3', percent: '2.5' },
  ],
  percentOf: 'vol',
  additionCations: 'outOfMatrix',
  amountAs: 'pellet',
  diameterMm: '30',
  thicknessMm: '6',
  densityPercent: '88.5',
};
const powders: TargetDraft = {
  ...emptyTarget('1:2:3'),
  label: 'T3',
  balanceStepMg: '0.01',
  oxygenPer123: '6.9',
  precursors: [
    { ...precursorFromLibrary('a', 'Y2O3'), isMetalsBasis: 'yes', lossPercent: '0.7', dryingC: '900' },
    { ...precursorFromLibrary('b', 'BaO2'), knownBy: 'assay', assayPercent: '76.2 ± 0.3', lotNumber: 'B-17' },
    { ...precursorFromLibrary('c', 'CuO'), isMetalsBasis: 'no', purityPercent: '99.7' },
  ],
  segments: presetSegments('air, calcine and sinter', newKey),
  grainRadiusUm: '3 ± 1',
};
const film: TargetDraft = {
  ...additions,
  label: 'T4',
  percentOf: 'mol',
  molPercentMeans: 'ofTotal',
  wantedIn: 'film',
  factors: { Ba: '0.95 ± 0.02', Cu: '1.04 ± 0.02', Hf: '1' },
  losses: { Cu: '3 ± 1' },
};

describe('a kept target that is weighed again', () => {
  it.each([
    ['a ratio', ratio],
    ['additions by volume, in a pellet', additions],
    ['powders with all that is known of them, and a firing', powders],
    ['a film with typed factors', film],
  ])('asks for the same masses, from %s', (_, draft) => {
    const { before, again } = keptAgain(draft);
    const after = readTarget(again, 'Y', []);
    expect(after.faults).toEqual({});
    expect(after.request).toEqual(before.request);
    expect(after.segments).toEqual(before.segments);
    expect(after.sinter).toEqual(before.sinter);
    expect(after.aim?.request).toEqual(before.aim?.request);
  });

  it('has a name of its own and takes up its lots with their temperature of drying', () => {
    const { again } = keptAgain(powders);
    expect(again.label).toBe('T4');
    expect(again.precursors?.map(({ dryingC, isMetalsBasis }) => [dryingC, isMetalsBasis])).toEqual([
      ['900', 'yes'],
      ['', ''],
      ['', 'no'],
    ]);
    expect(again.precursors?.[1]).toMatchObject({ knownBy: 'assay', lotNumber: 'B-17', lotId: `${LOT_ID}1` });
  });

  it('keeps what was wanted in the film beside the target that was weighed', () => {
    const { target, again } = keptAgain(film);
    expect(filmAimOf(target)?.wanted.composition).toMatchObject({ base: 'YBa2Cu3O7' });
    expect(again).toMatchObject({ wantedIn: 'film', wantedAs: 'additions', molPercentMeans: 'ofTotal' });
    expect(target.cations.Ba! / target.cations.Cu!).not.toBeCloseTo(2 / 3, 2);
  });

  it('keeps the steps of its firing, the gas they name, and what they leave of oxygen', () => {
    const { target } = keptAgain(powders);
    expect(target.sinterGas).toBe('air');
    expect(target.sintering?.segments).toHaveLength(5);
    expect(sinterAnswerOf(target)?.oxygenState).toBe('between');
    expect(keptAgain(ratio).target.sintering).toBeNull();
  });
});

describe('a powder whose formula is corrected', () => {
  it('keeps what was typed of it, and takes the library only where nothing was', () => {
    const typed = { ...precursorFromLibrary('a', 'Y(NO3)3'), purityPercent: '99.8', lossPercent: '1.5' };
    expect(withFormula(typed, 'Y(NO3)3·6H2O')).toEqual({ ...typed, formula: 'Y(NO3)3·6H2O' });
    expect(withFormula(precursorFromLibrary('a', ''), 'BaCO3')).toEqual(precursorFromLibrary('a', 'BaCO3'));
  });
});
