import { describe, expect, it } from 'vitest';
import { targetBatch } from '../../../src/computations/target/batch.ts';

type Request = Parameters<typeof targetBatch.run>[0];
const example = targetBatch.request.parse(targetBatch.example);
const ask = (changes: Partial<Request>) => targetBatch.run({ ...example, ...changes });

describe('target.batch', () => {
  it('answers its example in its own schema, with cautions', () => {
    const response = targetBatch.run(example);
    expect(targetBatch.response.parse(response)).toEqual(response);
    expect(response.cautions.map((caution) => caution.matter)).toContain('BaCO3');
    expect(response.radiusMeanAngstrom).toBe(1.019);
  });

  it('takes 6.93 oxygen where none is stated, in either place', () => {
    const stated = ask({ composition: { cations: { Y: 1, Ba: 2, Cu: 3 }, oxygenPer123: 6.93 } });
    expect(stated.masses).toEqual(ask({}).masses);
    expect(ask({ oxygenPer123: 6.93 }).masses).toEqual(stated.masses);
    expect(() =>
      ask({ oxygenPer123: 6.5, composition: { ...example.composition, oxygenPer123: 6 } }),
    ).toThrow(/allowed is one number/);
  });

  it('checks what a powder is said to provide against its formula', () => {
    const withProvides = (provides: Request['precursors'][number]['provides']) =>
      ask({
        precursors: [
          { formula: 'Y2O3', purity: 0.999, lossOnDrying: 0 },
          { formula: 'BaCuO2', purity: 0.999, lossOnDrying: 0.001, provides },
          { formula: 'CuO', purity: 0.999, lossOnDrying: 0 },
        ],
      });
    expect(withProvides('Ba').flags.map((flag) => flag.code)).toEqual(['PROVIDES_MORE']);
    expect(withProvides(['Ba', 'Cu']).flags).toEqual([]);
    expect(withProvides({ Ba: 1, Cu: 1 }).flags).toEqual([]);
    expect(() => withProvides({ Ba: 2 })).toThrow(/provides\.Ba is 2, but BaCuO2 holds 1/);
    expect(() => withProvides('Y')).toThrow(/precursors\[1\]\.provides is 'Y', which BaCuO2 does not hold/);
  });
});
