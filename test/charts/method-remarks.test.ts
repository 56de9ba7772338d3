import { describe, expect, it } from 'vitest';
import { methodRemarks } from '../../src/charts/method-remarks.ts';
import type { Fact } from '../../src/science/learning/facts.ts';

const ramp: Fact = {
  name: 'jcAPerM2',
  at: { temperatureK: 77, fieldT: 1 },
  value: 2.1e10,
  standardUncertainty: 1e9,
  origin: 'measured',
  method: 'transport, 1 uV/cm',
};
const loop: Fact = { ...ramp, value: 1.4e10, method: 'magnetisation loop, extended Bean' };

describe('a remark on two methods', () => {
  it('gives both values, and says that a lower Jc of the loop is as its lower electric field would have it', () => {
    expect(methodRemarks([ramp, loop])).toEqual([
      'Jc at 77 K, 1 T is 2.10 ± 0.10 MA/cm² by transport, 1 uV/cm, and 1.40 ± 0.10 MA/cm² by magnetisation loop, extended Bean at 77 K, 1 T: apart by more than twice their joint standard uncertainty. They need not agree: a loop reads Jc at a lower electric field than a current-voltage curve, where Jc is lower. Compare like with like.',
    ]);
  });

  it('says that a higher Jc of the loop is not explained by it', () => {
    const [remark] = methodRemarks([ramp, { ...loop, value: 9e10, standardUncertainty: null }]);
    expect(remark).toMatch(/factor of two\. The lower electric field .* it is the higher: see the thickness/);
  });
});
