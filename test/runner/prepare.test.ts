import { describe, expect, it } from 'vitest';
import { findComputationOrThrow, nearestNames } from '../../src/runner/find-computation.ts';
import { nothingStored, parseRequest, type StoredResolver, withStored } from '../../src/runner/prepare.ts';
import { runnerHere } from '../../src/runner/run-here.ts';

const BLOB = 'c'.repeat(64);

describe('a request with stored columns', () => {
  it('has each replaced by its numbers, wherever it stands, and the rest untouched', async () => {
    const asked: number[] = [];
    const resolve: StoredResolver = async (reference) => {
      const column = 'column' in reference ? reference.column : -1;
      asked.push(column);
      return Float64Array.of(column, column + 0.5);
    };
    const request = {
      a: { blob: BLOB, column: 3 },
      b: [{ c: { blob: BLOB, column: 1 } }],
      d: [1, 2],
      e: null,
      f: 'x',
    };
    expect(await withStored(request, resolve)).toEqual({
      a: Float64Array.of(3, 3.5),
      b: [{ c: Float64Array.of(1, 1.5) }],
      d: [1, 2],
      e: null,
      f: 'x',
    });
    expect(asked).toEqual([3, 1]);
  });

  it('that is no proper reference is left for the schema to refuse', async () => {
    const odd = {
      a: { blob: 'short', column: 0 },
      b: { blob: BLOB, column: -1 },
      c: { blob: BLOB, column: 0, more: 1 },
    };
    expect(await withStored(odd, nothingStored)).toEqual(odd);
  });

  it('gives the same answer as with the numbers inline', async () => {
    const entry = findComputationOrThrow('transition.resistive');
    const example = entry.example as { temperatureK: number[]; resistanceOhm: number[] };
    const columns = [example.temperatureK, example.resistanceOhm];
    const runner = runnerHere(async (reference) =>
      Float64Array.from(columns['column' in reference ? reference.column : 0]!),
    );
    const byName = {
      ...example,
      temperatureK: { blob: BLOB, column: 0 },
      resistanceOhm: { blob: BLOB, column: 1 },
    };
    expect(await runner.run(entry.name, byName)).toEqual(await runnerHere().run(entry.name, example));
  });

  it('has a stored document put in its place', async () => {
    const document = { members: [1, 2] };
    expect(await withStored({ ensemble: { blob: BLOB } }, async () => document)).toEqual({
      ensemble: document,
    });
  });

  it('is refused in words where no store can be reached', async () => {
    await expect(withStored({ a: { blob: BLOB, column: 0 } }, nothingStored)).rejects.toThrow(
      /REQUEST_INVALID.*ccc.*cannot be reached.*inline/,
    );
  });
});

describe('a request that the schema refuses', () => {
  it('names each field with what was expected and what was found', () => {
    const entry = findComputationOrThrow('equilibrium.fields');
    const wrong = {
      rareEarth: 'Y',
      temperatureC: '900',
      po2Atm: 0.1,
      divisions: 2.5,
      heldBack: [''],
      extra: 1,
    };
    expect(() => parseRequest(entry, wrong)).toThrow(
      /^REQUEST_INVALID: equilibrium\.fields: divisions: .*expected int.*\(found 2\.5\); temperatureC: .*\(found "900"\); heldBack\[0\]/,
    );
    expect(() => parseRequest(entry, wrong)).toThrow(/"extra"/);
    expect(() => parseRequest(entry, undefined)).toThrow(/the whole: .*\(found nothing\)/);
  });

  it('names five faults at most', () => {
    const entry = findComputationOrThrow('equilibrium.fields');
    const heldBack = Array.from({ length: 40 }, () => 1);
    try {
      parseRequest(entry, { rareEarth: 'Y', temperatureC: 900, po2Atm: 0.1, divisions: 20, heldBack });
      expect.unreachable();
    } catch (error) {
      expect(String(error).match(/\(found/g)).toHaveLength(5);
    }
  });
});

describe('the name of a computation', () => {
  it('that is mistyped brings the nearest to light, best first', () => {
    expect(nearestNames('learning.nxet', ['matter.formula', 'learning.verdict', 'learning.next'])[0]).toBe(
      'learning.next',
    );
    expect(() => findComputationOrThrow('target.bach')).toThrow(
      /COMPUTATION_UNKNOWN.*'target\.bach'.*target\.batch/,
    );
    expect(() => findComputationOrThrow('x'.repeat(100_000))).toThrow(/COMPUTATION_UNKNOWN/);
    expect(() => findComputationOrThrow('__proto__')).toThrow(/COMPUTATION_UNKNOWN/);
  });
});
