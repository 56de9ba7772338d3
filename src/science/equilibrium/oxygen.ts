// Oxygen as a potential: steps between copper oxides and the oxygen in 123. J/mol, K, atm.
import { THERMO_LINES } from '../tables/thermo-lines.ts';

/** Gas constant, J/(mol K), exact in the SI of 2019. */
export const GAS_CONSTANT = 8.314462618;
/** 0 degC in K, exact. */
export const ZERO_CELSIUS_K = 273.15;
/** Share of O2 in air as the published phase work uses it, atm [common practice]. */
export const AIR_OXYGEN_ATM = 0.21;

type LineId = (typeof THERMO_LINES.records)[number]['id'];

/** A record of the published lines: a + b T, or one value a. */
export function lineRecord(id: LineId): { a: number; b: number; sigma: number } {
  return THERMO_LINES.records.find((record) => record.id === id)!;
}

const CUPROUS = lineRecord('cuprous-step');
const METAL = lineRecord('metal-step');
const OXYGEN_H = lineRecord('oxygen-h').a;
const OXYGEN_S = lineRecord('oxygen-s').a;
const OXYGEN_W = lineRecord('oxygen-w').a;

/** R T ln pO2, J per mole of O2, against 1 atm. */
export function oxygenPotentialJPerMol(temperatureK: number, po2Atm: number): number {
  return GAS_CONSTANT * temperatureK * Math.log(po2Atm);
}

/**
 * Grand potential of turning 1 mol CuO into 1/2 mol Cu2O and letting 1/4 mol O2 go: 65156 - 46.99 T + 1/4 R T ln p.
 *
 * Source: thermo-lines, record cuprous-step [looked-up: NASA/TP-2002-211556]. Range: 1000 to 1400 K within 70 J.
 */
export function cuprousStepJPerMol(temperatureK: number, po2Atm: number): number {
  return CUPROUS.a + CUPROUS.b * temperatureK + oxygenPotentialJPerMol(temperatureK, po2Atm) / 4;
}

/** Grand potential of turning 1 mol CuO into 1 mol Cu and letting 1/2 mol O2 go. Source and range as cuprousStepJPerMol. */
export function metalStepJPerMol(temperatureK: number, po2Atm: number): number {
  return METAL.a + METAL.b * temperatureK + oxygenPotentialJPerMol(temperatureK, po2Atm) / 2;
}

/** Temperature at which CuO and Cu2O are in balance at one pO2, K: the root of the cuprous step, which is linear in T. */
export function cupricLimitK(po2Atm: number): number {
  return CUPROUS.a / (-CUPROUS.b - (GAS_CONSTANT * Math.log(po2Atm)) / 4);
}

/** Root mean square of the anchors about oxygenAboveSix [derived: fit to anchors from memory]. */
export const OXYGEN_ABOVE_SIX_RMS = 0.013;
/** Where oxygenAboveSix was fitted; z above mostZ needs the order of the chains. */
export const OXYGEN_FIT = { fromC: 500, toC: 900, fromAtm: 0.01, toAtm: 1, mostZ: 0.95 } as const;

/**
 * Oxygen z in REBa2Cu3O6+z in balance with the gas: 0 = h - T s + w z + R T ln(z/(2 - z)) - 1/2 R T ln p.
 * Two equal sites a cell and a mean repulsion; the order of the chains is left out.
 *
 * @returns z, between 0 and 2
 * Source: thermo-lines, records oxygen-h, oxygen-s, oxygen-w [derived: fit to anchors from memory].
 * Range: 773 to 1173 K, 0.01 to 1 atm, z below 0.95; rms 0.013 in z.
 */
export function oxygenAboveSix(temperatureK: number, po2Atm: number): number {
  const rt = GAS_CONSTANT * temperatureK;
  const halfPotential = oxygenPotentialJPerMol(temperatureK, po2Atm) / 2;
  const freeEnergy = OXYGEN_H - temperatureK * OXYGEN_S;
  let z = 0.3;
  for (let i = 0; i < 100; i++) {
    const mismatch = freeEnergy + OXYGEN_W * z + rt * Math.log(z / (2 - z)) - halfPotential;
    const step = -mismatch / (OXYGEN_W + (2 * rt) / (z * (2 - z)));
    z = Math.min(Math.max(z + step, z / 3), 2 - (2 - z) / 3); // a long step only closes two thirds of the gap to 0 or 2
    if (Math.abs(step) < 1e-13) break;
  }
  return z;
}

/**
 * Oxygen pressure in balance with a content z of 123, atm: the inverse of oxygenAboveSix,
 * ln p = 2 [h - T s + w z + R T ln(z/(2 - z))]/(R T). Source and range as there.
 */
export function po2OfOxygenAtm(temperatureK: number, z: number): number {
  const rt = GAS_CONSTANT * temperatureK;
  return (z / (2 - z)) ** 2 * Math.exp((2 * (OXYGEN_H - temperatureK * OXYGEN_S + OXYGEN_W * z)) / rt);
}

/**
 * Grand potential of taking z of oxygen into REBa2Cu3O6, J per mole of formula: the integral of the mismatch above over z,
 * z (h - T s) + w z^2/2 + 2 R T [t ln t + (1 - t) ln(1 - t)] - z R T ln(p)/2 with t = z/2.
 */
export function oxygenUptakeJPerMol(temperatureK: number, po2Atm: number): number {
  const rt = GAS_CONSTANT * temperatureK;
  const z = oxygenAboveSix(temperatureK, po2Atm);
  const t = z / 2;
  return (
    z * (OXYGEN_H - temperatureK * OXYGEN_S) +
    (OXYGEN_W * z * z) / 2 +
    2 * rt * (t * Math.log(t) + (1 - t) * Math.log(1 - t)) -
    (z * oxygenPotentialJPerMol(temperatureK, po2Atm)) / 2
  );
}

/** Everything that the phases at one T and pO2 need of the gas: worked out once for all members. */
export interface OxygenState {
  readonly temperatureK: number;
  readonly po2Atm: number;
  readonly oxygenPotentialJPerMol: number;
  readonly cuprousStepJPerMol: number;
  readonly metalStepJPerMol: number;
  readonly oxygenUptakeJPerMol: number;
}

/** @see the functions of the same names */
export function oxygenStateAt(temperatureK: number, po2Atm: number): OxygenState {
  return {
    temperatureK,
    po2Atm,
    oxygenPotentialJPerMol: oxygenPotentialJPerMol(temperatureK, po2Atm),
    cuprousStepJPerMol: cuprousStepJPerMol(temperatureK, po2Atm),
    metalStepJPerMol: metalStepJPerMol(temperatureK, po2Atm),
    oxygenUptakeJPerMol: oxygenUptakeJPerMol(temperatureK, po2Atm),
  };
}
