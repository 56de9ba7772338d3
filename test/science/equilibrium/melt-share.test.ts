import { describe, expect, it } from 'vitest';
import { Melt } from '../../../src/science/equilibrium/melt.ts';
import { oxygenStateAt } from '../../../src/science/equilibrium/oxygen.ts';

const T = 1200;
const RT = 8.314462618 * T;

/** A melt of copper alone whose Cu2+ oxide counts 0, with interaction w, at the pO2 that gives the step a. */
function copperMelt(aJPerMol: number, wJPerMol: number): Melt {
  const atOneAtm = 65156 - 46.99 * T + 32120 * (1 - T / 1516.7);
  const po2Atm = Math.exp((4 * (aJPerMol - atOneAtm)) / RT);
  const values = { fusionEntropy: 0, fusionTemperature: 0, cuCu: wJPerMol };
  return new Melt({ form: 'ionic', values }, oxygenStateAt(T, po2Atm));
}

/** Least of f a + f (1 - f) w + RT [f ln f + (1 - f) ln(1 - f)] by trying shares. */
function leastByTrying(a: number, w: number): number {
  let least = Math.min(0, a);
  for (let i = 1; i < 20_000; i++) {
    const f = i / 20_000;
    least = Math.min(least, f * a + f * (1 - f) * w + RT * (f * Math.log(f) + (1 - f) * Math.log(1 - f)));
  }
  return least;
}

describe('the Cu+ share of a melt', () => {
  // Between 1.999 and 2 RT the share was once sought in two valleys that do not exist yet, and the energy was no number:
  // one grid point of one member then broke the hull of a whole triangle.
  it.each([-2, 0, 1, 1.9, 1.9985, 1.9992, 1.9999, 2, 2.0001, 2.001, 2.5, 4])(
    'gives the least energy where the interaction is %d RT',
    (parts) => {
      for (const a of [-8000, -500, -1, 0, 1, 500, 8000]) {
        const omega = copperMelt(a, parts * RT).omega(0, 0);
        expect(Math.abs(omega - leastByTrying(a, parts * RT))).toBeLessThan(0.02);
      }
    },
  );
});
