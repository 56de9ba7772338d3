import { describe, expect, it } from 'vitest';
import { draftDifferences } from '../../src/web/drafts/differences.ts';
import { EMPTY_FILM } from '../../src/web/drafts/film-draft.ts';
import { nextSegment } from '../../src/web/drafts/segment-rows.ts';

describe('what another change of a record and this form say differently', () => {
  it('is nothing where both say the same', () => {
    expect(draftDifferences(EMPTY_FILM, { ...EMPTY_FILM })).toEqual([]);
  });

  it('names each field with both values, one that only the other has touched among them', () => {
    const theirs = { ...EMPTY_FILM, thicknessNm: '410 ± 5', note: 'cracked' };
    const mine = { ...EMPTY_FILM, thicknessNm: '400' };
    expect(draftDifferences(theirs, mine)).toEqual([
      { field: 'thicknessNm', name: 'thickness', theirs: '410 ± 5', mine: '400' },
      { field: 'note', name: 'note', theirs: 'cracked', mine: 'not stated' },
    ]);
  });

  it('compares the steps of a path by what they say, not by the keys of their rows', () => {
    const step = { ...nextSegment('a', undefined), toC: '450', duration: '30 min' };
    expect(draftDifferences({ segments: [step] }, { segments: [{ ...step, key: 'b' }] })).toEqual([]);
    const [difference] = draftDifferences({ segments: [step] }, { segments: [{ ...step, toC: '500' }] });
    expect(difference).toMatchObject({ name: 'steps', theirs: 'ramp 450 30 min 1 atm O2' });
  });

  it('says a linked record by its label', () => {
    const words = (field: string, value: unknown) => (field === 'targetId' ? `target ${value}` : undefined);
    expect(draftDifferences({ targetId: '1' }, { targetId: '2' }, words)).toMatchObject([
      { theirs: 'target 1', mine: 'target 2' },
    ]);
  });
});
