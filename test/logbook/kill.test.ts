import { describe, expect, it } from 'vitest';
import { runKills } from './kill-run.ts';

describe('an import that is killed', () => {
  it('at 20 moments of its course loses nothing that it had acknowledged, and leaves nothing half-written', async () => {
    const figures = await runKills({ kills: 20, seed: 7 });
    expect(figures).toMatchObject({ kills: 20, lost: 0, faults: [] });
    expect(figures.acknowledged).toBe(100 * figures.imports);
    expect(figures.killsDuringStart).toBeLessThan(12); // the others fell into the import itself
  }, 300_000);
});
