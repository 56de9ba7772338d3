// What a firing may do to a target, as flags: melting, decomposition, carbonate, and how sure its oxygen is.
import { assemblageAt, FIELD_JOINT } from '../../science/equilibrium/assemblage.ts';
import { filmComposition } from '../../science/equilibrium/film-composition.ts';
import { PUBLISHED_COUNT, publishedMembers } from '../../science/equilibrium/members.ts';
import { OXYGEN_FIT, ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { LIQUID } from '../../science/equilibrium/phase-system.ts';
import { DomainError } from '../../science/errors.ts';
import { rareEarthRadius } from '../../science/matter/cation-ratios.ts';
import { inWords } from '../../science/measured.ts';
import type { StatedNumber } from '../../science/numerics/propagate.ts';
import type { SinterPath } from '../../science/target/sinter.ts';
import { CALCINING_FROM_C, INERT_ATM, INERT_DECOMPOSITION_C } from '../../science/target/sinter-state.ts';
import type { Cations, Flag } from '../schema.ts';

/** Below this the diagram has nothing to say of a firing, degC. */
const ASKED_FROM_C = 600;
const MOST_POINTS = 12;
const CLEAR_ODDS = 0.05;

/** The ends of segments, each place once, hottest first. */
function heldPoints({ start, segments }: SinterPath): { temperatureC: number; po2Atm: number }[] {
  const points = new Map<string, { temperatureC: number; po2Atm: number }>();
  let fromC = start.temperatureC;
  for (const { toC, po2Atm } of segments) {
    for (const temperatureC of [fromC, toC])
      points.set(`${temperatureC} ${po2Atm}`, { temperatureC, po2Atm });
    fromC = toC;
  }
  return [...points.values()]
    .filter(({ temperatureC }) => temperatureC >= ASKED_FROM_C)
    .sort((a, b) => b.temperatureC - a.temperatureC || a.po2Atm - b.po2Atm)
    .slice(0, MOST_POINTS);
}

interface Danger {
  readonly temperatureC: number;
  readonly po2Atm: number;
  readonly liquidOdds: number;
  readonly no123Odds: number;
}

/** Where the target would most likely melt, or lose its 123, by the members of the published diagram. */
export function dangerOf(cations: Cations, path: SinterPath): { danger: Danger | null; flags: Flag[] } {
  let composition: ReturnType<typeof filmComposition>;
  try {
    composition = filmComposition(cations);
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    return {
      danger: null,
      flags: [{ code: 'DIAGRAM_NOT_ASKED', message: `Whether it melts is not said: ${error.message}` }],
    };
  }
  const { rareEarth, radiusBeyondYAngstrom, shares } = composition;
  const members = publishedMembers(0, PUBLISHED_COUNT);
  let danger: Danger | null = null;
  for (const { temperatureC, po2Atm } of heldPoints(path)) {
    const { odds } = assemblageAt(
      members,
      {
        temperatureK: temperatureC + ZERO_CELSIUS_K,
        po2Atm,
        rareEarth,
        radiusBeyondYAngstrom,
        offsetsJPerMol: {},
        heldBack: [],
      },
      shares,
    );
    const oddsOf = (isIn: (phases: readonly string[]) => boolean): number =>
      Object.entries(odds).reduce((sum, [field, p]) => sum + (isIn(field.split(FIELD_JOINT)) ? p : 0), 0);
    const liquidOdds = Math.min(
      1,
      oddsOf((phases) => phases.includes(LIQUID)),
    );
    const no123Odds = Math.min(
      1,
      oddsOf((phases) => !phases.includes(`${rareEarth}Ba2Cu3O7`)),
    );
    if (danger === null || liquidOdds + no123Odds > danger.liquidOdds + danger.no123Odds)
      danger = { temperatureC, po2Atm, liquidOdds, no123Odds };
  }
  if (danger === null) return { danger, flags: [] };
  const place = `at ${inWords(danger.temperatureC)} degC in ${inWords(danger.po2Atm)} atm of oxygen`;
  const flags: Flag[] = [];
  if (danger.liquidOdds > CLEAR_ODDS)
    flags.push({
      code: 'TARGET_MELTS',
      message: `Liquid in ${Math.round(100 * danger.liquidOdds)} % of the diagram's members ${place}: the target melts in part, sticks to its support and comes apart in composition. Stay 50 to 80 K below the solidus at this oxygen pressure (common practice).`,
    });
  if (danger.no123Odds > CLEAR_ODDS)
    flags.push({
      code: 'TARGET_DECOMPOSES',
      message: `No 123 in ${Math.round(100 * danger.no123Odds)} % of the diagram's members ${place}, for this cation ratio: the target becomes a mixture of other phases. Its oxygen is given as if it were 123.`,
    });
  return { danger, flags };
}

/** What is published of firing in inert gas. */
export function inertFlags({ segments }: SinterPath): Flag[] {
  const hot = segments
    .filter(({ po2Atm }) => po2Atm <= INERT_ATM)
    .reduce((most, { toC }) => Math.max(most, toC), Number.NEGATIVE_INFINITY);
  if (hot <= INERT_DECOMPOSITION_C) return [];
  return [
    {
      code: 'INERT_ABOVE_725',
      message: `Inert gas at ${inWords(hot)} degC: carbonate powders react there by way of BaCu2O2 to YBa2Cu3O6, which decomposes above ${INERT_DECOMPOSITION_C} degC (J. Mater. Res. 9 (1994) 275, abstract). Firing in argon is not firing in air without the oxygen: fire in air or oxygen first, then anneal in argon below that.`,
    },
  ];
}

/** Where the oxygen content is less sure than its number looks. */
export function oxygenFlags({ samples }: SinterPath, end: number, cations: Cations): Flag[] {
  const flags: Flag[] = [];
  const { fromC, toC, fromAtm, toAtm, mostZ } = OXYGEN_FIT;
  if (
    samples.temperatureK.some((kelvin) => kelvin - ZERO_CELSIUS_K > toC) ||
    samples.log10Po2Atm.some((log) => 10 ** log < fromAtm * 0.999 || 10 ** log > toAtm * 1.001)
  )
    flags.push({
      code: 'OXYGEN_CONTENT_EXTRAPOLATED',
      message: `The oxygen in balance with the gas was fitted at ${fromC} to ${toC} degC and ${fromAtm} to ${toAtm} atm; parts of this firing lie beyond.`,
    });
  if (end > mostZ)
    flags.push({
      code: 'OXYGEN_CHAINS_ORDER',
      message: `Above 6.95 the order of the chains, left out here, sets what is reached: between 6.95 and ${inWords(6 + end)}, of which the middle is given. Targets annealed in oxygen are said to hold 6.90 to 6.97 (common practice).`,
    });
  const radius = rareEarthRadius(cations);
  if (radius && !(cations.Y! > 0 && radius.varianceAngstrom2 < 1e-12))
    flags.push({
      code: 'OXYGEN_OF_Y',
      message:
        'Oxygen content and diffusivity are those of Y-123; other rare earths shift them by an amount not stored here.',
    });
  return flags;
}

interface BodyRequest {
  readonly isPorous?: boolean | undefined;
  readonly grainRadiusUm?: unknown;
  readonly gasSccmPerG?: unknown;
  readonly temperatureUK?: number | undefined;
}

/** What came out of the target's unknowns. */
interface BodyFindings {
  readonly grain: StatedNumber;
  readonly sccmPerG: number;
  /** z with no way but through the whole target, and with open pores */
  readonly low: number;
  readonly high: number;
  /** z from a full start less z from an empty one */
  readonly startWidth: number;
  readonly isSaid: boolean;
}

/** What was assumed of the target and its gas. */
export function bodyFlags(
  request: BodyRequest,
  { grain, sccmPerG, low, high, startWidth, isSaid }: BodyFindings,
  { segments }: SinterPath,
): Flag[] {
  const flags: Flag[] = [];
  if (request.isPorous === false)
    flags.push({
      code: 'NO_OPEN_PORES',
      message: `Pores are taken to close when it is hottest; then exchange is slower. If oxygen had to come through the whole target, half of 5 mm, the end would be ${inWords(6 + low)}, with open pores ${inWords(6 + high)}; the middle is given, and there is no one temperature at which exchange froze. Ceramics over 93 % dense held about 6.8 without a long anneal (abstract of a grain-growth study).`,
    });
  if (request.isPorous === undefined)
    flags.push({ code: 'PORES_ASSUMED', message: 'Open pores are taken to reach every grain.' });
  if (request.grainRadiusUm === undefined)
    flags.push({
      code: 'GRAIN_ASSUMED',
      message: `The grain radius is taken as ${grain.value} micrometres with a factor of 2.5 (common practice); state one that you measured.`,
    });
  else if (grain.standardUncertainty === null)
    flags.push({
      code: 'UNCERTAINTY_NOT_STATED',
      message: 'No uncertainty is stated of grainRadiusUm; it adds nothing.',
    });
  if (request.gasSccmPerG === undefined && segments.some(({ po2Atm }) => po2Atm < OXYGEN_FIT.fromAtm))
    flags.push({
      code: 'FLOW_ASSUMED',
      message: `In lean gas the oxygen that flows past sets how much a target takes up or gives off; a flow of ${sccmPerG} sccm a gram is taken, with a factor of 3 (common practice).`,
    });
  if (startWidth > 0.01)
    flags.push({
      code: 'START_MATTERS',
      message: `The firing is too short or too cold to forget the powder's own oxygen: from 6 or from 7 it ends ${inWords(startWidth)} apart${isSaid ? '; the middle is given, and that is in its uncertainty' : ', so nothing is given'}.`,
    });
  if (request.temperatureUK === undefined)
    flags.push({
      code: 'TEMPERATURE_EXACT',
      message: 'No uncertainty is stated of the temperature; it adds nothing.',
    });
  return flags;
}

/** Why there is no closure temperature. */
export function closureFlags(kind: 'froze' | 'still open' | 'never exchanged'): Flag[] {
  if (kind === 'froze') return [];
  return [
    kind === 'still open'
      ? {
          code: 'EXCHANGE_OPEN',
          message:
            'The firing ends where oxygen still moves: what the target holds depends on how it is cooled from there.',
        }
      : {
          code: 'EXCHANGE_NEVER',
          message:
            'At no time is this firing hot enough for long enough for oxygen to even out in the target.',
        },
  ];
}

/** Carbonate is not followed: what is known. */
export function carbonateFlag(hottestC: number, { segments }: SinterPath): Flag {
  const isCold = hottestC < CALCINING_FROM_C;
  return {
    code: isCold ? 'CARBONATE_STAYS' : 'CARBONATE_UNSEEN',
    message: isCold
      ? `The hottest point, ${inWords(hottestC)} degC, is below the usual calcining at 850 to 920 degC (common practice): from carbonate powder expect barium carbonate to stay, which brings carbon and gas into the film.`
      : `Carbonate is not followed. Usual calcining is 12 to 24 h at 850 to 920 degC, two or three times with regrinding (common practice)${segments.some(({ kind }) => kind === 'hold') ? '' : ', and this firing has no hold'}. A weighed loss alone cannot tell residual carbonate from oxygen: 1:2:3 from carbonate loses 10.87 % to O6.93 and 12.65 % to O6.10. Look for BaCO3 by diffraction.`,
  };
}
