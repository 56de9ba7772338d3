import { describe, expect, it } from 'vitest';
import { equilibriumOxygen } from '../../../src/computations/equilibrium/oxygen.ts';

describe('equilibrium.oxygen', () => {
  it('gives no content above what the chains hold', () => {
    const { z, deficiency, flags } = equilibriumOxygen.run({ temperatureC: 350, po2Atm: 1 });
    expect([z, deficiency]).toEqual([null, null]);
    expect(flags.map(({ code }) => code)).toContain('OXYGEN_ABOVE_SEVEN');
  });

  it('is 1 less its deficiency', () => {
    const { z, deficiency } = equilibriumOxygen.run({ temperatureC: 600, po2Atm: 0.21 });
    expect(z!.value + deficiency!).toBeCloseTo(1, 12);
  });
});
