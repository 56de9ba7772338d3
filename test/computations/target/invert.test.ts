import { describe, expect, it } from 'vitest';
import { targetBatch } from '../../../src/computations/target/batch.ts';
import { targetInvert } from '../../../src/computations/target/invert.ts';

const ask = (changes: object = {}) =>
  targetInvert.run(targetInvert.request.parse({ ...(targetInvert.example as object), ...changes }));
const stated = (value: number) => ({ value, standardUncertainty: 0.01 });

describe('target.invert', () => {
  it('answers its example in its own schema', () => {
    const response = ask();
    expect(targetInvert.response.parse(response)).toEqual(response);
  });

  it('leads through target.batch back to the film within 1e-9', () => {
    const film = { Y: 1, Ba: 2, Cu: 3 };
    const { factors, losses } = targetInvert.example as {
      factors: Record<string, { value: number }>;
      losses: Record<string, { value: number }>;
    };
    const { target } = ask();
    const batch = targetBatch.run(
      targetBatch.request.parse({
        ...(targetBatch.example as object),
        composition: { cations: target.cations },
        balanceStepMg: 1e-8,
      }),
    );
    const back = Object.entries(batch.targetRatio).map(
      ([symbol, amount]) =>
        [symbol, amount * factors[symbol]!.value * (1 - (losses[symbol]?.value ?? 0))] as const,
    );
    const sum = back.reduce((total, [, amount]) => total + amount, 0);
    for (const [symbol, amount] of back)
      expect(Math.abs((6 * amount) / sum / film[symbol as keyof typeof film] - 1)).toBeLessThan(1e-9);
  });

  it('says which factors and losses it did not use', () => {
    const { flags } = ask({
      factors: { Y: stated(1), Ba: stated(1), Cu: stated(1), Zr: stated(0.5) },
      losses: { Cu: stated(0), Nb: stated(0) },
    });
    expect(flags.map(({ code }) => code)).toEqual(['NOT_IN_FILM', 'NOT_IN_FILM']);
    expect(flags[0]!.message).toMatch(/factors names Zr/);
    expect(flags[1]!.message).toMatch(/losses names Nb/);
    expect(ask().flags.map(({ code }) => code)).not.toContain('NOT_IN_FILM');
  });

  it('refuses a film with an element that has no factor, and names it', () => {
    expect(() => ask({ film: { cations: { Y: 1, Ba: 2, Cu: 3, Zr: 0.1 } } })).toThrow(
      /factors\.Zr is missing/,
    );
  });
});
