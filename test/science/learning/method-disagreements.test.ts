import { describe, expect, it } from 'vitest';
import type { Fact } from '../../../src/science/learning/facts.ts';
import { methodDisagreements } from '../../../src/science/learning/method-disagreements.ts';

const ramp: Fact = {
  name: 'jcAPerM2',
  at: { temperatureK: 77, fieldT: 1 },
  value: 1e10,
  standardUncertainty: 3e8,
  origin: 'measured',
  method: 'transport, 1 uV/cm',
};
/** a 3-4-5 triangle: the joint standard uncertainty with the ramp is 5e8 */
const loop: Fact = { ...ramp, standardUncertainty: 4e8, method: 'magnetisation loop, extended Bean' };

describe('Jc of a current-voltage curve and of a loop', () => {
  it.each([
    [1e10 - 9.9e8, 0],
    [1e10 - 1.01e9, 1],
    [1e10 + 9.9e8, 0],
    [1e10 + 1.01e9, 1],
  ])('of 1e10 and %d disagree beyond twice the joint uncertainty of 5e8: %d remark', (value, count) => {
    const found = methodDisagreements([ramp, { ...loop, value }]);
    expect(found).toHaveLength(count);
    for (const { byUncertainty } of found) expect(byUncertainty).toBe(true);
  });

  it.each([
    [0.51e10, 0],
    [0.49e10, 1],
    [1.99e10, 0],
    [2.01e10, 1],
  ])('without an uncertainty of 1e10 and %d disagree beyond a factor of two: %d remark', (value, count) => {
    const found = methodDisagreements([ramp, { ...loop, value, standardUncertainty: null }]);
    expect(found).toHaveLength(count);
    for (const { byUncertainty } of found) expect(byUncertainty).toBe(false);
  });

  it('are compared at the nearest field only, and not at another temperature, field or angle', () => {
    const far = { ...loop, value: 1e9 };
    const at = (condition: Fact['at']) => ({ ...far, at: condition });
    expect(methodDisagreements([ramp, at({ temperatureK: 70, fieldT: 1 })])).toEqual([]);
    expect(methodDisagreements([ramp, at({ temperatureK: 77, fieldT: 2 })])).toEqual([]);
    expect(methodDisagreements([ramp, at({ fieldT: 1 })])).toEqual([]);
    const tilted = { ...ramp, at: { ...ramp.at, thetaDeg: 90 } };
    expect(methodDisagreements([tilted, at({ temperatureK: 77, fieldT: 1, thetaDeg: 0 })])).toEqual([]);
    expect(methodDisagreements([tilted, at({ temperatureK: 77, fieldT: 1 })])).toHaveLength(1);
    const nearer = { ...loop, at: { temperatureK: 77, fieldT: 1.001 } };
    expect(methodDisagreements([ramp, at({ temperatureK: 77, fieldT: 1.04 }), nearer])).toEqual([]);
  });

  it('taken without a field stated is compared in self-field', () => {
    const selfField = { ...ramp, at: { temperatureK: 77 } };
    const other = { ...loop, value: 1e9, at: { temperatureK: 77, fieldT: 0 } };
    expect(methodDisagreements([selfField, other])).toHaveLength(1);
  });

  it('are not compared with their own kind, as a bound, or where a typed number states no method', () => {
    expect(methodDisagreements([ramp, { ...ramp, value: 1e9 }])).toEqual([]);
    expect(
      methodDisagreements([
        { ...ramp, bound: 'above' },
        { ...loop, value: 1e9 },
      ]),
    ).toEqual([]);
    expect(
      methodDisagreements([
        { ...ramp, method: 'typed' },
        { ...loop, value: 1e9 },
      ]),
    ).toEqual([]);
  });
});
