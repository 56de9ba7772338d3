import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAxis } from '../../src/charts/axis.ts';
import { decadeText, shortNumber, uncertainText } from '../../src/charts/number-text.ts';

const spec = (kind: 'linear' | 'log' | 'sqrt', domain?: readonly [number, number]) => ({
  label: 'E',
  unit: 'V/m',
  kind,
  ...(domain ? { domain } : {}),
});
const texts = (axis: ReturnType<typeof makeAxis>) =>
  axis.ticks.map(({ text }) => text).filter((text) => text !== '');

describe('makeAxis', () => {
  it.each(['linear', 'log', 'sqrt'] as const)(
    'has finite ticks inside its range and a way back, on a %s axis over any data',
    (kind) => {
      const value = fc.double({ min: 1e-30, max: 1e30, noNaN: true });
      fc.assert(
        fc.property(fc.array(value, { minLength: 1, maxLength: 8 }), (values) => {
          const axis = makeAxis(spec(kind), [values], [0, 600], 0.05, 60);
          for (const { at } of axis.ticks) expect(at >= -1e-6 && at <= 600 + 1e-6).toBe(true);
          for (const one of values) {
            const at = axis.at(one);
            expect(at >= -1e-6 && at <= 600 + 1e-6).toBe(true);
            const span = kind === 'log' ? one : axis.domain[1] - axis.domain[0];
            expect(Math.abs(axis.invert(at) - one)).toBeLessThanOrEqual(1e-9 * span);
          }
        }),
      );
    },
  );

  it('names the decades of a log axis and leaves the digits between them unnamed', () => {
    const axis = makeAxis(spec('log', [1e-6, 1e-2]), [], [0, 600], 0, 60);
    expect(texts(axis)).toEqual(['10⁻⁶', '10⁻⁵', '10⁻⁴', '10⁻³', '10⁻²']);
    expect(axis.ticks.length).toBe(5 + 4 * 8);
  });

  it('steps over decades where there are too many, and keeps the round ones', () => {
    const named = texts(makeAxis(spec('log', [1e-30, 1e30]), [], [0, 600], 0, 60));
    expect(named).toContain('10⁰');
    expect(named.length).toBeLessThanOrEqual(11);
  });

  it('gives a log axis within one decade even ticks', () => {
    expect(texts(makeAxis(spec('log', [2, 5]), [], [0, 300], 0, 60))).toEqual([
      '2.0',
      '2.5',
      '3.0',
      '3.5',
      '4.0',
      '4.5',
      '5.0',
    ]);
  });

  it('takes a common power of ten out of large numbers and says so in the title', () => {
    const axis = makeAxis(spec('linear', [0, 3e10]), [], [0, 300], 0, 60);
    expect(axis.title).toBe('E (10⁹ V/m)');
    expect(texts(axis)).toEqual(['0', '5', '10', '15', '20', '25', '30']);
  });

  it('shows nothing for a missing, infinite or, on a log axis, non-positive number', () => {
    const axis = makeAxis(spec('log', [1, 100]), [], [0, 300], 0, 60);
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, 0, -1]) expect(axis.at(value)).toBeNaN();
  });

  it.each(['linear', 'log', 'sqrt'] as const)(
    'has a usable %s domain for no data, one point, and only missing ones',
    (kind) => {
      for (const values of [[], [7], [0], [Number.NaN, Number.NaN], [-3]]) {
        const { domain, ticks } = makeAxis(spec(kind), [values], [0, 300], 0.05, 60);
        expect(domain[1]).toBeGreaterThan(domain[0]);
        expect(ticks.length).toBeGreaterThan(0);
      }
    },
  );

  it('falls back to the data where the stated domain is empty or impossible', () => {
    expect(makeAxis(spec('log', [0, 10]), [[1, 10]], [0, 300], 0, 60).domain).toEqual([1, 10]);
    expect(makeAxis(spec('linear', [3, 3]), [[1, 10]], [0, 300], 0, 60).domain).toEqual([1, 10]);
  });
});

describe('numbers as text', () => {
  it('has a true minus sign, raised powers and no false digits', () => {
    expect(shortNumber(-0.00001234)).toBe('−1.234×10⁻⁵');
    expect(shortNumber(12.5)).toBe('12.5');
    expect(shortNumber(0)).toBe('0');
    expect(shortNumber(Number.NaN)).toBe('not known');
    expect(decadeText(-3, false)).toBe('10⁻³');
    expect(decadeText(-2, true)).toBe('0.01');
  });

  it('writes an uncertainty to two figures and the value to its place', () => {
    expect(uncertainText(3.98312, 0.1378)).toBe('3.98 ± 0.14');
    expect(uncertainText(91.234, 0.0051)).toBe('91.2340 ± 0.0051');
    expect(uncertainText(1.8950123, 6.1e-6)).toBe('1.8950123 ± 0.0000061');
    expect(uncertainText(5, null)).toBe('5');
  });
});
