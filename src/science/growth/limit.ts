// The fastest growth that transport allows: through the liquid, and from the gas. SI.
import { GAS_CONSTANT } from '../equilibrium/oxygen.ts';
import { checkRange, POSITIVE } from './range.ts';
import { gasDiffusivityM2PerS, molecularFlux } from './vapour.ts';

const OXYGEN_MASS_KG = 0.031998; // O2, conventional weight of O 15.999

export interface LiquidSupply {
  /** of the rare earth in the melt, m2/s */
  readonly diffusivity: number;
  /** far from and at the growing face, mol/m3 of melt */
  readonly bulk: number;
  readonly atFace: number;
  /** in the crystal, mol/m3 */
  readonly crystal: number;
  /** thickness of liquid that it crosses, m */
  readonly boundaryM: number;
}

/**
 * Growth fed by diffusion through a liquid: R = D (C0 - Ci)/(delta (Cs - Ci)).
 *
 * @returns m/s
 * @throws DomainError GROWTH_RANGE where the melt is not supersaturated or is richer than the crystal
 *
 * Source: [derived: balance of solute at a moving face, steady profile]. Range: attachment and nucleation not in control.
 */
export function liquidLimitMPerS({ diffusivity, bulk, atFace, crystal, boundaryM }: LiquidSupply): number {
  for (const [name, value] of Object.entries({ diffusivity, bulk, crystal, boundaryM }))
    checkRange(`liquid.${name}`, value, POSITIVE);
  checkRange('liquid.atFace', atFace, { min: 0, max: bulk });
  checkRange('liquid.crystal', crystal, { min: bulk, isAboveMin: true });
  return (diffusivity * (bulk - atFace)) / (boundaryM * (crystal - atFace));
}

/**
 * Growth fed by oxygen that arrives from a gas without a layer: R = 2 alpha p/sqrt(2 pi M R T)/(n Cs), n atoms of oxygen a
 * formula.
 *
 * @returns m/s
 * Source: [derived: molecularFlux over the formulas a volume].
 */
export function arrivalLimitMPerS(
  po2Pa: number,
  temperatureK: number,
  sticking: number,
  oxygenPerFormula: number,
  crystalMolPerM3: number,
): number {
  checkRange('gas.po2Pa', po2Pa, POSITIVE);
  checkRange('gas.sticking', sticking, { min: 0, max: 1, isAboveMin: true });
  checkRange('gas.oxygenPerFormula', oxygenPerFormula, POSITIVE);
  return (
    (2 * molecularFlux(po2Pa, OXYGEN_MASS_KG, temperatureK, sticking)) / (oxygenPerFormula * crystalMolPerM3)
  );
}

export interface CarrierGas {
  readonly totalPressurePa: number;
  readonly boundaryM: number;
  /** of O2 at 101325 Pa and 293.15 K, m2/s */
  readonly diffusivity: number;
}

/**
 * Growth fed by oxygen through the boundary layer of a carrier gas: R = 2 D p/(delta R_gas T)/(n Cs), nothing left at the
 * film.
 *
 * @returns m/s
 * Source: [derived: Fick's first law]. Range: oxygen dilute in the carrier; no stirring inside the layer.
 */
export function layerLimitMPerS(
  po2Pa: number,
  temperatureK: number,
  carrier: CarrierGas,
  oxygenPerFormula: number,
  crystalMolPerM3: number,
): number {
  checkRange('gas.totalPressurePa', carrier.totalPressurePa, { min: po2Pa });
  checkRange('gas.boundaryMm', carrier.boundaryM, POSITIVE);
  const d = gasDiffusivityM2PerS(carrier.diffusivity, temperatureK, carrier.totalPressurePa);
  return (
    (2 * d * po2Pa) / (carrier.boundaryM * GAS_CONSTANT * temperatureK) / (oxygenPerFormula * crystalMolPerM3)
  );
}
