import { describe, expect, it } from 'vitest';
import { calibrateSolids, midwayLimitsAtm } from '../../../src/science/equilibrium/calibration.ts';
import { MELT_FORMS, MELT_PARAMETERS } from '../../../src/science/equilibrium/melt.ts';
import {
  type FitProblem,
  fitMelt,
  fittedAt,
  jPerMolPerKelvinOf,
  MELT_DATA,
  peritecticOf,
  priorsOf,
  SOLID_DATA,
} from '../../../src/science/equilibrium/melt-fit.ts';
import { PUBLISHED_COUNT, publishedMembers } from '../../../src/science/equilibrium/members.ts';
import { oxygenStateAt, ZERO_CELSIUS_K } from '../../../src/science/equilibrium/oxygen.ts';
import { LIQUID, phaseSystem } from '../../../src/science/equilibrium/phase-system.ts';
import { pointEquilibrium } from '../../../src/science/equilibrium/point-equilibrium.ts';
import {
  type SolidId,
  type SolidValues,
  solidGrandPotentialJPerMol,
  solidRecord,
} from '../../../src/science/equilibrium/solids.ts';
import { MELT_FITS } from '../../../src/science/tables/melt-fits.ts';
import { MELT_MEMBERS } from '../../../src/science/tables/melt-members.ts';
import { at, MEMBERS, sharesOf, Y123 } from './drawn-conditions.ts';

const reaction = (
  values: SolidValues,
  terms: readonly (readonly [SolidId, number])[],
  temperatureC: number,
  po2Atm: number,
): number =>
  terms.reduce(
    (sum, [id, n]) =>
      sum +
      n *
        solidGrandPotentialJPerMol(
          solidRecord(id),
          values,
          oxygenStateAt(temperatureC + ZERO_CELSIUS_K, po2Atm),
        ),
    0,
  );

const plain = (form: FitProblem['form'], leftOut: FitProblem['leftOut'] = []): FitProblem => ({
  form,
  centres: {},
  priorCentres: {},
  leftOut,
  otherSolids: {},
});

describe('calibrateSolids', () => {
  const { r1Atm, r2Atm } = midwayLimitsAtm();
  const targets = { given: {}, r1Atm, r2Atm, upperAtm: 1, lineSlopeJPerMol: -302200, turn132JPerMolK: 0 };
  const values = calibrateSolids(targets);

  it.each([
    [
      [
        ['123', -2],
        ['cu2o', -0.5],
        ['211', 1],
        ['012', 3],
      ],
      850,
      r1Atm,
    ],
    [
      [
        ['123', -7],
        ['211', 3],
        ['012', 8],
        ['132', 1],
      ],
      850,
      r2Atm,
    ],
    [
      [
        ['123', -2],
        ['211', 1],
        ['011', 3],
        ['cuo', 2],
      ],
      800,
      1,
    ],
  ] as [[SolidId, number][], number, number][])(
    'meets its line %j at %d degC',
    (terms, temperatureC, po2Atm) => {
      expect(reaction(values, terms, temperatureC, po2Atm)).toBeCloseTo(0, 6);
    },
  );

  it('turns 132 about 850 degC, where its line holds whatever the turn', () => {
    const turned = calibrateSolids({ ...targets, turn132JPerMolK: 30 });
    expect(turned['132']!.bJPerMolK - values['132']!.bJPerMolK).toBeCloseTo(30, 9);
    expect(
      reaction(
        turned,
        [
          ['123', -7],
          ['211', 3],
          ['012', 8],
          ['132', 1],
        ],
        850,
        r2Atm,
      ),
    ).toBeCloseTo(0, 6);
  });

  it('puts the limits halfway between the quench study and the cell line, so neither is met', () => {
    expect(r2Atm).toBeGreaterThan(1.4e-4);
    expect(r2Atm).toBeLessThan(4e-4);
    expect(r1Atm / r2Atm).toBeCloseTo(2.5, 12);
  });
});

describe('fitMelt', () => {
  it.each(MELT_FITS.records.map((record) => [record.id, record] as const))(
    'finds for %s the parameters and the cost that are kept, to the digits kept',
    (form, record) => {
      const again = fittedAt(
        plain(form),
        Float64Array.from([
          ...SOLID_DATA.map(({ id, sigma }) => (record.solidShifts as Record<string, number>)[id]! / sigma),
          ...priorsOf(form).map(
            ({ parameter, value, sigma }) =>
              ((record.parameters as Record<string, number>)[parameter]! - value) / sigma,
          ),
        ]),
      );
      for (const part of ['data', 'solids', 'priors'] as const)
        expect(again.cost[part]).toBeCloseTo(record.cost[part], 1);
      for (const { id } of MELT_DATA) {
        const kept = (record.deviations as Record<string, number>)[id]!;
        expect(Math.abs(again.deviations[id]! - kept)).toBeLessThan(0.02 * Math.abs(kept) + 0.5);
      }
      // no lower cost is found from there
      const fitted = fitMelt(plain(form), again.coordinates);
      const total = ({ cost }: typeof fitted): number => cost.data + cost.solids + cost.priors;
      expect(total(again) - total(fitted)).toBeLessThan(0.02);
    },
  );

  it('is no worse at a datum that is left out of the count, and counts it in the deviations still', () => {
    const record = MELT_FITS.records[0]!;
    const full = fitMelt(plain(record.id));
    const without = fitMelt(plain(record.id, ['peritectic-low']), full.coordinates);
    const total = ({ cost }: typeof full): number => cost.data + cost.solids + cost.priors;
    expect(total(without)).toBeLessThanOrEqual(total(full) + 1e-6);
    expect(Number.isFinite(without.deviations['peritectic-low'])).toBe(true);
  });

  it('moves the peritectic by a kelvin for the energy it names', () => {
    const { melt, solids } = MEMBERS[0]!;
    const jPerMol = jPerMolPerKelvinOf(melt, solids);
    const before = peritecticOf(melt, solids, 0.21)!.temperatureK;
    const lower = {
      ...solids,
      '123': { ...solids['123']!, aJPerMol: solids['123']!.aJPerMol - 2 * jPerMol },
    };
    expect(peritecticOf(melt, lower, 0.21)!.temperatureK - before).toBeCloseTo(2, 1);
    expect(MEMBERS[0]!.jPerMolPerKelvin).toBeCloseTo(jPerMol, 2);
  });
});

describe('publishedMembers', () => {
  it('has every form alike often, each with all of its parameters', () => {
    const counts = MELT_FORMS.map((form) => MEMBERS.filter(({ melt }) => melt.form === form).length);
    expect(counts).toEqual(MELT_FORMS.map(() => PUBLISHED_COUNT / MELT_FORMS.length));
    for (const { melt } of MEMBERS)
      expect(Object.keys(melt.values).sort()).toEqual([...MELT_PARAMETERS[melt.form]].sort());
  });

  it('is the stored ensemble in its order for seed 0, and a part of it in another order for another seed', () => {
    expect(publishedMembers(0, 5)).toEqual(MEMBERS.slice(0, 5));
    const drawn = publishedMembers(4, 20);
    expect(drawn).toEqual(publishedMembers(4, 20));
    expect(publishedMembers(4, 7)).toEqual(drawn.slice(0, 7));
    expect(new Set(drawn).size).toBe(20);
    expect(drawn.every((member) => MEMBERS.includes(member))).toBe(true);
    expect(drawn).not.toEqual(publishedMembers(5, 20));
  });

  it('keeps what each draw had to keep: the tie triangles of 123 in air and its end near 1285 K', () => {
    for (const member of MEMBERS) {
      const names = (temperatureC: number, shares: readonly [number, number, number]): string =>
        pointEquilibrium(phaseSystem(member, at(temperatureC, 0.21)), shares)
          .phases.map(({ name }) => name)
          .join(' + ');
      expect(names(850, sharesOf(1, 3, 6))).toBe('BaCuO2 + CuO + YBa2Cu3O7');
      expect(names(850, sharesOf(1, 1, 4))).toBe('CuO + Y2BaCuO5 + YBa2Cu3O7');
      expect(names(850, sharesOf(5, 9, 12))).toBe('BaCuO2 + Y2BaCuO5 + YBa2Cu3O7');
      const has123 = (temperatureK: number): boolean =>
        names(temperatureK - ZERO_CELSIUS_K, sharesOf(1, 2, 3)).includes(Y123);
      expect(has123(1285 - 25)).toBe(true);
      expect(has123(1285 + 25)).toBe(false);
    }
  });

  const meltsAt = (shares: readonly [number, number, number]): number[] =>
    MEMBERS.flatMap((member, m) =>
      pointEquilibrium(phaseSystem(member, at(1000, 0.21)), shares).phases.some(({ name }) => name === LIQUID)
        ? [m]
        : [],
    );

  it('melts no mixture of Y2Cu2O5 and Y2O3 at 1000 degC in air, a solid cell to 1323 K', () => {
    for (const shares of [sharesOf(1, 0, 1), sharesOf(3, 0, 1)]) expect(meltsAt(shares)).toEqual([]);
  });

  // known to be wrong: members 2, 16 and 52 were drawn while the search missed melts without Cu. Mend it by drawing again.
  it('melts no mixture of Y2O3 and BaO at 1000 degC in air', () => {
    for (const shares of [sharesOf(1, 1, 0), sharesOf(1, 3, 0), sharesOf(3, 1, 0)])
      expect(meltsAt(shares)).toEqual([]);
  });

  it('names as its source a draw that was fitted, with its cost', () => {
    for (const { cost, jPerMolPerKelvin, peritecticKPerAngstrom } of MELT_MEMBERS.records) {
      expect(cost).toBeGreaterThan(0);
      expect(jPerMolPerKelvin).toBeGreaterThan(20);
      expect(Number.isFinite(peritecticKPerAngstrom)).toBe(true);
    }
  });
});
