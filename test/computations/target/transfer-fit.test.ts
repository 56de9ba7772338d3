import { describe, expect, it } from 'vitest';
import { targetTransferFit } from '../../../src/computations/target/transfer-fit.ts';

const example = targetTransferFit.example as { pairs: object[] };
const ask = (pairs: object[]) => targetTransferFit.run(targetTransferFit.request.parse({ pairs }));
const codes = ({ flags }: { flags: readonly { code: string }[] }) => flags.map(({ code }) => code);

describe('target.transferFit', () => {
  it('answers its example in its own schema, without a doubt about its pairs', () => {
    const response = ask(example.pairs);
    expect(targetTransferFit.response.parse(response)).toEqual(response);
    expect(codes(response)).toEqual(['FACTORS_ARE_LOCAL']);
  });

  it('asks about a pair that stands twice', () => {
    expect(codes(ask([...example.pairs, { ...example.pairs[0], label: 'again' }]))).toContain('PAIR_TWICE');
  });

  it('says that a single pair shows no scatter, and that films scatter beyond what was stated', () => {
    expect(codes(ask([example.pairs[0]!]))).toContain('NO_SCATTER_KNOWN');
    const pair = (ba: number) => ({ ...example.pairs[0], label: String(ba), film: { Y: 1, Ba: ba, Cu: 3 } });
    expect(codes(ask([pair(1.2), pair(2), pair(2.8)]))).toEqual(
      expect.arrayContaining(['FILMS_SCATTER', 'TARGETS_ALIKE']),
    );
  });
});
