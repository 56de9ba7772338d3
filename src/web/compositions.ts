// A cation ratio as text and back, for fields and addresses. Pure.

import type { CationRatio } from '../records/common.ts';
import { cationsOf } from '../science/matter/cation-ratios.ts';
import { isElement } from '../science/matter/elements.ts';

/** A ratio as an address carries it, amounts as they are: `1:2:3` for RE, Ba, Cu of the series, else `Y0.5 Gd0.5 Ba2 Cu3`. */
export function ratioParameter(cations: CationRatio, rareEarth: string): string {
  const amounts = Object.entries(cations).filter(([, amount]) => amount > 0);
  const digits = (amount: number | undefined): string => String(Number((amount ?? 0).toPrecision(8)));
  const plain = [rareEarth, 'Ba', 'Cu'];
  return amounts.every(([element]) => plain.includes(element))
    ? plain.map((element) => digits(cations[element])).join(':')
    : amounts.map(([element, amount]) => `${element}${digits(amount)}`).join(' ');
}

/** An element and its amount; no amount is one, as in a formula. A comma between digits is a decimal comma. */
const NAMED = /([A-Z][a-z]?)\s*((?:[0-9]*[.,])?[0-9]+)?/g;

/** As much as a record of a ratio takes. */
const MOST = 1e6;

const amountOf = (text: string): number => Number(text.replace(',', '.'));

/**
 * Reads `1:2:3`, `1 2 3`, `1:2,3:3,8`, or `Dy1 Ba2 Cu3` and `DyBa2.3Cu3.8` (any order, other cations allowed; oxygen and
 * other anions are left out).
 *
 * @param rareEarth names the first of three bare numbers
 * @returns the ratio, or what is wrong in words
 */
export function readRatio(text: string, rareEarth: string): { cations: CationRatio } | { fault: string } {
  const read = readAmounts(text, rareEarth);
  const large =
    'cations' in read ? Object.entries(read.cations).find(([, amount]) => amount > MOST) : undefined;
  return large ? { fault: `Found ${large[1]} of ${large[0]}; expected at most ${MOST}.` } : read;
}

function readAmounts(text: string, rareEarth: string): { cations: CationRatio } | { fault: string } {
  const named = [...text.matchAll(NAMED)];
  if (named.length > 0) {
    const amounts: CationRatio = {};
    for (const [, element, amount] of named) {
      if (!isElement(element!)) return { fault: `'${element}' is not the symbol of an element.` };
      amounts[element!] = (amounts[element!] ?? 0) + amountOf(amount ?? '1');
    }
    const rest = text.replaceAll(NAMED, '').replaceAll(/[\s:;,/-]/g, '');
    if (rest)
      return { fault: `'${rest.slice(0, 20)}' is neither an element with its amount nor a separator.` };
    const cations = cationsOf(amounts);
    return Object.values(cations).some((amount) => amount > 0)
      ? { cations }
      : { fault: 'Every amount is 0.' };
  }
  const numbers = text
    .split(/[\s:;/]+/)
    .filter(Boolean)
    .map(amountOf);
  if (numbers.length !== 3 || numbers.some((number) => !(number >= 0))) {
    return {
      fault: `Expected three amounts of RE, Ba, Cu such as 1:2:3, or elements with amounts such as ${rareEarth}1 Ba2 Cu3.`,
    };
  }
  const [re, ba, cu] = numbers as [number, number, number];
  if (re + ba + cu <= 0) return { fault: 'Every amount is 0.' };
  return { cations: { [rareEarth]: re, Ba: ba, Cu: cu } };
}
