import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { type SeededRandom, seededRandom } from '../../src/science/numerics/seeded-random.ts';
import { FUZZ_TARGETS } from './formats.targets.ts';

const MUTATIONS = 2000;
const SLOWEST_MS = 2000;
const COLUMNAR_FILES = new URL('../data/columnar/', import.meta.url);

/** Bytes damaged as transfers, disks and people damage them; the same for one seed. */
function damaged(inputs: readonly Uint8Array[], random: SeededRandom): Uint8Array {
  const pick = (): Uint8Array => inputs[random.below(inputs.length)]!;
  let bytes = Uint8Array.from(pick());
  const times = 1 + random.below(4);
  for (let k = 0; k < times && bytes.length > 0; k++) {
    const at = random.below(bytes.length);
    const other = pick();
    const from = random.below(other.length);
    switch (random.below(6)) {
      case 0:
        bytes[at]! ^= 1 << random.below(8);
        break;
      case 1:
        bytes = bytes.slice(0, at);
        break;
      case 2:
        bytes = Uint8Array.from([...bytes.slice(0, at), ...other.slice(from)]);
        break;
      case 3:
        bytes = Uint8Array.from([...bytes.slice(0, at), ...bytes.slice(at + 1 + random.below(5))]);
        break;
      case 4: {
        const marks = [0, 9, 10, 13, 32, 34, 35, 44, 45, 46, 48, 57, 59, 69, 0x80, 0xc3, 0xff];
        bytes[at] = marks[random.below(marks.length)]!;
        break;
      }
      default:
        bytes = Uint8Array.from([...bytes, ...bytes.slice(0, at), ...bytes.slice(at)]);
    }
  }
  return bytes;
}

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
