import { describe, expect, it } from 'vitest';
import {
  cupricLimitK,
  cuprousStepJPerMol,
  GAS_CONSTANT,
  metalStepJPerMol,
  oxygenAboveSix,
  oxygenUptakeJPerMol,
  ZERO_CELSIUS_K,
} from '../../../src/science/equilibrium/oxygen.ts';

describe('oxygenAboveSix', () => {
  // anchors of the fit (shape of the isobars of Kishio 1987, Lindemer 1989, from memory): a guard, not an outside value
  it.each([
    [773, 1, 0.84],
    [973, 1, 0.5],
    [1173, 1, 0.25],
    [773, 0.21, 0.75],
    [1073, 0.21, 0.24],
    [873, 0.01, 0.27],
  ])('keeps within 0.03 of its anchor at %d K and %d atm', (temperatureK, po2Atm, anchor) => {
    expect(Math.abs(oxygenAboveSix(temperatureK, po2Atm) - anchor)).toBeLessThan(0.03);
  });

  it('satisfies its own balance to rounding', () => {
    const [temperatureK, po2Atm] = [1000, 0.05];
    const z = oxygenAboveSix(temperatureK, po2Atm);
    const rt = GAS_CONSTANT * temperatureK;
    const balance =
      -75690 + 75.86 * temperatureK + 21570 * z + rt * Math.log(z / (2 - z)) - 0.5 * rt * Math.log(po2Atm);
    expect(Math.abs(balance)).toBeLessThan(1e-6);
  });

  it('falls with temperature and rises with oxygen, and stays between 0 and 2 at the ends', () => {
    expect(oxygenAboveSix(1000, 0.1)).toBeLessThan(oxygenAboveSix(900, 0.1));
    expect(oxygenAboveSix(1000, 0.1)).toBeLessThan(oxygenAboveSix(1000, 0.2));
    expect(oxygenAboveSix(1600, 1e-12)).toBeGreaterThan(0);
    expect(oxygenAboveSix(573, 200)).toBeLessThan(2);
  });
});

describe('oxygenUptakeJPerMol', () => {
  it('falls with the oxygen potential at the rate of half the oxygen taken up', () => {
    const temperatureK = 1050;
    const step = 1e-4;
    const slope =
      (oxygenUptakeJPerMol(temperatureK, 0.1 * (1 + step)) -
        oxygenUptakeJPerMol(temperatureK, 0.1 * (1 - step))) /
      (GAS_CONSTANT * temperatureK * Math.log((1 + step) / (1 - step)));
    expect(slope).toBeCloseTo(-oxygenAboveSix(temperatureK, 0.1) / 2, 6);
  });
});

describe('copper oxides', () => {
  it('are in balance at the temperature that cupricLimitK gives', () => {
    expect(cuprousStepJPerMol(cupricLimitK(0.21), 0.21)).toBeCloseTo(0, 8);
  });

  it('give Cu2O, not copper, between the two lines: at 850 C from 1e-8 to 5e-3 atm', () => {
    const temperatureK = 850 + ZERO_CELSIUS_K;
    for (const po2Atm of [1e-7, 1e-5, 4e-3]) {
      const cuprous = cuprousStepJPerMol(temperatureK, po2Atm);
      expect(cuprous).toBeLessThan(0);
      expect(cuprous).toBeLessThan(metalStepJPerMol(temperatureK, po2Atm));
    }
    expect(metalStepJPerMol(temperatureK, 1e-9)).toBeLessThan(cuprousStepJPerMol(temperatureK, 1e-9));
  });
});
