import { describe, expect, it } from 'vitest';
import { growthLog } from '../../src/computations/growth/log.ts';
import { growthPath } from '../../src/computations/growth/path.ts';
import type { Chamber } from '../../src/records/kinds.ts';
import { toWire } from '../../src/runner/wire.ts';
import { mapRange } from '../../src/web/path/map-range.ts';
import { type ComparedLog, chamberLog, logInPlanTime, logRequest } from '../../src/web/path/path-log.ts';
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

function answerOf(chamber: Chamber | null): PathAnswer {
  return toWire(growthPath.run(growthPath.request.parse(pathRequest(PLAN, chamber)))) as PathAnswer;
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
    const unsaid = { temperatureC: [], log10Po2Atm: [], segment: [], share: [], oddsWith123: [] };
    const none = { ...unsaid, flags: [], liquidS: null, liquidWith123S: null };
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
    expect(pathRequest(PLAN, chamber)).toMatchObject({ chamber: { thermalLagS: { value: 3 } } });
    expect(pathRequest(PLAN, chamber)).not.toHaveProperty('chamber.gas');
  });
});

describe('a chamber log beside the plan', () => {
  /** what a heater block 20 K hotter reads of the plan from 1000 s on, the hold 40 K too hot and no oxygen let in */
  const times = Array.from({ length: 105 }, (_, i) => 940 + 5 * i);
  const plannedC = (timeS: number): number =>
    timeS < 90 ? 400 + 5 * Math.max(0, timeS) : timeS < 123 ? 890 : Math.max(450, 850 - (timeS - 123));
  const view = {
    roles: ['timeS', 'temperatureK', 'pressurePa'],
    columns: [
      [...times, null],
      [...times.map((timeS) => plannedC(timeS - 1000) + 20 + 273.15), 1],
      [...times.map((timeS) => (timeS === 940 ? 0 : 2.0265)), 1],
    ],
    measurement: { body: { settings: {} } },
  } as unknown as Parameters<typeof chamberLog>[0];

  it('is turned to the surface and to oxygen', () => {
    const { asked } = chamberLog(view, CHAMBER)!;
    expect(asked.timeS[0]).toBe(940);
    expect(asked.timeS).toHaveLength(105);
    expect(asked.temperatureC[0]).toBeCloseTo(400, 9);
    // half of 2.0265 Pa is 1e-5 atm
    expect(asked.log10Po2Atm![0]).toBeNull();
    expect(asked.log10Po2Atm![1]).toBeCloseTo(-5, 9);
    expect(asked.temperatureUK).toBe(8);
  });

  it('without the share of oxygen is not compared with the gas, and says so', () => {
    const { asked, remarks } = chamberLog(view, null)!;
    expect(asked).not.toHaveProperty('log10Po2Atm');
    expect(remarks.join(' ')).toMatch(/share of oxygen is not stated/);
  });

  it('is compared by growth.log, which finds where the plan begins and what went otherwise', () => {
    const log = chamberLog(view, CHAMBER)!;
    const compared = toWire(
      growthLog.run(growthLog.request.parse(logRequest(log, PLAN))),
    ) as unknown as ComparedLog;
    expect(Math.abs(compared.alignment!.offset.value - 1000)).toBeLessThan(10);
    expect(compared.deviations.map(({ sentence }) => sentence).join(' ')).toMatch(
      /40.0 ± 8.0 K too hot.*too little oxygen: less by a factor 20/,
    );
    const shown = logInPlanTime(log, compared);
    expect(shown.timeS[12]).toBeCloseTo(1000 - compared.alignment!.offset.value, 9);
    expect(logInPlanTime(log, null).timeS[0]).toBe(0);
  });
});
