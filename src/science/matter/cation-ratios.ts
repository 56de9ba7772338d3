// Cation ratios, coordinates in the RE-Ba-Cu triangle, ionic radii of mixed rare earths. Pure; moles, shares, angstrom.
import { DomainError } from '../errors.ts';
import { IONIC_RADII } from '../tables/ionic-radii.ts';
import { isCation, isElement, isRareEarth } from './elements.ts';

export type Amounts = Readonly<Record<string, number>>;

export const sumOf = (amounts: Amounts): number => Object.values(amounts).reduce((sum, n) => sum + n, 0);

/** The cations among amounts of elements: what stays as a cation in a fired oxide, so without O and other anions. */
export function cationsOf(amounts: Amounts): Record<string, number> {
  return Object.fromEntries(Object.entries(amounts).filter(([symbol]) => isCation(symbol)));
}

/** Amounts over their sum. All zero gives an empty record: no share exists. */
export function sharesOf(amounts: Amounts): Record<string, number> {
  const total = sumOf(amounts);
  return total > 0
    ? Object.fromEntries(Object.entries(amounts).map(([symbol, amount]) => [symbol, amount / total]))
    : {};
}

export interface TernaryPoint {
  /** share of all rare earths together */
  readonly re: number;
  readonly ba: number;
  readonly cu: number;
}

interface TernaryCoordinates extends TernaryPoint {
  /** share of all cations that are none of the three */
  readonly outside: number;
}

/**
 * Coordinates in the RE-Ba-Cu triangle: moles of cations over their sum, all rare earths counted as one. re + ba + cu
 * = 1; additions are counted in `outside` only.
 *
 * @throws DomainError ELEMENT_UNKNOWN for a symbol that is no element, TERNARY_EMPTY if no RE, Ba or Cu is there
 */
export function ternaryCoordinates(cations: Amounts): TernaryCoordinates {
  let re = 0;
  let outside = 0;
  for (const [symbol, amount] of Object.entries(cations)) {
    if (!isElement(symbol)) {
      throw new DomainError(
        'ELEMENT_UNKNOWN',
        `cations.${symbol}: '${symbol}' is not the symbol of an element.`,
      );
    }
    if (isRareEarth(symbol)) re += amount;
    else if (symbol !== 'Ba' && symbol !== 'Cu') outside += amount;
  }
  const ba = cations.Ba ?? 0;
  const cu = cations.Cu ?? 0;
  const inside = re + ba + cu;
  if (!(inside > 0)) {
    throw new DomainError('TERNARY_EMPTY', `cations hold ${inside} mol of RE, Ba and Cu together.`);
  }
  return { re: re / inside, ba: ba / inside, cu: cu / inside, outside: outside / (inside + outside) };
}

/** Place in the triangle; null where no ratio is known, or it has none: no RE, Ba or Cu, or an unknown element. */
export function placeInTriangle(cations: Amounts | null): TernaryCoordinates | null {
  if (!cations) return null;
  try {
    return ternaryCoordinates(cations);
  } catch (error) {
    if (error instanceof DomainError) return null;
    throw error;
  }
}

/**
 * The way back: a point of the triangle as moles of cations, with the rare earths in the proportions given.
 *
 * @param point      shares, or amounts with any common factor, which the answer keeps
 * @param rareEarths proportions of rare earths, any common factor
 * @throws DomainError RARE_EARTH_UNKNOWN if a symbol is no rare earth or none is above 0
 */
export function cationsAtTernary(point: TernaryPoint, rareEarths: Amounts): Record<string, number> {
  const cations: Record<string, number> = {};
  for (const [symbol, share] of Object.entries(rareEarthShares(rareEarths, 'rareEarths')))
    cations[symbol] = share * point.re;
  return { ...cations, Ba: point.ba, Cu: point.cu };
}

/**
 * Proportions of rare earths as shares that add to 1.
 *
 * @param field name of the field the symbols stand in, for the error
 * @throws DomainError RARE_EARTH_UNKNOWN
 */
export function rareEarthShares(rareEarths: Amounts, field: string): Record<string, number> {
  for (const symbol of Object.keys(rareEarths)) {
    if (!isRareEarth(symbol))
      throw new DomainError(
        'RARE_EARTH_UNKNOWN',
        `${field}: '${symbol}' is not one of the rare earths known here.`,
      );
  }
  const shares = sharesOf(rareEarths);
  if (Object.keys(shares).length === 0) {
    throw new DomainError('RARE_EARTH_UNKNOWN', `${field} names no rare earth with an amount above 0.`);
  }
  return shares;
}

/**
 * Where a composition lies in the plane of an equilateral triangle with sides of 1: RE on top, Ba lower left, Cu lower
 * right. Distances in the plane treat the three cations alike.
 */
function trianglePlane(point: TernaryPoint): { x: number; y: number } {
  return { x: point.cu + point.re / 2, y: (Math.sqrt(3) / 2) * point.re };
}

/** Distance of two compositions in that plane; 1 from corner to corner. */
export function triangleDistance(a: TernaryPoint, b: TernaryPoint): number {
  const p = trianglePlane(a);
  const q = trianglePlane(b);
  return Math.hypot(p.x - q.x, p.y - q.y);
}

const RADII: ReadonlyMap<string, number> = new Map(
  IONIC_RADII.records
    .filter((row) => row.coordination === 'VIII' && row.charge === 3)
    .map((row): [string, number] => [row.symbol, row.radiusAngstrom]),
);

interface RadiusStatistics {
  readonly meanAngstrom: number;
  readonly varianceAngstrom2: number;
}

/**
 * Mean and variance of the ionic radius on the rare-earth site: r = sum y_i r_i, variance = sum y_i (r_i - r)^2, with
 * y_i the share of rare earth i among the rare earths and r_i its radius as a trivalent ion in eightfold coordination.
 *
 * @param cations moles of each cation; others than rare earths are left out
 * @returns null if there is no rare earth
 *
 * Source: radii [looked-up: Shannon 1976, Acta Cryst. A 32, 751]; the mean as the variable that carries the peritectic
 * temperature of mixtures [looked-up: Saitoh et al. 1997, Physica C 288, 141]. Range: Ce, Pr and Tb are taken as
 * trivalent, which they are not in air on their own.
 */
export function rareEarthRadius(cations: Amounts): RadiusStatistics | null {
  const shares = sharesOf(
    Object.fromEntries(Object.entries(cations).filter(([symbol]) => RADII.has(symbol))),
  );
  const entries = Object.entries(shares);
  if (entries.length === 0) return null;
  let meanAngstrom = 0;
  for (const [symbol, share] of entries) meanAngstrom += share * RADII.get(symbol)!;
  let varianceAngstrom2 = 0;
  for (const [symbol, share] of entries)
    varianceAngstrom2 += share * (RADII.get(symbol)! - meanAngstrom) ** 2;
  return { meanAngstrom, varianceAngstrom2 };
}
