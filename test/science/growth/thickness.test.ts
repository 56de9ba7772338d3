import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { shareAt, spreadOver, thicknessShareAt, turnedShareAt } from '../../../src/science/growth/plume.ts';
import { fitPulseYield, pulsesFor } from '../../../src/science/growth/thickness.ts';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { expectPrinted } from '../../printed.ts';

const film = (pulses: number, value: number, standardUncertainty: number | null) => ({
  pulses,
  thicknessNm: { value, standardUncertainty },
});

describe('thickness per pulse', () => {
  it('is that of one film, with its relative uncertainty', () => {
    const { nmPerPulse, variance, degreesOfFreedom } = fitPulseYield([film(5000, 250, 5)]);
    expect(nmPerPulse).toBeCloseTo(0.05, 12);
    expect(Math.sqrt(variance) / nmPerPulse).toBeCloseTo(0.02, 12);
    expect(degreesOfFreedom).toBe(0);
  });

  it('of exact films is exact, has no chi squared left and no scatter of its own', () => {
    const fit = fitPulseYield([film(1000, 40, 1), film(3000, 120, 2), film(9000, 360, 6)]);
    expect(fit.nmPerPulse).toBeCloseTo(0.04, 12);
    expect(fit.chiSquared).toBeCloseTo(0, 12);
    expect(fit.widening).toBe(1);
  });

  it('does not depend on the unit of thickness but by that unit', () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 50, noNaN: true }), (k) => {
        const films = [film(1000, 42, 2), film(3000, 118, 3)];
        const scaled = films.map(({ pulses, thicknessNm: t }) =>
          film(pulses, k * t.value, k * t.standardUncertainty!),
        );
        expect(fitPulseYield(scaled).nmPerPulse / fitPulseYield(films).nmPerPulse / k).toBeCloseTo(1, 9);
        expect(fitPulseYield(scaled).chiSquared).toBeCloseTo(fitPulseYield(films).chiSquared!, 6);
      }),
    );
  });

  it('is widened where films scatter by more than they state', () => {
    const fit = fitPulseYield([film(1000, 50, 1), film(1000, 60, 1)]);
    expect(fit.chiSquared).toBeCloseTo(50, 9);
    expect(fit.widening).toBeCloseTo(Math.sqrt(50), 9);
  });

  it('covers the truth in 95 of 100 simulated series of five films, and the next film likewise', () => {
    const random = seededRandom(11);
    const measured = (pulses: number) => film(pulses, 0.05 * pulses * (1 + 0.03 * random.normal()), null);
    let covered = 0;
    const series = 600;
    for (let k = 0; k < series; k++) {
      const fit = fitPulseYield([2000, 4000, 6000, 8000, 5000].map(measured));
      const { low, high } = pulsesFor(measured(5000).thicknessNm.value, fit, 0, 0.95);
      if (low! <= 5000 && 5000 <= high!) covered++;
    }
    expect(covered / series).toBeGreaterThan(0.91);
    expect(covered / series).toBeLessThan(0.985);
  });

  it('is refused for no film and for a count of 0', () => {
    expect(() => fitPulseYield([])).toThrow(/0 films; expected 1 or more/);
    expect(() => fitPulseYield([film(0, 10, 1)])).toThrow(
      /calibrations\[0\]\.pulses is 0; allowed is above 0/,
    );
  });
});

describe('pulses for a thickness', () => {
  it('carry the scale of the gauge, which more films do not remove', () => {
    const fit = fitPulseYield(Array.from({ length: 100 }, () => film(1000, 50, 0.5)));
    const { pulses, standardUncertainty } = pulsesFor(100, fit, 0.03, 0.95);
    expect(pulses).toBeCloseTo(2000, 9);
    expect(standardUncertainty / pulses).toBeCloseTo(Math.hypot(0.03, 0.001), 6);
  });
});

describe('the plume', () => {
  // [derived: (1 + r^2/h^2)^(-(n + 3)/2), worked out apart: n 9, h 50 mm at 5 and 10 mm; n 9, h 100 mm at 25 mm]
  it.each([
    [5, 50, '0.942'],
    [10, 50, '0.790'],
    [25, 100, '0.695'],
  ])('at %d mm from its axis and %d mm away leaves %s', (r, h, printed) => {
    expectPrinted(thicknessShareAt(r, h, 9), printed);
  });

  it('as a point source of cos^n sends all that it emits through the plane', () => {
    // flux per area on the axis is (n + 1)/(2 pi h^2); the integral over the plane is 1
    for (const n of [0, 1, 4, 11]) {
      let sum = 0;
      const [h, step] = [1, 0.002];
      for (let u = step / 2; u < 1; u += step) {
        const r = u / (1 - u); // the whole plane
        sum += thicknessShareAt(r, h, n) * r * (step / (1 - u) ** 2);
      }
      expect((n + 1) * sum).toBeCloseTo(1, 2);
    }
  });

  it('turns into itself without an offset, and evens out with a good one', () => {
    expect(turnedShareAt(7, 0, 50, 9)).toBeCloseTo(thicknessShareAt(7, 50, 9), 12);
    const plume = { distance: 50, exponent: 9, offset: 0, isRotating: true };
    expect(spreadOver(30, 30, { ...plume, offset: 20 })).toBeLessThan(0.35 * spreadOver(30, 30, plume));
  });

  it('averages a turn as a direct sum over many places does', () => {
    let sum = 0;
    const random = seededRandom(5);
    const n = 200_000;
    for (let i = 0; i < n; i++) {
      const phi = 2 * Math.PI * random.uniform();
      sum += thicknessShareAt(Math.hypot(12 * Math.cos(phi) - 20, 12 * Math.sin(phi)), 50, 9);
    }
    expect(turnedShareAt(12, 20, 50, 9)).toBeCloseTo(sum / n, 2);
  });

  it('at rest is thickest on its axis, off the middle of an offset substrate', () => {
    const plume = { distance: 50, exponent: 9, offset: 6, isRotating: false };
    expect(shareAt(-6, 0, plume)).toBe(1);
    expect(shareAt(0, 0, plume)).toBeLessThan(1);
  });
});
