import { describe, expect, it } from 'vitest';
import { equilibriumAssemblage } from '../../../src/computations/equilibrium/assemblage.ts';
import { equilibriumFields } from '../../../src/computations/equilibrium/fields.ts';

const assemblage = (request: unknown) =>
  equilibriumAssemblage.run(equilibriumAssemblage.request.parse(request));

function fields(request: unknown) {
  const parsed = equilibriumFields.request.parse(request);
  return equilibriumFields.merge(parsed, equilibriumFields.plan(parsed).map(equilibriumFields.runPart));
}

describe('equilibrium.assemblage', () => {
  it('answers its example in the shape that its schema promises', () => {
    const response = assemblage(equilibriumAssemblage.example);
    expect(() => equilibriumAssemblage.response.parse(response)).not.toThrow();
    expect(response.flags.map(({ code }) => code)).toContain('RE_SHIFT_NOT_MODELLED');
  });

  it('is the same for the same request, and for seed 0 and no seed', () => {
    const request = { cations: { Y: 1, Ba: 3, Cu: 6 }, temperatureC: 900, po2Atm: 0.1 };
    expect(assemblage({ ...request, seed: 0 })).toEqual(assemblage(request));
    expect(assemblage({ ...request, seed: 1 }).liquidShare).not.toEqual(assemblage(request).liquidShare);
  });

  it('gives back the cations that it was asked about', () => {
    const { phases } = assemblage({ cations: { Dy: 2, Ba: 5, Cu: 13 }, temperatureC: 870, po2Atm: 0.02 });
    for (const [symbol, share] of [
      ['Dy', 0.1],
      ['Ba', 0.25],
      ['Cu', 0.65],
    ] as const) {
      const sum = phases.reduce(
        (total, phase) => total + phase.share * (phase.composition.cations[symbol] ?? 0),
        0,
      );
      expect(sum).toBeCloseTo(share, 9);
    }
  });

  it('says which reading it shows, and frees the melt where the caller lowers it', () => {
    const request = { cations: { Y: 1, Ba: 3, Cu: 7 }, temperatureC: 780, po2Atm: 4e-5 };
    const bulk = assemblage(request);
    expect(bulk.liquidShare.value).toBe(0);
    expect(bulk.flags[0]!.code).toBe('READING_EQUILIBRIUM');
    const freed = assemblage({ ...request, offsetsJPerMol: { liquid: -(bulk.driving.liquid! + 6000) } });
    expect(freed.liquidShare.value).toBeGreaterThan(0.1);
    expect(freed.flags[0]!.code).toBe('READING_MOVED');
  });

  it('refuses a temperature in kelvin with the number to give instead', () => {
    expect(() => assemblage({ cations: { Y: 1, Ba: 2, Cu: 3 }, temperatureC: 1523, po2Atm: 0.21 })).toThrow(
      /1249.85/,
    );
  });
});

describe('equilibrium.fields', () => {
  const request = { rareEarth: 'Y', temperatureC: 900, po2Atm: 0.1, divisions: 20, members: 12 };
  const response = fields(request);

  it('answers its example in the shape that its schema promises', () => {
    const example = fields(equilibriumFields.example);
    expect(example.re).toHaveLength(231);
    for (const list of [
      example.ba,
      example.cu,
      example.oddsLiquidAnd123,
      example.oddsOnlyThose,
      example.liquidShare,
    ]) {
      expect(list).toHaveLength(231);
    }
    expect(Array.from(example.medianField).every((field) => example.fieldNames[field] !== undefined)).toBe(
      true,
    );
  });

  it('agrees with the assemblage entry at single compositions', () => {
    for (const i of [40, 90, 150]) {
      const one = assemblage({
        cations: { Y: response.re[i]!, Ba: response.ba[i]!, Cu: response.cu[i]! },
        temperatureC: 900,
        po2Atm: 0.1,
        members: 12,
      });
      expect(one.phases.map(({ name }) => name).join(' + ')).toBe(
        response.fieldNames[response.medianField[i]!],
      );
      expect(one.liquidShare.value).toBeCloseTo(response.liquidShare[i]!, 9);
    }
  });

  it('gives the same from many parts as from one, in any order of running', () => {
    const big = equilibriumFields.request.parse({ ...request, divisions: 120, members: 3 });
    const plan = equilibriumFields.plan(big);
    expect(plan.length).toBeGreaterThan(1);
    const backwards = plan.map((_, i) => plan.length - 1 - i);
    const results = new Array(plan.length);
    for (const i of backwards) results[i] = equilibriumFields.runPart(structuredClone(plan[i]!));
    const whole = equilibriumFields.runPart({ request: big, start: 0, end: plan.at(-1)!.end });
    expect(equilibriumFields.merge(big, results)).toEqual(equilibriumFields.merge(big, [whole]));
  });

  it('draws tie triangles whose corners are phase points, and names each phase once', () => {
    const names = response.phasePoints.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(response.tieLines.every(({ corners }) => corners.length === 3)).toBe(true);
    const area = response.tieLines.reduce((sum, { corners: [a, b, c] }) => {
      const det = (b!.re - a!.re) * (c!.cu - a!.cu) - (c!.re - a!.re) * (b!.cu - a!.cu);
      return sum + Math.abs(det);
    }, 0);
    expect(area).toBeCloseTo(1, 9); // the triangles tile the whole
  });

  it('has odds only where both can be, and never higher odds for those alone', () => {
    const both = Array.from(response.oddsLiquidAnd123);
    expect(Math.max(...both)).toBeGreaterThan(0.2);
    expect(both.every((odds, i) => response.oddsOnlyThose[i]! <= odds)).toBe(true);
    expect(both.every((odds, i) => odds === 0 || response.re[i]! < 1 / 2)).toBe(true); // 211 is the richest neighbour
  });

  it('maps a window with a finer step', () => {
    const zoom = fields({ ...request, region: { cuMin: 0.5, cuMax: 0.8, reMax: 0.15 } });
    expect(Math.min(...Array.from(zoom.cu))).toBeCloseTo(0.5, 12);
    expect(zoom.re.length).toBeGreaterThan(200);
  });
});
