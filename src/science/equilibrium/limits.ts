// What the diagram may be asked, and where its answer is extrapolated or rests on nothing published. degC, atm.
import type { Doubt } from '../doubt.ts';
import { DomainError } from '../errors.ts';
import { ternaryCoordinates } from '../matter/cation-ratios.ts';
import { isRareEarth, RARE_EARTHS } from '../matter/elements.ts';
import { inWords } from '../measured.ts';
import { LIQUID } from './diagram.ts';
import { ZERO_CELSIUS_K } from './oxygen.ts';
import { phaseName, type RareEarth, solidsOf } from './solids.ts';

/** Where the compounds near 123 were measured: 800-950 C (cells), 577-877 C (cells), 850 C (quenches). */
const SOLIDS_RANGE_C = [700, 950] as const;
/** pO2 that the lines of the solids were measured between, about, atm. */
const SOLIDS_RANGE_ATM = [1e-5, 1] as const;
/** pO2 of the published melting points. */
const LIQUID_RANGE_ATM = [0.02, 1] as const;
/** Above this the real melt has moved away from the eutectic composition: the first peritectic in air lies here. */
const FIXED_COMPOSITION_C = 940;
const ASKABLE_C = [300, 1400] as const;
const ASKABLE_ATM = [1e-12, 200] as const;
/** RE that share the Ba site (solid solutions RE1+xBa2-xCu3O7) [looked-up: Wong-Ng et al. 1994 and others for Nd, Eu, Sm]. */
const LARGE: readonly string[] = ['La', 'Ce', 'Pr', 'Nd', 'Sm', 'Eu', 'Gd'];
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

/** Cations of a request turned into the triangle's shares. */
export interface TriangleComposition {
  readonly rareEarth: RareEarth;
  readonly shares: readonly [number, number, number];
  readonly doubts: readonly Doubt[];
}

/**
 * Shares of RE, Ba and Cu among themselves. Several rare earths count together, under the name of the most abundant; without
 * any, phases are named with Y. Other elements are left out and said so.
 *
 * @throws DomainError TERNARY_EMPTY where no RE, Ba or Cu is above 0; ELEMENT_UNKNOWN
 */
export function triangleComposition(cations: Readonly<Record<string, number>>): TriangleComposition {
  const { re, ba, cu, outside } = ternaryCoordinates(cations);
  const rareEarths = RARE_EARTHS.filter((symbol) => (cations[symbol] ?? 0) > 0);
  const others = Object.keys(cations).filter(
    (symbol) => cations[symbol]! > 0 && !isRareEarth(symbol) && symbol !== 'Ba' && symbol !== 'Cu',
  );
  const rareEarth = rareEarths.reduce<RareEarth>(
    (most, symbol) => ((cations[symbol] ?? 0) > (cations[most] ?? 0) ? symbol : most),
    rareEarths[0] ?? 'Y',
  );
  const doubts: Doubt[] = [];
  if (rareEarths.length > 1) {
    doubts.push({
      code: 'RARE_EARTHS_AS_ONE',
      message: `${rareEarths.join(', ')} are counted together and named ${rareEarth}, the most abundant.`,
    });
  }
  if (others.length > 0) {
    doubts.push({
      code: 'ELEMENTS_IGNORED',
      message:
        `${others.join(', ')} (${(100 * outside).toPrecision(3)} % of the cations) are left out: ` +
        'this diagram knows rare earths, Ba and Cu only, so shares are of those cations.',
    });
  }
  return { rareEarth, shares: [re, ba, cu], doubts };
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
      code: 'LIQUID_LINE_EXTRAPOLATED',
      message:
        `${inWords(po2Atm)} atm is outside ${LIQUID_RANGE_ATM[0]} to ${LIQUID_RANGE_ATM[1]} atm, where melting was measured. ` +
        'Liquid at 850 degC somewhere between 4e-4 and 1 atm is published, without numbers.',
    });
  }
  if (temperatureC > FIXED_COMPOSITION_C) {
    doubts.push({
      code: 'LIQUID_COMPOSITION_FIXED',
      message:
        `Above about ${FIXED_COMPOSITION_C} degC in air the melt moves towards Ba:Cu 3:5 and dissolves more RE; ` +
        'here it keeps the eutectic composition, so the melting of 123 near 1010 degC is not described.',
    });
  }
  if (rareEarth !== 'Y') {
    doubts.push({
      code: 'RE_SHIFT_NOT_MODELLED',
      message:
        `Energies of 123, 211 and the melt are those of Y: the low-melting reactions hardly depend on the rare earth ` +
        '(Ullman, McCallum, Verhoeven, J. Mater. Res. 4, 1989), the peritectic of 123 does.',
    });
  }
  if (LARGE.includes(rareEarth)) {
    doubts.push({
      code: 'RE_BA_EXCHANGE_UNKNOWN',
      message: `${rareEarth} can sit on the Ba site of 123; that solid solution is not described here.`,
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
      message: `The energies of ${assumed.join(', ')} are placeholders: fields that hold them are unsure.`,
    },
  ];
}

/** A doubt where the two published eutectic temperatures, 33 K apart, decide whether there is liquid. */
export function disputeDoubts(liquidOdds: number): Doubt[] {
  if (liquidOdds < 0.05 || liquidOdds > 0.95) return [];
  return [
    {
      code: 'LIQUID_LINE_DISPUTED',
      message:
        `${LIQUID} in ${Math.round(100 * liquidOdds)} % of the members: published melting in air is 890 degC or 923 +- 10 degC, ` +
        'and its shift with pO2 is 30 to 64 K per decade.',
    },
  ];
}
