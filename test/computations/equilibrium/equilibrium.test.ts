import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { equilibriumAssemblage } from '../../../src/computations/equilibrium/assemblage.ts';
import { equilibriumFields } from '../../../src/computations/equilibrium/fields.ts';
import { equilibriumInvariant } from '../../../src/computations/equilibrium/invariant.ts';
import { equilibriumUnivariant } from '../../../src/computations/equilibrium/univariant.ts';
import { equilibriumWindow } from '../../../src/computations/equilibrium/window.ts';
import { parseRequest } from '../../../src/runner/prepare.ts';
import { DomainError } from '../../../src/science/errors.ts';
import { RARE_EARTHS } from '../../../src/science/matter/elements.ts';
import { MELT_MEMBERS } from '../../../src/science/tables/melt-members.ts';

/** Runs an entry whole, whatever its kind. */
// biome-ignore lint/suspicious/noExplicitAny: one caller for entries of different shapes
function ran(entry: any, request: unknown): any {
  const parsed = entry.request.parse(request);
  return 'run' in entry ? entry.run(parsed) : entry.merge(parsed, entry.plan(parsed).map(entry.runPart));
}
const assemblage = (request: unknown) =>
  ran(equilibriumAssemblage, request) as ReturnType<typeof equilibriumAssemblage.run>;
const fields = (request: unknown) =>
  ran(equilibriumFields, request) as ReturnType<typeof equilibriumFields.merge>;
const window = (request: unknown) =>
  ran(equilibriumWindow, request) as ReturnType<typeof equilibriumWindow.merge>;
const invariant = (request: unknown) =>
  ran(equilibriumInvariant, request) as ReturnType<typeof equilibriumInvariant.run>;
const line = (request: unknown) =>
  ran(equilibriumUnivariant, request) as ReturnType<typeof equilibriumUnivariant.merge>;
const codes = (flags: readonly { code: string }[]): string[] => flags.map(({ code }) => code);

const FILM = { cations: { Y: 1, Ba: 3, Cu: 6 }, temperatureC: 950, po2Atm: 0.21 };
const PERITECTIC = ['YBa2Cu3O7', 'Y2BaCuO5', 'liquid'];

describe('equilibrium.assemblage', () => {
  it('answers its example in the shape that its schema promises', () => {
    const response = assemblage(equilibriumAssemblage.example);
    expect(() => equilibriumAssemblage.response.parse(response)).not.toThrow();
    expect(codes(response.flags)).toContain('RE_SHIFT');
  });

  it('has odds that add to 1 under sorted names, and shares that give the cations back', () => {
    const { odds, phases, liquidShare, liquidInterval } = assemblage({
      cations: { Dy: 2, Ba: 5, Cu: 13, Zr: 0.4 },
      temperatureC: 930,
      po2Atm: 0.1,
    });
    expect(Object.values(odds).reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 12);
    for (const field of Object.keys(odds)) {
      expect(field.split(' + ')).toEqual([...new Set(field.split(' + '))].sort());
      expect(field).toContain('BaZrO3');
    }
    expect(phases.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    const held = (symbol: string): number =>
      phases.reduce((sum, { share, composition: { cations } }) => {
        const all = Object.values(cations).reduce((total, n) => total + n, 0);
        return sum + (share * (cations[symbol] ?? 0)) / all;
      }, 0);
    for (const [symbol, amount] of [
      ['Dy', 2],
      ['Ba', 5],
      ['Cu', 13],
      ['Zr', 0.4],
    ] as const)
      expect(held(symbol)).toBeCloseTo(amount / 20.4, 9);
    expect(liquidInterval.low).toBeLessThanOrEqual(liquidInterval.high);
    expect(liquidShare.unit).toBe('1');
  });

  it('is the same for the same request, for seed 0 and no seed, and another for fewer members of another seed', () => {
    expect(assemblage({ ...FILM, seed: 0 })).toEqual(assemblage(FILM));
    expect(assemblage({ ...FILM, seed: 1 }).odds).toEqual(assemblage(FILM).odds); // all members, in another order
    expect(assemblage({ ...FILM, seed: 1, members: 5 }).liquidShare).not.toEqual(
      assemblage({ ...FILM, members: 5 }).liquidShare,
    );
  });

  it('takes an ensemble in full and answers as with the published members of the same numbers', () => {
    const members = MELT_MEMBERS.records
      .slice(0, 3)
      .map(({ form, melt, solids, jPerMolPerKelvin, peritecticKPerAngstrom }) => ({
        form,
        melt,
        solids,
        jPerMolPerKelvin,
        peritecticKPerAngstrom,
      }));
    expect(assemblage({ ...FILM, ensemble: { members } })).toEqual(assemblage({ ...FILM, members: 3 }));
    expect(assemblage({ ...FILM, ensemble: 'published' })).toEqual(assemblage(FILM));
  });

  it('refuses an ensemble that lacks a parameter, has one too many or a compound unknown, naming the field', () => {
    const { form, melt, solids, jPerMolPerKelvin, peritecticKPerAngstrom } = MELT_MEMBERS.records[0]!;
    const whole = { form, melt, solids, jPerMolPerKelvin, peritecticKPerAngstrom };
    const ask = (member: object) => () =>
      parseRequest(equilibriumAssemblage, { ...FILM, ensemble: { members: [member] } });
    const { reBa: _, ...lacking } = melt as Record<string, number>;
    expect(ask(whole)).not.toThrow();
    expect(ask({ ...whole, melt: lacking })).toThrow(/REQUEST_INVALID.*ensemble/s);
    expect(ask({ ...whole, melt: { ...melt, more: 1 } })).toThrow(/REQUEST_INVALID.*ensemble/s);
    expect(ask({ ...whole, solids: { '999': [1, 2] } })).toThrow(/REQUEST_INVALID.*ensemble/s);
    expect(ask({ ...whole, jPerMolPerKelvin: -1 })).toThrow(/REQUEST_INVALID.*ensemble/s);
  });

  it('says which reading it shows, and frees the melt where the caller lowers it', () => {
    const request = { cations: { Y: 1, Ba: 3, Cu: 7 }, temperatureC: 780, po2Atm: 4e-5 };
    const bulk = assemblage(request);
    expect(bulk.liquidShare.value).toBe(0);
    expect(bulk.cuprousShare).toBeNull();
    expect(bulk.flags[0]!.code).toBe('READING_EQUILIBRIUM');
    const freed = assemblage({ ...request, offsetsJPerMol: { liquid: -(bulk.driving.liquid! + 6000) } });
    expect(freed.liquidShare.value).toBeGreaterThan(0.1);
    expect(freed.cuprousShare).toBeGreaterThan(0.5);
    expect(freed.flags[0]!.code).toBe('READING_MOVED');
    const held = assemblage({ ...FILM, heldBack: ['liquid'] });
    expect(held.liquidShare.value).toBe(0);
    expect(held.flags[0]!.code).toBe('READING_MOVED');
  });

  it('flags where it is extrapolated and where members disagree', () => {
    expect(codes(assemblage({ ...FILM, temperatureC: 1095, po2Atm: 1e-6 }).flags)).toEqual(
      expect.arrayContaining([
        'TEMPERATURE_EXTRAPOLATED',
        'OXYGEN_EXTRAPOLATED',
        'MELT_EXTRAPOLATED',
        'MELT_HOT',
      ]),
    );
    const flags = [920, 930, 940, 950].map((temperatureC) => assemblage({ ...FILM, temperatureC }));
    const disputed = flags.filter(({ odds }) => {
      const liquid = Object.entries(odds).reduce(
        (sum, [field, p]) => sum + (field.includes('liquid') ? p : 0),
        0,
      );
      return liquid >= 0.05 && liquid <= 0.95;
    });
    expect(disputed.length).toBeGreaterThan(0);
    for (const { flags: own } of disputed) expect(codes(own)).toContain('LIQUID_DISPUTED');
  });

  it('lets a layer under the film take Ba, and answers as for the film without it', () => {
    const sinks = [{ layer: 'CeO2', consumedNm: 3, filmNm: 100 }];
    const sunk = assemblage({ ...FILM, sinks });
    expect(codes(sunk.flags)).toContain('SINK_BINDS_BARIUM');
    expect(sunk.odds).not.toEqual(assemblage(FILM).odds);
    expect(() =>
      parseRequest(equilibriumAssemblage, { ...FILM, sinks: [{ ...sinks[0], layer: 'MgO' }] }),
    ).toThrow(/REQUEST_INVALID.*sinks\[0\]\.layer/s);
  });

  it('refuses a temperature in kelvin with the number to give instead, and a phase that is none', () => {
    expect(() => assemblage({ ...FILM, temperatureC: 1523 })).toThrow(/1249.85/);
    expect(() => assemblage({ ...FILM, po2Atm: 0 })).toThrow(/EQUILIBRIUM_OXYGEN/);
    expect(() => assemblage({ ...FILM, heldBack: ['BaCu3O4'] })).toThrow(/EQUILIBRIUM_PHASE_UNKNOWN/);
  });
});

describe('equilibrium.fields', () => {
  const request = { rareEarth: 'Y', temperatureC: 950, po2Atm: 0.1, divisions: 20, members: 12 };
  const response = fields(request);

  it('answers its example in the shape that its schema promises', () => {
    const example = fields(equilibriumFields.example);
    expect(example.re).toHaveLength(231);
    for (const list of [
      example.ba,
      example.cu,
      example.oddsLiquidAnd123,
      example.usefulShare,
      example.liquidShare,
    ])
      expect(list).toHaveLength(231);
    expect(Array.from(example.medianField).every((field) => example.fieldNames[field] !== undefined)).toBe(
      true,
    );
  });

  it('agrees with the assemblage entry at single compositions, to what the map resolves', () => {
    for (const i of [40, 90, 150]) {
      const one = assemblage({
        cations: { Y: response.re[i]!, Ba: response.ba[i]!, Cu: response.cu[i]! },
        temperatureC: 950,
        po2Atm: 0.1,
        members: 12,
      });
      expect(one.phases.map(({ name }) => name).join(' + ')).toBe(
        response.fieldNames[response.medianField[i]!],
      );
      expect(Math.abs(one.liquidShare.value - response.liquidShare[i]!)).toBeLessThan(0.003);
    }
  });

  it('gives the same from many parts as from one, in any order of running', () => {
    const big = equilibriumFields.request.parse({ ...request, divisions: 160, members: 2 });
    const plan = equilibriumFields.plan(big);
    expect(plan.length).toBeGreaterThan(1);
    const results = new Array(plan.length);
    for (const i of plan.map((_, k) => plan.length - 1 - k))
      results[i] = equilibriumFields.runPart(structuredClone(plan[i]!));
    const inOrder = plan.map((part) => equilibriumFields.runPart(part));
    expect(equilibriumFields.merge(big, results)).toEqual(equilibriumFields.merge(big, inOrder));
  });

  it('draws tie triangles of three phases whose solid corners are phase points, and names each phase once', () => {
    const names = response.phasePoints.map(({ name }) => name);
    expect(new Set(names).size).toBe(names.length);
    expect(response.tieLines.some(({ phases }) => phases.includes('liquid'))).toBe(true);
    for (const { phases, corners } of response.tieLines) {
      expect(corners).toHaveLength(3);
      phases.forEach((name, k) => {
        if (name === 'liquid') return;
        const point = response.phasePoints.find((each) => each.name === name)!;
        expect(corners[k]!.re).toBeCloseTo(point.re, 9);
        expect(corners[k]!.cu).toBeCloseTo(point.cu, 9);
      });
    }
    expect(response.borders.length).toBeGreaterThan(0);
  });

  it('has odds only where both can be, and never higher odds for those alone', () => {
    const both = Array.from(response.oddsLiquidAnd123);
    expect(Math.max(...both)).toBeGreaterThan(0.2);
    expect(both.every((odds, i) => response.oddsOnlyThose[i]! <= odds + 1e-12)).toBe(true);
    expect(both.every((odds, i) => response.usefulShare[i]! <= odds + 1e-12)).toBe(true);
    expect(both.every((odds, i) => odds === 0 || response.re[i]! < 1 / 2)).toBe(true); // 211 is the richest neighbour
  });

  it('maps a window with a finer step, and refuses an empty one', () => {
    const zoom = fields({ ...request, region: { cuMin: 0.5, cuMax: 0.8, reMax: 0.15 } });
    expect(Math.min(...Array.from(zoom.cu))).toBeCloseTo(0.5, 12);
    expect(zoom.re.length).toBeGreaterThan(200);
    expect(() => fields({ ...request, region: { cuMin: 0.8, cuMax: 0.5, reMax: 0.15 } })).toThrow(
      /EQUILIBRIUM_REGION/,
    );
  });

  it('takes a mixture of rare earths by its mean radius', () => {
    const mixed = fields({ ...request, rareEarth: 'Gd', rareEarths: { Gd: 1, Y: 1 } });
    const alone = fields({ ...request, rareEarth: 'Gd' });
    expect(mixed.fieldNames.some((name) => name.includes('GdBa2Cu3O7'))).toBe(true);
    expect(Array.from(mixed.oddsLiquidAnd123)).not.toEqual(Array.from(alone.oddsLiquidAnd123));
  });
});

describe('equilibrium.window', () => {
  const request = {
    cations: { Y: 1, Ba: 3, Cu: 6 },
    temperatureC: [850, 1050],
    po2Atm: [1e-3, 1],
    rows: 5,
    columns: 4,
    members: 8,
  };
  const response = window(request);

  it('has a value for every row and column, and odds in their order', () => {
    expect(response.temperatureC).toHaveLength(5);
    expect(response.po2Atm).toHaveLength(4);
    expect(response.po2Atm[0]).toBeCloseTo(1e-3, 12);
    expect(response.po2Atm[3]).toBeCloseTo(1, 12);
    for (const list of [
      response.oddsLiquid,
      response.oddsLiquidAnd123,
      response.oddsOnlyThose,
      response.liquidShare,
    ])
      expect(list).toHaveLength(20);
    for (let i = 0; i < 20; i++) {
      expect(response.oddsOnlyThose[i]!).toBeLessThanOrEqual(response.oddsLiquidAnd123[i]! + 1e-12);
      expect(response.oddsLiquidAnd123[i]!).toBeLessThanOrEqual(response.oddsLiquid[i]! + 1e-12);
      expect(response.fieldNames[response.medianField[i]!]).toBeTruthy();
    }
    expect(response.oddsLiquid[19]).toBeCloseTo(1, 12); // 1050 degC in oxygen
  });

  it('agrees with the assemblage entry at each of its places', () => {
    for (const [row, column] of [
      [2, 3],
      [3, 2],
    ] as const) {
      const one = assemblage({
        cations: request.cations,
        temperatureC: response.temperatureC[row]!,
        po2Atm: response.po2Atm[column]!,
        members: 8,
      });
      const odds = Object.entries(one.odds).reduce(
        (sum, [field, p]) => sum + (field.includes('liquid') ? p : 0),
        0,
      );
      expect(response.oddsLiquid[row * 4 + column]).toBeCloseTo(odds, 9);
      expect(response.liquidShare[row * 4 + column]).toBeCloseTo(one.liquidShare.value, 9);
    }
  });

  it('gives changes in the range, each between two different fields', () => {
    expect(response.changes.length).toBeGreaterThan(0);
    for (const { column, temperatureC, below, above } of response.changes) {
      expect(column).toBeLessThan(4);
      expect(temperatureC).toBeGreaterThan(850);
      expect(temperatureC).toBeLessThan(1050);
      expect(below).not.toBe(above);
    }
  });

  it('walks a line of compositions at one pressure', () => {
    const along = window({
      cations: { Y: 1, Ba: 2, Cu: 3 },
      cationsTo: { Y: 1, Ba: 3, Cu: 9 },
      temperatureC: [930, 1000],
      po2Atm: 0.21,
      rows: 3,
      columns: 5,
      members: 4,
    });
    expect(Array.from(along.part)).toEqual([0, 0.25, 0.5, 0.75, 1]);
    expect(new Set(Array.from(along.po2Atm))).toEqual(new Set([0.21]));
  });

  it('refuses a pressure range with two compositions, and ends that no diagram answers, naming the field', () => {
    const both = { ...request, cationsTo: { Y: 1, Ba: 2, Cu: 3 } };
    expect(() => parseRequest(equilibriumWindow, both)).toThrow(/REQUEST_INVALID.*po2Atm/s);
    expect(() => parseRequest(equilibriumWindow, { ...request, temperatureC: [900, 800] })).toThrow(
      /temperatureC/,
    );
    expect(() => window({ ...request, po2Atm: [0, 1] })).toThrow(/EQUILIBRIUM_OXYGEN/);
  });
});

describe('equilibrium.invariant and equilibrium.univariant', () => {
  it('put the peritectic in air near 1010 degC with a melt of 3 Ba to 5 Cu', () => {
    const { temperatureC, interval, melt, foundOdds, log10Po2Atm } = invariant({
      phases: PERITECTIC,
      po2Atm: 0.21,
    });
    expect(Math.abs(temperatureC!.value - 1010)).toBeLessThan(15);
    expect(interval!.low).toBeLessThan(temperatureC!.value);
    expect(interval!.high).toBeGreaterThan(temperatureC!.value);
    expect(melt!.ba / melt!.cu).toBeCloseTo(0.6, 1);
    expect(foundOdds).toBe(1);
    expect(log10Po2Atm).toEqual({ value: Math.log10(0.21), standardUncertainty: 0, unit: '1' });
  });

  it('turn about: the pressure at that temperature is the pressure given', () => {
    const { temperatureC } = invariant({ phases: PERITECTIC, po2Atm: 0.1, members: 1 });
    const back = invariant({ phases: PERITECTIC, temperatureC: temperatureC!.value, members: 1 });
    expect(back.log10Po2Atm!.value).toBeCloseTo(-1, 5);
  });

  it('read the rare earth from the names, and flag its shift', () => {
    const { flags, temperatureC } = invariant({
      phases: ['GdBa2Cu3O7', 'Gd2BaCuO5', 'liquid'],
      po2Atm: 0.21,
      members: 6,
    });
    expect(codes(flags)).toContain('RE_SHIFT');
    expect(temperatureC!.value).toBeGreaterThan(
      invariant({ phases: PERITECTIC, po2Atm: 0.21, members: 6 }).temperatureC!.value,
    );
  });

  it('give a line whose points are those of the invariant entry', () => {
    const found = line({ phases: PERITECTIC, po2Atm: [0.02, 1], points: 3, members: 4 });
    expect(found.temperatureC).toHaveLength(3);
    [0.02, Math.sqrt(0.02), 1].forEach((po2Atm, i) => {
      const point = invariant({ phases: PERITECTIC, po2Atm, members: 4 });
      expect(found.temperatureC[i]).toBeCloseTo(point.temperatureC!.value, 6);
      expect(found.temperatureCU[i]).toBeCloseTo(point.temperatureC!.standardUncertainty, 6);
      expect(found.stableOdds[i]).toBeCloseTo(point.stableOdds, 9);
    });
    expect(Array.from(found.temperatureC)).toEqual(Array.from(found.temperatureC).sort((p, q) => p - q));
  });

  it('answer null with a reason where no member has the reaction, and refuse both or neither of T and pO2', () => {
    const none = invariant({ phases: ['CuO', 'Cu2O'], temperatureC: 320, members: 2 });
    if (none.temperatureC === null) expect(codes(none.flags)).toEqual(['REACTION_NOT_FOUND']);
    expect(() =>
      parseRequest(equilibriumInvariant, { phases: PERITECTIC, po2Atm: 1, temperatureC: 900 }),
    ).toThrow(/REQUEST_INVALID.*one of po2Atm and temperatureC/s);
    expect(() => parseRequest(equilibriumInvariant, { phases: PERITECTIC })).toThrow(
      /one of po2Atm and temperatureC/,
    );
    expect(() => invariant({ phases: ['Y2O3', 'CuO'], po2Atm: 1 })).toThrow(/EQUILIBRIUM_REACTION/);
  });
});

describe('every equilibrium entry, asked anything its schema lets through', () => {
  const cationsArb = fc.dictionary(
    fc.constantFrom('Y', 'Gd', 'Nd', 'Ba', 'Cu', 'Zr', 'Nb', 'Mg', 'La'),
    fc.oneof(
      { weight: 3, arbitrary: fc.double({ min: 0.1, max: 9, noNaN: true }) },
      { weight: 1, arbitrary: fc.double({ min: 0, max: 100, noNaN: true }) },
    ),
    { minKeys: 2, maxKeys: 6 },
  );
  const commonArb = {
    offsetsJPerMol: fc.option(
      fc.dictionary(
        fc.constantFrom('liquid', 'BaCu2O2', 'YBa2Cu3O7', 'x'),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }),
        { maxKeys: 3 },
      ),
      { nil: undefined },
    ),
    heldBack: fc.option(
      fc.array(fc.constantFrom('liquid', 'Y2BaCuO5', 'CuO', 'BaO', 'Cu', 'Cu2O'), { maxLength: 4 }),
      { nil: undefined },
    ),
    members: fc.integer({ min: 1, max: 3 }),
    seed: fc.option(fc.nat(), { nil: undefined }),
  };
  const temperature = fc.oneof(
    { weight: 9, arbitrary: fc.double({ min: 300, max: 1400, noNaN: true }) },
    { weight: 1, arbitrary: fc.double({ noNaN: true }) },
  );
  const pressure = fc.oneof(
    { weight: 9, arbitrary: fc.double({ min: -12, max: 2, noNaN: true }).map((decade) => 10 ** decade) },
    { weight: 1, arbitrary: fc.double({ noNaN: true }) },
  );
  const names = fc.constantFrom(
    'liquid',
    'YBa2Cu3O7',
    'Y2BaCuO5',
    'CuO',
    'Cu2O',
    'BaCuO2',
    'BaCu2O2',
    'Y2O3',
    'BaO',
  );

  // biome-ignore lint/suspicious/noExplicitAny: entries of different shapes
  it.each<[string, any, fc.Arbitrary<object>]>([
    [
      'assemblage',
      equilibriumAssemblage,
      fc.record({ cations: cationsArb, temperatureC: temperature, po2Atm: pressure, ...commonArb }),
    ],
    [
      'fields',
      equilibriumFields,
      fc.record({
        rareEarth: fc.constantFrom(...RARE_EARTHS),
        divisions: fc.integer({ min: 2, max: 8 }),
        temperatureC: temperature,
        po2Atm: pressure,
        ...commonArb,
      }),
    ],
    [
      'window',
      equilibriumWindow,
      fc.record({
        cations: cationsArb,
        temperatureC: fc
          .tuple(temperature, temperature)
          .map(([from, to]) => (from < to ? [from, to] : [to, from])),
        po2Atm: fc.tuple(pressure, pressure),
        rows: fc.constant(2),
        columns: fc.constant(2),
        ...commonArb,
      }),
    ],
    [
      'invariant',
      equilibriumInvariant,
      fc.record({
        phases: fc.uniqueArray(names, { minLength: 2, maxLength: 4 }),
        po2Atm: pressure,
        ...commonArb,
      }),
    ],
  ])('equilibrium.%s answers in its schema or refuses in words', (_name, entry, requestArb) => {
    let answered = 0;
    fc.assert(
      fc.property(requestArb, (request) => {
        const plain = JSON.parse(JSON.stringify(request)) as object;
        try {
          const response = ran(entry, parseRequest(entry, plain));
          if ('run' in entry) entry.response.parse(response);
          answered++;
        } catch (error) {
          if (!(error instanceof DomainError) && (error as { code?: string }).code !== 'REQUEST_INVALID')
            throw error;
        }
      }),
      { numRuns: 200, seed: 90 },
    );
    expect(answered).toBeGreaterThan(5);
  });
});

describe('what a grower could take for surer than it is', () => {
  it('is said where no member has liquid though it lies near', () => {
    const { flags, liquidShare } = assemblage({
      cations: { Dy: 1, Ba: 2.5, Cu: 4 },
      temperatureC: 850,
      po2Atm: 1e-3,
    });
    expect(codes(flags).some((code) => code === 'NO_LIQUID_IS_UNSURE' || code === 'LIQUID_DISPUTED')).toBe(
      true,
    );
    expect(liquidShare.value).toBe(0);
  });

  it('is asked where a temperature looks like kelvin', () => {
    expect(
      codes(assemblage({ cations: { Y: 1, Ba: 2, Cu: 3 }, temperatureC: 1123, po2Atm: 0.21 }).flags),
    ).toContain('TEMPERATURE_PERHAPS_K');
  });

  it('is refused where the rare earths of a triangle are none, or not the one it is named by', () => {
    const request = { rareEarth: 'Dy', temperatureC: 900, po2Atm: 0.1, divisions: 4, members: 2 };
    for (const rareEarths of [{ Zr: 1 }, { Gd: 0 }, { Gd: 1 }])
      expect(() => fields({ ...request, rareEarths })).toThrow();
    expect(fields({ ...request, rareEarths: { Dy: 0.6, Y: 0.4 } }).fieldNames.length).toBeGreaterThan(3);
  });
});
