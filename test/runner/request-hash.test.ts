import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { canonicalJson, hashOf } from '../../src/runner/request-hash.ts';

const bitsOf = (hex: string): number =>
  new DataView(Uint8Array.from(Buffer.from(hex, 'hex')).buffer).getFloat64(0);

describe('the canonical text of a request', () => {
  // [memory: RFC 8785 (2020), section 3.2.2 and 3.2.3, the sample object and its canonical form]
  it('is the one printed for the sample object', () => {
    const sample = JSON.parse(
      '{"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001], ' +
        '"string": "\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/", "literals": [null, true, false]}',
    );
    expect(canonicalJson(sample)).toBe(
      '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],' +
        '"string":"\u20ac$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}',
    );
  });

  // [memory: RFC 8785 (2020), section 3.2.3, sorting by UTF-16 code units]
  it('orders names by their UTF-16 units', () => {
    const names = { '\u20ac': 1, '\r': 2, '\ufb33': 3, '1': 4, '\u{1f600}': 5, '\u0080': 6, '\u00f6': 7 };
    expect(Object.values(JSON.parse(canonicalJson({ list: Object.entries(names) })).list)).toHaveLength(7);
    const order = [...canonicalJson(names).matchAll(/:(\d)/g)].map((match) => Number(match[1]));
    expect(order).toEqual([2, 4, 6, 7, 1, 5, 3]);
  });

  // [memory: RFC 8785 (2020), appendix B: IEEE 754 bits and their text]
  it.each([
    ['0000000000000000', '0'],
    ['8000000000000000', '0'],
    ['0000000000000001', '5e-324'],
    ['7fefffffffffffff', '1.7976931348623157e+308'],
    ['4340000000000000', '9007199254740992'],
    ['44b52d02c7e14af6', '1e+23'],
    ['444b1ae4d6e2ef50', '1e+21'],
    ['444b1ae4d6e2ef4f', '999999999999999900000'],
    ['3eb0c6f7a0b5ed8d', '0.000001'],
    ['3eb0c6f7a0b5ed8c', '9.999999999999997e-7'],
    ['41b3de4355555555', '333333333.3333333'],
  ])('writes the number of bits %s as %s', (hex, text) => {
    expect(canonicalJson(bitsOf(hex))).toBe(text);
  });

  it('does not depend on the order in which fields were written, on undefined ones or on typed arrays', () => {
    expect(hashOf({ b: [1, 2], a: { d: 1, c: undefined } })).toBe(
      hashOf({ a: { d: 1 }, b: Float64Array.of(1, 2) }),
    );
    expect(hashOf({ a: Number.NaN })).toBe(hashOf({ a: null }));
    expect(hashOf({ a: 1 })).not.toBe(hashOf({ a: 1.0000000000000002 }));
    expect(hashOf([])).not.toBe(hashOf({}));
  });

  it('is read back as the value it was made from', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(JSON.parse(canonicalJson(value))).toEqual(
          JSON.parse(JSON.stringify(value).replaceAll('-0', '0')),
        );
      }),
      { seed: 8785, numRuns: 200 },
    );
  });

  it('is hashed by SHA-256 of its UTF-8', () => {
    // [memory: FIPS 180-4 example text "abc"; here with the quotation marks of JSON, against the runtime's own digest]
    expect(hashOf('abc')).toBe('6cc43f858fbb763301637b5af970e2a46b46f461f27e5a0f41e009c59b827b25');
  });
});
