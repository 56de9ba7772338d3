import { describe, expect, it } from 'vitest';
import { growthPath } from '../../src/computations/growth/path.ts';
import type { Segment } from '../../src/records/kinds.ts';
import { toWire } from '../../src/runner/wire.ts';
import type { PathAnswer } from '../../src/web/path/path-request.ts';
import { askedPlaces, crossingsOf, pathSentences, recordedAsk } from '../../src/web/plane/path-sentences.ts';

const segment = (kind: Segment['kind'], toC: number, durationS: number, po2Atm: number): Segment => ({
  kind,
  toC,
  durationS,
  po2Atm,
  gas: '',
});
const PATH = [
  segment('ramp', 850, 825, 1e-5),
  segment('gas change', 850, 10, 1e-2),
  segment('cool', 25, 1650, 1e-2),
];

/** What growth.path says along recorded steps, asked of a few members. */
function asked(segments: readonly Segment[], startC = 25) {
  const { request, stepOf } = recordedAsk(segments, startC);
  const ask = { ...request, cations: { Y: 1, Ba: 3, Cu: 6 }, members: 8 };
  const answer = toWire(growthPath.run(growthPath.request.parse(ask))) as unknown as PathAnswer;
  const { liquid, liquidS, liquidWith123S, liquidSpans: spans, flags } = answer;
  return {
    places: askedPlaces({ ...liquid!, liquidS, liquidWith123S, spans, flags }, stepOf),
    odds: liquid!.odds,
  };
}

describe('the places asked along a recorded path', () => {
  const { places } = asked(PATH);

  it('stand at both ends of each recorded step, at most 17 K apart, and not below 600 °C', () => {
    expect(places[0]!.temperatureC).toBeGreaterThanOrEqual(600);
    const ramp = places.filter((place) => place.segment === 0);
    expect(ramp.at(-1)).toMatchObject({ timeS: 825 });
    expect(ramp.at(-1)!.temperatureC).toBeCloseTo(850, 9);
    expect(ramp.at(-1)!.po2Atm).toBeCloseTo(1e-5, 12);
    for (let i = 1; i < ramp.length; i++)
      expect(ramp[i]!.temperatureC - ramp[i - 1]!.temperatureC).toBeLessThanOrEqual(17);
    const gas = places.filter((place) => place.segment === 1).map(({ timeS }) => timeS);
    expect([gas[0], gas.at(-1)]).toEqual([825, 835]);
    expect(places.at(-1)!.temperatureC).toBeGreaterThanOrEqual(600);
  });

  it('are none without oxygen and none in a path that stays cold', () => {
    expect(asked([segment('hold', 900, 60, 0)]).places).toEqual([]);
    expect(asked([segment('hold', 450, 60, 1)]).places).toEqual([]);
    expect(pathSentences([], [], [])[0]).toContain('nothing was asked');
  });
});

describe('when liquid appears and vanishes', () => {
  const places = [
    { segment: 0, timeS: 0, temperatureC: 800, po2Atm: 1e-5 },
    { segment: 0, timeS: 10, temperatureC: 810, po2Atm: 1e-5 },
    { segment: 1, timeS: 10, temperatureC: 810, po2Atm: 1 },
  ];

  it('is where the odds cross one half, linear between two places', () => {
    const [first, second] = crossingsOf(places, [0.2, 0.8, 0.1]);
    expect(first).toMatchObject({ isAppearing: true, temperatureC: 805, isByGas: false });
    expect(first!.timeS).toBeCloseTo(5, 9);
    expect(second).toMatchObject({ isAppearing: false, temperatureC: 810, isByGas: true, segment: 1 });
  });

  it('is said in words, with the gas that did it', () => {
    const words = pathSentences(places, [0.2, 0.8, 0.1], PATH);
    expect(words[0]).toBe(
      'Liquid becomes likely at 805 °C in 7.6 mTorr, 5 s after the start (step 1, ramp).',
    );
    expect(words[1]).toContain('is likely gone at 810 °C when the gas becomes 1 atm');
  });

  it('is never where the odds stay low, and the highest are said', () => {
    expect(pathSentences(places, [0.1, 0.3, 0], PATH)).toEqual([
      'Liquid is never likely along this path: its odds are highest, 30 %, at 810 °C and 7.6 mTorr (step 1).',
    ]);
  });

  it('are the odds at one place where a run records no path', () => {
    const run = [segment('hold', 810, 0, 1e-5)];
    expect(pathSentences(asked(run, 810).places, [0.4, 0.4], run)).toEqual([
      'At 810 °C and 7.6 mTorr the odds of liquid are 40 %; the record does not say how it came there.',
    ]);
  });

  it('says so where liquid is left at the end', () => {
    expect(pathSentences(places, [0.1, 0.9, 0.9], PATH).at(-1)).toContain('still likely');
  });
});
