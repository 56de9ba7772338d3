import { describe, expect, it } from 'vitest';
import type { Fact, FactCondition } from '../../../src/science/learning/facts.ts';
import { conditionDistance, findFact } from '../../../src/science/learning/find-fact.ts';

const jc = (value: number, at: FactCondition | undefined, rest: Partial<Fact> = {}): Fact => ({
  name: 'jcAPerM2',
  value,
  at,
  standardUncertainty: 0.05 * value,
  origin: 'measured',
  method: 'transport',
  ...rest,
});

describe('conditionDistance', () => {
  it.each([
    ['77.9 K answers 77 K', { temperatureK: 77 }, { temperatureK: 77.9 }, true],
    ['79 K does not', { temperatureK: 77 }, { temperatureK: 79 }, false],
    ['4.2 K does not answer 77 K', { temperatureK: 77 }, { temperatureK: 4.2 }, false],
    ['5 K answers 4.2 K, within 1 K', { temperatureK: 4.2 }, { temperatureK: 5 }, true],
    ['a fact without a temperature does not answer one', { temperatureK: 77 }, undefined, false],
    ['10.4 T answers 10 T', { fieldT: 10 }, { fieldT: 10.4 }, true],
    ['3.2 T does not answer 3 T', { fieldT: 3 }, { fieldT: 3.2 }, false],
    ['no field stated answers self-field', { fieldT: 0 }, { temperatureK: 77 }, true],
    ['no field stated does not answer 1 T', { fieldT: 1 }, {}, false],
    [
      '-89 deg answers 90 deg: the film has no front',
      { fieldT: 1, thetaDeg: 90 },
      { fieldT: 1, thetaDeg: -89 },
      true,
    ],
    ['30 deg does not answer 27 deg', { fieldT: 1, thetaDeg: 27 }, { fieldT: 1, thetaDeg: 30 }, false],
    ['the angle does not matter in self-field', { fieldT: 0, thetaDeg: 90 }, { fieldT: 0 }, true],
    ['nothing asked, anything answers', undefined, { temperatureK: 20, fieldT: 3 }, true],
  ] as const)('%s', (_title, asked, stated, answers) => {
    expect(conditionDistance(asked, stated) !== undefined).toBe(answers);
  });
});

describe('findFact', () => {
  it('takes the nearest condition, then a value before a bound, then the surest', () => {
    const facts = [
      jc(1, { temperatureK: 77.9 }, { standardUncertainty: 0.001 }),
      jc(2, { temperatureK: 77 }, { bound: 'above' }),
      jc(3, { temperatureK: 77 }, { standardUncertainty: null }),
      jc(4, { temperatureK: 77 }),
      jc(5, { temperatureK: 77 }, { name: 'icPerWidthAPerM', standardUncertainty: 0 }),
    ];
    const found = findFact(facts, 'jcAPerM2', { temperatureK: 77 })!;
    expect(found.fact.value).toBe(4);
    expect(found.candidates).toBe(4);
  });

  it('takes self-field where no field is asked, and says when a field had to be taken as 0', () => {
    const facts = [jc(1, { temperatureK: 77, fieldT: 3 }), jc(2, { temperatureK: 77 })];
    expect(findFact(facts, 'jcAPerM2', { temperatureK: 77 })!.fact.value).toBe(2);
    expect(findFact(facts, 'jcAPerM2', { temperatureK: 77, fieldT: 0 })).toMatchObject({
      isFieldTaken: true,
    });
  });

  it('finds nothing where nothing answers', () => {
    expect(findFact([], 'jcAPerM2', undefined)).toBeUndefined();
  });
});
