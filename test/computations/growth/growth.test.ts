import { describe, expect, it } from 'vitest';
import type { Computation } from '../../../src/computations/computation.ts';
import { growthCoarsening } from '../../../src/computations/growth/coarsening.ts';
import { growthCracking } from '../../../src/computations/growth/cracking.ts';
import { growthDeposition } from '../../../src/computations/growth/deposition.ts';
import { growthEvaporation } from '../../../src/computations/growth/evaporation.ts';
import { growthLimit } from '../../../src/computations/growth/limit.ts';
import { growthOxygenation } from '../../../src/computations/growth/oxygenation.ts';
import { growthPath } from '../../../src/computations/growth/path.ts';
import { runnerHere } from '../../../src/runner/run-here.ts';

const ENTRIES: readonly Computation[] = [
  growthCoarsening,
  growthCracking,
  growthDeposition,
  growthEvaporation,
  growthLimit,
  growthOxygenation,
  growthPath,
];
const codes = ({ flags }: { flags: readonly { code: string }[] }) => flags.map(({ code }) => code);

describe.each(ENTRIES.map((entry) => [entry.name, entry] as const))('%s', (name, entry) => {
  it('answers its example in its own schema, twice alike', async () => {
    const response = await runnerHere().run(name, entry.example);
    expect(entry.response.safeParse(response).success).toBe(true);
    expect(await runnerHere().run(name, entry.example)).toEqual(response);
  });
});

describe('growth.deposition', () => {
  const ask = (changes: object) =>
    growthDeposition.run(
      growthDeposition.request.parse({ ...(growthDeposition.example as object), ...changes }),
    );

  it('times a source without pulses by its rate', () => {
    const { time, pulses } = ask({
      calibrations: [],
      rateNmPerS: { value: 0.5, standardUncertainty: 0.05 },
      wanted: { thicknessNm: 250 },
    });
    expect(time).toEqual({ value: 500, standardUncertainty: 50, unit: 's' });
    expect(pulses).toBeNull();
  });

  it('names the groups it knows when asked for another', () => {
    expect(() => ask({ wanted: { thicknessNm: 250, group: 'Gd' } })).toThrow(
      /wanted\.group is 'Gd'; known are 'Y-123 at 2 J\/cm2'/,
    );
  });

  it('flags a fluence below the published threshold and a thickness far beyond the films', () => {
    const response = ask({ pulse: { energyMj: 20, spotAreaMm2: 3 }, wanted: { thicknessNm: 5000 } });
    expect(codes(response)).toEqual(
      expect.arrayContaining(['FLUENCE_DEGRADES', 'EXTRAPOLATED', 'UNCERTAINTY_NOT_STATED']),
    );
  });

  it('couples the yields of two groups through the scale of one gauge', () => {
    const { calibrations } = growthDeposition.example as { calibrations: object[] };
    const { covariance, groups } = ask({
      calibrations: [
        ...calibrations,
        { group: 'Gd', pulses: 1000, thicknessNm: { value: 40, standardUncertainty: 1 } },
      ],
    });
    expect(covariance[1]! / (groups[0]!.nmPerPulse!.value * groups[1]!.nmPerPulse!.value)).toBeCloseTo(
      0.02 ** 2,
      12,
    );
    expect(covariance[1]! / covariance[2]!).toBeCloseTo(1, 12);
  });
});

describe('growth.evaporation', () => {
  const ask = (changes: object) =>
    growthEvaporation.run(
      growthEvaporation.request.parse({
        ...(growthEvaporation.example as object),
        activities: undefined,
        ...changes,
      }),
    );

  it('sets an equilibrium bound below a reduced one, which needs the balance of copper metal', () => {
    const { equilibrium, reduced } = ask({});
    expect(equilibrium.cu.firstOrder.value).toBeLessThan(reduced.cu.firstOrder.value);
    expect(reduced.needsLog10Po2Atm).toBeCloseTo(-8.07, 2);
  });

  it('loses in proportion to activity and to sticking while little is lost', () => {
    const full = ask({}).equilibrium;
    const tenth = ask({ activities: { ba: 0.1, cu: 0.1 } }).equilibrium;
    expect(tenth.ba1968.constant.value / full.ba1968.constant.value).toBeCloseTo(0.1, 9);
    expect(ask({ sticking: 0.1 }).equilibrium.cu.constant.value / full.cu.constant.value).toBeCloseTo(0.1, 9);
  });

  it('takes equilibrium potentials in place of activities, one number or one a sample, but not both', () => {
    const low = ask({ potentialsJPerMol: { ba: -40000, cu: -15000 } }).equilibrium;
    expect(low.ba1939.firstOrder.value).toBeLessThan(0.05 * ask({}).equilibrium.ba1939.firstOrder.value);
    expect(() => ask({ potentialsJPerMol: { ba: -1, cu: -1 }, activities: { ba: 1 } })).toThrow(
      /allowed is one of them/,
    );
    expect(() => ask({ activities: { ba: [1, 1] } })).toThrow(
      /activities\.ba has 2 numbers but the path \d+ samples/,
    );
    expect(() => ask({ activities: { ba: 3 } })).toThrow(/activity of BaO at sample 0 is 3/);
  });

  it('warns of water and says that no loss of rare earth is established', () => {
    const response = ask({ waterPa: 1 });
    expect(codes(response)).toEqual(expect.arrayContaining(['WATER_CARRIES_BARIUM', 'RE_NOT_ESTABLISHED']));
    expect(response.reLoss).toBeNull();
  });

  it('sends a large loss of barium elsewhere', () => {
    const response = ask({
      pairs: [{ before: { Y: 1, Ba: 2, Cu: 3 }, after: { Y: 1, Ba: 1.7, Cu: 3 }, relativeRatioU: 0.01 }],
    });
    expect(codes(response)).toContain('LOSS_BEYOND_EVAPORATION');
  });
});

describe('growth.coarsening', () => {
  const ask = (changes: object) =>
    growthCoarsening.run(
      growthCoarsening.request.parse({ ...(growthCoarsening.example as object), ...changes }),
    );

  it('of a lower interfacial energy ends finer, by the cube root once it has grown far', () => {
    const { whatIf } = ask({});
    expect(whatIf[0]!.ofFinal.value).toBeCloseTo(0.5 ** (1 / 3), 3);
  });

  it('gains nothing from more nuclei once they have coarsened away, and much before', () => {
    expect(ask({}).whatIf[1]!.ofFinal.value).toBeGreaterThan(0.999);
    expect(ask({ hold: { temperatureC: 950, durationS: 1e-3 } }).whatIf[1]!.ofFinal.value).toBeLessThan(0.6);
  });

  it('asks for a start and for one of hold and path', () => {
    expect(() => ask({ volumeFraction: undefined })).toThrow(/startRadiusNm is not given/);
    expect(() => ask({ hold: undefined })).toThrow(/neither hold nor path/);
  });
});

describe('growth.limit', () => {
  it('names the carrier gas as what limits an example at one atmosphere, and supply as ample without it', () => {
    const example = growthLimit.example as { gas: object };
    expect(growthLimit.run(growthLimit.request.parse(example)).limiting).toBe('gas layer');
    const without = growthLimit.run(growthLimit.request.parse({ ...example, gas: { po2Pa: 20 } }));
    expect(without.limiting).toBe('liquid');
    expect(codes(without)).toContain('SUPPLY_SUFFICES');
  });
});

describe('growth.oxygenation', () => {
  const ask = (changes: object) =>
    growthOxygenation.run(
      growthOxygenation.request.parse({ ...(growthOxygenation.example as object), ...changes }),
    );

  it('fills a film along ab and through its short circuits but not along c', () => {
    const [ab, film, c] = ask({}).ways;
    expect(ab!.endShare!.value).toBeGreaterThan(0.99);
    expect(film!.endShare!.value).toBeGreaterThan(0.95);
    expect(c!.endShare!.value).toBeLessThan(0.1);
    expect(c!.reachedS).toBeNull();
  });

  it('needs four times as long for twice the thickness', () => {
    const [, thin] = ask({ thicknessNm: 300 }).ways;
    const [, thick] = ask({ thicknessNm: 600 }).ways;
    expect(thick!.holdTime!.value / thin!.holdTime!.value).toBeCloseTo(4, 6);
  });

  it('has no share of a way where nothing changes', () => {
    const hold = { start: { temperatureC: 600, po2Atm: 0.5 }, segments: [{ kind: 'hold', durationS: 100 }] };
    const response = ask({ path: hold });
    expect(codes(response)).toContain('NO_CHANGE');
    expect(response.ways[0]!.endShare).toBeNull();
  });

  it('cools to room temperature without losing its numbers', () => {
    const path = {
      start: { temperatureC: 700, po2Atm: 1 },
      segments: [{ kind: 'cool', toC: 20, rateKPerMin: 20 }],
    };
    const response = ask({ path });
    expect(response.ways[0]!.endOxygen!.value).toBeGreaterThan(0.8);
    expect(codes(response)).toContain('EXTRAPOLATED');
  });
});

describe('growth.cracking', () => {
  const ask = (changes: object) =>
    growthCracking.run(growthCracking.request.parse({ ...(growthCracking.example as object), ...changes }));

  it('has no critical thickness on a substrate that shrinks more', () => {
    const response = ask({ substrateExpansionPerMK: 16, substrate: 'mine' });
    expect(response.cracks[0]!.criticalThicknessNm).toBeNull();
    expect(codes(response)).toContain('NO_TENSION');
  });

  it('cracks more surely the thicker the film', () => {
    const odds = (thicknessNm: number) => ask({ thicknessNm }).cracks[0]!.odds;
    expect(odds(200)).toBeLessThan(odds(1000));
    expect(odds(1000)).toBeLessThan(odds(5000));
  });

  it('draws an interval about the first-order value', () => {
    const [{ low, high, criticalThicknessNm }] = ask({}).cracks as [
      ReturnType<typeof growthCracking.run>['cracks'][number],
    ];
    expect(low!).toBeLessThan(criticalThicknessNm!.value);
    expect(high!).toBeGreaterThan(criticalThicknessNm!.value);
  });
});

describe('growth.path', () => {
  const ask = (changes: object) =>
    growthPath.run(growthPath.request.parse({ ...(growthPath.example as object), ...changes }));

  it('gives the film the command where no chamber stands between', () => {
    const { temperatureC, filmTemperatureC, log10Po2Atm, filmLog10Po2Atm } = ask({ chamber: undefined });
    expect([...(filmTemperatureC as Float64Array)]).toEqual([...(temperatureC as Float64Array)]);
    expect([...(filmLog10Po2Atm as Float64Array)]).toEqual([...(log10Po2Atm as Float64Array)]);
  });

  it('says where a pressure is out of reach of flow and pump', () => {
    const gas = { volumeL: 50, oxygenFlowSccm: 1, pumpingWhileFillingLPerS: 100, pumpingLPerS: 100 };
    expect(codes(ask({ chamber: { gas } }))).toEqual(
      expect.arrayContaining(['PRESSURE_NOT_REACHED', 'PRESSURE_BEHIND']),
    );
  });
});

describe('growth.limit by its doubts', () => {
  const ask = (changes: object) =>
    growthLimit.run(growthLimit.request.parse({ ...(growthLimit.example as object), ...changes }));

  it('gives a supersaturation of 50 +- 45 odds of about 0.87 to be any at all', () => {
    // P(336 +- 40 above 286 +- 20) = Phi(50/44.7) = 0.868; above that a rate of 100 nm/s is nothing
    const { limits } = ask({ gas: undefined });
    expect(limits[0]!.odds).toBeGreaterThan(0.84);
    expect(limits[0]!.odds).toBeLessThan(0.89);
  });

  it('calls a liquid without supersaturation what limits, with certainty', () => {
    const gas = { po2Pa: 20 };
    const none = ask({ liquid: { bulkMolPerM3: 286, atFaceMolPerM3: 286, boundaryNm: 200 }, gas });
    expect(none.limiting).toBe('liquid');
    expect(none.limits.map(({ oddsOfLimiting }) => oddsOfLimiting)).toEqual([1, 0]);
    // in the example the supersaturation is none with P = 1 - 0.868, and then the liquid limits, not the gas
    const perhaps = ask({}).limits.map(({ oddsOfLimiting }) => oddsOfLimiting);
    expect(Math.abs(perhaps[0]! - 0.132)).toBeLessThan(0.016);
  });

  it('does not part two limits by the pressure that both stand on', () => {
    // their quotient does not hold the pressure, so its doubt leaves the order as it is
    const { limits } = ask({
      liquid: undefined,
      gas: {
        po2Pa: { value: 20, standardUncertainty: 20 },
        sticking: { value: 4e-4, standardUncertainty: 0 },
        carrier: { gas: 'Ar', totalPressurePa: 101325, boundaryMm: { value: 5, standardUncertainty: 0 } },
      },
    });
    expect(limits[0]!.rateNmPerS.value / limits[1]!.rateNmPerS.value).toBeGreaterThan(1.5);
    expect(limits[1]!.oddsOfLimiting).toBe(1);
  });

  it('refuses to answer of nothing, and a sticking above 1', () => {
    expect(() => ask({ gas: undefined, liquid: undefined })).toThrow(/Neither liquid nor gas/);
    expect(() => ask({ gas: { po2Pa: { value: 20, standardUncertainty: 1 }, sticking: 3 } })).toThrow(
      /gas\.sticking/,
    );
  });
});

describe('growth.coarsening without an activation energy', () => {
  it('says that temperatures cannot be compared', () => {
    const { diffusionJPerMol: _, ...example } = growthCoarsening.example as { diffusionJPerMol?: number };
    expect(codes(growthCoarsening.run(growthCoarsening.request.parse(example)))).toContain(
      'DIFFUSIVITY_NOT_MOVED',
    );
  });
});
