// Temperatures in degC that were perhaps typed in K.
import type { Doubt } from '../doubt.ts';
import { ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { DomainError, type ScienceCode } from '../errors.ts';
import { inWords } from '../measured.ts';

/** Hottest that a film can be asked about, degC: that of the diagram. */
const HOTTEST_C = 1400;
const COLDEST_C = -ZERO_CELSIUS_K;

/**
 * Refuses a temperature that no film is held at, and asks whether K was meant where that would do.
 *
 * @throws DomainError with the code given
 */
export function checkTemperatureC(
  field: string,
  valueC: number,
  { minC = COLDEST_C, code = 'GROWTH_RANGE' }: { minC?: number; code?: ScienceCode } = {},
): void {
  if (valueC >= minC && valueC <= HOTTEST_C) return;
  const asKelvin = valueC - ZERO_CELSIUS_K;
  throw new DomainError(
    code,
    `${field} is ${valueC} degC; allowed is ${Number(minC.toFixed(2))} to ${HOTTEST_C} degC.`,
    valueC > HOTTEST_C && asKelvin <= HOTTEST_C
      ? `If it was meant in K, give ${inWords(asKelvin)}.`
      : 'Give the temperature in degC.',
  );
}

/** A room in K, and a hottest place that only K makes usual. */
const ROOM_K = [270, 320] as const;
const SURELY_ROOM_K = [293, 303] as const;
const HOT_C = 900;
/** Hotter than any 123 film is held; as the equilibrium asks about. */
const PERHAPS_KELVIN_C = 1040;

const lies = (value: number, [low, high]: readonly [number, number]): boolean =>
  value >= low && value <= high;

/**
 * A question where a path looks as if typed in K: an end at 270 to 320 with more than 900 between, a start at 293 to 303, or more
 * than 1040 anywhere.
 */
export function kelvinDoubts(temperaturesC: ArrayLike<number>): Doubt[] {
  const n = temperaturesC.length;
  if (n === 0) return [];
  const [first, last] = [temperaturesC[0]!, temperaturesC[n - 1]!];
  let hottest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < n; i++) hottest = Math.max(hottest, temperaturesC[i]!);
  const isRoom = (lies(first, ROOM_K) || lies(last, ROOM_K)) && hottest > HOT_C;
  if (!isRoom && !(n > 1 && lies(first, SURELY_ROOM_K)) && !(hottest > PERHAPS_KELVIN_C)) return [];
  return [
    {
      code: 'TEMPERATURE_PERHAPS_K',
      message:
        `Was K meant? The temperatures run from ${inWords(first)} over ${inWords(hottest)} to ${inWords(last)} degC; ` +
        `read as K that is ${inWords(first - ZERO_CELSIUS_K)} over ${inWords(hottest - ZERO_CELSIUS_K)} to ${inWords(last - ZERO_CELSIUS_K)} degC. ` +
        'If so, take off 273.15.',
    },
  ];
}

/** The same for one temperature alone. */
export function kelvinDoubt(field: string, valueC: number): Doubt[] {
  if (!(valueC > PERHAPS_KELVIN_C)) return [];
  return [
    {
      code: 'TEMPERATURE_PERHAPS_K',
      message: `${field} is ${inWords(valueC)} degC, hotter than films are held. Was K meant? Then give ${inWords(valueC - ZERO_CELSIUS_K)}.`,
    },
  ];
}
