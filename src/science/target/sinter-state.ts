// What the oxygen of a target means for the film grown from it, and what is known of firing in a gas. Pure.
import { OXYGEN_ABOVE_SIX_RMS, OXYGEN_FIT } from '../equilibrium/oxygen.ts';

export type OxygenState = 'oxygen rich' | 'between' | 'oxygen poor';

/** Superconducting near 90 K from about here on, per 123 [memory: Cava et al. 1987, Phys. Rev. B 36, 5719]. */
const RICH_FROM = 6.8;
/** Tetragonal and insulating up to about here [memory: Jorgensen et al. 1990, Phys. Rev. B 41, 1863]. */
const POOR_TO = 6.35;

/** A target annealed in oxygen holds 6.90 to 6.97 [common practice], one cooled in argon 6.0 to 6.2 [memory: Jorgensen et al. 1990]. */
export function oxygenStateOf(oxygenPer123: number): OxygenState {
  if (oxygenPer123 >= RICH_FROM) return 'oxygen rich';
  return oxygenPer123 <= POOR_TO ? 'oxygen poor' : 'between';
}

/**
 * Content as it is reported. Up to z = 0.95 it is the formula's, with the scatter of its anchors. Above, where the order of the chains
 * was left out, the truth lies between 0.95 and the formula's: the middle, and a rectangular doubt besides.
 */
export function reportedOxygen(z: number): { value: number; scatter: number } {
  if (z <= OXYGEN_FIT.mostZ) return { value: z, scatter: OXYGEN_ABOVE_SIX_RMS };
  const width = z - OXYGEN_FIT.mostZ;
  return { value: z - width / 2, scatter: Math.hypot(OXYGEN_ABOVE_SIX_RMS, width / Math.sqrt(12)) };
}

interface Consequence {
  readonly route: 'in situ' | 'ex situ';
  readonly statement: string;
  readonly source: string;
}

const EX_SITU: Readonly<Record<OxygenState, string>> = {
  'oxygen rich':
    'A target annealed in oxygen brings Cu-O bonds and oxides into the amorphous layer, which crystallise before the melt forms and block current. Fire in argon for this route, or expect it.',
  between:
    'Growers see layers from targets annealed in oxygen crystallise before the melt forms, and layers from targets annealed in argon not; nothing is known in between.',
  'oxygen poor':
    'Layers from a target annealed in argon do not bring the Cu-O bonds and oxides that crystallise before the melt forms and block current.',
};

/** What a grower may expect of the film, by route; nothing here is computed. */
export function consequencesOf(state: OxygenState): Consequence[] {
  return [
    {
      route: 'in situ',
      statement:
        'About 40 % of the oxygen in a film deposited hot comes from the target and 60 % from the gas, and about 90 % is exchanged on cooling: the gas of the chamber sets most of it, whatever the target holds.',
      source: 'oxygen-18 tracer, Predtechensky et al. 1993, Appl. Supercond. 1, 2005 [looked-up: abstract]',
    },
    {
      route: 'ex situ',
      statement: EX_SITU[state],
      source: 'what growers report; no published source [common practice]',
    },
  ];
}

/** Gas no richer than this is called inert, atm: pure 123 ends near 2.4e-4 atm at 850 degC (docs/science/equilibrium.md). */
export const INERT_ATM = 1e-4;
/** YBa2Cu3O6 made in inert gas decomposes above this, degC [looked-up: J. Mater. Res. 9 (1994) 275, abstract]. */
export const INERT_DECOMPOSITION_C = 725;
/** Usual calcining begins here, degC; below it carbonate stays [common practice]. */
export const CALCINING_FROM_C = 850;
