import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  decompositionInto,
  edgeMeltOver,
  type Placed,
} from '../../../src/science/equilibrium/decomposition.ts';
import { D_BA, D_RE, MELT_NUMBERS, OMEGA } from '../../../src/science/equilibrium/melt.ts';
import { MeltSearch } from '../../../src/science/equilibrium/melt-search.ts';
import { cupricLimitK } from '../../../src/science/equilibrium/oxygen.ts';
import { LIQUID, phaseSystem } from '../../../src/science/equilibrium/phase-system.ts';
import { pointEquilibrium } from '../../../src/science/equilibrium/point-equilibrium.ts';
import { reactionPoint } from '../../../src/science/equilibrium/reaction.ts';
import { reactionOver } from '../../../src/science/equilibrium/reaction-odds.ts';
import { fieldChanges, windowRow } from '../../../src/science/equilibrium/window.ts';
import { at, MEMBERS, type Shares, sharesOf, Y123 } from './drawn-conditions.ts';

const Y = { rareEarth: 'Y' } as const;
const PERITECTIC = [Y123, 'Y2BaCuO5', LIQUID];
const placed = (
  member: (typeof MEMBERS)[number],
  name: string,
  temperatureC: number,
  po2Atm: number,
): Placed => {
  const { names, shares, heights } = phaseSystem(member, at(temperatureC, po2Atm));
  const i = names.indexOf(name);
  return { shares: [shares[3 * i]!, shares[3 * i + 1]!, shares[3 * i + 2]!], height: heights[i]! };
};

describe('decompositionInto', () => {
  it('finds the least energy over all melts opposite the residue, and touches them both with one plane', () => {
    const n = new Float64Array(MELT_NUMBERS);
    for (const member of MEMBERS.slice(0, 9)) {
      const { melt } = phaseSystem(member, at(1000, 0.21)).search;
      const [compound, residue] = [placed(member, Y123, 1000, 0.21), placed(member, 'Y2BaCuO5', 1000, 0.21)];
      const found = decompositionInto(melt, compound, residue);
      for (let t = 0.001; t < 0.5; t += 0.001) {
        const [y, b] = [0, 1].map(
          (k) => compound.shares[k]! + t * (compound.shares[k]! - residue.shares[k]!),
        ) as [number, number];
        if (y <= 0) break;
        const height = (melt.omega(y, b) + t * residue.height) / (1 + t) - compound.height;
        expect(height).toBeGreaterThan(found.height - 1e-6);
      }
      melt.evaluate(found.y, found.b, n);
      const cu = n[OMEGA]! - found.y * n[D_RE]! - found.b * n[D_BA]!;
      const through = cu + residue.shares[0] * n[D_RE]! + residue.shares[1] * n[D_BA]!;
      expect(through).toBeCloseTo(residue.height, 4);
    }
  });
});

describe('edgeMeltOver', () => {
  it('finds the melt without RE that lies lowest over the line of two solids', () => {
    for (const member of MEMBERS.slice(0, 9)) {
      const { melt } = phaseSystem(member, at(900, 0.21)).search;
      const [p, q] = [placed(member, 'BaCuO2', 900, 0.21), placed(member, 'CuO', 900, 0.21)];
      const found = edgeMeltOver(melt, p, q);
      for (let b = 0.01; b < 0.99; b += 0.01)
        expect(melt.omega(0, b) - (q.height + (b / 0.5) * (p.height - q.height))).toBeGreaterThan(
          found.height - 1e-6,
        );
    }
  });
});

describe('MeltSearch', () => {
  it('goes down from anywhere to a floor that is level', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: MEMBERS.length - 1 }),
        fc.double({ min: -6, max: -1, noNaN: true }),
        fc.double({ min: 0.03, max: 0.9, noNaN: true }),
        (m, lnY, part) => {
          const system = phaseSystem(MEMBERS[m]!, at(950, 0.1));
          const { plane } = pointEquilibrium(system, sharesOf(1, 3, 6));
          const y = Math.exp(lnY);
          const search = new MeltSearch(system.search.melt);
          const floor = search.descend(plane, y, part * (1 - y));
          expect(floor.height).toBeLessThanOrEqual(search.height(plane, y, part * (1 - y)) + 1e-9);
          for (const step of [1.001, 1 / 1.001]) {
            expect(search.height(plane, floor.y * step, floor.b)).toBeGreaterThan(floor.height - 1e-6);
            expect(search.height(plane, floor.y, floor.b * step)).toBeGreaterThan(floor.height - 1e-6);
          }
        },
      ),
      { numRuns: 300, seed: 70 },
    );
  });
});

describe('reactionPoint', () => {
  it('puts the peritectic where 123 gives way to 211 and a melt in the diagram, where it says it is stable', () => {
    let stable = 0;
    for (const member of MEMBERS.slice(0, 20)) {
      const point = reactionPoint(member, Y, PERITECTIC, { po2Atm: 0.21 })!;
      if (point.lowerPhases.length > 0) continue;
      stable++;
      const names = (temperatureK: number): string[] =>
        pointEquilibrium(
          phaseSystem(member, { ...Y, temperatureK, po2Atm: 0.21 }),
          sharesOf(1, 2, 3),
        ).phases.map(({ name }) => name);
      expect(names(point.temperatureK - 0.02)).toEqual([Y123]);
      const above = names(point.temperatureK + 0.02); // BaCuO2 joins where 123 + BaCuO2 ends within a hair of it
      expect(above).toEqual(expect.arrayContaining(['Y2BaCuO5', LIQUID]));
      expect(above).not.toContain(Y123);
    }
    expect(stable).toBeGreaterThan(8);
  });

  it('names the phases that lie lower where a reaction is metastable, and none is where they are held back', () => {
    const metastable = MEMBERS.map((member) => ({
      member,
      point: reactionPoint(member, Y, PERITECTIC, { po2Atm: 0.21 })!,
    })).filter(({ point }) => point.lowerPhases.length > 0);
    expect(metastable.length).toBeGreaterThan(0);
    for (const { member, point } of metastable.slice(0, 5)) {
      const heldBack = ['BaCuO2', 'YBa3Cu2O6.5', 'Y2BaO4', 'Ba2CuO3', ...point.lowerPhases];
      const freed = reactionPoint(member, { ...Y, heldBack }, PERITECTIC, { po2Atm: 0.21 })!;
      expect(freed.temperatureK).toBeCloseTo(point.temperatureK, 4);
      expect(freed.lowerPhases.every((name) => !heldBack.includes(name))).toBe(true);
    }
  });

  it('answers the temperature from the pressure and the pressure from the temperature alike', () => {
    for (const member of MEMBERS.slice(0, 6)) {
      const { temperatureK } = reactionPoint(member, Y, PERITECTIC, { po2Atm: 0.1 })!;
      expect(reactionPoint(member, Y, PERITECTIC, { temperatureK })!.po2Atm).toBeCloseTo(0.1, 5);
    }
  });

  it('puts CuO with Cu2O on the line of the pure oxides, whatever the member', () => {
    for (const po2Atm of [1e-4, 0.21]) {
      const { temperatureK } = reactionPoint(MEMBERS[5]!, Y, ['CuO', 'Cu2O'], { po2Atm })!;
      expect(temperatureK).toBeCloseTo(cupricLimitK(po2Atm), 4);
    }
  });

  it('has all of its phases on one plane at a eutectic', () => {
    const names = [Y123, 'BaCuO2', 'CuO', LIQUID];
    const { temperatureK, melt } = reactionPoint(MEMBERS[0]!, Y, names, { po2Atm: 0.21 })!;
    const system = phaseSystem(MEMBERS[0]!, { ...Y, temperatureK, po2Atm: 0.21 });
    const n = new Float64Array(MELT_NUMBERS);
    const [y, b] = melt!.composition;
    system.search.melt.evaluate(y, b, n);
    const cu = n[OMEGA]! - y * n[D_RE]! - b * n[D_BA]!;
    for (const name of names.slice(0, 3)) {
      const i = system.names.indexOf(name);
      const plane = cu + system.shares[3 * i]! * n[D_RE]! + system.shares[3 * i + 1]! * n[D_BA]!;
      expect(plane).toBeCloseTo(system.heights[i]!, 2);
    }
  });

  it('refuses phases that do nothing together, and names it does not know', () => {
    const ask = (names: string[]) => () => reactionPoint(MEMBERS[0]!, Y, names, { po2Atm: 0.21 });
    expect(ask(['Y2O3', 'CuO'])).toThrow(/EQUILIBRIUM_REACTION.*do not make each other/);
    expect(ask(['BaO', 'BaCuO2', 'CuO', LIQUID])).toThrow(/EQUILIBRIUM_REACTION.*one line/);
    expect(ask(['YBCO', LIQUID])).toThrow(/EQUILIBRIUM_PHASE_UNKNOWN.*YBa2Cu3O7/);
  });
});

describe('reactionOver', () => {
  it('gives median, spread and odds of the members, and nothing where no member has the reaction', () => {
    const few = MEMBERS.slice(0, 9);
    const answer = reactionOver(few, Y, PERITECTIC, { po2Atm: 0.21 })!;
    const each = few.map(
      (member) => reactionPoint(member, Y, PERITECTIC, { po2Atm: 0.21 })!.temperatureK - 273.15,
    );
    expect(answer.temperatureC).toBeCloseTo([...each].sort((p, q) => p - q)[4]!, 9);
    expect(answer.foundOdds).toBe(1);
    expect(answer.interval.low).toBeLessThanOrEqual(answer.temperatureC);
    expect(answer.interval.high).toBeGreaterThanOrEqual(answer.temperatureC);
    expect(answer.meltShares!.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 1);
    expect(reactionOver(few, Y, ['CuO', 'Cu'], { po2Atm: 1 })?.temperatureC ?? 9999).toBeGreaterThan(1000);
  });
});

describe('windowRow and fieldChanges', () => {
  const columns = [1, 0.21, 0.02].map((po2Atm) => ({ po2Atm, shares: sharesOf(1, 3, 6) as Shares }));

  it('counts members as single points do', () => {
    const few = MEMBERS.slice(0, 8);
    const row = windowRow(few, Y, 1220, columns);
    columns.forEach(({ po2Atm, shares }, i) => {
      const fields = few.map((member) =>
        pointEquilibrium(phaseSystem(member, { ...Y, temperatureK: 1220, po2Atm }), shares).phases.map(
          ({ name }) => name,
        ),
      );
      expect(row.oddsLiquid[i]).toBeCloseTo(fields.filter((names) => names.includes(LIQUID)).length / 8, 12);
      expect(row.oddsOnlyThose[i]).toBeLessThanOrEqual(row.oddsLiquidAnd123[i]!);
      expect(row.oddsLiquidAnd123[i]).toBeLessThanOrEqual(row.oddsLiquid[i]!);
    });
  });

  it('finds where a field gives way to the next to 0.05 K, in the order of warming', () => {
    const changes = fieldChanges(MEMBERS[0]!, Y, [1150, 1200, 1250, 1300], columns);
    expect(changes.length).toBeGreaterThan(2);
    for (const { column, temperatureK, below, above } of changes) {
      const at2 = (t: number): string =>
        [
          ...new Set(
            pointEquilibrium(
              phaseSystem(MEMBERS[0]!, { ...Y, temperatureK: t, po2Atm: columns[column]!.po2Atm }),
              columns[column]!.shares,
            ).phases.map(({ name }) => name),
          ),
        ].join(' + ');
      expect(at2(temperatureK - 0.03)).toBe(below);
      expect(at2(temperatureK + 0.03)).toBe(above);
    }
    for (const i of [0, 1, 2]) {
      const own = changes.filter(({ column }) => column === i).map(({ temperatureK }) => temperatureK);
      expect(own).toEqual([...own].sort((p, q) => p - q));
    }
  });
});
