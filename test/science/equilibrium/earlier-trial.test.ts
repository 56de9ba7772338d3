import { describe, expect, it } from 'vitest';
import { memberFrom } from '../../../src/science/equilibrium/members.ts';
import { ZERO_CELSIUS_K } from '../../../src/science/equilibrium/oxygen.ts';
import { reactionPoint } from '../../../src/science/equilibrium/reaction.ts';
import { EARLIER_SOLIDS, EARLIER_TRIAL } from '../../simulate/earlier-trial.ts';

/** Half a unit of the last place, and half a kelvin for the other code's grid and root. */
function expectTemperature(actualC: number, printed: string): void {
  expect(Math.abs(actualC - Number(printed))).toBeLessThan((printed.includes('.') ? 0.05 : 0.5) + 0.5);
}
function expectShare(actual: number, printed: string): void {
  expect(Math.abs(actual - Number(printed))).toBeLessThan(printed.length > 4 ? 0.0015 : 0.0101);
}

describe.each(EARLIER_TRIAL)('the $name of the earlier trial', (trial) => {
  const member = memberFrom({
    form: trial.form,
    melt: trial.values,
    solids: { ...EARLIER_SOLIDS, '132': trial.solid132 },
    jPerMolPerKelvin: 180,
    peritecticKPerAngstrom: 0,
  });
  const at = (names: string[], po2Atm: number) => {
    const point = reactionPoint(member, { rareEarth: 'Y' }, names, { po2Atm })!;
    return { ...point, temperatureC: point.temperatureK - ZERO_CELSIUS_K };
  };

  it.each([
    [0, 1],
    [1, 0.21],
    [2, 0.02],
  ] as const)('has its peritectic and Cu+ share (row %i, %f atm)', (i, po2Atm) => {
    const { temperatureC, melt } = at(['YBa2Cu3O7', 'Y2BaCuO5', 'liquid'], po2Atm);
    expectTemperature(temperatureC, trial.peritecticC[i]!);
    const cuprous = trial.cuprousAtPeritectic[i];
    if (cuprous) expectShare(melt!.cuprousShare, cuprous);
    expect(melt!.composition[1] / melt!.composition[2]).toBeCloseTo(0.6, 1); // 3 Ba to 5 Cu
  });

  it('has its melting of BaCuO2 with CuO in air', () => {
    const { temperatureC, melt } = at(['BaCuO2', 'CuO', 'liquid'], 0.21);
    expectTemperature(temperatureC, trial.edge.temperatureC);
    expectShare(melt!.composition[1], trial.edge.ba);
    expectShare(melt!.cuprousShare, trial.edge.cuprous);
  });

  it('has its ternary eutectic in air', () => {
    const { temperatureC, melt } = at(['YBa2Cu3O7', 'BaCuO2', 'CuO', 'liquid'], 0.21);
    const printed = trial.eutectic ?? trial.edge; // Y hardly lowers it
    expectTemperature(temperatureC, printed.temperatureC);
    expectShare(melt!.composition[1], printed.ba);
  });
});
