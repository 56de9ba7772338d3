// Vapour over a film's oxides and its flux away from it. Pa, K, mol/(m2 s); oxygen in atm.
import { cuprousStepJPerMol, GAS_CONSTANT, metalStepJPerMol } from '../equilibrium/oxygen.ts';
import { molarMass } from '../matter/molar-mass.ts';
import { VAPOUR_PRESSURES } from '../tables/vapour-pressures.ts';

export type VapourId = (typeof VAPOUR_PRESSURES.records)[number]['id'];

const PA_PER_UNIT: Readonly<Record<string, number>> = {
  Pa: 1,
  mmHg: 133.322387, // 101325/760, exact to its digits
  atm: 101325,
  bar: 1e5,
};
const PA_PER_BAR = 1e5;
const PA_PER_ATM = 101325;
const BAR_PER_ATM = 1.01325;

export function vapourRecord(id: VapourId) {
  return VAPOUR_PRESSURES.records.find((record) => record.id === id)!;
}

/**
 * Pressure of a published line, log10 p = a - b/T + c log10 T in the line's own unit.
 *
 * @returns Pa over the pure substance at unit activity
 * Source: table vapour-pressures. Range: the row's; beyond it the line is extrapolated.
 */
export function linePressurePa(id: VapourId, temperatureK: number): number {
  const { a, b, c, unit } = vapourRecord(id);
  return 10 ** (a - b / temperatureK + c * Math.log10(temperatureK)) * PA_PER_UNIT[unit]!;
}

/** exp(-dG/(R T)) of a reaction row, dG = a + b T J/mol. Source: table vapour-pressures. */
export function reactionConstant(id: VapourId, temperatureK: number): number {
  const { a, b } = vapourRecord(id);
  return Math.exp(-(a + b * temperatureK) / (GAS_CONSTANT * temperatureK));
}

/**
 * Standard uncertainty of log10 p of a row at a temperature: its doubt at the middle of its range, and the enthalpy's, which
 * grows away from there as u_H |1/T - 1/T_mid|/(R ln 10).
 *
 * Source: [derived: slope of log p against 1/T]; doubts as the row says.
 */
export function lineDoubtDecades(id: VapourId, temperatureK: number): number {
  const { doubt, enthalpyU, midK } = vapourRecord(id);
  return Math.hypot(doubt, (enthalpyU * (1 / temperatureK - 1 / midK)) / (GAS_CONSTANT * Math.LN10));
}

/** Is a temperature outside a row's range? */
export function isBeyondLine(id: VapourId, temperatureK: number): boolean {
  const { fromK, toK } = vapourRecord(id);
  return temperatureK < fromK || temperatureK > toK;
}

/**
 * Chemical potential of copper against the metal, J/mol, in the stablest of CuO, Cu2O and Cu at this pO2: the least of 0,
 * that of Cu2O = 2 Cu + 1/2 O2 and that of CuO = Cu + 1/2 O2.
 *
 * Source: thermo-lines, rows cuprous-step and metal-step [looked-up: NASA/TP-2002-211556]. Range: 1000 to 1400 K.
 */
export function copperPotentialJPerMol(temperatureK: number, po2Atm: number): number {
  const fromCupric = metalStepJPerMol(temperatureK, po2Atm);
  const fromCuprous = fromCupric - cuprousStepJPerMol(temperatureK, po2Atm);
  return Math.min(0, -fromCupric, -fromCuprous);
}

/** log10 of the pO2, atm, at which Cu2O and copper metal are in balance. Source and range as copperPotentialJPerMol. */
export function metalLimitLog10Po2(temperatureK: number): number {
  const atOneAtm = metalStepJPerMol(temperatureK, 1) - cuprousStepJPerMol(temperatureK, 1);
  return (-4 * atOneAtm) / (GAS_CONSTANT * temperatureK * Math.LN10);
}

/**
 * Flux of a gas at a pressure onto, or in balance away from, a surface: J = alpha p/sqrt(2 pi M R T).
 *
 * @param massKg molar mass, kg/mol
 * @param sticking alpha, 0 to 1
 * @returns mol/(m2 s)
 * Source: [memory: Hertz 1882; Knudsen 1915, Ann. Phys. 47, 697]. Range: no gas above that sends atoms back.
 */
export function molecularFlux(
  pressurePa: number,
  massKg: number,
  temperatureK: number,
  sticking = 1,
): number {
  return (sticking * pressurePa) / Math.sqrt(2 * Math.PI * massKg * GAS_CONSTANT * temperatureK);
}

/** What of a gas stands over the film: a layer that vapour must diffuse through. */
export interface GasLayer {
  readonly thicknessM: number;
  /** at 101325 Pa and 293.15 K, m2/s; D rises as T^1.75 and falls as 1/p */
  readonly diffusivityM2PerS: number;
  readonly totalPressurePa: number;
}

const REFERENCE_K = 293.15;

/**
 * Diffusivity in a gas D = D0 (T/293.15 K)^1.75 (101325 Pa/p).
 *
 * Source: exponent [memory: Fuller, Schettler and Giddings 1966, Ind. Eng. Chem. 58, 18]. Range: dilute vapour, 200 to 1500 K.
 */
export function gasDiffusivityM2PerS(
  diffusivityM2PerS: number,
  temperatureK: number,
  totalPressurePa: number,
): number {
  return diffusivityM2PerS * (temperatureK / REFERENCE_K) ** 1.75 * (PA_PER_ATM / totalPressurePa);
}

/** Flux through a layer with nothing of the gas at its far side: J = D p/(delta R T), mol/(m2 s). Source: [derived: Fick's first law]. */
export function layerFlux(
  pressurePa: number,
  temperatureK: number,
  { thicknessM, diffusivityM2PerS, totalPressurePa }: GasLayer,
): number {
  const d = gasDiffusivityM2PerS(diffusivityM2PerS, temperatureK, totalPressurePa);
  return (d * pressurePa) / (thicknessM * GAS_CONSTANT * temperatureK);
}

/** Flux that leaves the surface and then crosses the layer: 1/J = 1/J_surface + 1/J_layer. */
export function lossFlux(
  pressurePa: number,
  massKg: number,
  temperatureK: number,
  sticking: number,
  layer: GasLayer | null,
): number {
  const free = molecularFlux(pressurePa, massKg, temperatureK, sticking);
  if (!layer || free === 0) return free;
  return 1 / (1 / free + 1 / layerFlux(pressurePa, temperatureK, layer));
}

const massKg = (amounts: Readonly<Record<string, number>>): number => molarMass(amounts).gramPerMol / 1000;
const MASS_KG = {
  BaO: massKg({ Ba: 1, O: 1 }),
  Ba: massKg({ Ba: 1 }),
  Cu: massKg({ Cu: 1 }),
  CuO: massKg({ Cu: 1, O: 1 }),
  'Ba(OH)2': massKg({ Ba: 1, O: 2, H: 2 }),
};

export interface SurfaceState {
  readonly temperatureK: number;
  readonly po2Atm: number;
  /** against pure BaO */
  readonly activityBaO: number;
  /** of copper, against the stablest of CuO, Cu2O and Cu */
  readonly activityCu: number;
  readonly waterPa: number;
}

export interface Surroundings {
  readonly sticking: number;
  readonly layer: GasLayer | null;
}

/** Barium leaving as BaO by one published line, as Ba, and with water as Ba(OH)2; mol/(m2 s). */
export function bariumFlux(
  line: 'BaO-1939' | 'BaO-1968',
  state: SurfaceState,
  { sticking, layer }: Surroundings,
): number {
  const { temperatureK, po2Atm, activityBaO, waterPa } = state;
  const flux = (pressurePa: number, mass: number) =>
    lossFlux(pressurePa, mass, temperatureK, sticking, layer);
  const metalPa =
    (reactionConstant('BaO-to-Ba', temperatureK) * PA_PER_BAR) / Math.sqrt(po2Atm * BAR_PER_ATM);
  return (
    flux(activityBaO * linePressurePa(line, temperatureK), MASS_KG.BaO) +
    flux(activityBaO * metalPa, MASS_KG.Ba) +
    (waterPa > 0
      ? flux(activityBaO * waterPa * reactionConstant('BaO-with-water', temperatureK), MASS_KG['Ba(OH)2'])
      : 0)
  );
}

/** Copper leaving as Cu and as CuO; mol/(m2 s). Copper over Cu2O is p_Cu = a_Cu p_Cu(metal), a_Cu falling as pO2^(-1/4). */
export function copperFlux(state: SurfaceState, { sticking, layer }: Surroundings): number {
  const { temperatureK, po2Atm, activityCu } = state;
  const rt = GAS_CONSTANT * temperatureK;
  const potential = copperPotentialJPerMol(temperatureK, po2Atm);
  const overMetal = activityCu * Math.exp(potential / rt);
  const overCupric = activityCu * Math.exp((potential + metalStepJPerMol(temperatureK, po2Atm)) / rt);
  const flux = (pressurePa: number, mass: number) =>
    lossFlux(pressurePa, mass, temperatureK, sticking, layer);
  return (
    flux(overMetal * linePressurePa('Cu-coefficients', temperatureK), MASS_KG.Cu) +
    flux(overCupric * linePressurePa('CuO', temperatureK), MASS_KG.CuO)
  );
}
