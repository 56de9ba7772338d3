import { describe, expect, it } from 'vitest';
import { targetSlip } from '../../../src/computations/target/slip.ts';

const ask = (changes: object) =>
  targetSlip.run(targetSlip.request.parse({ ...(targetSlip.example as object), ...changes }));
const powders = (purity: number) =>
  (targetSlip.example as { precursors: object[] }).precursors.map((powder) => ({ ...powder, purity }));

describe('target.slip', () => {
  it('answers its example in its own schema', () => {
    const response = ask({});
    expect(targetSlip.response.parse(response)).toEqual(response);
    expect(response.explanations[0]!.formula).toBe('CuO');
  });

  it('refuses a purity in per cent, and two cations, which any slip explains', () => {
    expect(() => ask({ precursors: powders(99.99) })).toThrow(/purity is 99\.99/);
    expect(() => ask({ found: { cations: { Ba: 2, Cu: 3 }, u: { Ba: 0.02, Cu: 0.03 } } })).toThrow(
      /three or more/,
    );
  });

  it('doubts a slip of more than a fifth of a mass, and an empty question', () => {
    const codes = ({ flags }: { flags: { code: string }[] }) => flags.map(({ code }) => code);
    expect(
      codes(ask({ found: { cations: { Y: 1, Ba: 2, Cu: 6 }, u: { Y: 0.01, Ba: 0.02, Cu: 0.06 } } })),
    ).toContain('SLIP_IS_LARGE');
    expect(codes(ask({ found: undefined, slipMg: undefined }))).toContain('NOTHING_ASKED');
  });
});
