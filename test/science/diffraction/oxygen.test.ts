import { describe, expect, it } from 'vitest';
import { oxygenOfC } from '../../../src/science/diffraction/oxygen.ts';

describe('oxygenOfC', () => {
  it('adds the uncertainty of c to the scatter of the relation', () => {
    expect(oxygenOfC(11.7, 0).standardUncertainty).toBeCloseTo(0.1, 12);
    expect(oxygenOfC(11.7, 0.02).standardUncertainty).toBeCloseTo(Math.hypot(0.1, 0.1302), 12);
  });

  it('falls as c grows, and says when c is outside the points it was made from', () => {
    expect(oxygenOfC(11.7, 0).value).toBeGreaterThan(oxygenOfC(11.8, 0).value);
    expect(oxygenOfC(11.7, 0).isExtrapolated).toBe(false);
    expect(oxygenOfC(11.65, 0).isExtrapolated).toBe(true);
  });
});
