import { describe, expect, it } from 'vitest';
import { calibrateSolids, midwayLimitsAtm } from '../../../src/science/equilibrium/calibration.ts';
import { diagramAt, phasesAt } from '../../../src/science/equilibrium/diagram.ts';
import {
  keepsPublishedFacts,
  nominalMember,
  publishedMembers,
  slopeIntervalKPerDecade,
} from '../../../src/science/equilibrium/members.ts';
import { ZERO_CELSIUS_K } from '../../../src/science/equilibrium/oxygen.ts';
import {
  type SolidId,
  type SolidValues,
  solidGrandPotentialJPerMol,
  solidRecord,
} from '../../../src/science/equilibrium/solids.ts';

const members = publishedMembers(3, 60);

function reaction(
  values: SolidValues,
  terms: [SolidId, number][],
  temperatureC: number,
  po2Atm: number,
): number {
  return terms.reduce(
    (sum, [id, n]) =>
      sum + n * solidGrandPotentialJPerMol(solidRecord(id), values, temperatureC + ZERO_CELSIUS_K, po2Atm),
    0,
  );
}

describe('calibrateSolids', () => {
  const { r1Atm, r2Atm } = midwayLimitsAtm();
  const values = calibrateSolids({ given: {}, r1Atm, r2Atm, upperAtm: 1, lineSlopeJPerMol: -302200 });

  it('meets the lines that it was given', () => {
    expect(
      reaction(
        values,
        [
          ['123', -2],
          ['cu2o', -0.5],
          ['211', 1],
          ['012', 3],
        ],
        850,
        r1Atm,
      ),
    ).toBeCloseTo(0, 6);
    expect(
      reaction(
        values,
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
    expect(
      reaction(
        values,
        [
          ['123', -2],
          ['211', 1],
          ['011', 3],
          ['cuo', 2],
        ],
        800,
        1,
      ),
    ).toBeCloseTo(0, 6);
  });

  it('puts the limits halfway between the quench study and the cell line, so neither is met', () => {
    expect(r2Atm).toBeGreaterThan(1.4e-4);
    expect(r2Atm).toBeLessThan(4e-4);
    expect(r1Atm / r2Atm).toBeCloseTo(2.5, 12);
  });

  it('finds the table values of the calibrated compounds, so that data and code agree', () => {
    for (const id of ['012', '123', '132', '124'] as const) {
      const atLine = (aJPerMol: number, bJPerMolK: number): number => aJPerMol + bJPerMolK * 1123;
      const { aJPerMol, bJPerMolK } = solidRecord(id);
      const found = values[id]!;
      expect(Math.abs(atLine(found.aJPerMol, found.bJPerMolK) - atLine(aJPerMol, bJPerMolK))).toBeLessThan(
        60,
      );
    }
  });

  it('puts BaCu2O2 between its two published values at 1123 K', () => {
    const { aJPerMol, bJPerMolK } = values['012']!;
    const found = aJPerMol + bJPerMolK * 1123;
    expect(found).toBeLessThan(-29.3e3);
    expect(found).toBeGreaterThan(-39.8e3);
  });
});

describe('publishedMembers', () => {
  it('is the same for a seed, whatever the number asked for', () => {
    expect(publishedMembers(3, 5)).toEqual(members.slice(0, 5));
    expect(publishedMembers(4, 5)[1]).not.toEqual(members[1]);
  });

  it('begins with the nominal numbers, which keep the published facts without being drawn for them', () => {
    expect(members[0]).toEqual(nominalMember());
    expect(keepsPublishedFacts(nominalMember())).toBe(true);
  });

  it('keeps the published facts in every member', () => {
    expect(members.every(keepsPublishedFacts)).toBe(true);
  });

  it('keeps 123 alone stable at its own composition at 800 C in air, in every member', () => {
    for (const member of members) {
      const diagram = diagramAt(member, { rareEarth: 'Y', temperatureK: 1073.15, po2Atm: 0.21 });
      const { phases } = phasesAt(diagram, 1 / 6, 2 / 6, 3 / 6);
      expect(phases.map(({ name }) => name)).toEqual(['YBa2Cu3O7']);
    }
  });

  it('loses 123 at 850 C in every member between 1e-5 and 2e-3 atm, around the published 4e-4', () => {
    for (const member of members) {
      const has = (po2Atm: number): boolean =>
        diagramAt(member, { rareEarth: 'Y', temperatureK: 1123.15, po2Atm }).facetPhases.some((phases) =>
          phases.includes('YBa2Cu3O7'),
        );
      expect(has(2e-3)).toBe(true);
      expect(has(1e-5)).toBe(false);
    }
  });

  it('holds both published eutectic temperatures, half the members each', () => {
    const aboveMiddle = members.filter(({ liquid }) => liquid.eutecticAirK - ZERO_CELSIUS_K > 906.5).length;
    expect(aboveMiddle).toBeGreaterThan(20);
    expect(aboveMiddle).toBeLessThan(40);
  });

  it('keeps the nominal slope in the middle of the slopes that keep the facts', () => {
    const nominal = nominalMember();
    const [low, high] = slopeIntervalKPerDecade();
    const kept: number[] = [];
    for (let slopeKPerDecade = Math.ceil(low); slopeKPerDecade < high; slopeKPerDecade += 0.5) {
      if (keepsPublishedFacts({ ...nominal, liquid: { ...nominal.liquid, slopeKPerDecade } }))
        kept.push(slopeKPerDecade);
    }
    expect(kept[0]).toBe(53.5);
    expect(kept.at(-1)).toBe(61.5);
    expect(nominal.liquid.slopeKPerDecade).toBe((kept[0]! + kept.at(-1)!) / 2);
  });
});
