import { describe, expect, it } from 'vitest';
import type { Fact, Facts } from '../../src/records/criteria.ts';
import { resultLine } from '../../src/web/result-line.ts';

const fact = (name: Fact['name'], value: number, u: number | null, at?: Fact['at']): Fact => ({
  name,
  value,
  standardUncertainty: u,
  origin: 'measured',
  method: '',
  ...(at ? { at } : {}),
});
const facts = (...numbers: Fact[]): Facts => ({ numbers, phases: [] });

describe('resultLine', () => {
  it('writes midpoint, width and zero of a resistance with their uncertainties', () => {
    const found = facts(
      fact('tcZeroK', 88.1, 0.05),
      fact('tcMidpointK', 89.34, 0.021),
      fact('transitionWidthK', 0.81, 0.02),
    );
    expect(resultLine('resistance', found)).toBe(
      'Tc midpoint 89.340 ± 0.021 K; Transition width 10-90 % 0.810 ± 0.020 K; Tc zero 88.100 ± 0.050 K',
    );
  });

  it('turns a current density of 2.4e10 A/m2 into 2.4 MA/cm2 and says where it was read', () => {
    const found = facts(fact('jcAPerM2', 2.4e10, 2e9, { temperatureK: 77, fieldT: 0 }));
    expect(resultLine('current-voltage', found)).toBe('Jc 2.40 ± 0.20 MA/cm² at 77 K, self-field');
  });

  it('keeps a bound a bound', () => {
    const found = facts({ ...fact('jcAPerM2', 1e10, null), bound: 'above' });
    expect(resultLine('current-voltage', found)).toBe('Jc > 1 MA/cm²');
  });

  it('lets the lowest and the highest field speak for a loop', () => {
    const at = (fieldT: number) => fact('jcAPerM2', 1e10 / (1 + fieldT), null, { fieldT });
    expect(resultLine('magnetisation loop', facts(at(5), at(0), at(2)))).toBe(
      'Jc 1 MA/cm² at self-field; Jc 0.1667 MA/cm² at 5 T',
    );
  });

  it('names the phases seen in a scan, and no phase that is absent', () => {
    const found: Facts = {
      numbers: [],
      phases: [
        { phase: 'CuO', answer: 'present', origin: 'measured' },
        { phase: 'BaCuO2', answer: 'absent', origin: 'measured' },
      ],
    };
    expect(resultLine('diffraction scan', found)).toBe('seen: CuO');
  });
});
