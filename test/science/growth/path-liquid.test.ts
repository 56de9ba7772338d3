import { describe, expect, it } from 'vitest';
import { memberEquilibria } from '../../../src/science/equilibrium/assemblage.ts';
import { publishedMembers } from '../../../src/science/equilibrium/members.ts';
import { placeSegments, samplePath } from '../../../src/science/growth/path.ts';
import { activitiesAlong } from '../../../src/science/growth/path-activities.ts';
import { liquidAlong } from '../../../src/science/growth/path-liquid.ts';

const MEMBERS = publishedMembers(0, 8);
const FILM = { rareEarth: 'Y' as const };
const SHARES = [0.1, 0.3, 0.6] as const;
const START = { temperatureC: 860, po2Atm: 0.21 };
const RAMP = placeSegments(START, [{ kind: 'ramp', toC: 1020, durationS: 160 }]);

const hasLiquid = (temperatureC: number): boolean[] =>
  memberEquilibria(MEMBERS, { ...FILM, temperatureK: temperatureC + 273.15, po2Atm: 0.21 }, SHARES).map(
    ({ point }) => point.phases.some(({ name }) => name === 'liquid'),
  );

describe('liquid along a path', () => {
  it('is there as long as each member is above its own melting, found by scanning in half kelvins', () => {
    const times = MEMBERS.map(() => 0);
    for (let temperatureC = 860.25; temperatureC < 1020; temperatureC += 0.5)
      hasLiquid(temperatureC).forEach((is, m) => {
        times[m]! += is ? 0.5 : 0; // 1 K takes 1 s
      });
    const mean = times.reduce((sum, time) => sum + time, 0) / times.length;
    const spread = Math.sqrt(times.reduce((sum, time) => sum + (time - mean) ** 2, 0) / times.length);
    const { liquidS } = liquidAlong(samplePath(RAMP, START), RAMP, MEMBERS, FILM, SHARES);
    expect(Math.abs(liquidS.value - mean)).toBeLessThan(1);
    expect(Math.abs(liquidS.standardUncertainty - spread)).toBeLessThan(1);
  });

  it('lasts exactly a hold above every melting, and nothing of one below', () => {
    const hold = placeSegments({ temperatureC: 1050, po2Atm: 0.21 }, [{ kind: 'hold', durationS: 77 }]);
    const found = liquidAlong(
      samplePath(hold, { temperatureC: 1050, po2Atm: 0.21 }),
      hold,
      MEMBERS,
      FILM,
      SHARES,
    );
    expect(found.liquidS).toEqual({ value: 77, standardUncertainty: 0 });
    expect(found.spans).toEqual([{ fromS: 0, toS: 77, segment: 0 }]);
    const cold = placeSegments({ temperatureC: 500, po2Atm: 0.21 }, [{ kind: 'hold', durationS: 77 }]);
    const none = liquidAlong(
      samplePath(cold, { temperatureC: 500, po2Atm: 0.21 }),
      cold,
      MEMBERS,
      FILM,
      SHARES,
    );
    expect(none.liquidS).toEqual({ value: 0, standardUncertainty: 0 });
    expect(none.places).toEqual([]);
    expect(none.unasked).toBe(2);
  });

  it('is not bridged over a cold stretch between two hot ones', () => {
    const segments = placeSegments({ temperatureC: 1050, po2Atm: 0.21 }, [
      { kind: 'hold', durationS: 10 },
      { kind: 'cool', toC: 25, durationS: 100 },
      { kind: 'ramp', toC: 1050, durationS: 100 },
      { kind: 'hold', durationS: 10 },
    ]);
    const { spans } = liquidAlong(
      samplePath(segments, { temperatureC: 1050, po2Atm: 0.21 }),
      segments,
      MEMBERS,
      FILM,
      SHARES,
    );
    expect(spans.map(({ segment }) => segment)).toEqual([0, 2]);
    expect(spans[0]!.toS).toBeLessThan(40);
    expect(spans[1]!.fromS).toBeGreaterThan(190);
  });
});

describe('activities along a path', () => {
  const path = samplePath(RAMP, START);

  it('are 1 of copper where its oxide is there by itself, and below 1 of BaO in 123', () => {
    const { activityBaO, activityCu } = activitiesAlong(path, 'as the path', MEMBERS, FILM, SHARES, 20);
    expect(activityCu[0]).toBeCloseTo(1, 6); // Y:Ba:Cu 1:3:6 holds CuO below its melting
    expect(activityBaO[0]).toBeLessThan(0.1);
  });

  it('scatter by what the members say: not at all for one member', () => {
    const one = activitiesAlong(path, 'as the path', MEMBERS.slice(0, 1), FILM, SHARES, 20);
    expect([one.relativeUBa, one.relativeUCu]).toEqual([0, 0]);
    expect(activitiesAlong(path, 'as the path', MEMBERS, FILM, SHARES, 20).relativeUBa).toBeGreaterThan(0);
  });

  it('are held where nothing can be asked, and 1 where nothing could', () => {
    const cold = placeSegments({ temperatureC: 20, po2Atm: 0.21 }, [
      { kind: 'ramp', toC: 700, durationS: 68 },
    ]);
    const warm = activitiesAlong(
      samplePath(cold, { temperatureC: 20, po2Atm: 0.21 }),
      'as the path',
      MEMBERS,
      FILM,
      SHARES,
      70,
    );
    expect(warm.unasked).toBeGreaterThan(0);
    const first = warm.places[0]!;
    const after = warm.activityBaO.find((_, i) => samplePath(cold, START).timeS[i]! >= first.timeS)!;
    expect(warm.activityBaO[0]! / after).toBeCloseTo(1, 1);
    const never = placeSegments({ temperatureC: 20, po2Atm: 0.21 }, [{ kind: 'hold', durationS: 68 }]);
    expect(
      activitiesAlong(
        samplePath(never, { temperatureC: 20, po2Atm: 0.21 }),
        'as the path',
        MEMBERS,
        FILM,
        SHARES,
        70,
      ).activityBaO[0],
    ).toBe(1);
  });
});
