// Published values that are in no fit of the ensemble, each beside what the 60 members say. A miss stays a miss.
import { interval95 } from '../../src/science/equilibrium/assemblage.ts';
import { cupricLimitK, oxygenAboveSix, ZERO_CELSIUS_K } from '../../src/science/equilibrium/oxygen.ts';
import { pointEquilibrium } from '../../src/science/equilibrium/point-equilibrium.ts';
import type { RareEarth } from '../../src/science/equilibrium/solids.ts';
import { MELT_CALIBRATION } from '../../src/science/tables/melt-calibration.ts';
import { MELT_FITS } from '../../src/science/tables/melt-fits.ts';
import { PERITECTICS_RE } from '../../src/science/tables/peritectics-re.ts';
import {
  AIR,
  areTied,
  dissolutionKJPerMol,
  fieldAt,
  MEMBERS,
  median,
  meetStably,
  omegaOf,
  reactionOf,
  saturatedReShare,
  systemAt,
  turningPoint,
} from './equilibrium-asked.ts';

type Member = (typeof MEMBERS)[number];

export interface KeptOut {
  readonly quantity: string;
  readonly unit: string;
  /** as printed, with its band */
  readonly published: string;
  readonly band: readonly [number, number];
  /** computed median and middle 95 % of the members; one number where it does not depend on a member */
  readonly median: number;
  readonly low: number;
  readonly high: number;
  /** the median lies in the published band */
  readonly isInside: boolean;
  /** the two bands overlap */
  readonly overlaps: boolean;
  /** members that have it at all */
  readonly having: number;
  readonly source: string;
  readonly tag: 'looked-up' | 'memory' | 'derived';
}

const NIST = 'NIST group, J. Am. Ceram. Soc. about 1994 (abstract), air without CO2 and H2O';
const ASELAGE = 'believed to be T. Aselage, K. Keefer, J. Mater. Res. 3 (1988) 1279';
const NAKAMURA = 'M. Nakamura, C. Krauns, Y. Shiohara, J. Mater. Res. 11 (1996) 1076 (abstract)';
const FIELD_123 = 'W. Wong-Ng, L.P. Cook, J. Res. NIST 103 (1998) 379 (abstract)';
const FILMS =
  'W. Wong-Ng et al., Appl. Phys. Lett. (2007) (abstract), films; bulk energies with 211 held back';
const REVIEWS = 'melt-growth reviews of the 1990s';
const FIT_NOTE = 'own fit with the datum left out (data/melt-fits.json)';

type Asked = Pick<KeptOut, 'quantity' | 'unit' | 'published' | 'band' | 'source' | 'tag'>;

function row(asked: Asked, of: (member: Member) => number): KeptOut {
  const values = MEMBERS.map(of).filter(Number.isFinite);
  return judged(asked, values, values.length);
}

function judged(asked: Asked, values: readonly number[], having: number): KeptOut {
  const [least, most] = asked.band;
  if (values.length === 0) {
    return {
      ...asked,
      median: Number.NaN,
      low: Number.NaN,
      high: Number.NaN,
      isInside: false,
      overlaps: false,
      having,
    };
  }
  const middle = median(values);
  const { low, high } = interval95(values);
  return {
    ...asked,
    median: middle,
    low,
    high,
    isInside: middle >= least && middle <= most,
    overlaps: low <= most && high >= least,
    having,
  };
}

/** A claim: the share of members that have it; published as true, so 1 within 5 %. */
function claim(
  quantity: string,
  source: string,
  holds: (member: Member) => boolean,
  tag: KeptOut['tag'] = 'looked-up',
): KeptOut {
  const share = MEMBERS.filter(holds).length / MEMBERS.length;
  return {
    quantity,
    unit: 'share of members',
    published: 'so',
    band: [0.95, 1],
    median: share,
    low: share,
    high: share,
    isInside: share >= 0.95,
    overlaps: share >= 0.95,
    having: MEMBERS.length,
    source,
    tag,
  };
}

const celsius = (member: Member, names: readonly string[], po2Atm = AIR, re: RareEarth = 'Y'): number => {
  const point = reactionOf(member, names, po2Atm, re);
  return point ? point.temperatureK - ZERO_CELSIUS_K : Number.NaN;
};
const E1 = ['YBa2Cu3O7', 'BaCuO2', 'CuO', 'liquid'];
const eutecticMelts = new Map(
  MEMBERS.map((member): [Member, readonly number[] | null | undefined] => {
    const melt = reactionOf(member, E1)?.melt;
    return [member, melt && [...melt.composition, melt.cuprousShare]];
  }),
);
const ofEutectic =
  (k: number) =>
  (member: Member): number =>
    eutecticMelts.get(member)?.[k] ?? Number.NaN;

/** Ends of the field of 123 among melts in air, Cu share of cations, and the most Y in it; melts beside 123 with nothing lower. */
const fieldsOf123 = new Map<Member, { least: number; most: number; re: number; splits: boolean }>();
function fieldOf123(member: Member): { least: number; most: number; re: number; splits: boolean } {
  const kept = fieldsOf123.get(member);
  if (kept) return kept;
  const found = { least: Number.NaN, most: Number.NaN, re: 0, splits: false };
  for (const temperatureC of [930, 945, 960, 975, 990, 1000, 1010, 1020]) {
    const system = systemAt(member, temperatureC, AIR);
    for (let ratio = 0.16; ratio < 0.62; ratio += 0.02) {
      const re = saturatedReShare(system, 'YBa2Cu3O7', ratio);
      if (!Number.isFinite(re)) continue;
      // a trifle of 123 in the melt: that melt stands beside 123 where nothing else does
      const [ba, cu] = [(1 - re) * ratio, (1 - re) * (1 - ratio)];
      const field = fieldAt(system, [re + 1e-4 / 6, ba + 2e-4 / 6, cu + 3e-4 / 6]);
      if (field !== 'YBa2Cu3O7 + liquid') continue;
      found.least = Number.isNaN(found.least) ? cu : Math.min(found.least, cu);
      found.most = Number.isNaN(found.most) ? cu : Math.max(found.most, cu);
      found.re = Math.max(found.re, re);
    }
    for (let ba = 0.2; ba < 0.6 && !found.splits; ba += 0.04) {
      const shares = [0.02, ba, 0.98 - ba] as const;
      found.splits = twoMelts(system, shares);
    }
  }
  fieldsOf123.set(member, found);
  return found;
}

/** Two melts side by side at a composition. */
function twoMelts(system: ReturnType<typeof systemAt>, shares: readonly [number, number, number]): boolean {
  return pointEquilibrium(system, shares).phases.filter(({ name }) => name === 'liquid').length > 1;
}

/** log10 of the pO2, atm, above which 124 stands between 123 and CuO at 850 degC. */
const line124 = (member: Member): number =>
  turningPoint((decade) => areTied(systemAt(member, 850, 10 ** decade), ['YBa2Cu3O7', 'CuO']), -1.5, 1);

/** Where Ba2Cu3O5+d gives way to BaCuO2 and CuO, K. */
const ends023 = (member: Member, po2Atm: number): number =>
  turningPoint(
    (temperatureK) =>
      omegaOf('023', temperatureK, po2Atm, member) <
      2 * omegaOf('011', temperatureK, po2Atm, member) + omegaOf('cuo', temperatureK, po2Atm, member),
    700,
    1400,
  );

/** Every row, worked out: some seconds. */
export function keptOutRows(): KeptOut[] {
  const rows: KeptOut[] = [];
  const add = (
    quantity: string,
    unit: string,
    published: string,
    band: readonly [number, number],
    source: string,
    tag: KeptOut['tag'],
    of: (member: Member) => number,
  ): void => {
    rows.push(row({ quantity, unit, published, band, source, tag }, of));
  };
  rows.push(
    judged(
      {
        quantity: 'CuO = Cu2O in air',
        unit: 'degC',
        published: '1024 to 1031',
        band: [1023, 1032],
        source: 'values in use',
        tag: 'memory',
      },
      [cupricLimitK(AIR) - ZERO_CELSIUS_K],
      MEMBERS.length,
    ),
  );
  add(
    '124 = 123 + CuO at 850 degC, plateau with 247',
    'log10 atm',
    '-0.04 +- 0.05',
    [-0.09, 0.01],
    'Chemical potentials of oxygen for the decomposition of YBa2Cu3O7-x and YBa2Cu4O8 at sub-ambient pressures (abstract)',
    'looked-up',
    line124,
  );
  add(
    '124 = 123 + CuO at 850 degC, on heating',
    'log10 atm',
    '-0.49 +- 0.2',
    [-0.69, -0.29],
    'Appl. Phys. Lett. 57 (1990) (abstract), thermal analysis',
    'looked-up',
    line124,
  );
  add('e1: 123 + BaCuO2 + CuO = liquid, air', 'degC', '923 +- 10', [913, 933], NIST, 'looked-up', (member) =>
    celsius(member, E1),
  );
  add(
    'the same, older',
    'degC',
    '890 +- 10',
    [880, 900],
    'C.P. Poole (ed.), Handbook of Superconductivity, citing Aselage and Keefer 1988',
    'looked-up',
    (member) => celsius(member, E1),
  );
  add(
    'Ba in the e1 melt',
    'share of cations',
    '0.232 +- 0.005',
    [0.227, 0.237],
    NIST,
    'looked-up',
    ofEutectic(1),
  );
  add(
    'Y in the e1 melt',
    'share of cations',
    '0.005 +- 0.001',
    [0.004, 0.006],
    NIST,
    'looked-up',
    ofEutectic(0),
  );
  add(
    'Cu in the e1 melt',
    'share of cations',
    '0.763 +- 0.010',
    [0.753, 0.773],
    NIST,
    'looked-up',
    ofEutectic(2),
  );
  add(
    'e1 in 1 atm of oxygen less e1 in air',
    'K',
    'above 0',
    [0, 200],
    'direction: Ullman et al., J. Mater. Res. 4 (1989) (abstract)',
    'looked-up',
    (member) => celsius(member, E1, 1) - celsius(member, E1),
  );
  add(
    'first liquid of Ba-Cu-O in 1 atm of oxygen (with 023)',
    'degC',
    '910 +- 10',
    [900, 920],
    'A.F. Maiorova et al., Physica C 218 (1993) 137 (abstract)',
    'looked-up',
    (member) => celsius(member, ['BaCuO2', 'CuO', 'liquid'], 1),
  );
  add(
    'first liquid of Ba-Cu-O in air (with 023)',
    'degC',
    '860 +- 10',
    [850, 870],
    'A.F. Maiorova et al., Physica C 218 (1993) 137 (abstract)',
    'looked-up',
    (member) => celsius(member, ['BaCuO2', 'CuO', 'liquid']),
  );
  add('p1: 123 + CuO = 211 + liquid, air', 'degC', '940 +- 10', [930, 950], ASELAGE, 'memory', (member) =>
    celsius(member, ['YBa2Cu3O7', 'CuO', 'Y2BaCuO5', 'liquid']),
  );
  add('211 + CuO = Y2Cu2O5 + liquid, air', 'degC', '975 +- 10', [965, 985], ASELAGE, 'memory', (member) =>
    celsius(member, ['Y2BaCuO5', 'CuO', 'Y2Cu2O5', 'liquid']),
  );
  add('123 + BaCuO2 = 211 + liquid, air', 'degC', '1000 +- 10', [990, 1010], ASELAGE, 'memory', (member) =>
    celsius(member, ['YBa2Cu3O7', 'BaCuO2', 'Y2BaCuO5', 'liquid']),
  );
  add(
    'peritectic in air by thermal analysis',
    'degC',
    '1020 +- 10',
    [1010, 1030],
    'J. Plewa et al., Thermochim. Acta 255 (1995) 177 (abstract)',
    'looked-up',
    (member) => celsius(member, ['YBa2Cu3O7', 'Y2BaCuO5', 'liquid']),
  );
  rows.push(
    claim(
      'no BaCu2O2 at 0-1-3, 850 degC, 0.05 atm (above its line)',
      'Borowiec and Kolbrecka 1991 (abstract): line at 10^-3.2 to 10^-1.3 atm',
      (member) => !fieldAt(systemAt(member, 850, 0.05), [0, 1, 3]).includes('BaCu2O2'),
    ),
  );
  add(
    '2 BaCuO2 + Cu2O = 2 BaCu2O2 + 1/2 O2 at 850 degC',
    'log10 atm',
    '-3.19 (cells) to -1.25 (mixed)',
    [-3.19, -1.25],
    'Borowiec and Kolbrecka 1991; Jacob et al. 1992 (abstracts)',
    'looked-up',
    (member) =>
      turningPoint(
        (decade) =>
          2 * omegaOf('012', 1123.15, 10 ** decade, member) <
          2 * omegaOf('011', 1123.15, 10 ** decade, member) + omegaOf('cu2o', 1123.15, 10 ** decade, member),
        -9,
        2,
      ),
  );
  add(
    'BaCu2O2 from BaO and Cu2O at 1123 K',
    'kJ/mol',
    '-39.8 +- 0.4',
    [-40.2, -39.4],
    'K.T. Jacob et al., Mater. Sci. Eng. B 15 (1992) 63 (abstract)',
    'looked-up',
    (member) => (omegaOf('012', 1123, AIR, member) - omegaOf('cu2o', 1123, AIR, member)) / 1000,
  );
  add(
    'the same',
    'kJ/mol',
    '-29.3 +- 1',
    [-30.3, -28.3],
    'K. Borowiec, K. Kolbrecka, J. Alloys Compd. 176 (1991) (abstract)',
    'looked-up',
    (member) => (omegaOf('012', 1123, AIR, member) - omegaOf('cu2o', 1123, AIR, member)) / 1000,
  );
  add(
    'field of 123 among melts in air, least Cu',
    'share of cations',
    '0.43',
    [0.41, 0.45],
    FIELD_123,
    'looked-up',
    (member) => fieldOf123(member).least,
  );
  add(
    'field of 123 among melts in air, most Cu',
    'share of cations',
    '0.76',
    [0.74, 0.78],
    FIELD_123,
    'looked-up',
    (member) => fieldOf123(member).most,
  );
  add(
    'most Y in that field',
    'share of cations',
    'below 0.020',
    [0, 0.02],
    FIELD_123,
    'looked-up',
    (member) => fieldOf123(member).re,
  );
  rows.push(
    claim(
      'the melt splits in two about the field of 123, air',
      FIELD_123,
      (member) => fieldOf123(member).splits,
    ),
  );
  for (const { symbol, temperatureC, sigmaC, use } of PERITECTICS_RE.records) {
    if (use !== 'check') continue;
    const re = symbol as RareEarth;
    add(
      `peritectic of ${symbol}123, air`,
      'degC',
      `${temperatureC} +- ${sigmaC}`,
      [temperatureC - sigmaC, temperatureC + sigmaC],
      REVIEWS,
      'memory',
      (member) => celsius(member, [`${re}Ba2Cu3O7`, `${re}2BaCuO5`, 'liquid'], AIR, re),
    );
  }
  rows.push(
    claim(
      '850 degC: 123 + BaCuO2 + BaCu2O2 + 211 at one pO2',
      'J. Solid State Chem. 92 (1991) (abstract)',
      (member) => meetStably(member, ['YBa2Cu3O7', 'BaCuO2', 'BaCu2O2', 'Y2BaCuO5']),
    ),
    claim(
      '850 degC: 123 + BaCu2O2 + 211 + Cu2O at one pO2',
      'J. Solid State Chem. 92 (1991) (abstract)',
      (member) => meetStably(member, ['YBa2Cu3O7', 'BaCu2O2', 'Y2BaCuO5', 'Cu2O']),
    ),
    claim(
      'liquid at 850 degC between 4e-4 and 1 atm',
      'Physica C (1990) (abstract), without numbers',
      (member) =>
        [4e-4, 1e-3, 2e-3, 4e-3, 6e-3, 1e-2, 2e-2].some((p) =>
          [
            [1, 3, 6],
            [1, 30, 69],
            [1, 25, 74],
          ].some((x) =>
            fieldAt(systemAt(member, 850, p), x as unknown as [number, number, number]).includes('liquid'),
          ),
        ),
    ),
    claim('735 degC, 100 Pa, 211 held back: 123 with Y2O3', FILMS, (member) =>
      areTied(systemAt(member, 735, 100 / 101325, { heldBack: ['Y2BaCuO5'] }), ['YBa2Cu3O7', 'Y2O3']),
    ),
    claim('735 degC, 100 Pa, 211 held back: 123 with Y2Cu2O5', FILMS, (member) =>
      areTied(systemAt(member, 735, 100 / 101325, { heldBack: ['Y2BaCuO5'] }), ['YBa2Cu3O7', 'Y2Cu2O5']),
    ),
    claim(
      '735 degC, 100 Pa, Gd211 held back: Gd123 with Gd2O3',
      'W. Wong-Ng et al., Appl. Phys. Lett., coated conductor films (abstract)',
      (member) =>
        areTied(systemAt(member, 735, 100 / 101325, { rareEarth: 'Gd', heldBack: ['Gd2BaCuO5'] }), [
          'GdBa2Cu3O7',
          'Gd2O3',
        ]),
    ),
    claim(
      'the first melting depends strongly on oxygen: more than 20 K from air to 1 atm',
      'J.E. Ullman, R.W. McCallum, J.D. Verhoeven, J. Mater. Res. 4 (1989) (abstract)',
      (member) => {
        const [one, air] = [1, AIR].map(
          (p) => reactionOf(member, ['YBa2Cu3O7', 'BaCuO2', 'CuO', 'liquid'], p)?.temperatureK ?? Number.NaN,
        ) as [number, number];
        return one > air + 20;
      },
    ),
    claim('Y at the peritectic is largest in 1 atm of oxygen', NAKAMURA, (member) => {
      const [one, air, low] = [1, AIR, 0.02].map(
        (p) => reactionOf(member, ['YBa2Cu3O7', 'Y2BaCuO5', 'liquid'], p)?.melt?.composition[0] ?? 0,
      ) as [number, number, number];
      return one > air && one > low;
    }),
    claim(
      'Nd at its peritectic rises with oxygen from 0.01 to 1 atm',
      'M. Nakamura et al., Physica C 266 (1996) (abstract)',
      (member) => {
        const [one, low] = [1, 0.01].map(
          (p) =>
            reactionOf(member, ['NdBa2Cu3O7', 'Nd2BaCuO5', 'liquid'], p, 'Nd')?.melt?.composition[0] ?? 0,
        ) as [number, number];
        return one > low;
      },
    ),
  );
  for (const [solid, name, published] of [
    ['YBa2Cu3O7', '123', [206, 239, 289]],
    ['Y2BaCuO5', '211', [88.4, 88.0, 105]],
  ] as const) {
    [1, AIR, 0.02].forEach((p, i) => {
      const value = published[i]!;
      const peritecticC = [1030, 1010, 971][i]!;
      const range =
        name === '123'
          ? ([peritecticC - 45, peritecticC - 5] as const)
          : ([peritecticC + 5, peritecticC + 45] as const);
      add(
        `enthalpy of dissolution of ${name} in a 3:5 melt, ${p} atm`,
        'kJ per mol RE',
        `${value} +- 10 %`,
        [0.9 * value, 1.1 * value],
        `${NAKAMURA}; per mole of what is not said`,
        'looked-up',
        (member) => dissolutionKJPerMol(member, solid, p, range),
      );
    });
  }
  add(
    'Y saturated with 123 at 967 degC, 3:5 melt: 1 atm over 0.02 atm',
    'ratio',
    'hardly depends on oxygen',
    [0.67, 1.5],
    NAKAMURA,
    'looked-up',
    (member) =>
      saturatedReShare(systemAt(member, 967, 1), 'YBa2Cu3O7', 3 / 8) /
      saturatedReShare(systemAt(member, 967, 0.02), 'YBa2Cu3O7', 3 / 8),
  );
  add(
    'Ba2Cu3O5+d ends, 1 atm, above its end in air',
    'K',
    '48 +- 5',
    [43, 53],
    'A.F. Maiorova et al., Physica C 218 (1993) 137 (abstract)',
    'looked-up',
    (member) => ends023(member, 1) - ends023(member, AIR),
  );
  for (const [temperatureC, p, published, band, source, tag] of [
    [
      450,
      1,
      'z 0.9',
      [0.85, 0.95],
      'Mehta and Smyth (abstract): x from 6.2 to 6.9 over 450 to 850 degC and 1e-3 to 1 atm, read as the corners of that range',
      'looked-up',
    ],
    [850, 1e-3, 'z 0.2', [0.15, 0.25], 'the same, its other end', 'looked-up'],
    [
      350,
      1,
      'd about 0',
      [0.95, 1.05],
      'K. Kishio et al., Jpn. J. Appl. Phys. 26 (1987) L1228 (abstract)',
      'looked-up',
    ],
    [
      1000,
      1e-4,
      'd 0.9',
      [0.05, 0.15],
      'K. Kishio et al., Jpn. J. Appl. Phys. 26 (1987) L1228 (abstract)',
      'looked-up',
    ],
  ] as const) {
    rows.push(
      judged(
        {
          quantity: `oxygen z of 123 at ${temperatureC} degC and ${p} atm`,
          unit: '1',
          published,
          band,
          source,
          tag,
        },
        [oxygenAboveSix(temperatureC + ZERO_CELSIUS_K, p)],
        MEMBERS.length,
      ),
    );
  }
  for (const id of [
    'peritectic-oxygen',
    'peritectic-air',
    'peritectic-low',
    'peritectic-cuprous',
    'eutectic-cuprous',
  ] as const) {
    const datum = MELT_CALIBRATION.records.find((record) => record.id === id)!;
    const predicted = MELT_FITS.records.flatMap(({ leftOut }) =>
      leftOut.flatMap(({ predicted: values }) => {
        const value = (values as Record<string, number>)[id];
        return value === undefined ? [] : [value];
      }),
    );
    const { value, sigma, unit } = datum;
    rows.push(
      judged(
        {
          quantity: `${datum.meaning.replace(/[:;(].*$/, '').trim()}, predicted without it`,
          unit,
          published: `${value} +- ${sigma}`,
          band: [value - sigma, value + sigma],
          source: `${datum.source}; ${FIT_NOTE}, best fit of each form`,
          tag: datum.tag.includes('memory')
            ? 'memory'
            : datum.tag.includes('derived')
              ? 'derived'
              : 'looked-up',
        },
        predicted,
        predicted.length,
      ),
    );
  }
  return rows;
}
