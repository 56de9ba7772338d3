// Stress of a film that shrinks otherwise than its substrate, and the thickness at which it cracks. SI.
import { DomainError } from '../errors.ts';
import { FILM_MECHANICS } from '../tables/film-mechanics.ts';
import { THERMAL_EXPANSION } from '../tables/thermal-expansion.ts';
import { checkRange, POSITIVE } from './range.ts';

type MechanicsId = (typeof FILM_MECHANICS.records)[number]['id'];

export function mechanicsRecord(id: MechanicsId) {
  return FILM_MECHANICS.records.find((record) => record.id === id)!;
}

/** @throws DomainError GROWTH_UNKNOWN, listing the names known */
export function expansionRecord(id: string) {
  const found = THERMAL_EXPANSION.records.find((record) => record.id === id);
  if (found) return found;
  const known = THERMAL_EXPANSION.records.map((record) => record.id).join(', ');
  throw new DomainError(
    'GROWTH_UNKNOWN',
    `'${id}' has no thermal expansion in the table; known are ${known}.`,
  );
}

export interface Stiffness {
  readonly c11: number;
  readonly c22: number;
  readonly c33: number;
  readonly c12: number;
  readonly c13: number;
  readonly c23: number;
}

/**
 * Biaxial modulus of a twinned c-axis film, free to move along c: M = C11 + C12 - 2 C13^2/C33, with C11 and C13 the means
 * over the two in-plane axes.
 *
 * @returns in the unit of the constants
 * Source: [derived: plane stress of a tetragonal film, twins averaged]. Range: small strain, c axis normal to the film.
 */
export function biaxialModulus({ c11, c22, c33, c12, c13, c23 }: Stiffness): number {
  const inPlane = (c11 + c22) / 2;
  const across = (c13 + c23) / 2;
  return inPlane + c12 - (2 * across ** 2) / c33;
}

/**
 * Modulus of that film strained along one in-plane axis alone, the other held: C11 - C13^2/C33, which is E/(1 - nu^2) for equal
 * constants in the plane, where the biaxial modulus is E/(1 - nu).
 *
 * @returns in the unit of the constants
 * Source: [derived: as biaxialModulus]. Range: as biaxialModulus.
 */
export function planeStrainModulus({ c11, c22, c33, c13, c23 }: Stiffness): number {
  return (c11 + c22) / 2 - ((c13 + c23) / 2) ** 2 / c33;
}

/** In-plane Poisson ratio nu of that film: biaxial modulus over plane-strain modulus, less 1. Source: as planeStrainModulus. */
export function inPlanePoisson(stiffness: Stiffness): number {
  return biaxialModulus(stiffness) / planeStrainModulus(stiffness) - 1;
}

/** Strain of the film once cooled: (alpha_film - alpha_substrate)(T_growth - T_end); tension above 0. Source: [derived]. */
export function mismatchStrain(filmPerK: number, substratePerK: number, dropK: number): number {
  return (filmPerK - substratePerK) * dropK;
}

/**
 * Energy that a crack of the film's thickness frees: G = Z sigma^2 h/E', J/m2, E' the plane-strain modulus E/(1 - nu^2).
 *
 * @param modulusPa E': with the biaxial modulus in its place G would come out low by 1 + nu
 * Source: Z = 3.951 surface crack, 1.976 channel [memory: Hutchinson and Suo 1992, Adv. Appl. Mech. 29, 63]; G = K^2/E' in plane
 *   strain [looked-up: manual of a fracture library, Griffith's criterion].
 * Range: film and substrate of one stiffness.
 */
export function energyReleaseRate(
  z: number,
  stressPa: number,
  thicknessM: number,
  modulusPa: number,
): number {
  return (z * stressPa ** 2 * thicknessM) / modulusPa;
}

/**
 * Thickness at which a crack begins to run: h_c = K_IC^2/(Z sigma^2), m. Infinite without tension.
 *
 * Source: [derived: G = K_IC^2/E', with the same E' in energyReleaseRate]. Range: as energyReleaseRate.
 */
export function criticalThickness(toughness: number, z: number, stressPa: number): number {
  checkRange('toughness', toughness, POSITIVE);
  return stressPa > 0 ? toughness ** 2 / (z * stressPa ** 2) : Number.POSITIVE_INFINITY;
}
