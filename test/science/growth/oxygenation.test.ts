import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  diffusionLine,
  meanOverPath,
  oxygenDiffusivity,
  thermodynamicFactor,
  thetaOfShare,
  uptakeShare,
} from '../../../src/science/growth/oxygenation.ts';

/** The same plate by finite differences: closed at 0, open at 1, surface at 1. */
function byDifferences(theta: number): number {
  const n = 100;
  const c = new Float64Array(n + 1);
  c[n] = 1;
  const step = 0.4 / n ** 2;
  const steps = Math.round(theta / step);
  for (let k = 0; k < steps; k++) {
    const old = c.slice();
    for (let i = 0; i < n; i++)
      c[i] = old[i]! + 0.4 * ((i > 0 ? old[i - 1]! : old[1]!) - 2 * old[i]! + old[i + 1]!);
  }
  let sum = 0;
  for (let i = 1; i <= n; i++) sum += (c[i]! + c[i - 1]!) / 2 / n;
  return sum;
}

describe('uptake into a plate', () => {
  it.each([0.05, 0.2, 0.8])('after D t/L^2 of %f is what finite differences give', (theta) => {
    expect(uptakeShare(theta)).toBeCloseTo(byDifferences(theta), 3);
  });

  it('joins the square-root law without a step', () => {
    expect(uptakeShare(0.05) - uptakeShare(0.05 - 1e-12)).toBeLessThan(1e-8);
  });

  it('rises from nothing to all, and is inverted by its theta', () => {
    expect(uptakeShare(0)).toBe(0);
    expect(uptakeShare(10)).toBeCloseTo(1, 9);
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 0.999, noNaN: true }), (share) => {
        expect(uptakeShare(thetaOfShare(share))).toBeCloseTo(share, 9);
      }),
    );
  });
});

describe('uptake over a path', () => {
  const times = Array.from({ length: 60 }, (_, i) => i * 10);

  it('of a hold is the plate with a constant surface', () => {
    const mean = meanOverPath(
      times,
      times.map(() => 1),
      times.map(() => 1e-16),
      4e-7,
      0,
    );
    times.forEach((timeS, i) => {
      expect(Math.abs(mean[i]! - uptakeShare((1e-16 * timeS) / 4e-7 ** 2))).toBeLessThan(6e-4);
    });
  });

  it('of two steps adds the two single steps', () => {
    const surface = times.map((timeS) => (timeS < 300 ? 0.4 : 1));
    const stepped = [...times.slice(0, 30), 300 - 1e-9, ...times.slice(30)];
    const mean = meanOverPath(
      stepped,
      stepped.map((timeS) => (timeS < 300 ? 0.4 : 1)),
      stepped.map(() => 1e-16),
      4e-7,
      0,
    );
    const theta = (timeS: number) => (1e-16 * timeS) / 4e-7 ** 2;
    expect(surface.at(-1)).toBe(1);
    expect(mean.at(-1)).toBeCloseTo(0.4 * uptakeShare(theta(590)) + 0.6 * uptakeShare(theta(290)), 3);
  });

  it('never leaves the range of what its surface has held', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 3, maxLength: 40 }),
        (surface) => {
          const mean = meanOverPath(
            surface.map((_, i) => 50 * i),
            surface,
            surface.map(() => 3e-16),
            4e-7,
            surface[0]!,
          );
          for (const each of mean) {
            expect(each).toBeGreaterThanOrEqual(Math.min(...surface) - 1e-3);
            expect(each).toBeLessThanOrEqual(Math.max(...surface) + 1e-3);
          }
        },
      ),
      { numRuns: 30 },
    );
  });

  it('stays where it is in balance', () => {
    expect([...meanOverPath([0, 10, 20], [0.5, 0.5, 0.5], [1e-15, 1e-15, 1e-15], 1e-7, 0.5)]).toEqual([
      0.5, 0.5, 0.5,
    ]);
  });
});

describe('the diffusivity of oxygen', () => {
  it('along ab is more than a thousand times that along c, and the film lies between', () => {
    for (const temperatureK of [673, 723, 773]) {
      expect(oxygenDiffusivity('ab', temperatureK) / oxygenDiffusivity('c', temperatureK)).toBeGreaterThan(
        1e3,
      );
      expect(oxygenDiffusivity('film', temperatureK)).toBeLessThan(oxygenDiffusivity('ab', temperatureK));
      expect(oxygenDiffusivity('film', temperatureK)).toBeGreaterThan(oxygenDiffusivity('c', temperatureK));
    }
  });

  it('scatters about its line by less than a factor of two', () => {
    expect(diffusionLine('ab').doubtFactor).toBeGreaterThan(1.05);
    expect(diffusionLine('ab').doubtFactor).toBeLessThan(2);
  });
});

describe('thermodynamicFactor', () => {
  it('is 1 where oxygen is so thin that it does not notice itself, and the closed form elsewhere', () => {
    expect(thermodynamicFactor(900, 0.001)).toBeCloseTo(1, 2);
    const [z, kelvin] = [0.6, 800];
    const closed = (21_570 * z) / (8.314462618 * kelvin) + 2 / (2 - z);
    expect(thermodynamicFactor(kelvin, z)).toBeCloseTo(closed, 4);
  });
});
