// A substrate as it is written down, to the row of the table of thermal expansion. Pure.
import { THERMAL_EXPANSION } from '../../science/tables/thermal-expansion.ts';

/** Names of the rows that a substrate may be. */
export const SUBSTRATE_ROWS: readonly string[] = THERMAL_EXPANSION.records
  .filter(({ role }) => role === 'substrate')
  .map(({ id }) => id);

/** How people write each; the first that a layered name holds last is the body under the layers. */
const WORDS: readonly (readonly [id: string, words: RegExp])[] = [
  ['SrTiO3', /\b(srtio3|sto|strontium titanate)\b/],
  ['LaAlO3', /\b(laalo3|lao|lanthanum aluminate)\b/],
  ['MgO', /\b(mgo|magnesia)\b/],
  ['NdGaO3', /\b(ndgao3|ngo)\b/],
  ['YSZ', /\b(ysz|zirconia|y:?zro2|zro2)\b/],
  ['Al2O3', /\b(al2o3|sapphire|alumina)\b/],
  ['Si', /\b(si|silicon)\b/],
  ['Ni-Cr-Mo', /\b(hastelloy|ni-cr-mo|nicrmo|nickel[- ]alloy|alloy tape|c-?276)\b/],
];

/** Subscripts and brackets set plain: `SrTiO₃ (001)` is `srtio3 001`. */
function plain(text: string): string {
  return text
    .replace(/[₀-₉]/g, (digit) => String(digit.charCodeAt(0) - 0x2080))
    .toLowerCase()
    .replace(/[()[\],;]/g, ' ');
}

/**
 * Row of the table that a written substrate is. In a layered name the body carries the stress: that after ` on `, or the last
 * one after a stroke.
 *
 * @returns null where the words name none of the rows, or more than one
 */
export function substrateRow(written: string): string | null {
  const text = plain(written);
  const body = text.split(/\bon\b/).at(-1)!;
  const rowsIn = (part: string): string[] => WORDS.filter(([, words]) => words.test(part)).map(([id]) => id);
  const whole = rowsIn(body);
  if (whole.length === 1) return whole[0]!;
  if (whole.length === 0) return null;
  const last = rowsIn(body.split('/').at(-1)!);
  return body.includes('/') && last.length === 1 ? last[0]! : null;
}
