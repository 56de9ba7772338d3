import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson } from '../../src/runner/request-hash.ts';
import { isSameOnWire, toWire } from '../../src/runner/wire.ts';

describe('a value on the wire', () => {
  it('has null for a missing number, lists for typed arrays, and no field that is undefined', () => {
    const value = { a: Float64Array.of(1, Number.NaN), b: undefined, c: [Number.NaN, { d: 'x' }], e: null };
    expect(toWire(value)).toEqual({ a: [1, null], c: [null, { d: 'x' }], e: null });
  });

  it.each([
    [{ points: [{ jc: Number.POSITIVE_INFINITY }] }, 'points[0].jc is infinite'],
    [{ a: Float64Array.of(0, Number.NEGATIVE_INFINITY) }, 'a[1] is infinite'],
    [Number.POSITIVE_INFINITY, 'the value is infinite'],
  ])('is refused where a number is infinite, with its place: %j', (value, said) => {
    expect(() => toWire(value)).toThrow(`NOT_FINITE: ${said}.`);
  });
});

describe('isSameOnWire', () => {
  it('answers as the two canonical texts do', () => {
    const value = fc.oneof(fc.jsonValue({ maxDepth: 3 }), fc.constant(Number.NaN));
    const record = fc.dictionary(fc.string({ maxLength: 2 }), fc.oneof(value, fc.constant(undefined)));
    fc.assert(
      fc.property(fc.oneof(value, record), fc.oneof(value, record), (one, other) => {
        expect(isSameOnWire(one, other)).toBe(canonicalJson(one) === canonicalJson(other));
        expect(isSameOnWire(one, structuredClone(one))).toBe(true);
        expect(isSameOnWire(JSON.parse(canonicalJson(one)), one)).toBe(true);
      }),
      { seed: 1, numRuns: 1000 },
    );
  });

  it.each([
    [{ a: 1, b: undefined }, { a: 1 }, true],
    [{ a: 1 }, { a: 1, b: undefined }, true],
    [{ a: 1 }, { a: 1, b: 2 }, false],
    [{ a: 1, b: 2 }, { a: 1 }, false],
    [{ toString: 1 }, {}, false],
    [[1, 2], [1], false],
    [[1], { 0: 1, length: 1 }, false],
    [Number.NaN, null, true],
    [null, Number.NaN, true],
    [0, null, false],
    [Float64Array.of(1, Number.NaN), [1, null], true],
    ['1', 1, false],
    [0, -0, true],
  ])('tells %j from %j: %s', (one, other, isSame) => {
    expect(isSameOnWire(one, other)).toBe(isSame);
    expect(isSameOnWire(other, one)).toBe(isSame);
  });
});
