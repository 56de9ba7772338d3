import { describe, expect, it } from 'vitest';
import { transitionMagnetic } from '../../../src/computations/transition/magnetic.ts';
import { transitionResistive } from '../../../src/computations/transition/resistive.ts';

describe('transition.resistive', () => {
  it('answers its example in its own schema', () => {
    const response = transitionResistive.run(transitionResistive.request.parse(transitionResistive.example));
    expect(transitionResistive.response.parse(response)).toEqual(response);
    expect(response.t50!.value).toBeCloseTo(90, 0);
  });

  it('takes null for a missing row and names how many', () => {
    const example = transitionResistive.example as {
      temperatureK: number[];
      resistanceOhm: (number | null)[];
    };
    const request = { ...example, resistanceOhm: [null, ...example.resistanceOhm.slice(1)] };
    const response = transitionResistive.run(transitionResistive.request.parse(request));
    expect(response.flags.map((flag) => flag.code)).toContain('ROWS_MISSING');
  });
});

describe('transition.magnetic', () => {
  it('answers its example in its own schema', () => {
    const response = transitionMagnetic.run(transitionMagnetic.request.parse(transitionMagnetic.example));
    expect(transitionMagnetic.response.parse(response)).toEqual(response);
    expect(response.t50!.value).toBeGreaterThan(86);
  });
});
