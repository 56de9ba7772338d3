// Errors of the pure layers: what is wrong, in a sentence made from data, and what to do next.
import { WordedError } from './worded-error.ts';

/** Every code of `science/`, `formats/` and `computations/`, with its remedy. docs/errors.md is made from this list. */
export const SCIENCE_CODES = {
  REQUEST_INVALID:
    'Give every field the schema names, in its range: `peritect compute NAME --schema` prints it.',
  COMPUTATION_UNKNOWN: 'Take one of the names that `peritect compute --list` prints.',
  NOT_FINITE:
    'Check the request for numbers far beyond what can be measured; if there are none, please report it.',
  TRANSITION_LENGTHS: 'Give one resistance or moment for each temperature, in the same order.',
  TRANSITION_TOO_FEW: 'Measure the curve again with more points, or check that the right columns were taken.',
  TRANSITION_TEMPERATURE: 'Give temperatures in kelvin: add 273.15 to a temperature in degrees Celsius.',
  CURRENT_LENGTHS: 'Give one voltage (and one time, if any) for each current, in the same order.',
  CURRENT_TOO_FEW: 'Measure the curve again with more points, or check that the right columns were taken.',
  CURRENT_GEOMETRY: 'Give tap distance, width and thickness in metres: 500 nm is 5e-7.',
  LOOP_LENGTHS: 'Give one moment for each field, in the same order.',
  LOOP_TOO_FEW: 'Measure the loop again with more points, or check that the right columns were taken.',
  LOOP_GEOMETRY: 'Give both sides and the thickness in metres: 5 mm is 5e-3, 500 nm is 5e-7.',
  LOOP_COLUMNS_SWAPPED: 'Exchange the field and the moment column and run it again.',
  LOOP_ONE_BRANCH:
    'Measure the loop on to the other sweep direction: the difference of two branches gives the current.',
  ELEMENT_UNKNOWN: 'Write the symbol as in the periodic table: Ba, not BA or barium.',
  FORMULA_BAD: 'Correct the formula there: for instance YBa2Cu3O6.93, (Y0.5Gd0.5)Ba2Cu3O7 or Cu(NO3)2·3H2O.',
  RARE_EARTH_UNKNOWN: 'Take Y, La, Ce, Pr, Nd, Sm, Eu, Gd, Tb, Dy, Ho, Er, Tm, Yb or Lu.',
  TERNARY_EMPTY: 'Give an amount above 0 for a rare earth, Ba or Cu.',
  BATCH_RANGE: 'Correct that field and ask again.',
  BATCH_CATION_MISSING: 'Add a precursor that brings it, or set its amount to 0.',
  BATCH_NEGATIVE: 'Leave that precursor out, or add one that brings the cations it cannot give alone.',
  BATCH_AMBIGUOUS: 'Leave precursors out until each mass follows from the cation ratio alone.',
  BATCH_IMPOSSIBLE: 'Add a precursor, so that each cation can be set on its own.',
  TRANSFER_RANGE: 'Correct that field and ask again.',
  TRANSFER_ELEMENT: 'Add a pair, or a factor, for that element.',
  SLIP_RANGE: 'Correct that field and ask again.',
  ADDITION_RANGE: 'Correct that field and ask again.',
  CHART_SIZE: 'Give a width and a height from 160 to 20000 px.',
  CHART_LENGTHS: 'Give arrays of one length, in the same order.',
  CHART_WINDOW: 'Give limits as cation fractions from 0 to 1, each lower limit below its upper one.',
  CHART_COMPOSITION: 'Give three amounts of 0 or more, not all 0.',
  CHART_GRID: 'Give odds on a grid of even steps in RE and in Cu.',
  EQUILIBRIUM_TEMPERATURE: 'Give the temperature of the film in degC, from 300 to 1400.',
  EQUILIBRIUM_OXYGEN: 'Give the oxygen partial pressure in atm: 1 atm is 760 Torr, 101325 Pa, 1.01325 bar.',
  EQUILIBRIUM_PHASE_UNKNOWN: 'Take a phase name as the answer without offsets and holds gives it.',
  EQUILIBRIUM_HELD_BACK: 'Let one simple oxide of each cation form.',
  EQUILIBRIUM_REACTION:
    'Name phases of one reaction: two to four solids that make each other, or the liquid with one to three.',
  EQUILIBRIUM_SINK: 'Give a thinner consumed layer or a thicker film.',
  EQUILIBRIUM_ADDITION: 'Give less of the addition, or more of what it binds.',
  EQUILIBRIUM_REGION: 'Give 0 <= cuMin < cuMax <= 1 and 0 < reMax <= 1.',
  SCAN_LENGTHS: 'Give one count for each angle, in the same order.',
  SCAN_TOO_SHORT: 'Give the whole scan, or a wider range of angles.',
  SCAN_ANGLE_RANGE: 'Give angles as degrees of 2theta, above -10 and below 180.',
  SCAN_TWO_IN_ONE: 'Split the file where the angle starts again and give one scan at a time.',
  SCAN_EMPTY: 'Check that the counts were read from the right column, and that the shutter was open.',
  PROPOSAL_ODDS: 'Give one probability, 0 to 1, for each composition, in the same order.',
  PROPOSAL_REGION: 'Widen the region, or map the odds over it.',
  FLUENCE_INPUT: 'Give the energy of one pulse at the target and the area of its spot, both above 0.',
  OXYGEN_SHARE: 'Give the share of O2 in the gas as a number from 0 to 1: air is 0.21.',
  GROWTH_RANGE: 'Correct that field and ask again.',
  GROWTH_LENGTHS: 'Give arrays of one length, in the same order.',
  GROWTH_TOO_FEW: 'Give more measured rows.',
  UNCERTAINTY_TOO_LARGE:
    'State a standard uncertainty of at most ten times the value, or say what is known better.',
  GROWTH_UNKNOWN: 'Take one of the names listed.',
  PATH_RANGE: 'Correct that field of the path and ask again.',
  PATH_ORDER: 'Give times that never fall, in seconds from the start of the path.',
} as const satisfies Record<string, string>;

export type ScienceCode = keyof typeof SCIENCE_CODES;

/** A request that physics or its range does not allow. The message is the sentence and the remedy together. */
export class DomainError extends WordedError<ScienceCode> {
  /**
   * @param code     machine-readable name of the fault
   * @param sentence what is wrong, with the value found and where
   * @param remedy   what to do next; the code's general remedy if left out
   */
  constructor(code: ScienceCode, sentence: string, remedy: string = SCIENCE_CODES[code]) {
    super(code, sentence, remedy);
  }
}
