import { describe, expect, it } from 'vitest';
import { equilibriumAssemblage } from '../../../src/computations/equilibrium/assemblage.ts';
import { growthCoarsening } from '../../../src/computations/growth/coarsening.ts';
import { growthCracking } from '../../../src/computations/growth/cracking.ts';
import { growthEvaporation } from '../../../src/computations/growth/evaporation.ts';
import { growthLimit } from '../../../src/computations/growth/limit.ts';
import { growthPath } from '../../../src/computations/growth/path.ts';
import { withStored } from '../../../src/runner/prepare.ts';
import { MELT_MEMBERS } from '../../../src/science/tables/melt-members.ts';

const codes = ({ flags }: { flags: readonly { code: string }[] }) => flags.map(({ code }) => code);
const CATIONS = { Y: 1, Ba: 3, Cu: 6 };
const MELTING = {
  cations: CATIONS,
  start: { temperatureC: 25, po2Atm: 0.21 },
  segments: [
    { kind: 'ramp', toC: 980, rateKPerMin: 100 },
    { kind: 'hold', durationS: 120 },
    { kind: 'gas', toPo2Atm: 0.02, durationS: 30 },
    { kind: 'cool', toC: 25, rateKPerMin: 20 },
  ],
  members: 12,
};

describe('growth.path through the equilibrium', () => {
  const ask = (changes: object) => growthPath.run(growthPath.request.parse({ ...MELTING, ...changes }));
  const answer = ask({});

  it('agrees at every place with equilibrium.assemblage asked there', () => {
    const { timeS, temperatureC, log10Po2Atm, odds, oddsWith123, share, shareU } = answer.liquid!;
    for (let i = 0; i < timeS.length; i += 3) {
      const there = equilibriumAssemblage.run(
        equilibriumAssemblage.request.parse({
          cations: CATIONS,
          temperatureC: temperatureC[i]!,
          po2Atm: 10 ** log10Po2Atm[i]!,
          members: 12,
        }),
      );
      const oddsOf = (...names: string[]) =>
        Object.entries(there.odds)
          .filter(([field]) => names.every((name) => field.split(' + ').includes(name)))
          .reduce((sum, [, probability]) => sum + probability, 0);
      expect(odds[i]).toBeCloseTo(oddsOf('liquid'), 12);
      expect(oddsWith123[i]).toBeCloseTo(oddsOf('liquid', 'YBa2Cu3O7'), 12);
      expect(share[i]).toBeCloseTo(there.liquidShare.value, 9);
      expect(shareU[i]).toBeCloseTo(there.liquidShare.standardUncertainty, 9);
    }
  });

  it('sums the odds over time to the mean time, within what the crossings leave open', () => {
    const { timeS, odds } = answer.liquid!;
    let sum = 0;
    for (let i = 1; i < timeS.length; i++)
      sum += ((odds[i]! + odds[i - 1]!) / 2) * (timeS[i]! - timeS[i - 1]!);
    expect(sum).toBeCloseTo(answer.liquidS!.value, 6);
    expect(answer.liquidS!.value).toBeGreaterThan(120);
    expect(answer.liquidWith123S!.value).toBeLessThanOrEqual(answer.liquidS!.value);
    expect(answer.liquidS!.standardUncertainty).toBeGreaterThan(0);
  });

  it('crosses even odds at the ends of its spans', () => {
    expect(answer.liquidSpans).toHaveLength(1);
    const { fromS, toS, segment } = answer.liquidSpans[0]!;
    expect(segment).toBe(0);
    expect(toS - fromS).toBeGreaterThan(120);
    const { timeS, odds } = answer.liquid!;
    const inside = odds as Float64Array;
    expect(inside.every((each, i) => each >= 0.5 || timeS[i]! <= fromS || timeS[i]! >= toS)).toBe(true);
  });

  it('stays within some 150 places, half of them never needed twice', () => {
    expect(answer.liquid!.timeS.length).toBeLessThanOrEqual(150);
    expect(codes(answer)).toContain('LIQUID_PARTLY_ASKED');
  });

  it('is not asked without cations, and an ensemble without them is refused', () => {
    const without = ask({ cations: undefined });
    expect([without.liquid, without.liquidS, without.liquidSpans]).toEqual([null, null, []]);
    expect(codes(without)).toContain('LIQUID_NOT_ASKED');
    expect(() => ask({ cations: undefined, heldBack: ['liquid'] })).toThrow(
      /heldBack is given without cations/,
    );
  });

  it('has none where liquid is held back, and sooner where its energy is lowered', () => {
    const held = ask({ heldBack: ['liquid'] });
    expect(held.liquidS!.value).toBe(0);
    expect(codes(held)).toContain('LIQUID_NEVER_LIKELY');
    expect(ask({ offsetsJPerMol: { liquid: -3000 } }).liquidS!.value).toBeGreaterThan(answer.liquidS!.value);
  });

  it('takes an ensemble in full and by the hash of its stored document alike', async () => {
    const ensemble = { members: MELT_MEMBERS.records.slice(0, 12).map((record) => strip(record)) };
    const inline = ask({ ensemble, members: undefined });
    expect(inline.liquidS!.value).toBeCloseTo(answer.liquidS!.value, 6);
    const stored = await withStored({ ...MELTING, ensemble: { blob: 'a'.repeat(64) } }, async () => ensemble);
    expect(growthPath.run(growthPath.request.parse(stored)).liquidS).toEqual(inline.liquidS);
  });

  it('asks about a path in K and refuses offsets beyond 50 kJ/mol', () => {
    const inK = ask({
      cations: undefined,
      start: { temperatureC: 298, po2Atm: 0.2 },
      segments: [
        { kind: 'ramp', toC: 1073, durationS: 100 },
        { kind: 'cool', toC: 298, durationS: 100 },
      ],
    });
    expect(codes(inK)).toContain('TEMPERATURE_PERHAPS_K');
    const refused = growthPath.request.safeParse({ ...MELTING, offsetsJPerMol: { liquid: -1e6 } });
    expect(refused.error?.issues[0]?.path).toEqual(['offsetsJPerMol', 'liquid']);
    expect(refused.error?.issues[0]?.message).toMatch(/50000/);
  });

  it('refuses a log whose readings no film or gas can have, naming the reading', () => {
    const log = (columns: object) => () => ask({ cations: undefined, log: { timeS: [0, 10], ...columns } });
    expect(log({ temperatureC: [25, 1500] })).toThrow(
      /log\.temperatureC\[1\] is 1500.*meant in K, give 1227/,
    );
    expect(log({ log10Po2Atm: [-0.7, 20] })).toThrow(/log\.log10Po2Atm\[1\] is 20.*pressure in Pa/);
    expect(log({ timeS: [10, 0], temperatureC: [25, 30] })).toThrow(/log\.timeS\[1\] is 0 s after 10 s/);
  });
});

/** A record of the table as it stands on the wire. */
function strip(record: (typeof MELT_MEMBERS.records)[number]) {
  const { form, melt, solids, jPerMolPerKelvin, peritecticKPerAngstrom } = record;
  return { form, melt, solids, jPerMolPerKelvin, peritecticKPerAngstrom };
}

describe('growth.evaporation through the equilibrium', () => {
  const ask = (changes: object) =>
    growthEvaporation.run(
      growthEvaporation.request.parse({
        ...(growthEvaporation.example as object),
        members: 12,
        pairs: undefined,
        ...changes,
      }),
    );
  const answer = ask({});

  it('loses less of both than pure oxides would, and says how sure the activities are', () => {
    const pure = ask({ activities: undefined });
    expect(answer.equilibrium.ba1968.firstOrder.value).toBeLessThan(
      0.2 * pure.equilibrium.ba1968.firstOrder.value,
    );
    expect(answer.equilibrium.cu.firstOrder.value).toBeLessThan(pure.equilibrium.cu.firstOrder.value);
    expect(answer.activities!.baRelativeU).toBeGreaterThan(0);
    const { value, standardUncertainty } = answer.equilibrium.ba1968.firstOrder;
    const bare = pure.equilibrium.ba1968.firstOrder;
    expect(standardUncertainty / value).toBeGreaterThan(bare.standardUncertainty / bare.value);
    expect(pure.activities).toBeNull();
  });

  it('agrees with the potentials of equilibrium.assemblage given as such, for one member', () => {
    const path = {
      start: { temperatureC: 850, po2Atm: 2e-4 },
      segments: [{ kind: 'hold', durationS: 60 }],
    };
    const { potentialsJPerMol } = equilibriumAssemblage.run(
      equilibriumAssemblage.request.parse({
        cations: { Y: 1, Ba: 2, Cu: 3 },
        temperatureC: 850,
        po2Atm: 2e-4,
        members: 1,
      }),
    );
    const { ba, cu } = potentialsJPerMol;
    const given = ask({ path, activities: undefined, potentialsJPerMol: { ba, cu } }).equilibrium;
    const asked = ask({ path, members: 1 }).equilibrium;
    expect(asked.ba1968.constant.value / given.ba1968.constant.value).toBeCloseTo(1, 6);
    expect(asked.cu.constant.value / given.cu.constant.value).toBeCloseTo(1, 6);
  });

  it('says where activities are held, and what the starved surface takes', () => {
    expect(codes(answer)).toEqual(expect.arrayContaining(['ACTIVITY_HELD', 'STARVED_ACTIVITIES']));
    expect(codes(answer)).not.toContain('UNIT_ACTIVITY');
  });

  it('says how far activities go for 1 % of Ba or Cu where they jump there, and nothing where they do not', () => {
    const path = {
      start: { temperatureC: 850, po2Atm: 1e-3 },
      segments: [{ kind: 'hold', durationS: 60 }],
    };
    const at = (cations: object) => ask({ path, cations });
    const found = at({ Y: 1, Ba: 2, Cu: 3 }).flags.find(({ code }) => code === 'ACTIVITIES_HANG_ON_RATIO');
    const [least, most] = /between ([\d.]+) and ([\d.]+) \(BaO\)/.exec(found!.message)!.slice(1).map(Number);
    for (const ba of [1.98, 2.02]) {
      const activity = at({ Y: 1, Ba: ba, Cu: 3 }).activities!.ba[0]!;
      expect(activity).toBeGreaterThan(0.999 * least!);
      expect(activity).toBeLessThan(1.001 * most!);
    }
    expect(most! / least!).toBeGreaterThan(2);
    expect(codes(at({ Y: 1, Ba: 2, Cu: 4 }))).not.toContain('ACTIVITIES_HANG_ON_RATIO');
  });

  it('asks for the path of each measured pair of its own', () => {
    const pair = {
      before: { Y: 1, Ba: 2, Cu: 3 },
      after: { Y: 1, Ba: 1.99, Cu: 2.95 },
      relativeRatioU: 0.01,
    };
    const hotter = {
      start: { temperatureC: 900, po2Atm: 2e-4 },
      segments: [{ kind: 'hold', durationS: 60 }],
    };
    const response = ask({ pairs: [pair, { ...pair, path: hotter }] });
    expect(response.empirical!.pairs).toHaveLength(2);
    expect(codes(response)).toContain('PAIRS_AS_FILM');
  });
});

describe('growth.cracking by the energy it frees', () => {
  const ask = (changes: object) =>
    growthCracking.run(growthCracking.request.parse({ ...(growthCracking.example as object), ...changes }));

  it('frees Z sigma^2 h over the plane-strain modulus, 1 + nu times what the biaxial one would say', () => {
    const stated = ask({
      biaxialModulusGPa: 200,
      poissonRatio: 0.25,
      furtherStrain: 0,
    });
    const { stressPa, planeStrainModulusPa, cracks } = stated;
    expect(planeStrainModulusPa!.value).toBeCloseTo(160e9, -3); // 200/(1 + 0.25)
    expect(cracks[0]!.energyReleaseRateJPerM2!.value).toBeCloseTo(
      (1.976 * stressPa!.value ** 2 * 800e-9) / 160e9,
      9,
    );
  });

  it('keeps its critical thickness whatever the Poisson ratio', () => {
    const of = (poissonRatio: number) =>
      ask({ biaxialModulusGPa: 200, poissonRatio }).cracks[0]!.criticalThicknessNm!.value;
    expect(of(0.1)).toBeCloseTo(of(0.4), 9);
  });

  it('asks about a growth temperature in K', () => {
    expect(codes(ask({ growthC: 1193 }))).toContain('TEMPERATURE_PERHAPS_K');
    expect(() => ask({ growthC: 1500 })).toThrow(/growthC is 1500 degC.*give 1227/);
    expect(() => ask({ thicknessNm: -5 })).toThrow(/thicknessNm is -5; allowed is above 0/);
  });
});

describe('growth.coarsening beside the liquid of a path', () => {
  const ask = (changes: object) =>
    growthCoarsening.run(
      growthCoarsening.request.parse({ ...(growthCoarsening.example as object), ...changes }),
    );
  const cubes = ({ startRadiusNm, finalRadiusNm }: ReturnType<typeof ask>) =>
    finalRadiusNm.value ** 3 - startRadiusNm.value ** 3;

  it('grows in the cube by the share of the hold with liquid', () => {
    const half = ask({ liquid: { timeS: [0, 29.25, 30.75, 60], odds: [1, 1, 0, 0] } });
    expect(cubes(half) / cubes(ask({}))).toBeCloseTo(0.5, 2);
    expect(codes(half)).toContain('LIQUID_WEIGHTED');
    expect(codes(ask({}))).toContain('LIQUID_ALL_ALONG');
  });

  it('does not coarsen outside the places that were asked, nor without liquid', () => {
    expect(cubes(ask({ liquid: { timeS: [0, 60], odds: [0, 0] } }))).toBeCloseTo(0, 6);
    expect(cubes(ask({ liquid: { timeS: [0, 30], odds: [1, 1] } })) / cubes(ask({}))).toBeCloseTo(0.5, 1);
  });

  it('carries what is not known of the time, and refuses odds above 1', () => {
    const liquid = { timeS: [0, 60], odds: [1, 1] };
    const sure = ask({ liquid });
    const unsure = ask({ liquid: { ...liquid, liquidS: { value: 60, standardUncertainty: 30 } } });
    expect(unsure.finalRadiusNm.standardUncertainty).toBeGreaterThan(sure.finalRadiusNm.standardUncertainty);
    expect(() => ask({ liquid: { timeS: [0, 60], odds: [1, 2] } })).toThrow(/liquid\.odds\[1\] is 2/);
    expect(() => ask({ liquid: { timeS: [60, 0], odds: [1, 1] } })).toThrow(/liquid\.timeS\[1\] is 0 s/);
  });
});

describe('growth.limit by its odds', () => {
  it('gives each limit the probability that it is the lowest, together 1', () => {
    const { limits, limiting } = growthLimit.run(growthLimit.request.parse(growthLimit.example));
    expect(limits.reduce((sum, { oddsOfLimiting }) => sum + oddsOfLimiting, 0)).toBeCloseTo(1, 9);
    const named = limits.find(({ name }) => name === limiting)!;
    expect(named.oddsOfLimiting).toBe(Math.max(...limits.map(({ oddsOfLimiting }) => oddsOfLimiting)));
  });

  it('asks about K', () => {
    const example = growthLimit.example as object;
    expect(codes(growthLimit.run(growthLimit.request.parse({ ...example, temperatureC: 1123 })))).toContain(
      'TEMPERATURE_PERHAPS_K',
    );
  });
});
