// What a film loses by evaporation over a heat path, and how its cation ratio drifts. mol/m2, s, K.
import { GAS_CONSTANT, metalStepJPerMol } from '../equilibrium/oxygen.ts';
import { isRareEarth } from '../matter/elements.ts';
import type { PathSamples } from './path.ts';
import { checkRange, POSITIVE } from './range.ts';
import {
  bariumFlux,
  copperFlux,
  copperPotentialJPerMol,
  type GasLayer,
  metalLimitLog10Po2,
  type Surroundings,
} from './vapour.ts';

/** Volume of 123 a cation, m3: 173.56 cubic angstrom over six [memory: Jorgensen and others 1990]. */
export const VOLUME_PER_CATION_M3 = 173.56e-30 / 6;
const AVOGADRO = 6.02214076e23; // exact in the SI of 2019

/** Cations of a film, mol/m2. */
export interface FilmAmounts {
  readonly re: number;
  readonly ba: number;
  readonly cu: number;
}

/**
 * Cations of a film from its thickness: N_E = x_E t/(v N_A), v the volume a cation. Cations beside RE, Ba, Cu take room.
 *
 * @param cations amounts with any common factor
 * @throws DomainError GROWTH_RANGE for a thickness not above 0, or no cation
 * Source: [derived]. Range: v is that of 123; a film of mixed oxides differs by some 10 % [common practice].
 */
export function filmAmounts(cations: Readonly<Record<string, number>>, thicknessM: number): FilmAmounts {
  checkRange('thicknessNm', thicknessM * 1e9, POSITIVE);
  let [all, re] = [0, 0];
  for (const [symbol, amount] of Object.entries(cations)) {
    all += amount;
    if (isRareEarth(symbol)) re += amount;
  }
  checkRange('sum of cations', all, POSITIVE);
  const total = thicknessM / (VOLUME_PER_CATION_M3 * AVOGADRO * all);
  return { re: re * total, ba: (cations.Ba ?? 0) * total, cu: (cations.Cu ?? 0) * total };
}

export interface SurfaceChemistry {
  /** of BaO, one a sample */
  readonly activityBaO: ArrayLike<number>;
  /** of copper against the stablest of CuO, Cu2O and Cu, one a sample */
  readonly activityCu: ArrayLike<number>;
  readonly waterPa: number;
  readonly sticking: number;
  readonly layer: GasLayer | null;
  /** log10 of the pO2 at the surface where it is held below the gas; null: as the path */
  readonly surfaceLog10Po2: 'as the path' | 'copper metal' | number;
}

/** Activity of BaO, and of copper against the stablest of CuO, Cu2O and Cu, from potentials against BaO and CuO, J/mol. */
export function activitiesOfPotentials(
  temperatureK: number,
  po2Atm: number,
  baJPerMol: number,
  cuJPerMol: number,
) {
  const rt = GAS_CONSTANT * temperatureK;
  const stablest = copperPotentialJPerMol(temperatureK, po2Atm) + metalStepJPerMol(temperatureK, po2Atm); // against CuO
  return { activityBaO: Math.exp(baJPerMol / rt), activityCu: Math.exp((cuJPerMol - stablest) / rt) };
}

export interface FluxSeries {
  readonly ba1939: Float64Array;
  readonly ba1968: Float64Array;
  readonly cu: Float64Array;
}

/** Fluxes away from the full film at every sample of a path, mol/(m2 s). */
export function fluxesAlong(path: PathSamples, chemistry: SurfaceChemistry): FluxSeries {
  const n = path.timeS.length;
  const [ba1939, ba1968, cu] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  const surroundings: Surroundings = chemistry;
  for (let i = 0; i < n; i++) {
    const temperatureK = path.temperatureK[i]!;
    const log10Po2 = surfaceLog10Po2At(path, i, chemistry.surfaceLog10Po2);
    const state = {
      temperatureK,
      po2Atm: 10 ** log10Po2,
      activityBaO: chemistry.activityBaO[i]!,
      activityCu: chemistry.activityCu[i]!,
      waterPa: chemistry.waterPa,
    };
    ba1939[i] = bariumFlux('BaO-1939', state, surroundings);
    ba1968[i] = bariumFlux('BaO-1968', state, surroundings);
    cu[i] = copperFlux(state, surroundings);
  }
  return { ba1939, ba1968, cu };
}

/** log10 of the pO2 at the surface at a sample. */
export function surfaceLog10Po2At(
  path: PathSamples,
  i: number,
  held: SurfaceChemistry['surfaceLog10Po2'],
): number {
  const inGas = path.log10Po2Atm[i]!;
  if (held === 'as the path') return inGas;
  return Math.min(inGas, held === 'copper metal' ? metalLimitLog10Po2(path.temperatureK[i]!) : held);
}

/** Integral of a flux over the path by the trapezoid, mol/m2. */
export function dose(timeS: ArrayLike<number>, flux: ArrayLike<number>): number {
  let sum = 0;
  for (let i = 1; i < timeS.length; i++) sum += ((flux[i]! + flux[i - 1]!) / 2) * (timeS[i]! - timeS[i - 1]!);
  return sum;
}

/** Shares lost of one cation under three ways in which the surface may feed the vapour. */
export interface LossShares {
  /** activity stays: dN/dt = -J, to nothing left */
  readonly constant: number;
  /** activity falls as the amount left: dN/dt = -J N/N0 */
  readonly firstOrder: number;
  /** activity falls as a power of the cation fraction: dN/dt = -J (x/x0)^m */
  readonly falling: number;
}

export interface FilmLoss {
  readonly ba: LossShares;
  readonly cu: LossShares;
}

/** Largest share of what is left that one midpoint step takes. */
const LOSS_STEP = 0.02;
const MAX_LOSS_STEPS = 200;

/**
 * Loss of barium and copper from a film, each fed through its own flux.
 *
 * @param flux     of the full film, mol/(m2 s), one a sample
 * @param exponent m of the falling activity, 0 or more
 * @returns shares from 0 to 1
 *
 * Source: [derived: dN/dt with each law; the falling one in midpoint steps].
 * Range: the film stays mixed: no depleted skin, which would lose less.
 */
export function lossOver(
  timeS: ArrayLike<number>,
  flux: { readonly ba: ArrayLike<number>; readonly cu: ArrayLike<number> },
  amounts: FilmAmounts,
  exponent: number,
): FilmLoss {
  const left = { ba: amounts.ba, cu: amounts.cu };
  const all = amounts.re + amounts.ba + amounts.cu;
  const start = { ba: amounts.ba / all, cu: amounts.cu / all };
  /** falling activity, relative to the start, with so much left */
  const factor = (element: 'ba' | 'cu', now: typeof left): number =>
    now[element] <= 0 ? 0 : (now[element] / (amounts.re + now.ba + now.cu) / start[element]) ** exponent;
  /** what is left of `from` after so much flux, fed as it is `at` a moment: exact where the rate is k N */
  const after = (from: typeof left, at: typeof left, mol: typeof left): typeof left => ({
    ba: at.ba > 0 ? from.ba * Math.exp((-mol.ba * factor('ba', at)) / at.ba) : 0,
    cu: at.cu > 0 ? from.cu * Math.exp((-mol.cu * factor('cu', at)) / at.cu) : 0,
  });
  for (let i = 1; i < timeS.length; i++) {
    const dt = timeS[i]! - timeS[i - 1]!;
    if (dt === 0) continue;
    const whole = {
      ba: ((flux.ba[i]! + flux.ba[i - 1]!) / 2) * dt,
      cu: ((flux.cu[i]! + flux.cu[i - 1]!) / 2) * dt,
    };
    const share = Math.max(whole.ba / (left.ba || 1), whole.cu / (left.cu || 1));
    const steps = Math.min(MAX_LOSS_STEPS, Math.max(1, Math.ceil(share / LOSS_STEP)));
    const mol = { ba: whole.ba / steps, cu: whole.cu / steps };
    for (let k = 0; k < steps; k++) {
      const middle = after(left, left, { ba: mol.ba / 2, cu: mol.cu / 2 });
      Object.assign(left, after(left, middle, mol));
    }
  }
  const shares = (element: 'ba' | 'cu'): LossShares => {
    if (amounts[element] === 0) return { constant: 0, firstOrder: 0, falling: 0 };
    const share = dose(timeS, flux[element]) / amounts[element];
    return {
      constant: Math.min(1, share),
      firstOrder: -Math.expm1(-share),
      falling: 1 - left[element] / amounts[element],
    };
  };
  return { ba: shares('ba'), cu: shares('cu') };
}

/**
 * log10 of the pO2 at the surface, held over the whole path, at which a first-order loss of copper would be so large.
 * The loss rises as pO2 falls, until copper metal is in balance with the surface.
 *
 * @returns null if not even a surface over copper metal loses so much
 * @returns the path's own highest pO2 if it loses as much anyway
 */
export function oxygenNeededFor(
  path: PathSamples,
  chemistry: SurfaceChemistry,
  amounts: FilmAmounts,
  lossShare: number,
): number | null {
  const lossAt = (surfaceLog10Po2: number): number =>
    -Math.expm1(-dose(path.timeS, fluxesAlong(path, { ...chemistry, surfaceLog10Po2 }).cu) / amounts.cu);
  let high = path.log10Po2Atm.reduce((most, each) => Math.max(most, each), -20);
  let low = -20;
  if (lossAt(high) >= lossShare) return high;
  if (lossAt(low) < lossShare) return null;
  while (high - low > 1e-3) {
    const middle = (low + high) / 2;
    if (lossAt(middle) >= lossShare) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
