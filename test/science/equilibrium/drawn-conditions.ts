// Random conditions and compositions for property tests: every rare earth, member, edge, corner, hold and offset.
import fc from 'fast-check';
import { PUBLISHED_COUNT, publishedMembers } from '../../../src/science/equilibrium/members.ts';
import { ZERO_CELSIUS_K } from '../../../src/science/equilibrium/oxygen.ts';
import {
  type Conditions,
  type Member,
  phaseNamesOf,
  superconductorName,
} from '../../../src/science/equilibrium/phase-system.ts';
import { radiusBeyondY } from '../../../src/science/equilibrium/rare-earth-shift.ts';
import { solidRecord } from '../../../src/science/equilibrium/solids.ts';
import { RARE_EARTHS } from '../../../src/science/matter/elements.ts';

export type Shares = readonly [number, number, number];

export const MEMBERS: readonly Member[] = publishedMembers(0, PUBLISHED_COUNT);

export interface Drawn {
  readonly member: Member;
  readonly conditions: Conditions;
  readonly shares: Shares;
}

/** Simple oxides, which are never held back: a corner must have a phase. */
const isCorner = (name: string): boolean => ['BaO', 'CuO', 'Cu2O', 'Cu'].includes(name) || /2O3$/.test(name);

export function sharesOf(re: number, ba: number, cu: number): Shares {
  const sum = re + ba + cu;
  return [re / sum, ba / sum, cu / sum];
}

const partArb = fc.double({ min: 1e-6, max: 1, noNaN: true });
const smallCount = fc.integer({ min: 0, max: 9 });

/** Inside, on the binary edges, in the corners, at small whole ratios, and at compounds. */
export const sharesArb: fc.Arbitrary<Shares> = fc.oneof(
  { weight: 5, arbitrary: fc.tuple(partArb, partArb, partArb).map(([a, b, c]) => sharesOf(a, b, c)) },
  // where films and melts are: little RE
  {
    weight: 5,
    arbitrary: fc.tuple(fc.double({ min: 1e-5, max: 0.2, noNaN: true }), partArb).map(([re, part]) => {
      const shares: Shares = [re, (1 - re) * part, (1 - re) * (1 - part)];
      return sharesOf(...shares);
    }),
  },
  {
    weight: 2,
    arbitrary: fc.tuple(fc.integer({ min: 0, max: 2 }), partArb, partArb).map(([absent, p, q]) => {
      const amounts = [p, q];
      amounts.splice(absent, 0, 0);
      return sharesOf(amounts[0]!, amounts[1]!, amounts[2]!);
    }),
  },
  {
    weight: 2,
    arbitrary: fc
      .tuple(smallCount, smallCount, smallCount)
      .filter(([a, b, c]) => a + b + c > 0)
      .map(([a, b, c]) => sharesOf(a, b, c)),
  },
  {
    weight: 1,
    arbitrary: fc
      .constantFrom('123', '211', '011', '012', '132', '124', '023', '210')
      .map((id) => solidRecord(id as '123'))
      .map(({ re, ba, cu }) => sharesOf(re, ba, cu)),
  },
  { weight: 1, arbitrary: fc.constantFrom<Shares>([1, 0, 0], [0, 1, 0], [0, 0, 1]) },
);

/** A member and its conditions: 700 to 1100 degC, 1e-6 to 1 atm; at times phases held back or moved by up to 4 kJ. */
export const conditionsArb: fc.Arbitrary<{ member: Member; conditions: Conditions }> = fc
  .record({
    m: fc.integer({ min: 0, max: PUBLISHED_COUNT - 1 }),
    rareEarth: fc.oneof(fc.constant('Y' as const), fc.constantFrom(...RARE_EARTHS)),
    temperatureC: fc.double({ min: 700, max: 1100, noNaN: true }),
    decade: fc.double({ min: -6, max: 0, noNaN: true }),
    holds: fc.oneof(fc.constant<number[]>([]), fc.array(fc.nat(40), { maxLength: 4 })),
    moves: fc.oneof(
      fc.constant<[number, number][]>([]),
      fc.array(fc.tuple(fc.nat(40), fc.double({ min: -4000, max: 4000, noNaN: true })), { maxLength: 3 }),
    ),
  })
  .map(({ m, rareEarth, temperatureC, decade, holds, moves }) => {
    const names = phaseNamesOf(rareEarth);
    const pick = (i: number): string => names[i % names.length]!;
    return {
      member: MEMBERS[m]!,
      conditions: {
        rareEarth,
        temperatureK: temperatureC + ZERO_CELSIUS_K,
        po2Atm: 10 ** decade,
        radiusBeyondYAngstrom: radiusBeyondY({ [rareEarth]: 1 }),
        heldBack: holds.map(pick).filter((name) => !isCorner(name)),
        offsetsJPerMol: Object.fromEntries(moves.map(([i, offset]) => [pick(i), offset])),
      },
    };
  });

export const drawnArb: fc.Arbitrary<Drawn> = fc
  .tuple(conditionsArb, sharesArb)
  .map(([drawn, shares]) => ({ ...drawn, shares }));

/** Y, no holds, no offsets. */
export const at = (temperatureC: number, po2Atm: number, more: Partial<Conditions> = {}): Conditions => ({
  rareEarth: 'Y',
  temperatureK: temperatureC + ZERO_CELSIUS_K,
  po2Atm,
  ...more,
});

export const Y123 = superconductorName('Y');
