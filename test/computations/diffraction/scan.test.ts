import { describe, expect, it } from 'vitest';
import { diffractionScan } from '../../../src/computations/diffraction/scan.ts';
import { filmLines, simulateScan } from '../../simulate/diffraction-scan.ts';

const ask = (more: Record<string, unknown>) => {
  const answer = diffractionScan.run(diffractionScan.request.parse(more));
  return diffractionScan.response.parse(answer);
};
const example = diffractionScan.example as { twoThetaDeg: number[]; counts: number[] };
const codes = (answer: ReturnType<typeof ask>): string[] => answer.flags.map((flag) => flag.code);

describe('diffraction.scan', () => {
  const answer = ask(diffractionScan.example as Record<string, unknown>);

  it('answers its example with the c and the second phase that were put in', () => {
    const c = answer.cAxisAngstrom!;
    expect(Math.abs(c.value - 11.69)).toBeLessThan(2 * c.standardUncertainty);
    expect(answer.phases.find((phase) => phase.id === 'Y2O3')?.answer).toBe('present');
    expect(answer.phases.filter((phase) => phase.answer === 'present').map((phase) => phase.id)).toEqual([
      'YBa2Cu3O7',
      'Y2O3',
    ]);
  });

  it('is the same for the same request', () => {
    expect(ask(diffractionScan.example as Record<string, unknown>)).toEqual(answer);
  });

  it('gives background and fit for every point, in the order of the request', () => {
    const turned = ask({
      ...(diffractionScan.example as object),
      twoThetaDeg: example.twoThetaDeg.toReversed(),
      counts: example.counts.toReversed(),
    });
    expect(Array.from(turned.fit)).toEqual(Array.from(answer.fit).reverse());
    expect(Array.from(answer.background)).toHaveLength(example.counts.length);
    expect(codes(turned)).toContain('SCAN_FALLING');
  });

  it('gives the same c in any unit of intensity, and areas in that unit', () => {
    const scaled = ask({
      ...(diffractionScan.example as object),
      counts: example.counts.map((count) => count * 1.3e-9),
    });
    expect(scaled.cAxisAngstrom!.value).toBeCloseTo(answer.cAxisAngstrom!.value, 3);
    const area = (one: typeof answer): number =>
      one.peaks.find((peak) => peak.label === '123 (005)')!.areaCountsDeg.value;
    expect(area(scaled) / area(answer) / 1.3e-9).toBeCloseTo(1, 1);
  });

  it('gives oxygen for Y only, with the relation’s scatter, and says why not for another', () => {
    expect(answer.oxygen!.standardUncertainty).toBeGreaterThanOrEqual(0.1);
    const dysprosium = ask({ ...(diffractionScan.example as object), rareEarth: 'Dy' });
    expect(dysprosium.oxygen).toBeNull();
    expect(codes(dysprosium)).toContain('OXYGEN_NOT_GIVEN');
    expect(dysprosium.phases[0]!.id).toBe('DyBa2Cu3O7');
  });

  it('turns the angle shift into millimetres once the radius is known: s = -D R/2', () => {
    const withRadius = ask({ ...(diffractionScan.example as object), optics: { radiusMm: 240 } });
    const shiftRad = (withRadius.displacementShiftDeg!.value * Math.PI) / 180;
    expect(withRadius.displacementMm!.value).toBeCloseTo((-shiftRad * 240) / 2, 12);
    expect(answer.displacementMm).toBeNull();
    expect(codes(answer)).toContain('DISPLACEMENT_NEEDS_RADIUS');
  });

  it('flags every quantity it does not give', () => {
    expect(answer.phases.every((phase) => phase.share === null)).toBe(true);
    expect(codes(answer)).toContain('PHASE_SHARE_NOT_GIVEN');
  });

  it('measures c with cobalt radiation as well', () => {
    // The same planes, seen by a longer wavelength: angles turned by Bragg's law.
    const scan = simulateScan({ lines: filmLines(11.7, 600), seed: 21 });
    const turned = scan.twoThetaDeg.map((angle) => {
      const sine = Math.sin((angle * Math.PI) / 360) * (1.788996 / 1.5405929);
      return (Math.asin(sine) * 360) / Math.PI;
    });
    const cobalt = ask({ twoThetaDeg: turned, counts: scan.counts, anode: 'Co', rareEarth: 'Y' });
    expect(cobalt.wavelengthAngstrom).toBe(1.788996);
    expect(Math.abs(cobalt.cAxisAngstrom!.value - 11.7)).toBeLessThan(
      3 * cobalt.cAxisAngstrom!.standardUncertainty + 0.002,
    );
  });

  it('says of an unknown candidate that it cannot say, and lists those it knows', () => {
    const asked = ask({ ...(diffractionScan.example as object), candidates: ['NaCl'] });
    expect(asked.phases.find((phase) => phase.id === 'NaCl')?.answer).toBe('cannot say');
    expect(asked.flags.find((flag) => flag.code === 'CANDIDATE_UNKNOWN')?.message).toMatch(/Y2BaCuO5/);
  });

  it('accepts missing counts and says that they were left out', () => {
    const counts: (number | null)[] = [...example.counts];
    counts[10] = null;
    expect(codes(ask({ ...(diffractionScan.example as object), counts }))).toContain('SCAN_MISSING');
  });

  it('refuses a scan with an angle for every count but one', () => {
    expect(() => ask({ ...(diffractionScan.example as object), counts: example.counts.slice(1) })).toThrow(
      /SCAN_LENGTHS.*740 counts/,
    );
  });
});
