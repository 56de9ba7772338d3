// The numeric tables of docs/science/equilibrium.md, made from the fits and the ensemble so that they cannot differ from them.
import { interval95 } from '../src/science/equilibrium/assemblage.ts';
import { MELT_FORMS } from '../src/science/equilibrium/melt.ts';
import { PUBLISHED_COUNT, publishedMembers } from '../src/science/equilibrium/members.ts';
import { ZERO_CELSIUS_K } from '../src/science/equilibrium/oxygen.ts';
import { LIQUID, type Member, phaseSystem } from '../src/science/equilibrium/phase-system.ts';
import { pointEquilibrium } from '../src/science/equilibrium/point-equilibrium.ts';
import {
  PERITECTIC_LINE,
  peritecticByRadiusC,
  radiusBeyondY,
} from '../src/science/equilibrium/rare-earth-shift.ts';
import { reactionPoint } from '../src/science/equilibrium/reaction.ts';
import { reactionOver } from '../src/science/equilibrium/reaction-odds.ts';
import { MELT_CALIBRATION } from '../src/science/tables/melt-calibration.ts';
import { MELT_FITS } from '../src/science/tables/melt-fits.ts';
import { MELT_MEMBERS } from '../src/science/tables/melt-members.ts';
import { PERITECTICS_RE } from '../src/science/tables/peritectics-re.ts';

const FITS = MELT_FITS.records;
type Numbers = Readonly<Record<string, number>>;

const rounded = (value: number): string => {
  const size = Math.abs(value);
  return value.toFixed(size >= 100 ? 0 : size >= 10 ? 1 : size >= 1 ? 2 : 3);
};
const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map(() => '---'), ...rows].map((row) => `| ${row.join(' | ')} |`).join('\n');
const celsius = (kelvin: number): string => (kelvin - ZERO_CELSIUS_K).toFixed(1);
/** Widths of data as they stand in the tables, computed ones to a tenth. */
const plusMinus = (width: number): string =>
  `+-${Number(width.toFixed(Number.isInteger(width * 100) ? 2 : 1))}`;

function residuals(): string {
  const rows = MELT_CALIBRATION.records.map(({ id, use, value, sigma, unit }) => {
    const isSolid = use === 'solid';
    return [
      id,
      unit,
      `${use === 'not below' ? 'at least ' : ''}${value} ${plusMinus(sigma)}`,
      ...FITS.map((fit) => {
        const found: Numbers = isSolid ? fit.solidShifts : fit.deviations;
        const off = found[id]!;
        const widths = use === 'not below' && off >= 0 ? 'kept' : (off / sigma).toFixed(2);
        return `${rounded(off)} (${widths})`;
      }),
    ];
  });
  return table(['datum', 'unit', 'value, width', ...FITS.map(({ id }) => id)], rows);
}

function outcome(): string {
  const row = (name: string, of: (fit: (typeof FITS)[number]) => string): string[] => [name, ...FITS.map(of)];
  const at = (fit: (typeof FITS)[number], i: number): string => {
    const { peritecticK, limitK } = fit.peritectics[i]!;
    return `${celsius(peritecticK)} / ${celsius(limitK)}`;
  };
  return table(
    ['', ...FITS.map(({ id }) => id)],
    [
      row('cost: data', ({ cost }) => cost.data.toFixed(2)),
      row('cost: solids', ({ cost }) => cost.solids.toFixed(2)),
      row('cost: priors', ({ cost }) => cost.priors.toFixed(2)),
      row('survives', ({ survives }) => (survives ? 'yes' : 'no')),
      row('123 = 211 + liquid / end of 123 in the full diagram, 1 atm, degC', (fit) => at(fit, 0)),
      row('the same, 0.21 atm', (fit) => at(fit, 1)),
      row('the same, 0.02 atm', (fit) => at(fit, 2)),
      row('eutectic in air, degC (in no fit; published 923 +-10)', ({ eutectic }) =>
        celsius(eutectic.temperatureK),
      ),
      row('its RE, Ba, Cu in % (published 0.5, 23.2, 76.3)', ({ eutectic }) =>
        eutectic.composition.map((share) => (100 * share).toFixed(2)).join(', '),
      ),
      row('its Cu+ share', ({ eutectic }) => eutectic.cuprousShare.toFixed(2)),
    ],
  );
}

function leftOut(): string {
  const rows = FITS[0]!.leftOut.flatMap(({ without, predicted }, i) =>
    Object.keys(predicted).map((id) => {
      const datum = MELT_CALIBRATION.records.find((record) => record.id === id)!;
      return [
        without,
        id,
        `${datum.value} ${plusMinus(datum.sigma)}`,
        ...FITS.map((fit) => {
          const value = (fit.leftOut[i]!.predicted as Numbers)[id]!;
          return `${value.toFixed(datum.sigma < 1 ? 2 : 1)} (${((value - datum.value) / datum.sigma).toFixed(1)})`;
        }),
      ];
    }),
  );
  return table(['left out', 'predicted', 'published, width', ...FITS.map(({ id }) => id)], rows);
}

function parameters(): string {
  const names = [...new Set(FITS.flatMap((fit) => Object.keys(fit.parameters)))];
  return table(
    ['parameter', ...FITS.map(({ id }) => id)],
    names.map((name) => [
      name,
      ...FITS.map((fit) => {
        const value = (fit.parameters as Numbers)[name];
        return value === undefined ? '' : rounded(value);
      }),
    ]),
  );
}

const REACTIONS: readonly {
  readonly name: string;
  readonly phases: readonly string[];
  readonly po2Atm: number;
  readonly published: string;
}[] = [
  ...[
    [1, '1030 [memory], in the fit'],
    [0.21, '1010 to 1015, in the fit'],
    [0.02, '971 [memory], in the fit'],
  ].map(([po2Atm, published]) => ({
    name: `123 = 211 + liquid, ${po2Atm} atm`,
    phases: ['YBa2Cu3O7', 'Y2BaCuO5', LIQUID],
    po2Atm: Number(po2Atm),
    published: String(published),
  })),
  {
    name: '123 + BaCuO2 + CuO = liquid, air',
    phases: ['YBa2Cu3O7', 'BaCuO2', 'CuO', LIQUID],
    po2Atm: 0.21,
    published: '923 +-10',
  },
  {
    name: '123 + CuO = 211 + liquid, air',
    phases: ['YBa2Cu3O7', 'CuO', 'Y2BaCuO5', LIQUID],
    po2Atm: 0.21,
    published: '940 [memory]',
  },
  {
    name: '211 + CuO = Y2Cu2O5 + liquid, air',
    phases: ['Y2BaCuO5', 'CuO', 'Y2Cu2O5', LIQUID],
    po2Atm: 0.21,
    published: '975 [memory]',
  },
];

function ensemble(): string {
  const members = publishedMembers(0, PUBLISHED_COUNT);
  const rows = REACTIONS.map(({ name, phases, po2Atm, published }) => {
    const answer = reactionOver(members, { rareEarth: 'Y' }, phases, { po2Atm })!;
    const forms = MELT_FORMS.map((form) =>
      reactionOver(
        members.filter(({ melt }) => melt.form === form),
        { rareEarth: 'Y' },
        phases,
        { po2Atm },
      )!.temperatureC.toFixed(0),
    );
    return [
      name,
      published,
      `${answer.temperatureC.toFixed(1)} ${plusMinus(answer.spread)}`,
      `${answer.interval.low.toFixed(0)} to ${answer.interval.high.toFixed(0)}`,
      forms.join(' / '),
      `${(100 * answer.stableOdds).toFixed(0)} %`,
      `${(100 * answer.meltShares![0]).toFixed(2)}, ${(100 * answer.meltShares![1]).toFixed(1)}`,
      answer.cuprousShare!.toFixed(2),
    ];
  });
  return table(
    [
      'reaction',
      'published, degC',
      'median, degC',
      'middle 95 %',
      MELT_FORMS.join(' / '),
      'stable in',
      'melt: RE, Ba in %',
      'Cu+ share',
    ],
    rows,
  );
}

/** Highest temperature at which a member's 123 stands by itself in the full diagram, degC. */
function endC(member: Member, po2Atm: number): number {
  let low = 1100;
  let high = 1400;
  while (high - low > 0.05) {
    const temperatureK = (low + high) / 2;
    const { phases } = pointEquilibrium(phaseSystem(member, { rareEarth: 'Y', temperatureK, po2Atm }), [
      1 / 6,
      1 / 3,
      1 / 2,
    ]);
    if (phases.some(({ name, share }) => name === 'YBa2Cu3O7' && share > 0.98)) low = temperatureK;
    else high = temperatureK;
  }
  return low - ZERO_CELSIUS_K;
}

function ends(): string {
  const rows = [1, 0.21, 0.02].map((po2Atm) => {
    const found = publishedMembers(0, PUBLISHED_COUNT).map((member) => {
      const end = endC(member, po2Atm);
      const { temperatureK } = reactionPoint(member, { rareEarth: 'Y' }, ['YBa2Cu3O7', 'Y2BaCuO5', LIQUID], {
        po2Atm,
      })!;
      return { end, early: temperatureK - ZERO_CELSIUS_K - end };
    });
    const { low, high } = interval95(found.map(({ end }) => end));
    const sorted = found.map(({ end }) => end).sort((p, q) => p - q);
    const within = found.filter(({ early }) => early < 1).length / found.length;
    return [
      `${po2Atm} atm`,
      sorted[sorted.length >> 1]!.toFixed(0),
      `${low.toFixed(0)} to ${high.toFixed(0)}`,
      `${(100 * within).toFixed(0)} %`,
      `${Math.max(...found.map(({ early }) => early)).toFixed(0)} K`,
    ];
  });
  return table(
    [
      'end of 123 in the full diagram',
      'median, degC',
      'middle 95 %',
      'members within 1 K of their peritectic',
      'furthest below it',
    ],
    rows,
  );
}

function redraws(): string {
  const counts: Numbers = MELT_MEMBERS.redrawn;
  const again = MELT_FORMS.map((form) => `${form} ${counts[form] ?? 0}`).join(', ');
  return `${PUBLISHED_COUNT} members, ${PUBLISHED_COUNT / MELT_FORMS.length} of each form; draws that were made again: ${again}.`;
}

function rareEarths(): string {
  const line =
    `Tp = ${PERITECTIC_LINE.atYC.toFixed(1)} degC + ${PERITECTIC_LINE.slopeKPerAngstrom.toFixed(0)} ` +
    `${plusMinus(PERITECTIC_LINE.slopeSigmaKPerAngstrom)} K per angstrom beyond the radius of Y.`;
  const rows = PERITECTICS_RE.records.map(({ symbol, temperatureC, sigmaC, use }) => {
    const { value, standardUncertainty } = peritecticByRadiusC(radiusBeyondY({ [symbol]: 1 }));
    return [
      symbol,
      use,
      `${temperatureC} ${plusMinus(sigmaC)}`,
      `${value.toFixed(0)} ${plusMinus(standardUncertainty)}`,
      (value - temperatureC).toFixed(0),
    ];
  });
  return `${line}\n\n${table(['RE', 'use', 'published, degC [memory]', 'line, degC', 'line less published'], rows)}`;
}

/** Text of each made part, by the name that its markers carry. */
export const EQUILIBRIUM_TABLES: Readonly<Record<string, () => string>> = {
  parameters,
  residuals,
  outcome,
  'left out': leftOut,
  redraws,
  ensemble,
  ends,
  'rare earths': rareEarths,
};

/** A document with its made parts made anew: what stands between `<!-- made: NAME -->` and `<!-- end -->`. */
export function withTables(document: string): string {
  return document.replaceAll(/<!-- made: ([^\n]+) -->\n[\s\S]*?<!-- end -->/g, (whole, name: string) => {
    const make = EQUILIBRIUM_TABLES[name];
    return make === undefined ? whole : `<!-- made: ${name} -->\n${make()}\n<!-- end -->`;
  });
}
