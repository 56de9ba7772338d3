import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type PathSegment, placeSegments, samplePath } from '../../../src/science/growth/path.ts';
import { isAsked, pathPlaces, placeAt, stepsApart } from '../../../src/science/growth/path-places.ts';

const START = { temperatureC: 25, po2Atm: 1e-5 };
const pathOf = (segments: readonly PathSegment[]) => {
  const placed = placeSegments(START, segments);
  return { placed, path: samplePath(placed, START) };
};

describe('places along a path', () => {
  it('lie no more than 10 K and a quarter of a decade apart within a segment, at both of its ends at least', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.oneof(
            fc.record({
              kind: fc.constant('ramp' as const),
              toC: fc.integer({ min: 0, max: 1000 }),
              durationS: fc.integer({ min: 1, max: 500 }),
            }),
            fc.record({
              kind: fc.constant('gas' as const),
              toPo2Atm: fc.constantFrom(1e-6, 1e-3, 0.21, 1),
              durationS: fc.integer({ min: 0, max: 100 }),
            }),
            fc.record({ kind: fc.constant('hold' as const), durationS: fc.integer({ min: 0, max: 100 }) }),
          ),
          { minLength: 1, maxLength: 6 },
        ),
        (segments) => {
          const { placed, path } = pathOf(segments);
          const places = pathPlaces(path, placed, 10_000);
          for (let i = 1; i < places.length; i++) {
            expect(places[i]!.timeS).toBeGreaterThanOrEqual(places[i - 1]!.timeS);
            if (places[i]!.segment === places[i - 1]!.segment)
              expect(stepsApart(places[i - 1]!, places[i]!)).toBeLessThanOrEqual(1 + 1e-6);
          }
          placed.forEach(({ startS, endS, toC }, segment) => {
            const own = places.filter((place) => place.segment === segment);
            const ends = own.length === 0 ? [] : [own[0]!.timeS, own.at(-1)!.timeS];
            expect(ends).toEqual(endS === startS ? [] : [startS, endS]);
            const lastK = own.at(-1)?.temperatureK ?? toC + 273.15; // a step has no place of its own
            expect(lastK).toBeCloseTo(toC + 273.15, 9);
          });
        },
      ),
      { numRuns: 60 },
    );
  });

  it('follow a gas change in its logarithm and see both sides of a step', () => {
    const { placed, path } = pathOf([
      { kind: 'ramp', toC: 800, durationS: 80 },
      { kind: 'gas', toPo2Atm: 1 },
      { kind: 'hold', durationS: 10 },
    ]);
    const places = pathPlaces(path, placed, 500);
    expect(places.filter(({ timeS }) => timeS === 80).map(({ log10Po2Atm }) => log10Po2Atm)).toEqual([-5, 0]);
  });

  it('are widened alike where there would be too many', () => {
    const { placed, path } = pathOf([{ kind: 'ramp', toC: 1025, durationS: 1000 }]);
    expect(pathPlaces(path, placed, 22).length).toBeLessThanOrEqual(22);
    expect(pathPlaces(path, placed, 500).length).toBe(101);
  });

  it('are not asked below 600 degC, above 1400 degC or without oxygen', () => {
    const at = (temperatureC: number, log10Po2Atm: number) =>
      isAsked({ temperatureK: temperatureC + 273.15, log10Po2Atm });
    expect([at(599, -1), at(601, -1), at(1399, -1), at(1401, -1), at(800, -13)]).toEqual([
      false,
      true,
      true,
      false,
      false,
    ]);
  });

  it('read a path straight between its samples', () => {
    const { path } = pathOf([{ kind: 'ramp', toC: 825, durationS: 80 }]);
    expect(placeAt(path, 0, 33.3).temperatureK).toBeCloseTo(298.15 + 333, 6);
  });
});
