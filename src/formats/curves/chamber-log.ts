// What is particular to the logs of a furnace or chamber: which heading is read, which is set, and units that look wrong. Pure.
import { findUnit } from '../units.ts';

/** A column of what was commanded, not read. [common practice] */
const COMMANDED = /\bset\b|set ?-?_?(point|value|temp)|\bsp\b|\bsv\b|target|\bsoll|command|programm?ed/i;

export const isCommanded = (heading: string): boolean => COMMANDED.test(heading);

/** `log10 p (mbar)`, `lg(p/Torr)`, `log pressure / Pa`: the unit of a logarithm, as units.ts names it; undefined if none. */
export function logPressureUnit(heading: string, unitText: string): string | undefined {
  if (!/\b(log|lg|log10)(?![a-z])/i.test(heading)) return undefined;
  const inside = unitText.replace(/^\s*p\w*\s*\/\s*/i, '');
  const unit = findUnit(inside);
  if (unit?.dimension !== 'pressure') return undefined;
  return findUnit(`log10 ${unit.symbol}`)?.symbol;
}

/** Cuprate films and their targets are heated to no more [common practice]; hotter in degC is more likely kelvin. */
const HOTTEST_C = 1080;
/** no chamber log of a furnace runs below this in kelvin [common practice] */
const COLDEST_K = 230;
/** room temperature on the kelvin scale; in degC a log seldom begins and never ends there */
const ROOM_K = { min: 285, max: 308 };
const ZERO_CELSIUS_K = 273.15;

/**
 * A question where a temperature of a log was read in degC but looks like kelvin, or the other way round.
 *
 * @param temperatureK as read, K
 * @param symbol       unit that it was read in
 */
export function temperatureDoubt(
  role: string,
  temperatureK: ArrayLike<number>,
  symbol: string,
): string | undefined {
  if (role !== 'temperatureK') return undefined;
  let lowestK = Number.POSITIVE_INFINITY;
  let highestK = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < temperatureK.length; i++) {
    const value = temperatureK[i]!;
    if (value < lowestK) lowestK = value;
    if (value > highestK) highestK = value;
  }
  const lowestC = lowestK - ZERO_CELSIUS_K;
  const highestC = highestK - ZERO_CELSIUS_K;
  const coldStart = lowestC >= ROOM_K.min && lowestC <= ROOM_K.max && highestC > 2 * ROOM_K.max;
  if (symbol === 'degC' && (highestC > HOTTEST_C || coldStart))
    return `The temperature runs from ${lowestC.toPrecision(4)} to ${highestC.toPrecision(4)} read in degC; is this in K?`;
  if (symbol === 'K' && lowestK < COLDEST_K && highestK > lowestK)
    return `The temperature runs from ${lowestK.toPrecision(4)} to ${highestK.toPrecision(4)} read in K; is this in degC?`;
  return undefined;
}
