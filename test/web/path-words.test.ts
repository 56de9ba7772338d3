import { describe, expect, it } from 'vitest';
import { growthPath } from '../../src/computations/growth/path.ts';
import type { Chamber } from '../../src/records/kinds.ts';
import { toWire } from '../../src/runner/wire.ts';
import { filmPlaces, likelySpans } from '../../src/web/path/film-places.ts';
import { mapRange } from '../../src/web/path/map-range.ts';
import { chamberLog, logRows } from '../../src/web/path/path-log.ts';
import { missingOfChamber, type PathAnswer, pathRequest, readingC } from '../../src/web/path/path-request.ts';
import {
  chamberSentences,
  courseSentence,
  liquidSentences,
  otherRemarks,
} from '../../src/web/path/path-words.ts';

const CHAMBER: Chamber = {
  label: 'PLD 1',
  volumeL: { value: 50, standardUncertainty: 2 },
  oxygenFlowSccm: { value: 100, standardUncertainty: 1 },
  pumpingWhileFillingLPerS: null,
  pumpingLPerS: { value: 20, standardUncertainty: 5 },
  gasC: 25,
  thermalLagS: { value: 3, standardUncertainty: 1 },
  temperaturePlace: 'heater block',
  offsetK: { value: -20, standardUncertainty: 8 },
  pressureKind: 'total',
  gauge: '',
  oxygenShare: 0.5,
  note: '',
};
const PLAN = {
  start: { temperatureC: 400, po2Atm: 1e-5 },
  segments: [
    { kind: 'ramp' as const, toC: 850, rateKPerMin: 300 },
    { kind: 'hold' as const, durationS: 30 },
    { kind: 'gas' as const, toPo2Atm: 2e-4, durationS: 1 },
    { kind: 'hold' as const, durationS: 2 },
    { kind: 'cool' as const, toC: 450, rateKPerMin: 60 },
  ],
};

function answerOf(chamber: Chamber | null, log: Parameters<typeof pathRequest>[2] = null): PathAnswer {
  return toWire(growthPath.run(growthPath.request.parse(pathRequest(PLAN, chamber, log)))) as PathAnswer;
}

describe('what a path does, in words', () => {
  it('says how long it takes and when the film is hottest', () => {
    expect(courseSentence(answerOf(null))).toBe(
      'The path takes 8.72 min; the film is hottest, 850 °C, from 90 s to 124 s.',
    );
  });

  it('says in pressures and kelvins what the chamber cannot follow', () => {
    const words = chamberSentences(answerOf(CHAMBER)).join(' ');
    expect(words).toMatch(
      /At the end of step 4 \(hold\) the chamber stands at .* mTorr, not at the 152 mTorr commanded/,
    );
    expect(words).toMatch(/this chamber needs .* ± .* s; step 3 gives it 1 s/);
    // 300 K/min through 3 s is 15 K behind
    expect(words).toMatch(/At the end of step 1 \(ramp\) the film is 15\.\d ± 5\.\d K colder than commanded/);
    expect(chamberSentences(answerOf(null))).toEqual([]);
  });

  it('never writes the name of a field', () => {
    const bare = { ...CHAMBER, volumeL: { value: 50, standardUncertainty: null } };
    const remarks = otherRemarks(answerOf(bare).flags).join(' ');
    expect(remarks).toMatch(/No uncertainty is stated of volume/);
    expect(remarks).not.toMatch(/volumeL|segments\[/);
  });

  it('says when liquid comes and goes, at which temperature and oxygen', () => {
    const answer = answerOf(null);
    const none = { flags: [], share: [], liquidS: null, liquidWith123S: null, oddsWith123: [] };
    const likely = liquidSentences(answer, {
      ...none,
      timeS: [80, 100, 150],
      odds: [0, 1, 0],
      spans: [{ fromS: 90, toS: 125, segment: 1 }],
    });
    expect(likely[0]).toMatch(
      /^Liquid is likely for 35 s: it comes after 90 s at 850 °C, 7\.6 mTorr \(step 2, hold\) and goes after 125 s at 8\d\d °C, 152 mTorr\.$/,
    );
    const never = liquidSentences(answer, { ...none, timeS: [80, 100], odds: [0.1, 0.3], spans: [] });
    expect(never[0]).toMatch(/^Liquid is never likely: its odds are highest, 30 %, after 100 s at 850 °C/);
    expect(liquidSentences(answer, { ...none, timeS: [80], odds: [0], spans: [] })[0]).toMatch(
      /in no member/,
    );
    const cold = { ...answer, filmTemperatureC: answer.filmTemperatureC.map(() => 450) };
    expect(liquidSentences(cold, { ...none, timeS: [], odds: [], spans: [] })[0]).toMatch(
      /never reaches 600 °C/,
    );
  });
});

describe('the places asked along the path at the film', () => {
  it('lie at most 10 K or 0.2 decades apart while it is hot, and none below 600 °C', () => {
    const places = filmPlaces(answerOf(CHAMBER));
    expect(places.length).toBeGreaterThan(20);
    expect(places.length).toBeLessThanOrEqual(120);
    for (const { temperatureC } of places) expect(temperatureC).toBeGreaterThanOrEqual(600);
    for (let i = 1; i < places.length; i++) {
      const [one, next] = [places[i - 1]!, places[i]!];
      expect(Math.abs(next.temperatureC - one.temperatureC)).toBeLessThan(14);
      expect(next.timeS).toBeGreaterThanOrEqual(one.timeS);
    }
  });

  it('bound the likely stretches by straight lines between them', () => {
    const place = (timeS: number) => ({ segment: 0, timeS, temperatureC: 800, po2Atm: 1e-3 });
    const spans = likelySpans([place(0), place(10), place(20), place(30)], [0, 1, 0, 0.9]);
    expect(spans.map(({ fromS, toS }) => [fromS, toS])).toEqual([
      [5, 15],
      [20 + (10 * 0.5) / 0.9, 30],
    ]);
    expect(likelySpans([place(0), place(10)], [1, 1])).toEqual([{ fromS: 0, toS: 10, segment: 0 }]);
    expect(likelySpans([place(0)], [0.1])).toEqual([]);
  });
});

describe('the part of the plane shown', () => {
  it('is the usual one, and wider where the hot path leaves it', () => {
    expect(mapRange(answerOf(null))).toMatchObject({ fromC: 700, toC: 1050, toAtm: 1 });
    const answer = answerOf(null);
    const wide = mapRange({
      ...answer,
      filmTemperatureC: answer.filmTemperatureC.map((atC) => atC + 300),
      filmLog10Po2Atm: answer.filmLog10Po2Atm.map((log) => log - 2),
    });
    expect(wide.toC).toBe(1200);
    expect(wide.fromAtm).toBeLessThanOrEqual(1e-7);
  });
});

describe('a chamber', () => {
  it('reads the surface minus its offset, and the surface itself where it says so', () => {
    expect(readingC(780, CHAMBER)).toBe(800);
    expect(readingC(780, { ...CHAMBER, temperaturePlace: 'surface' })).toBeNull();
    expect(readingC(780, null)).toBeNull();
  });

  it('without its volume is not asked to follow the gas, and says so', () => {
    const chamber = { ...CHAMBER, volumeL: null };
    expect(missingOfChamber(chamber)).toEqual({ gas: ['its volume'], lag: false });
    expect(pathRequest(PLAN, chamber, null)).toMatchObject({ chamber: { thermalLagS: { value: 3 } } });
    expect(pathRequest(PLAN, chamber, null)).not.toHaveProperty('chamber.gas');
  });
});

describe('a chamber log beside the plan', () => {
  const view = {
    roles: ['timeS', 'temperatureK', 'pressurePa'],
    columns: [
      [1000, 1030, 1060, 1090, null, 1110],
      [420 + 273.15, 578 + 273.15, null, 866 + 273.15, 1, 880 + 273.15],
      [2.0265, 2.0265, 2.0265, 0, 1, 2.0265],
    ],
    measurement: { body: { settings: {} } },
  } as unknown as Parameters<typeof chamberLog>[0];

  it('is turned to the surface, to oxygen and to the time of the plan', () => {
    const log = chamberLog(view, CHAMBER, null)!;
    expect(log.firstS).toBe(1000);
    expect(log.asked.timeS).toEqual([0, 30, 60, 90, 110]);
    expect(log.asked.temperatureC![0]).toBeCloseTo(400, 9);
    expect(log.asked.temperatureC![2]).toBeNull();
    // half of 2.0265 Pa is 1e-5 atm
    expect(log.asked.log10Po2Atm![0]).toBeCloseTo(-5, 9);
    expect(log.asked.log10Po2Atm![3]).toBeNull();
    expect(log.asked.temperatureUK).toBe(8);
    expect(chamberLog(view, null, 1030)!.asked.timeS[0]).toBe(-30);
  });

  it('gives the largest deviation of each step and says where nothing can be told', () => {
    const { asked } = chamberLog(view, CHAMBER, null)!;
    const answer = answerOf(CHAMBER, asked);
    const rows = logRows(answer, asked);
    expect(rows[0]).toMatchObject({ step: 1, readings: 4, isUnseen: false });
    expect(rows[0]!.temperature!.value).toBeCloseTo(8, 6); // 30 s at 300 K/min is 550 degC; logged 558
    expect(rows[1]!.temperature!.value).toBeCloseTo(10, 6);
    expect(rows[1]!.isUnseen).toBe(true);
    expect(rows[4]).toMatchObject({ temperature: null, readings: 0, isUnseen: true });
    const largest = Math.max(...rows.map(({ temperature }) => Math.abs(temperature?.value ?? 0)));
    expect(answer.log!.temperature!.largest!.value).toBeCloseTo(largest, 9);
  });
});
