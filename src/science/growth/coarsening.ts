// Coarsening of particles in a melt by diffusion. SI.
import { GAS_CONSTANT } from '../equilibrium/oxygen.ts';
import { checkRange, POSITIVE } from './range.ts';

export interface CoarseningInputs {
  /** of particle against melt, J/m2 */
  readonly interfacialEnergy: number;
  /** of the solute in the melt, m2/s */
  readonly diffusivity: number;
  /** solute dissolved beside a flat particle, mol/m3 of melt */
  readonly solute: number;
  /** particle per mole of that solute, m3/mol */
  readonly molarVolume: number;
}

/**
 * Rate constant of diffusion-controlled coarsening: K = 8 gamma D c Vm^2/(9 R T), with c in moles of solute per m3 of melt
 * and Vm in m3 of particle per mole of that same solute. The form with one Vm takes c as a volume fraction, c Vm: a
 * frequent error of units.
 *
 * @returns m3/s, of the cube of the mean radius
 * @throws DomainError GROWTH_RANGE for an input not above 0
 *
 * Source: [memory: Lifshitz and Slyozov 1961, J. Phys. Chem. Solids 19, 35; Wagner 1961, Z. Elektrochem. 65, 581].
 * Range: vanishing volume fraction, spheres, diffusion and not attachment in control.
 */
export function coarseningConstant(
  { interfacialEnergy, diffusivity, solute, molarVolume }: CoarseningInputs,
  temperatureK: number,
): number {
  for (const [name, value] of Object.entries({
    interfacialEnergy,
    diffusivity,
    solute,
    molarVolume,
    temperatureK,
  }))
    checkRange(name, value, POSITIVE);
  return (
    (8 * interfacialEnergy * diffusivity * solute * molarVolume ** 2) / (9 * GAS_CONSTANT * temperatureK)
  );
}

/**
 * Mean radius of particles that share a volume fraction among so many nuclei: r0 = (3 f/(4 pi n))^(1/3).
 *
 * Source: [derived: volume of n spheres a unit of volume].
 */
export function startRadius(volumeFraction: number, nucleiPerM3: number): number {
  checkRange('volumeFraction', volumeFraction, { min: 0, max: 1, isAboveMin: true });
  checkRange('nucleiPerM3', nucleiPerM3, POSITIVE);
  return ((3 * volumeFraction) / (4 * Math.PI * nucleiPerM3)) ** (1 / 3);
}

/** Radius after a growth of the cube: r = (r0^3 + integral of K dt)^(1/3). Source: as coarseningConstant. */
export function coarsenedRadius(startRadiusM: number, grownM3: number): number {
  return (startRadiusM ** 3 + grownM3) ** (1 / 3);
}

/** How D and c of the melt change with temperature: exp(-E/R (1/T - 1/T_ref)). */
export interface ThermalChange {
  readonly referenceK: number;
  readonly diffusionJPerMol: number;
  readonly dissolutionJPerMol: number;
}

/**
 * Integral of K over a path, with D and c changing by their activation energies.
 *
 * @param share of the moment in which there is melt, 0 to 1, one a sample; 1 if left out
 * @returns m3; the trapezoid over the samples
 */
export function grownOver(
  timeS: ArrayLike<number>,
  temperatureK: ArrayLike<number>,
  inputs: CoarseningInputs,
  change: ThermalChange,
  share?: ArrayLike<number>,
): number {
  const sumJPerMol = change.diffusionJPerMol + change.dissolutionJPerMol;
  const at = (kelvin: number): number =>
    coarseningConstant(inputs, kelvin) *
    Math.exp((-sumJPerMol / GAS_CONSTANT) * (1 / kelvin - 1 / change.referenceK));
  let sum = 0;
  for (let i = 1; i < timeS.length; i++)
    sum +=
      ((at(temperatureK[i]!) * (share?.[i] ?? 1) + at(temperatureK[i - 1]!) * (share?.[i - 1] ?? 1)) / 2) *
      (timeS[i]! - timeS[i - 1]!);
  return sum;
}
