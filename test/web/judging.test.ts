import { describe, expect, it } from 'vitest';
import type { SeriesView } from '../../src/records/series-view.ts';
import { failuresSince } from '../../src/web/judging.ts';

interface Made {
  id: string;
  isStale?: boolean;
  failure?: { code: string; message: string } | null;
}

/** A series with one file a piece, each with the analysis given. */
function viewOf(analyses: readonly Made[]): SeriesView {
  return {
    measurements: analyses.map((_, i) => ({
      id: `m${i}`,
      body: { pieceId: `p${i}`, fileName: `f${i}.txt` },
    })),
    analyses: analyses.map(({ id, isStale = false, failure = null }, i) => ({
      id,
      measurementId: `m${i}`,
      isStale,
      failure,
    })),
  } as unknown as SeriesView;
}
const MISSING = { code: 'SETTING_MISSING', message: "The film's thickness is not known." };

describe('what judging left without fresh numbers', () => {
  it('is nothing where every file was reduced, and nothing of pieces that were not asked about', () => {
    const before = viewOf([
      { id: 'a', isStale: true },
      { id: 'b', isStale: true },
    ]);
    expect(failuresSince(before, viewOf([{ id: 'a2' }, { id: 'b', isStale: true }]), ['p0'])).toEqual([]);
  });

  it('names a file whose reduction now fails, with why, and one that is still old', () => {
    const before = viewOf([
      { id: 'a', isStale: true },
      { id: 'b', isStale: true },
    ]);
    const after = viewOf([
      { id: 'a2', failure: MISSING },
      { id: 'b', isStale: true },
    ]);
    const failures = failuresSince(before, after, ['p0', 'p1']);
    expect(failures[0]).toMatch(/^f0\.txt could not be reduced again: The film's thickness is not known\./);
    expect(failures[1]).toMatch(/^f1\.txt could not be reduced again: its numbers are old/);
  });

  it('leaves out a file that could not be reduced before either: its page says so', () => {
    const before = viewOf([{ id: 'a', failure: MISSING }]);
    expect(failuresSince(before, before, ['p0'])).toEqual([]);
  });
});
