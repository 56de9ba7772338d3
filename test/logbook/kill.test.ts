import { describe, expect, it } from 'vitest';
import { runKills } from './kill-run.ts';

describe('an import that is killed', () => {
  it('at 24 moments of its course loses nothing that it had acknowledged, and leaves nothing half-written', async () => {
    const figures = await runKills({ kills: 24, seed: 7 });
    expect(figures).toMatchObject({ kills: 24, lost: 0, faults: [] });
    expect(figures.acknowledged).toBe(100 * figures.imports);
    expect(figures.killsDuringStart).toBeLessThan(12); // the others fell into the import itself
  }, 300_000);
});
