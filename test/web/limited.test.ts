import { describe, expect, it } from 'vitest';
import { limited } from '../../src/web/limited.ts';

describe('limited', () => {
  it('never runs more at once than allowed, keeps the order, and goes on after a failure', async () => {
    const run = limited(2);
    let now = 0;
    let most = 0;
    const begun: number[] = [];
    const results = await Promise.allSettled(
      [0, 1, 2, 3, 4].map((i) =>
        run(async () => {
          begun.push(i);
          most = Math.max(most, ++now);
          await new Promise((resolve) => setTimeout(resolve, i % 2 ? 1 : 3));
          now--;
          if (i === 1) throw new Error('one fails');
          return i;
        }),
      ),
    );
    expect(most).toBe(2);
    expect(begun).toEqual([0, 1, 2, 3, 4]);
    expect(results.map(({ status }) => status === 'fulfilled')).toEqual([true, false, true, true, true]);
  });
});
