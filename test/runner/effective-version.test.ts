import { beforeEach, describe, expect, it, vi } from 'vitest';
import { CATALOGUE } from '../../src/computations/catalogue.ts';
import type { Computation } from '../../src/computations/computation.ts';
import { matterFormula } from '../../src/computations/matter/formula.ts';
import { effectiveVersion } from '../../src/runner/effective-version.ts';

const shown = vi.hoisted(() => ({ entries: [] as unknown[] }));
vi.mock('../../src/runner/find-computation.ts', () => ({
  findComputationOrThrow: (name: string) =>
    shown.entries.find((entry) => (entry as { name: string }).name === name),
}));

/** A new object each time, as a new release would have. */
function entry(
  name: string,
  about: Partial<Pick<Computation, 'version' | 'uses' | 'tables'>> = {},
): Computation {
  return { ...matterFormula, name, version: 1, uses: [], tables: [], ...about } as never;
}

describe('the effective version of an entry', () => {
  beforeEach(() => {
    shown.entries = [...CATALOGUE];
  });

  it('is the same for the same entry, and another for another name or version', () => {
    expect(effectiveVersion(entry('a'))).toBe(effectiveVersion(entry('a')));
    expect(effectiveVersion(entry('a'))).toMatch(/^[0-9a-f]{16}$/);
    expect(effectiveVersion(entry('a'))).not.toBe(effectiveVersion(entry('b')));
    expect(effectiveVersion(entry('a'))).not.toBe(effectiveVersion(entry('a', { version: 2 })));
  });

  it('changes when the bytes of a table change', () => {
    const withTable = (digest: string) => effectiveVersion(entry('a', { tables: [{ table: 't', digest }] }));
    expect(withTable('1')).not.toBe(withTable('2'));
  });

  it('changes when an entry that it uses changes, and one that this uses in turn', () => {
    const versionOver = (innermost: Computation) => {
      shown.entries = [innermost, entry('b', { uses: ['c'] })];
      return effectiveVersion(entry('a', { uses: ['b'] }));
    };
    const before = versionOver(entry('c'));
    expect(versionOver(entry('c'))).toBe(before);
    expect(versionOver(entry('c', { version: 2 }))).not.toBe(before);
    expect(versionOver(entry('c', { tables: [{ table: 't', digest: '1' }] }))).not.toBe(before);
  });

  it('is known for every entry of the catalogue, and no two are alike', () => {
    const versions = CATALOGUE.map((each) => effectiveVersion(each));
    expect(new Set(versions).size).toBe(CATALOGUE.length);
  });
});
