import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../src/science/numerics/seeded-random.ts';
import { damaged } from './damage.ts';
import { FUZZ_TARGETS } from './formats.targets.ts';

const MUTATIONS = 2000;
const SLOWEST_MS = 2000;
const COLUMNAR_FILES = new URL('../data/columnar/', import.meta.url);

describe('readers given damaged bytes', () => {
  const files = readdirSync(COLUMNAR_FILES, { recursive: true, encoding: 'utf8' })
    .filter((name) => /\.\w+$/.test(name))
    .map((name) => new Uint8Array(readFileSync(new URL(name, COLUMNAR_FILES))));

  it.each(FUZZ_TARGETS.map((target) => [target.name, target] as const))(
    '%s never throws, never hangs and never depends on how the bytes are cut',
    (name, { seedInputs, run }) => {
      const inputs = name === 'columnar' ? [...seedInputs, ...files] : seedInputs;
      const random = seededRandom(20310401);
      let slowest = 0;
      for (let i = 0; i < MUTATIONS; i++) {
        const bytes = i < inputs.length ? inputs[i]! : damaged(inputs, random);
        const started = performance.now();
        try {
          run(bytes);
        } catch (error) {
          throw new Error(`mutation ${i}: ${JSON.stringify(new TextDecoder().decode(bytes))}`, {
            cause: error,
          });
        }
        slowest = Math.max(slowest, performance.now() - started);
      }
      expect(slowest).toBeLessThan(SLOWEST_MS);
    },
  );
});
