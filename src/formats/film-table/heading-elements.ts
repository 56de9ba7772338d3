// Elements that a heading names: of a column of amounts (`Y at%`, `Ba`), of a column of ratios (`Dy:Ba:Cu`). Pure.
import { isRareEarth } from '../../science/matter/elements.ts';
import { findUnit, partHeading } from '../units.ts';

/** What may stand beside the symbol: `Y amount`, `at% Ba`, `Gd at. %`. */
const SHARE = String.raw`(?:at|mol|cat)?\.? ?%`;
const AMOUNT = new RegExp(
  String.raw`^(?:${SHARE} ?)?([A-Z][a-z]?)(?: (?:amount|share|content|fraction|(?:at|mol|cat)\.?))*$`,
);
const RATIO = /^([A-Z][a-z]?) ?([:/]) ?Ba ?\2 ?Cu$/;

/** Name and unit of a heading, the unit also as its last word: `Jc 77 K, sf (MA/cm2)`, `Jc(77K, 1T) A/m2`, `Y at%`. */
export function nameAndUnit(heading: string): { name: string; unit: string } {
  const parted = partHeading(heading);
  if (parted.unit !== '') return parted;
  const [, name, unit] = /^(.*\S)\s+(\S+)$/.exec(heading) ?? [];
  return unit !== undefined && findUnit(unit) !== undefined ? { name: name!, unit } : parted;
}

/** A rare earth, Ba or Cu whose amounts a column holds; null if the heading names none, or states a unit of something else. */
export function elementOfAmounts(heading: string): string | null {
  const { name, unit } = nameAndUnit(heading);
  if (unit !== '' && findUnit(unit)?.dimension !== 'share') return null;
  // Ba and Cu in any case; a small y is a place
  const written = name.replace(
    /\b(ba|cu)\b/i,
    (symbol) => symbol[0]!.toUpperCase() + symbol[1]!.toLowerCase(),
  );
  const symbol = AMOUNT.exec(written)?.[1];
  return symbol !== undefined && (symbol === 'Ba' || symbol === 'Cu' || isRareEarth(symbol)) ? symbol : null;
}

/** The rare earth of a column of ratios, if its heading names one. */
export function rareEarthOfRatios(heading: string): string | null {
  const symbol = RATIO.exec(partHeading(heading).name)?.[1];
  return symbol !== undefined && isRareEarth(symbol) ? symbol : null;
}

/** Several columns of amounts of rare earths are one mixture if each is headed by another of them. */
export function areOneMixture(headings: readonly string[]): boolean {
  const symbols = headings.map(elementOfAmounts);
  return !symbols.includes(null) && new Set(symbols).size === symbols.length;
}
