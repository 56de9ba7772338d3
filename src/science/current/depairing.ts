// Upper bound of a critical current density: the depairing current, and whether a value near it is a slip of unit. Pure; SI.
import { type Flag, inWords } from '../measured.ts';

/** Flux quantum, Wb. */
const FLUX_QUANTUM_WB = 2.067833848e-15; // [looked-up: CODATA 2018]
const MU0 = 4e-7 * Math.PI; // [looked-up: CODATA 2018, to 1e-9]
/** In-plane penetration depth and coherence length of a good 123 film at 0 K, m. */
const PENETRATION_DEPTH_M = 150e-9; // [memory: upper end of 135 to 150 nm]
const COHERENCE_LENGTH_M = 1.6e-9; // [looked-up: 1.5 to 2 nm in published films]
const TYPICAL_TC_K = 92;
/** Best films reach about a fifth of depairing; twice that is taken as the sign of a wrong unit. */
const IMPLAUSIBLE_SHARE = 0.4; // [looked-up: Stangl et al. 2021, Sci. Rep.: one fifth; twice that by us]

/**
 * Depairing current density Jd = Phi0/(3 sqrt(3) pi mu0 lambda^2 xi) at 0 K, A/m2.
 *
 * Source: [looked-up: form in Miura et al. 2022].
 */
export function depairingAt0KAPerM2(penetrationDepthM: number, coherenceLengthM: number): number {
  return FLUX_QUANTUM_WB / (3 * Math.sqrt(3) * Math.PI * MU0 * penetrationDepthM ** 2 * coherenceLengthM);
}

/**
 * Depairing current density of a typical 123 film: Jd(0) (1 - t^2)^(3/2) (1 + t^2)^(1/2), t = T/92 K; 0 above.
 *
 * @param temperatureK temperature, K; 0 K where it is not known, so that the bound is on the safe side
 * @returns A/m2
 *
 * Source: [memory: Ginzburg-Landau depairing with two-fluid lengths, as in Tinkham 1996].
 */
export function depairingAPerM2(temperatureK = 0): number {
  const t2 = Math.min(1, (temperatureK / TYPICAL_TC_K) ** 2);
  const atZero = depairingAt0KAPerM2(PENETRATION_DEPTH_M, COHERENCE_LENGTH_M);
  return atZero * (1 - t2) ** 1.5 * Math.sqrt(1 + t2);
}

/** Flags a critical current density that no 123 film can have. */
export function flagDepairing(jcAPerM2: number, temperatureK: number | undefined, flags: Flag[]): void {
  const isNearTc = temperatureK !== undefined && temperatureK > 0.95 * TYPICAL_TC_K;
  const limit = IMPLAUSIBLE_SHARE * depairingAPerM2(isNearTc ? 0.95 * TYPICAL_TC_K : temperatureK);
  if (jcAPerM2 > limit)
    flags.push({
      code: 'JC_ABOVE_DEPAIRING',
      message:
        `Jc ${inWords(jcAPerM2 / 1e10)} MA/cm2 is above 0.4 of the depairing current at ${inWords(temperatureK ?? 0)} K ` +
        `(${inWords(limit / 1e10)} MA/cm2), which no film reaches: a current, moment, width or thickness is likely in another unit.`,
    });
}
