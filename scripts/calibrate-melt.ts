// Fits every form of the melt to the calibration set and draws the ensemble, by docs/decisions/0005-melt-ensemble.md. Writes
// data/melt-fits.json and data/melt-members.json. Usage: node scripts/calibrate-melt.ts [members a form]. Takes minutes.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { MELT_FORMS, type MeltForm } from '../src/science/equilibrium/melt.ts';
import {
  type FitProblem,
  type FittedMelt,
  fitMelt,
  jPerMolPerKelvinOf,
  MELT_DATA,
  peritecticOf,
  priorsOf,
  SOLID_DATA,
} from '../src/science/equilibrium/melt-fit.ts';
import { ZERO_CELSIUS_K } from '../src/science/equilibrium/oxygen.ts';
import { LIQUID, type Member, phaseSystem } from '../src/science/equilibrium/phase-system.ts';
import { pointEquilibrium } from '../src/science/equilibrium/point-equilibrium.ts';
import { PERITECTIC_LINE } from '../src/science/equilibrium/rare-earth-shift.ts';
import { reactionPoint } from '../src/science/equilibrium/reaction.ts';
import { SOLID_RECORDS, type SolidValues, solidRecord } from '../src/science/equilibrium/solids.ts';
import { type SeededRandom, seededRandom } from '../src/science/numerics/seeded-random.ts';

const SEED = 2026;
const STARTS = 8;
const TRUNCATION = 2.5;
const MAX_COST = 25;
const PRESSURES_ATM = [1, 0.21, 0.02] as const;
const ROOT = join(import.meta.dirname, '..');
const perForm = Number(process.argv[2] ?? 20);

const costOf = ({ cost }: FittedMelt): number => cost.data + cost.solids + cost.priors;
const plain = (form: MeltForm, leftOut: FitProblem['leftOut'] = []): FitProblem => ({
  form,
  centres: {},
  priorCentres: {},
  leftOut,
  otherSolids: {},
});
/** @param radiusDraw widths by which the slope of the peritectic against the radius is moved */
const memberOf = (fit: FittedMelt, radiusDraw = 0): Member => ({
  solids: fit.solids,
  melt: fit.melt,
  jPerMolPerKelvin: jPerMolPerKelvinOf(fit.melt, fit.solids),
  peritecticKPerAngstrom:
    PERITECTIC_LINE.slopeKPerAngstrom + radiusDraw * PERITECTIC_LINE.slopeSigmaKPerAngstrom,
});

/** Best of several starts: the priors' own values and random points about them. */
function bestFit(problem: FitProblem): FittedMelt {
  const nCoordinates = SOLID_DATA.length + priorsOf(problem.form).length;
  let best = fitMelt(problem);
  for (let i = 1; i < STARTS; i++) {
    const random = seededRandom(SEED, 1000 + i);
    const fit = fitMelt(
      problem,
      Float64Array.from({ length: nCoordinates }, () => 0.6 * random.normal()),
    );
    if (costOf(fit) < costOf(best)) best = fit;
  }
  return best;
}

/** Highest temperature at which 123 stands by itself in the full diagram, K. */
function upperLimitK(member: Member, po2Atm: number): number {
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
  return low;
}

const AIR_TRIANGLES = [
  { temperatureC: 850, names: ['BaCuO2', 'CuO', 'YBa2Cu3O7'] },
  { temperatureC: 850, names: ['CuO', 'Y2BaCuO5', 'YBa2Cu3O7'] },
  { temperatureC: 850, names: ['BaCuO2', 'Y2BaCuO5', 'YBa2Cu3O7'] },
  { temperatureC: 800, names: ['BaCuO2', 'Y2BaCuO5', 'YBa2Cu3O7'] },
] as const;

function hasAirTriangles(member: Member): boolean {
  return AIR_TRIANGLES.every(({ temperatureC, names }) => {
    const system = phaseSystem(member, {
      rareEarth: 'Y',
      temperatureK: temperatureC + ZERO_CELSIUS_K,
      po2Atm: 0.21,
    });
    const shares = [0, 1, 2].map(
      (k) =>
        names.reduce((sum, name) => sum + system.shares[3 * system.names.indexOf(name) + k]!, 0) /
        names.length,
    ) as [number, number, number];
    return (
      pointEquilibrium(system, shares)
        .phases.map(({ name }) => name)
        .join() === [...names].sort().join()
    );
  });
}

/**
 * Compositions without a melt at 1000 degC in air: Y2O3 with Y2Cu2O5 was a solid cell up to 1323 K [looked-up: G.M. Kale, K.T. Jacob,
 * Chem. Mater. 1 (1989) 515]; between Y2O3 and BaO nothing melts so low [common practice].
 */
const WITHOUT_MELT: readonly (readonly [number, number, number])[] = [
  [0.5, 0, 0.5],
  [0.75, 0, 0.25],
  [0.25, 0.75, 0],
  [0.5, 0.5, 0],
  [0.75, 0.25, 0],
  [0.4, 0.6, 0],
  [0.6, 0.39, 0.01],
  [0.39, 0.6, 0.01],
  [0.25, 0.74, 0.01],
];

function hasSolidEdges(member: Member): boolean {
  const system = phaseSystem(member, { rareEarth: 'Y', temperatureK: 1000 + ZERO_CELSIUS_K, po2Atm: 0.21 });
  return WITHOUT_MELT.every((shares) =>
    pointEquilibrium(system, shares).phases.every(({ name }) => name !== LIQUID),
  );
}

function truncatedNormal(random: SeededRandom): number {
  for (;;) {
    const value = random.normal();
    if (Math.abs(value) <= TRUNCATION) return value;
  }
}

/** Compounds that no datum touches, drawn by their own width. */
const OTHERS = SOLID_RECORDS.filter(
  ({ id, sigmaJPerMol }) => sigmaJPerMol > 0 && id !== '011' && id !== '211',
);

function drawnProblem(form: MeltForm, random: SeededRandom): FitProblem {
  const otherSolids: SolidValues = {};
  for (const { id } of OTHERS) {
    const { aJPerMol, bJPerMolK, sigmaJPerMol } = solidRecord(id);
    otherSolids[id] = { aJPerMol: aJPerMol + sigmaJPerMol * truncatedNormal(random), bJPerMolK };
  }
  return {
    form,
    centres: Object.fromEntries(
      [...MELT_DATA, ...SOLID_DATA].map(({ id, value, sigma }) => [
        id,
        value + sigma * truncatedNormal(random),
      ]),
    ),
    priorCentres: Object.fromEntries(
      priorsOf(form).map(({ parameter, value, sigma }) => [
        parameter,
        value + sigma * truncatedNormal(random),
      ]),
    ),
    leftOut: [],
    otherSolids,
  };
}

const round = (value: number, digits = 7): number => Number(value.toPrecision(digits));
const started = Date.now();
const say = (text: string): void => {
  process.stderr.write(`${Math.round((Date.now() - started) / 1000)} s  ${text}\n`);
};

const fits: object[] = [];
const survivors: { form: MeltForm; best: FittedMelt }[] = [];
for (const form of MELT_FORMS) {
  const best = bestFit(plain(form));
  const member = memberOf(best);
  const peritectics = PRESSURES_ATM.map((po2Atm) => {
    const metastableK = peritecticOf(best.melt, best.solids, po2Atm)!.temperatureK;
    return { po2Atm, peritecticK: round(metastableK), limitK: round(upperLimitK(member, po2Atm)) };
  });
  const survives =
    costOf(best) < MAX_COST &&
    peritectics.every(({ peritecticK, limitK }) => Math.abs(peritecticK - limitK) < 10);
  if (survives) survivors.push({ form, best });
  say(`${form}: cost ${costOf(best).toFixed(2)}, survives: ${survives}`);
  const eutectic = reactionPoint(member, { rareEarth: 'Y' }, ['YBa2Cu3O7', 'BaCuO2', 'CuO', LIQUID], {
    po2Atm: 0.21,
  });
  const leftOut = [
    ...(['peritectic-oxygen', 'peritectic-air', 'peritectic-low'] as const).map((id) => [id]),
    ['peritectic-cuprous', 'eutectic-cuprous'] as const,
  ].map((ids) => {
    const fit = fitMelt(plain(form, [...ids]), best.coordinates);
    return {
      without: ids.join(' and '),
      cost: round(costOf(fit), 4),
      predicted: Object.fromEntries(
        ids.map((id) => [
          id,
          round(fit.deviations[id]! + MELT_DATA.find((datum) => datum.id === id)!.value, 6),
        ]),
      ),
    };
  });
  fits.push({
    id: form,
    survives,
    cost: Object.fromEntries(Object.entries(best.cost).map(([part, value]) => [part, round(value, 4)])),
    parameters: Object.fromEntries(
      Object.entries(best.melt.values).map(([name, value]) => [name, round(value)]),
    ),
    solidShifts: Object.fromEntries(
      SOLID_DATA.map(({ id, sigma }, i) => [id, round(best.coordinates[i]! * sigma, 5)]),
    ),
    deviations: Object.fromEntries(
      Object.entries(best.deviations).map(([id, value]) => [id, round(value, 5)]),
    ),
    peritectics,
    eutectic: eutectic && {
      temperatureK: round(eutectic.temperatureK),
      composition: eutectic.melt!.composition.map((share) => round(share, 5)),
      cuprousShare: round(eutectic.melt!.cuprousShare, 5),
    },
    leftOut,
    source: 'scripts/calibrate-melt.ts',
    tag: '[derived: fit to melt-calibration]',
  });
}

const members: object[] = [];
const redrawn: Record<string, number> = {};
for (let i = 0; i < perForm; i++) {
  for (const { form, best } of survivors) {
    const random = seededRandom(SEED, MELT_FORMS.indexOf(form) * 10_000 + i);
    for (;;) {
      const problem = drawnProblem(form, random);
      const fit = fitMelt(problem, best.coordinates);
      const hasAll = peritecticOf(fit.melt, fit.solids, 0.21) !== undefined;
      const member = hasAll
        ? memberOf(fit, truncatedNormal(seededRandom(SEED, 500_000 + members.length)))
        : undefined;
      if (
        member &&
        hasSolidEdges(member) &&
        Math.abs(upperLimitK(member, 0.21) - 1285) < 25 &&
        hasAirTriangles(member)
      ) {
        members.push({
          id: `${form}-${i}`,
          form,
          cost: round(costOf(fit), 4),
          melt: Object.fromEntries(
            Object.entries(fit.melt.values).map(([name, value]) => [name, round(value)]),
          ),
          solids: Object.fromEntries(
            Object.entries(fit.solids).map(([id, value]) => [
              id,
              [round(value!.aJPerMol, 9), round(value!.bJPerMolK, 8)],
            ]),
          ),
          jPerMolPerKelvin: round(member.jPerMolPerKelvin, 6),
          peritecticKPerAngstrom: round(member.peritecticKPerAngstrom, 6),
        });
        break;
      }
      redrawn[form] = (redrawn[form] ?? 0) + 1;
    }
  }
  say(`${members.length} members, drawn again ${JSON.stringify(redrawn)}`);
}

function write(name: string, note: string, records: readonly object[], more: object = {}): void {
  const lines = records.map((record) => `    ${JSON.stringify(record)}`).join(',\n');
  const rest = Object.entries(more).map(
    ([key, value]) => `  ${JSON.stringify(key)}: ${JSON.stringify(value)},\n`,
  );
  const text = `{\n  "note": ${JSON.stringify(note)},\n${rest.join('')}  "records": [\n${lines}\n  ]\n}\n`;
  writeFileSync(join(ROOT, 'data', `${name}.json`), text);
}
write(
  'melt-fits',
  'Best fit of each form of the melt to melt-calibration, with what is predicted when data are left out. Made by scripts/calibrate-melt.ts; K, J/mol.',
  fits,
  { seed: SEED },
);
write(
  'melt-members',
  'The ensemble: melts and solids fitted again to targets, solids and priors moved within their widths, by docs/decisions/0005-melt-ensemble.md. solids: A and B of A + B T, J per mole of formula. jPerMolPerKelvin: J per mole of 123 that move its peritectic in air by 1 K. peritecticKPerAngstrom: its rise with the radius of the rare earth. Every member counts alike. Made by scripts/calibrate-melt.ts [derived: fit to melt-calibration].',
  members,
  { seed: SEED, redrawn },
);
