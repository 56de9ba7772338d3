import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Assemblage,
  assemblageAt,
  fieldName,
  interval95,
  medianIndex,
} from '../../../src/science/equilibrium/assemblage.ts';
import { liquidOddsOf, scanFields } from '../../../src/science/equilibrium/field-scan.ts';
import { LIQUID, phaseSystem } from '../../../src/science/equilibrium/phase-system.ts';
import { pointEquilibrium } from '../../../src/science/equilibrium/point-equilibrium.ts';
import { at, drawnArb, MEMBERS, sharesOf, Y123 } from './drawn-conditions.ts';

const few = MEMBERS.slice(0, 12);

describe('assemblageAt', () => {
  it('gives odds that add to 1, shares that add to 1, and keys of sorted names', () => {
    fc.assert(
      fc.property(drawnArb, ({ conditions, shares }) => {
        const found = assemblageAt(few, conditions, shares);
        expect(Object.values(found.odds).reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 9);
        expect(found.phases.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 9);
        for (const field of Object.keys(found.odds)) {
          const names = field.split(' + ');
          expect(names).toEqual([...new Set(names)].sort());
        }
        expect(Object.keys(found.odds)).toContain(fieldName(found.phases));
        expect(found.liquidInterval.low).toBeLessThanOrEqual(found.liquidInterval.high);
        expect(found.cuprousShare === null).toBe(found.phases.every(({ name }) => name !== LIQUID));
      }),
      { numRuns: 150, seed: 40 },
    );
  });

  it('is sure of 123 alone at its own composition at 850 degC in air', () => {
    expect(assemblageAt(MEMBERS, at(850, 0.21), sharesOf(1, 2, 3)).odds).toEqual({ [Y123]: 1 });
  });

  it("names the offset that just makes a phase join: its height above the others' plane", () => {
    let tried = 0;
    fc.assert(
      fc.property(drawnArb, fc.nat(40), ({ member, conditions, shares }, i) => {
        if (shares.some((share) => (share > 0 && share < 1e-5) || share > 0.9999)) return; // what joins would be a trace
        const ask = (offsetsJPerMol: Record<string, number>): Assemblage =>
          assemblageAt([member], { ...conditions, heldBack: [], offsetsJPerMol }, shares);
        const bulk = ask({});
        // on a tie line and at a compound many planes touch: the height is then that over one of them
        const isSure =
          bulk.phases.length === shares.filter((share) => share > 0).length || bulk.liquidShare.value > 0;
        if (!isSure || bulk.phases.some(({ share }) => share < 1e-4)) return;
        const apart = Object.entries(bulk.driving).filter(([, height]) => height > 4);
        if (shares[2] === 0) return; // the melt without Cu is followed only roughly
        const [name, height] = apart[i % Math.max(1, apart.length)] ?? [];
        if (name === undefined || height === undefined) return;
        tried++;
        const names = (offset: number): string[] => ask({ [name]: offset }).phases.map((phase) => phase.name);
        // on an edge, what stands for none of a cation makes a trace of melt within 1 J of its joining
        expect(names(-height + 2)).not.toContain(name);
        expect(names(-height - 2)).toContain(name);
      }),
      { numRuns: 800, seed: 41 },
    );
    expect(tried).toBeGreaterThan(300);
  });

  it('puts every stable phase at height 0 and every other above, a phase held back below if it would form', () => {
    const shares = sharesOf(1, 3, 7);
    const { driving, phases } = assemblageAt([MEMBERS[0]!], at(850, 1e-5, { heldBack: ['BaCu2O2'] }), shares);
    expect(driving.BaCu2O2).toBeLessThan(0);
    for (const { name } of phases) expect(driving[name]).toBe(0);
    for (const [name, height] of Object.entries(driving))
      if (name !== 'BaCu2O2') expect(height).toBeGreaterThanOrEqual(0);
  });

  it('leaves out of the heights what needs a cation that is not there', () => {
    const { driving } = assemblageAt([MEMBERS[0]!], at(850, 0.21), sharesOf(0, 1, 3));
    expect(Object.keys(driving).sort()).toEqual(
      ['Ba2Cu3O5.6', 'Ba2CuO3', 'BaCu2O2', 'BaCuO2', 'BaO', 'Cu', 'Cu2O', 'CuO', LIQUID].sort(),
    );
  });

  it('has potentials whose sum over the composition is the energy, and over a stable compound its own', () => {
    const shares = sharesOf(1, 3, 6);
    const { potentials } = assemblageAt([MEMBERS[0]!], at(880, 0.21), shares);
    const system = phaseSystem(MEMBERS[0]!, at(880, 0.21));
    const i = system.names.indexOf(Y123);
    expect((potentials[0] + 2 * potentials[1] + 3 * potentials[2]) / 6).toBeCloseTo(system.heights[i]!, 6);
  });

  it('refuses a phase it does not know and lists those it does', () => {
    expect(() => assemblageAt(few, at(850, 0.21, { heldBack: ['BaCu3O4'] }), sharesOf(1, 2, 3))).toThrow(
      /'BaCu3O4' is not a phase.*BaCu2O2/,
    );
    expect(() =>
      assemblageAt(few, at(850, 0.21, { offsetsJPerMol: { melt: 5 } }), sharesOf(1, 2, 3)),
    ).toThrow(/'melt' is not a phase.*liquid/);
  });

  it('refuses to hold back all that a cation could be in', () => {
    const conditions = at(850, 0.21, { heldBack: ['CuO', 'Cu2O', 'Cu'] });
    expect(() => assemblageAt(few, conditions, sharesOf(1, 2, 3))).toThrow(/EQUILIBRIUM_HELD_BACK/);
  });
});

describe('scanFields', () => {
  it('agrees with the single composition about field and odds, but within a sliver of a border', () => {
    const random = fc.sample(drawnArb, { numRuns: 40, seed: 42 });
    let others = 0;
    for (const { conditions } of random.slice(0, 12)) {
      const shares = random.map((each) => each.shares);
      const scan = scanFields(
        few,
        conditions,
        shares.map(([re]) => re),
        shares.map(([, ba]) => ba),
        shares.map(([, , cu]) => cu),
      );
      shares.forEach((each, i) => {
        few.forEach((member, m) => {
          const exact = pointEquilibrium(phaseSystem(member, conditions), each).phases;
          const field = scan.fields[scan.fieldIndex[i * few.length + m]!]!.join(' + ');
          if (field !== fieldName(exact)) others++;
        });
      });
    }
    expect(others).toBeLessThan(0.02 * 12 * 40 * few.length);
  });

  it('counts as useful what liquid and 123 hold where both are there', () => {
    const scan = scanFields(few, at(960, 0.21), [0.05, 0.1], [0.3, 0], [0.65, 0.9]);
    const { both, onlyThose } = liquidOddsOf(scan, few.length, Y123);
    expect(scan.usefulShare[0]).toBeGreaterThan(0);
    expect(scan.usefulShare[0]).toBeLessThanOrEqual(both[0]! + 1e-12);
    expect(onlyThose[0]).toBeLessThanOrEqual(both[0]!);
    expect([scan.usefulShare[1], both[1]]).toEqual([0, 0]); // no 123 without Ba
  });
});

describe('medianIndex', () => {
  it('takes the middle value, the lower of two, and the earlier of equals', () => {
    expect(medianIndex([5, 1, 3])).toBe(2);
    expect(medianIndex([4, 1, 3, 2])).toBe(3);
    expect(medianIndex([0, 0, 0, 0])).toBe(1);
    expect(medianIndex([1, 2, 3])).toBe(1);
  });
});

describe('interval95', () => {
  it('is the middle 95 % of evenly spread values, and one value where there is one', () => {
    const { low, high } = interval95(Array.from({ length: 101 }, (_, i) => 100 - i));
    expect(low).toBeCloseTo(2.5, 12);
    expect(high).toBeCloseTo(97.5, 12);
    expect(interval95([7])).toEqual({ low: 7, high: 7 });
  });
});
