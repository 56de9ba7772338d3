import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { currentLoop } from '../../../src/computations/current/loop.ts';
import { currentVoltage } from '../../../src/computations/current/voltage.ts';
import { DomainError } from '../../../src/science/errors.ts';

describe('current.voltage', () => {
  it('answers its example in its own schema', () => {
    const response = currentVoltage.run(currentVoltage.request.parse(currentVoltage.example));
    const onWire = { ...response, curve: Array.from(response.curve) };
    expect(currentVoltage.response.parse(onWire)).toEqual(onWire);
    expect(response.ic!.value).toBeCloseTo(0.4, 2);
  });

  it('answers any columns with numbers that the wire can carry, or refuses them in words', () => {
    const column = fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 8, maxLength: 40 });
    fc.assert(
      fc.property(column, column, (currents, voltages) => {
        const n = Math.min(currents.length, voltages.length);
        try {
          const response = currentVoltage.run(
            currentVoltage.request.parse({
              currentA: currents.slice(0, n),
              voltageV: voltages.slice(0, n),
              tapDistanceM: 1e-3,
            }),
          );
          const curve = Array.from(response.curve, (v) => (Number.isNaN(v) ? null : v));
          expect(currentVoltage.response.safeParse({ ...response, curve }).success).toBe(true);
        } catch (error) {
          expect(error).toBeInstanceOf(DomainError);
        }
      }),
      { numRuns: 200, seed: 7 },
    );
  });
});

describe('current.loop', () => {
  it('answers its example in its own schema', () => {
    const response = currentLoop.run(currentLoop.request.parse(currentLoop.example));
    expect(currentLoop.response.parse(response)).toEqual(response);
    expect(response.flags.map((flag) => flag.code)).toEqual(['SELF_FIELD_ROUNDED']);
  });
});
