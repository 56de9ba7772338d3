import { describe, expect, it } from 'vitest';
import { diffusingBody, PLATE, SPHERE } from '../../../src/science/numerics/diffusion-modes.ts';

/** Mean of a sphere of radius 1 after theta by finite differences in u = r c, surface at 1 from the beginning. */
function sphereByDifferences(theta: number): number {
  const n = 200;
  const h = 1 / n;
  const dt = 0.4 * h * h;
  let u = new Float64Array(n + 1);
  u[n] = 1;
  const steps = Math.ceil(theta / dt);
  for (let s = 0; s < steps; s++) {
    const next = u.slice();
    for (let i = 1; i < n; i++)
      next[i] = u[i]! + (theta / steps / (h * h)) * (u[i + 1]! - 2 * u[i]! + u[i - 1]!);
    u = next;
  }
  let sum = 0; // 3 times the integral of c r^2 = u r
  for (let i = 0; i <= n; i++) sum += (i === 0 || i === n ? 0.5 : 1) * u[i]! * (i * h) * h;
  return 3 * sum;
}

describe('a diffusing body', () => {
  it.each([0.01, 0.05, 0.2])('fills a sphere as finite differences do, theta %d', (theta) => {
    const plan = diffusingBody(SPHERE, 1); // surface at 1, nothing inside
    expect(1 + plan(theta).take(0)).toBeCloseTo(sphereByDifferences(theta), 2);
  });

  it('does not care how a step is cut, nor which way it goes', () => {
    for (const body of [PLATE, SPHERE]) {
      const whole = diffusingBody(body, 0);
      const parts = diffusingBody(body, 0);
      const once = 0.7 + whole(0.3).take(0.7);
      let [surface, mean] = [0, 0];
      for (let i = 0; i < 10; i++) {
        surface += 0.07;
        mean = surface + parts(0.03).take(0.07);
      }
      expect(mean).toBeCloseTo(once, 10);
    }
  });

  it('plans what it then takes: the mean is straight in the change of the surface', () => {
    const plan = diffusingBody(SPHERE, 0.4);
    const step = plan(0.02);
    expect(0.3 + step.take(0.3)).toBeCloseTo(step.stays + 0.3 * step.perChange, 12);
  });

  it('has forgotten its beginning after a long time, and stays where nothing moves', () => {
    expect(diffusingBody(SPHERE, 1)(50).take(0)).toBeCloseTo(0, 12);
    expect(diffusingBody(SPHERE, 0)(0.1).take(0)).toBeCloseTo(0, 12);
  });
});
