// What the diagram may be asked, and where its answer is extrapolated or rests on nothing published. degC, atm.
import type { Doubt } from '../doubt.ts';
import { DomainError } from '../errors.ts';
import { inWords } from '../measured.ts';
import { MELT_FITS } from '../tables/melt-fits.ts';
import { THERMO_MELT } from '../tables/thermo-melt.ts';
import { ZERO_CELSIUS_K } from './oxygen.ts';
import { LIQUID } from './phase-system.ts';
import { phaseName, type RareEarth, solidsOf } from './solids.ts';

/** Where the compounds near 123 were measured: 800-950 C (cells), 577-877 C (cells), 850 C (quenches). */
const SOLIDS_RANGE_C = [700, 950] as const;
/** pO2 that the lines of the solids were measured between, about, atm. */
const SOLIDS_RANGE_ATM = [1e-5, 1] as const;
/** pO2 of the published melting points. */
const LIQUID_RANGE_ATM = [0.02, 1] as const;
/** Hottest melting in the calibration, degC: that of Cu2O + CuO. */
const MELT_RANGE_C = 1091;
/** Hotter than any 123 film is held: 1050 K, which is 777 degC, may have been meant. */
const PERHAPS_KELVIN_C = 1040;
const ASKABLE_C = [300, 1400] as const;
const ASKABLE_ATM = [1e-12, 200] as const;
/** RE that share the Ba site (solid solutions RE1+xBa2-xCu3O7) [looked-up: Wong-Ng et al. 1994 and others for Nd, Eu, Sm]. */
const LARGE: readonly string[] = ['La', 'Ce', 'Pr', 'Nd', 'Sm', 'Eu', 'Gd'];
/** Small RE whose published peritectic lies below the line in the radius. */
const SMALL: readonly string[] = ['Tm', 'Yb', 'Lu'];
const WITHOUT_123: readonly string[] = ['Ce', 'Tb'];

/**
 * Refuses what no diagram here can answer.
 *
 * @throws DomainError EQUILIBRIUM_TEMPERATURE, EQUILIBRIUM_OXYGEN
 */
export function checkConditions(temperatureC: number, po2Atm: number): void {
  if (!(temperatureC >= ASKABLE_C[0] && temperatureC <= ASKABLE_C[1])) {
    const asKelvin = temperatureC - ZERO_CELSIUS_K;
    const hint =
      asKelvin >= ASKABLE_C[0] && asKelvin <= ASKABLE_C[1]
        ? `If it was meant in K, give ${Number(asKelvin.toFixed(2))}.`
        : 'Give the temperature of the film in degC.';
    throw new DomainError(
      'EQUILIBRIUM_TEMPERATURE',
      `temperatureC is ${temperatureC} degC; this diagram can be asked from ${ASKABLE_C[0]} to ${ASKABLE_C[1]} degC.`,
      hint,
    );
  }
  if (!(po2Atm >= ASKABLE_ATM[0] && po2Atm <= ASKABLE_ATM[1])) {
    throw new DomainError(
      'EQUILIBRIUM_OXYGEN',
      `po2Atm is ${po2Atm} atm; this diagram can be asked from ${ASKABLE_ATM[0]} to ${ASKABLE_ATM[1]} atm.`,
      'Give the oxygen partial pressure in atm: 1 atm is 760 Torr, 101325 Pa, 1.01325 bar.',
    );
  }
}

/** Doubts that hold over a whole diagram, whatever the composition. */
export function diagramDoubts(
  rareEarth: RareEarth,
  temperatureC: number,
  po2Atm: number,
  isMoved: boolean,
): Doubt[] {
  const doubts: Doubt[] = [
    isMoved
      ? {
          code: 'READING_MOVED',
          message:
            'Reading: with phases held back or offsets, as the request gives them; not the bulk equilibrium.',
        }
      : {
          code: 'READING_EQUILIBRIUM',
          message: 'Reading: equilibrium of the published bulk data. A growing film may be far from it.',
        },
  ];
  if (temperatureC < SOLIDS_RANGE_C[0] || temperatureC > SOLIDS_RANGE_C[1]) {
    doubts.push({
      code: 'TEMPERATURE_EXTRAPOLATED',
      message: `${inWords(temperatureC)} degC is outside ${SOLIDS_RANGE_C[0]} to ${SOLIDS_RANGE_C[1]} degC, where the compounds near 123 were measured.`,
    });
  }
  if (po2Atm < SOLIDS_RANGE_ATM[0] || po2Atm > SOLIDS_RANGE_ATM[1]) {
    doubts.push({
      code: 'OXYGEN_EXTRAPOLATED',
      message: `${inWords(po2Atm)} atm is outside ${SOLIDS_RANGE_ATM[0]} to ${SOLIDS_RANGE_ATM[1]} atm, where the lines of the compounds were measured.`,
    });
  }
  if (po2Atm < LIQUID_RANGE_ATM[0] || po2Atm > LIQUID_RANGE_ATM[1]) {
    doubts.push({
      code: 'MELT_EXTRAPOLATED',
      message:
        `${inWords(po2Atm)} atm is outside ${LIQUID_RANGE_ATM[0]} to ${LIQUID_RANGE_ATM[1]} atm, where melting was measured. ` +
        'Liquid at 850 degC somewhere between 4e-4 and 1 atm is published, without numbers.',
    });
  }
  if (temperatureC > PERHAPS_KELVIN_C) {
    doubts.push({
      code: 'TEMPERATURE_PERHAPS_K',
      message: `${inWords(temperatureC)} degC is hotter than films are grown. If it was meant in K, give ${inWords(temperatureC - ZERO_CELSIUS_K)}.`,
    });
  }
  if (temperatureC > MELT_RANGE_C) {
    doubts.push({
      code: 'MELT_HOT',
      message: `Above ${MELT_RANGE_C} degC no melt of this system was in the calibration.`,
    });
  }
  if (rareEarth !== 'Y') {
    doubts.push({
      code: 'RE_SHIFT',
      message:
        `Energies are those of Y but for one: 123 is moved so that its peritectic in air lies on a line in the radius of the rare earth ` +
        'through those of Gd, Dy and Er (Tp from memory; linear in the radius by Saitoh et al. 1997), and not at all below its low melting ' +
        'with BaCuO2 and CuO, which hardly depends on the rare earth (Ullman et al. 1989). The melt is that of Y.',
    });
  }
  if (SMALL.includes(rareEarth)) {
    doubts.push({
      code: 'RE_PERITECTIC_BELOW_LINE',
      message: `Published peritectic temperatures of Yb (900 degC) and Lu (880 degC) lie far below that line: 123 of ${rareEarth} is less stable than shown.`,
    });
  }
  if (LARGE.includes(rareEarth)) {
    doubts.push({
      code: 'RE_BA_EXCHANGE_UNKNOWN',
      message: `${rareEarth} can sit on the Ba site of 123 (RE1+xBa2-xCu3O7); that solid solution is not described here, so x is unknown.`,
    });
  }
  if (WITHOUT_123.includes(rareEarth)) {
    doubts.push({
      code: 'RE_FORMS_NO_123',
      message: `${rareEarth} is not known to form 123 by itself; the diagram shown is that of Y.`,
    });
  }
  return doubts;
}

/** A doubt where the named phases include one whose energy nobody has measured on this scale. */
export function placeholderDoubts(rareEarth: RareEarth, names: Iterable<string>): Doubt[] {
  const shown = new Set(names);
  const assumed = solidsOf(rareEarth)
    .filter((record) => record.tag === '[not established]')
    .map((record) => phaseName(record, rareEarth))
    .filter((name) => shown.has(name));
  if (assumed.length === 0) return [];
  return [
    {
      code: 'ENERGY_NOT_ESTABLISHED',
      message: `The energies of ${assumed.join(', ')} are placeholders: fields that hold them are unsure, and so is what gives way to them.`,
    },
  ];
}

/** How far the best fits put the eutectic in air above its published temperature, K: the fit's largest and smallest. */
function eutecticMissK(): readonly [number, number] {
  const published = THERMO_MELT.records.find(({ id }) => id === 'eutectic-nist')!.value + ZERO_CELSIUS_K;
  const misses = MELT_FITS.records.map(({ eutectic }) => eutectic.temperatureK - published);
  return [Math.min(...misses), Math.max(...misses)];
}

/** Below this height no member's liquid is sure to stay away: some 40 K at an entropy of melting of 40 J/(mol K), J/mol. */
const NEAR_LIQUID_J_PER_MOL = 1600;

/**
 * A doubt where members disagree on whether there is liquid, and where none has it though it lies near.
 *
 * @param liquidHeightJPerMol height of the liquid above the stable phases in the median member
 */
export function disputeDoubts(liquidOdds: number, liquidHeightJPerMol: number): Doubt[] {
  if (liquidOdds > 0.95) return [];
  const isNone = liquidOdds < 0.05;
  if (isNone && !(liquidHeightJPerMol < NEAR_LIQUID_J_PER_MOL)) return [];
  const [low, high] = eutecticMissK().map(Math.round);
  const where = isNone
    ? `No member or next to none has ${LIQUID} here, yet it lies only ${(liquidHeightJPerMol / 1000).toFixed(1)} kJ/mol above.`
    : `${LIQUID} in ${Math.round(100 * liquidOdds)} % of the members.`;
  return [
    {
      code: isNone ? 'NO_LIQUID_IS_UNSURE' : 'LIQUID_DISPUTED',
      message:
        `${where} All forms of the melt put the eutectic in air ${low} to ${high} K above the published 923 degC ` +
        '(another source: 890 degC), so liquid may come sooner than shown.',
    },
  ];
}
