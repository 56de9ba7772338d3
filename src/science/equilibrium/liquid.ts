// The liquid as one phase of published eutectic composition. J per mole of cations, K, atm, shares of cations.
import { THERMO_MELT } from '../tables/thermo-melt.ts';
import { AIR_OXYGEN_ATM, GAS_CONSTANT, lineRecord, ZERO_CELSIUS_K } from './oxygen.ts';
import { solidRecord } from './solids.ts';

type MeltId = (typeof THERMO_MELT.records)[number]['id'];

export function meltRecord(id: MeltId): { value: number; sigma: number } {
  return THERMO_MELT.records.find((record) => record.id === id)!;
}

/** What a member of the ensemble says of the liquid. */
export interface LiquidParameters {
  /** 123 + BaCuO2 + CuO = liquid in air, K */
  readonly eutecticAirK: number;
  /** its rise with log10 pO2 in air, K per decade */
  readonly slopeKPerDecade: number;
  /** entropy of melting without the oxygen that leaves, J per mole of cations and K */
  readonly fusionEntropyJPerMolK: number;
  /** shares of RE and Ba in the melt; the rest is copper */
  readonly reShare: number;
  readonly baShare: number;
}

/**
 * Entropy of melting per mole of cations without oxygen: fusion of Cu2O and BaO, ideal mixing of the cations, and the entropy
 * that BaCuO2 gave up when it formed from its oxides. RE (0.5 %) is left out.
 * Source: thermo-melt [looked-up: NASA/TP-2002-211556]; the sum [derived].
 */
export function fusionEntropyJPerMolK(reShare: number, baShare: number): number {
  const cuShare = 1 - reShare - baShare;
  const perCu = meltRecord('fusion-cu2o').value / meltRecord('fusion-cu2o-t').value / 2;
  const perBa = meltRecord('fusion-bao').value / meltRecord('fusion-bao-t').value;
  const mixing = -GAS_CONSTANT * [reShare, baShare, cuShare].reduce((sum, x) => sum + x * Math.log(x), 0);
  return cuShare * perCu + baShare * perBa + mixing + baShare * solidRecord('011').bJPerMolK;
}

/** Entropy of the oxygen and copper when CuO lets O2 go into air, J per mole of O2 and K. */
const OXYGEN_ENTROPY = -4 * lineRecord('cuprous-step').b - GAS_CONSTANT * Math.log(AIR_OXYGEN_ATM);

/**
 * Moles of O2 that leave when one mole of cations melts in air, from the slope of the line by Clausius and Clapeyron:
 * dT/dlog10 p = ln(10) R T n/(S0 + n s), so n = slope S0/(ln(10) R T - slope s); at most all copper goes to Cu+.
 *
 * @returns n, mol O2 per mole of cations
 */
export function meltOxygenLossMol(liquid: LiquidParameters): number {
  const perMol = Math.LN10 * GAS_CONSTANT * liquid.eutecticAirK - liquid.slopeKPerDecade * OXYGEN_ENTROPY;
  const allCuprous = (1 - liquid.reShare - liquid.baShare) / 4;
  if (!(perMol > 0)) return allCuprous;
  return Math.min(allCuprous, (liquid.slopeKPerDecade * liquid.fusionEntropyJPerMolK) / perMol);
}

/** The same law the other way: slope of the eutectic line in air, K per decade, when a share of the copper is Cu+. */
export function slopeOfCuprousShareKPerDecade(cuprousShare: number, eutecticAirK: number): number {
  const reShare = meltRecord('liquid-re').value;
  const baShare = meltRecord('liquid-ba').value;
  const n = (cuprousShare * (1 - reShare - baShare)) / 4;
  const entropy = fusionEntropyJPerMolK(reShare, baShare) + n * OXYGEN_ENTROPY;
  return (Math.LN10 * GAS_CONSTANT * eutecticAirK * n) / entropy;
}

/**
 * How far the liquid lies above the plane of 123 + BaCuO2 + CuO, J per mole of cations: S (Te - T) + n R T ln(p/0.21), with S the
 * whole entropy of melting in air. Negative above the line.
 * Assumes a constant enthalpy and a constant Cu+ share.
 */
export function liquidAbovePlaneJPerMol(
  liquid: LiquidParameters,
  temperatureK: number,
  po2Atm: number,
): number {
  const n = meltOxygenLossMol(liquid);
  const entropy = liquid.fusionEntropyJPerMolK + n * OXYGEN_ENTROPY;
  return (
    entropy * (liquid.eutecticAirK - temperatureK) +
    n * GAS_CONSTANT * temperatureK * Math.log(po2Atm / AIR_OXYGEN_ATM)
  );
}

/** Temperature of the line 123 + BaCuO2 + CuO = liquid at one pO2, K: the root of liquidAbovePlaneJPerMol. */
export function eutecticLineK(liquid: LiquidParameters, po2Atm: number): number {
  const n = meltOxygenLossMol(liquid);
  const entropy = liquid.fusionEntropyJPerMolK + n * OXYGEN_ENTROPY;
  return (entropy * liquid.eutecticAirK) / (entropy - n * GAS_CONSTANT * Math.log(po2Atm / AIR_OXYGEN_ATM));
}

/** The line in air as the named record states it, K. */
export function publishedEutecticK(id: 'eutectic-nist' | 'eutectic-1988'): number {
  return meltRecord(id).value + ZERO_CELSIUS_K;
}
