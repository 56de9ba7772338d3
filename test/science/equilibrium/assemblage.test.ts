import { describe, expect, it } from 'vitest';
import {
  assemblageAt,
  medianIndex,
  oddsOfLiquidAnd123,
} from '../../../src/science/equilibrium/assemblage.ts';
import {
  type Conditions,
  diagramAt,
  type Member,
  phasePoints,
  phasesAt,
} from '../../../src/science/equilibrium/diagram.ts';
import { nominalMember, publishedMembers } from '../../../src/science/equilibrium/members.ts';
import { ZERO_CELSIUS_K } from '../../../src/science/equilibrium/oxygen.ts';
import { seededRandom } from '../../../src/science/numerics/seeded-random.ts';
import { lowestMixtureEnergy } from '../../simulate/lowest-mixture.ts';

const nominal = nominalMember();
const on890: Member = { ...nominal, liquid: { ...nominal.liquid, eutecticAirK: 890 + ZERO_CELSIUS_K } };

const at = (temperatureC: number, po2Atm: number, more: Partial<Conditions> = {}): Conditions => ({
  rareEarth: 'Y',
  temperatureK: temperatureC + ZERO_CELSIUS_K,
  po2Atm,
  ...more,
});

function randomShares(random: ReturnType<typeof seededRandom>): [number, number, number] {
  const [u, v] = [random.uniform(), random.uniform()].sort((a, b) => a - b) as [number, number];
  return [u, v - u, 1 - v];
}

function names(member: Member, conditions: Conditions, shares: readonly [number, number, number]): string[] {
  return phasesAt(diagramAt(member, conditions), ...shares).phases.map(({ name }) => name);
}

const ratio = (re: number, ba: number, cu: number): [number, number, number] => {
  const sum = re + ba + cu;
  return [re / sum, ba / sum, cu / sum];
};

describe('phasesAt', () => {
  it('keeps every cation and never more than three phases, at 10,000 random points', () => {
    const random = seededRandom(5);
    let worst = 0;
    let most = 0;
    for (let i = 0; i < 200; i++) {
      const diagram = diagramAt(nominal, at(650 + 400 * random.uniform(), 10 ** (-6 * random.uniform())));
      for (let j = 0; j < 50; j++) {
        const shares = randomShares(random);
        const { phases } = phasesAt(diagram, ...shares);
        most = Math.max(most, phases.length);
        for (let k = 0; k < 3; k++) {
          const sum = phases.reduce((total, phase) => total + phase.share * phase.composition[k]!, 0);
          worst = Math.max(worst, Math.abs(sum - shares[k]!));
        }
      }
    }
    expect(worst).toBeLessThan(1e-8);
    expect(most).toBe(3);
  });

  it('has the energy of the lowest mixture found by trying every triple, at 300 random points', () => {
    const random = seededRandom(6);
    for (let i = 0; i < 30; i++) {
      const conditions = at(700 + 300 * random.uniform(), 10 ** (-5 * random.uniform()));
      const candidates = phasePoints(nominal, conditions).map(({ shares, height }) => ({
        shares,
        energy: height,
      }));
      const { facets } = diagramAt(nominal, conditions);
      for (let j = 0; j < 10; j++) {
        const shares = randomShares(random);
        const lowest = lowestMixtureEnergy(candidates, shares);
        const ours = Math.max(
          ...facets.map(({ plane }) => plane[0] * shares[0] + plane[1] * shares[1] + plane[2] * shares[2]),
        );
        expect(Math.abs(ours - lowest)).toBeLessThan(1e-6); // J/mol, against some 1e4
      }
    }
  });

  it('follows the lever rule on the line from 123 to the liquid', () => {
    const conditions = at(900, 0.21);
    const melt = phasePoints(on890, conditions).findLast(
      ({ name, shares }) => name === 'liquid' && shares[0] > 0,
    )!;
    for (const liquidShare of [0.1, 0.35, 0.8]) {
      const shares = ([1 / 6, 2 / 6, 3 / 6] as const).map(
        (x, k) => (1 - liquidShare) * x + liquidShare * melt.shares[k]!,
      ) as [number, number, number];
      const { phases } = phasesAt(diagramAt(on890, conditions), ...shares);
      const main = phases.filter(({ share }) => share > 1e-6);
      expect(main.map(({ name }) => name)).toEqual(['YBa2Cu3O7', 'liquid']);
      expect(main[1]!.share).toBeCloseTo(liquidShare, 7);
    }
  });
});

describe('tie triangles in air', () => {
  it.each([
    [850, [5, 9, 12], ['BaCuO2', 'Y2BaCuO5', 'YBa2Cu3O7']],
    [850, [1, 1, 4], ['CuO', 'Y2BaCuO5', 'YBa2Cu3O7']],
    [850, [1, 3, 6], ['BaCuO2', 'CuO', 'YBa2Cu3O7']],
    [900, [5, 9, 12], ['BaCuO2', 'Y2BaCuO5', 'YBa2Cu3O7']],
    [900, [1, 1, 4], ['CuO', 'Y2BaCuO5', 'YBa2Cu3O7']],
    [900, [1, 3, 6], ['BaCuO2', 'CuO', 'YBa2Cu3O7']],
  ] as [number, [number, number, number], string[]][])(
    'at %d C and Y:Ba:Cu %j hold 123 with its known neighbours',
    (temperatureC, cations, expected) => {
      expect(names(nominal, at(temperatureC, 0.21), ratio(...cations))).toEqual(expected);
    },
  );

  it('give liquid with 123 at 900 C on the line drawn at 890 C, none on the line at 923 C', () => {
    expect(names(on890, at(900, 0.21), ratio(1, 3, 6))).toEqual(['BaCuO2', 'YBa2Cu3O7', 'liquid']);
    expect(names(nominal, at(900, 0.21), ratio(1, 3, 6))).not.toContain('liquid');
  });

  it('give no liquid anywhere below the line, and some just above it', () => {
    const random = seededRandom(9);
    for (const [temperatureC, isThere] of [
      [889.9, false],
      [890.1, true],
    ] as const) {
      const { facetPhases } = diagramAt(on890, at(temperatureC, 0.21));
      expect(facetPhases.some((phases) => phases.includes('liquid'))).toBe(isThere);
    }
    expect(names(on890, at(880, 0.21), randomShares(random))).not.toContain('liquid');
  });
});

describe('low oxygen pressure', () => {
  it('puts BaCu2O2 with Cu2O where the copper-rich liquid would be, at 850 C and 1e-5 atm', () => {
    expect(names(nominal, at(850, 1e-5), ratio(1, 3, 7))).not.toContain('liquid');
    expect(names(nominal, at(850, 1e-5), ratio(0, 1, 3))).toEqual(['BaCu2O2', 'Cu2O']);
  });

  it('gives liquid at 850 C somewhere between 4e-4 and 1 atm, as published', () => {
    const found = [5e-3, 1e-2].some((po2Atm) =>
      names(nominal, at(850, po2Atm), ratio(1, 3, 6)).includes('liquid'),
    );
    expect(found).toBe(true);
  });

  it('lets the liquid join at exactly the height that driving names', () => {
    const conditions = at(850, 1e-5);
    const shares = ratio(1, 3, 7);
    const { driving } = assemblageAt([nominal], conditions, shares);
    const gap = driving.liquid!;
    expect(gap).toBeGreaterThan(1000);
    const moved = (offset: number): string[] =>
      names(nominal, { ...conditions, offsetsJPerMol: { liquid: offset } }, shares);
    expect(moved(-gap + 1)).not.toContain('liquid');
    expect(moved(-gap - 1)).toContain('liquid');
  });

  it('shows a phase that is held back as below the plane, and without it another assemblage', () => {
    const conditions = at(850, 1e-5, { heldBack: ['BaCu2O2'] });
    const { driving, phases } = assemblageAt([nominal], conditions, ratio(1, 3, 7));
    expect(driving.BaCu2O2).toBeLessThan(0);
    expect(phases.map(({ name }) => name)).not.toContain('BaCu2O2');
  });
});

describe('assemblageAt', () => {
  const members = publishedMembers(0, 50);

  it('gives odds that add to 1 and shares that add to 1', () => {
    const { odds, phases } = assemblageAt(members, at(900, 0.1), ratio(1, 3, 6));
    expect(Object.values(odds).reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 12);
    expect(phases.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
    expect(Object.keys(odds).length).toBeGreaterThan(1);
  });

  it('has liquid in about half the members at 906 C in air, between the two published lines', () => {
    const { both } = oddsOfLiquidAnd123(members, at(906, 0.21), [0.1], [0.3], [0.6]);
    expect(both[0]).toBeGreaterThan(0.3);
    expect(both[0]).toBeLessThan(0.7);
  });

  it('is sure of 123 alone at its own composition at 850 C in air', () => {
    const { odds } = assemblageAt(members, at(850, 0.21), ratio(1, 2, 3));
    expect(odds).toEqual({ YBa2Cu3O7: 1 });
  });

  it('agrees with the map about the odds at a composition', () => {
    const shares = ratio(1, 3, 6);
    const { odds } = assemblageAt(members, at(900, 0.1), shares);
    const expected = Object.entries(odds)
      .filter(([field]) => field.includes('liquid') && field.includes('YBa2Cu3O7'))
      .reduce((sum, [, p]) => sum + p, 0);
    const { both, onlyThose } = oddsOfLiquidAnd123(
      members,
      at(900, 0.1),
      [shares[0]],
      [shares[1]],
      [shares[2]],
    );
    expect(both[0]).toBeCloseTo(expected, 12);
    expect(onlyThose[0]).toBeLessThanOrEqual(both[0]!);
  });

  it('answers on the edges: no rare earth, no barium, no copper', () => {
    expect(names(nominal, at(850, 0.21), ratio(0, 1, 3))).toEqual(['BaCuO2', 'CuO']);
    expect(names(on890, at(900, 0.21), ratio(0, 1, 3))).toEqual(['BaCuO2', 'liquid']);
    expect(names(nominal, at(850, 0.21), ratio(1, 0, 1))).toEqual(['Y2Cu2O5']);
    expect(names(nominal, at(850, 0.21), ratio(1, 1, 0))).toHaveLength(2);
    expect(names(nominal, at(850, 0.21), ratio(0, 0, 1))).toEqual(['CuO']);
  });

  it('refuses a phase it does not know and lists those it does', () => {
    expect(() => assemblageAt([nominal], at(850, 0.21, { heldBack: ['BaCu3O4'] }), ratio(1, 2, 3))).toThrow(
      /'BaCu3O4' is not a phase.*BaCu2O2/,
    );
  });

  it('refuses to hold back all that copper could be in', () => {
    const conditions = at(850, 0.21, { heldBack: ['CuO', 'Cu2O', 'Cu'] });
    expect(() => assemblageAt([nominal], conditions, ratio(1, 2, 3))).toThrow(/EQUILIBRIUM_HELD_BACK/);
  });
});

describe('medianIndex', () => {
  it('takes the middle value, the lower of two, and the earlier of equals', () => {
    expect(medianIndex([5, 1, 3])).toBe(2);
    expect(medianIndex([4, 1, 3, 2])).toBe(3);
    expect(medianIndex([0, 0, 0, 0])).toBe(1);
  });
});
