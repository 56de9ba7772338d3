import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { LIQUID, type PhaseSystem, phaseSystem } from '../../../src/science/equilibrium/phase-system.ts';
import {
  type PointEquilibrium,
  pointEquilibrium,
} from '../../../src/science/equilibrium/point-equilibrium.ts';
import { at, drawnArb, MEMBERS, type Shares, sharesOf, Y123 } from './drawn-conditions.ts';

/** Melts at which nothing may lie below the plane: even steps of ln RE and Ba, 38 by 49. */
const RE_TRIED = Array.from({ length: 38 }, (_, i) => Math.exp(-12 + (11.6 * i) / 37));
const BA_TRIED = Array.from({ length: 49 }, (_, i) => (i + 1) / 50);

/** Height of the lowest melt above a plane: a scan, then small steps down from the lowest place of it. */
function lowestMelt({ search: { melt } }: PhaseSystem, plane: readonly number[]): number {
  const height = (y: number, b: number): number =>
    melt.omega(y, b) - y * plane[0]! - b * plane[1]! - (1 - y - b) * plane[2]!;
  let least = Number.POSITIVE_INFINITY;
  let [bestY, bestB] = [0, 0];
  for (const y of RE_TRIED) {
    for (const b of BA_TRIED) {
      if (y + b >= 0.999) break;
      const here = height(y, b);
      if (here >= least) continue;
      least = here;
      [bestY, bestB] = [y, b];
    }
  }
  if (least > 400) return least;
  for (let step = 0.3; step > 1e-4; ) {
    const from = least;
    for (const [dy, db] of [
      [step, 0],
      [-step, 0],
      [0, step],
      [0, -step],
    ] as const) {
      const [y, b] = [bestY * Math.exp(dy), bestB * Math.exp(db)];
      if (y + b >= 1) continue;
      const here = height(y, b);
      if (here >= least) continue;
      least = here;
      [bestY, bestB] = [y, b];
    }
    if (least === from) step /= 2;
  }
  return least;
}

const lowestSolid = ({ shares, heights, isFree }: PhaseSystem, plane: readonly number[]): number =>
  heights.reduce(
    (least, height, i) =>
      isFree[i]
        ? Math.min(
            least,
            height -
              shares[3 * i]! * plane[0]! -
              shares[3 * i + 1]! * plane[1]! -
              shares[3 * i + 2]! * plane[2]!,
          )
        : least,
    Number.POSITIVE_INFINITY,
  );

const energyOf = ({ plane }: PointEquilibrium, shares: Shares): number =>
  shares.reduce((sum, share, k) => sum + (share > 0 ? share * plane[k]! : 0), 0);

const namesAt = (
  member: (typeof MEMBERS)[number],
  conditions: ReturnType<typeof at>,
  shares: Shares,
): string[] => pointEquilibrium(phaseSystem(member, conditions), shares).phases.map(({ name }) => name);

describe('pointEquilibrium', () => {
  it('keeps every cation, has three phases at most and nothing below their plane, at 10,000 random points', () => {
    fc.assert(
      fc.property(drawnArb, ({ member, conditions, shares }) => {
        const system = phaseSystem(member, conditions);
        const { phases, plane } = pointEquilibrium(system, shares);
        expect(Math.abs(phases.reduce((sum, { share }) => sum + share, 0) - 1)).toBeLessThan(1e-9);
        for (let k = 0; k < 3; k++) {
          const sum = phases.reduce((total, { share, composition }) => total + share * composition[k]!, 0);
          expect(Math.abs(sum - shares[k]!)).toBeLessThan(1e-9);
        }
        expect(phases.length).toBeLessThanOrEqual(3); // phase rule: three components at fixed T and pO2
        for (const { name, composition, share } of phases) {
          expect(share).toBeGreaterThan(0);
          expect(Math.abs(composition[0] + composition[1] + composition[2] - 1)).toBeLessThan(1e-9);
          expect(conditions.heldBack).not.toContain(name);
        }
        expect(lowestSolid(system, plane)).toBeGreaterThan(-1e-3);
        // at a corner two potentials are those of traces, and a melt of traces is no phase
        const isCorner = shares.some((share) => share > 0.999_999);
        if (system.isMeltFree && !isCorner) expect(lowestMelt(system, plane)).toBeGreaterThan(-1e-3);
      }),
      { numRuns: 10_000, seed: 4 },
    );
  });

  it('has the energy of its phases: each lies on the plane', () => {
    fc.assert(
      fc.property(drawnArb, ({ member, conditions, shares }) => {
        const system = phaseSystem(member, conditions);
        const found = pointEquilibrium(system, shares);
        const mixture = found.phases.reduce((sum, { name, share, composition: [y, b] }) => {
          const height =
            name === LIQUID ? system.search.melt.omega(y, b) : system.heights[system.names.indexOf(name)]!;
          return sum + share * height;
        }, 0);
        // two melts less than 0.03 apart, near where they become one, are told as one: a few J higher than the two
        const isOneMelt = found.phases.length === 1 && found.phases[0]!.name === LIQUID;
        expect(Math.abs(mixture - energyOf(found, shares))).toBeLessThan(isOneMelt ? 5 : 1e-3);
      }),
      { numRuns: 3000, seed: 5 },
    );
  });

  it('answers the same again, and whatever was asked before', () => {
    fc.assert(
      fc.property(drawnArb, drawnArb, (one, other) => {
        const ask = ({ member, conditions, shares }: typeof one): PointEquilibrium =>
          pointEquilibrium(phaseSystem(member, conditions), shares);
        const first = ask(one);
        ask(other);
        expect(ask(one)).toEqual(first);
      }),
      { numRuns: 300, seed: 6 },
    );
  });

  it('counts a phase held back as one lifted beyond reach', () => {
    fc.assert(
      fc.property(drawnArb, ({ member, conditions, shares }) => {
        const moved = {
          ...conditions,
          heldBack: [],
          offsetsJPerMol: {
            ...conditions.offsetsJPerMol,
            ...Object.fromEntries((conditions.heldBack ?? []).map((name) => [name, 1e6])),
          },
        };
        const [held, lifted] = [conditions, moved].map((each) =>
          pointEquilibrium(phaseSystem(member, each), shares),
        ) as [PointEquilibrium, PointEquilibrium];
        expect(Math.abs(energyOf(held, shares) - energyOf(lifted, shares))).toBeLessThan(1e-4);
      }),
      { numRuns: 1000, seed: 7 },
    );
  });

  it('never gains energy by holding a phase back, nor loses any by lowering one', () => {
    fc.assert(
      fc.property(drawnArb, ({ member, conditions, shares }) => {
        const free = { ...conditions, heldBack: [], offsetsJPerMol: {} };
        const energy = (each: typeof conditions): number =>
          energyOf(pointEquilibrium(phaseSystem(member, each), shares), shares);
        const whole = energy(free);
        expect(energy({ ...free, heldBack: conditions.heldBack ?? [] })).toBeGreaterThan(whole - 1e-3);
        expect(energy({ ...free, offsetsJPerMol: { [LIQUID]: -500 } })).toBeLessThan(whole + 1e-3);
      }),
      { numRuns: 1000, seed: 8 },
    );
  });

  it('is convex: a mixture of two films lies no higher than the two apart', () => {
    fc.assert(
      fc.property(
        drawnArb,
        drawnArb,
        fc.double({ min: 0.05, max: 0.95, noNaN: true }),
        (one, other, part) => {
          const system = phaseSystem(one.member, one.conditions);
          const mixed = one.shares.map(
            (share, k) => part * share + (1 - part) * other.shares[k]!,
          ) as unknown as Shares;
          const energy = (shares: Shares): number => energyOf(pointEquilibrium(system, shares), shares);
          expect(energy(mixed)).toBeLessThan(
            part * energy(one.shares) + (1 - part) * energy(other.shares) + 1e-3,
          );
        },
      ),
      { numRuns: 1000, seed: 9 },
    );
  });

  it('does not depend on the scale of the cations', () => {
    for (const scale of [1, 17, 1e-6, 1e9]) {
      const shares = sharesOf(scale, 3 * scale, 6 * scale);
      const { phases } = pointEquilibrium(phaseSystem(MEMBERS[0]!, at(940, 0.21)), shares);
      const plain = pointEquilibrium(phaseSystem(MEMBERS[0]!, at(940, 0.21)), [0.1, 0.3, 0.6]);
      phases.forEach(({ name, share }, i) => {
        expect(name).toBe(plain.phases[i]!.name);
        expect(share).toBeCloseTo(plain.phases[i]!.share, 10);
      });
    }
  });

  it('follows the lever rule between 123 and its melt', () => {
    const system = phaseSystem(MEMBERS[0]!, at(975, 0.21));
    const start = pointEquilibrium(system, sharesOf(0.05, 0.3, 0.65));
    const melt = start.phases.find(({ name }) => name === LIQUID)!;
    expect(start.phases.map(({ name }) => name)).toEqual([Y123, LIQUID]);
    for (const part of [0.05, 0.3, 0.9]) {
      const shares = [1 / 6, 2 / 6, 3 / 6].map(
        (x, k) => (1 - part) * x + part * melt.composition[k]!,
      ) as unknown as Shares;
      const { phases } = pointEquilibrium(system, shares);
      expect(phases.map(({ name }) => name)).toEqual([Y123, LIQUID]);
      expect(phases[1]!.share).toBeCloseTo(part, 6);
    }
  });

  it('has one phase at a compound that stands, the compound', () => {
    for (const member of MEMBERS) expect(namesAt(member, at(850, 0.21), sharesOf(1, 2, 3))).toEqual([Y123]);
  });

  it('answers on the edges with phases of that edge', () => {
    for (const member of MEMBERS.slice(0, 20)) {
      expect(namesAt(member, at(850, 0.21), sharesOf(0, 1, 3))).toEqual(['BaCuO2', 'CuO']);
      expect(namesAt(member, at(850, 0.21), sharesOf(0, 0, 1))).toEqual(['CuO']);
      expect(namesAt(member, at(850, 1e-5), sharesOf(0, 0, 1))).toEqual(['Cu2O']);
    }
  });

  it('can answer with two melts, where the melt splits', () => {
    let splits = 0;
    fc.assert(
      fc.property(drawnArb, ({ member, conditions, shares }) => {
        const lowered = { ...conditions, heldBack: [], offsetsJPerMol: { [LIQUID]: -9000 } };
        const { phases, cuprousShares } = pointEquilibrium(phaseSystem(member, lowered), shares);
        const melts = phases.filter(({ name }) => name === LIQUID);
        expect(cuprousShares).toHaveLength(melts.length);
        for (const share of cuprousShares) expect(share >= 0 && share <= 1).toBe(true);
        if (melts.length > 1) splits++;
      }),
      { numRuns: 1500, seed: 10 },
    );
    expect(splits).toBeGreaterThan(0);
  });
});
