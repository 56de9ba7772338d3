// How the peritectic of 123 moves with the rare earth: along a line in the mean ionic radius, through published temperatures of
// three rare earths. degC, angstrom.
import { isRareEarth } from '../matter/elements.ts';
import { IONIC_RADII } from '../tables/ionic-radii.ts';
import { PERITECTICS_RE } from '../tables/peritectics-re.ts';
import { AIR_OXYGEN_ATM, ZERO_CELSIUS_K } from './oxygen.ts';

/** Radius of RE3+ in eight-fold coordination; undefined where none is tabled. */
function radiusAngstrom(symbol: string): number | undefined {
  return IONIC_RADII.records.find(
    (record) => record.symbol === symbol && record.charge === 3 && record.coordination === 'VIII',
  )?.radiusAngstrom;
}

const RADIUS_Y = radiusAngstrom('Y')!;

interface RadiusLine {
  /** on the line with the radius of Y, degC */
  readonly atYC: number;
  readonly slopeKPerAngstrom: number;
  readonly slopeSigmaKPerAngstrom: number;
  /** sums of weight, weight x and weight x^2 over the rare earths of the fit */
  readonly sums: readonly [number, number, number];
}

/** Weighted straight line through the rare earths marked for the fit. */
function fittedLine(): RadiusLine {
  let [s, sx, sy, sxx, sxy] = [0, 0, 0, 0, 0];
  for (const { symbol, temperatureC, sigmaC, use } of PERITECTICS_RE.records) {
    if (use !== 'fit') continue;
    const weight = 1 / sigmaC ** 2;
    const x = radiusAngstrom(symbol)! - RADIUS_Y;
    s += weight;
    sx += weight * x;
    sy += weight * temperatureC;
    sxx += weight * x * x;
    sxy += weight * x * temperatureC;
  }
  const determinant = s * sxx - sx * sx;
  return {
    slopeKPerAngstrom: (s * sxy - sx * sy) / determinant,
    atYC: (sxx * sy - sx * sxy) / determinant,
    slopeSigmaKPerAngstrom: Math.sqrt(s / determinant),
    sums: [s, sx, sxx],
  };
}

/**
 * Peritectic temperature of RE123 in air against radius.
 *
 * Source: peritectics-re [memory: melt-growth reviews of the 1990s]; linear in the mean radius [looked-up: T. Saitoh et al.,
 * Physica C 288 (1997) 141].
 */
export const PERITECTIC_LINE: RadiusLine = fittedLine();

/** Mean radius of the rare earths of a composition less that of Y, angstrom; 0 without any. */
export function radiusBeyondY(cations: Readonly<Record<string, number>>): number {
  let sum = 0;
  let amount = 0;
  for (const [symbol, n] of Object.entries(cations)) {
    const radius = n > 0 && isRareEarth(symbol) ? radiusAngstrom(symbol) : undefined;
    if (radius === undefined) continue;
    sum += n * radius;
    amount += n;
  }
  return amount > 0 ? sum / amount - RADIUS_Y : 0;
}

/** Peritectic in air by the line, degC, with what the three rare earths leave open. */
export function peritecticByRadiusC(beyondYAngstrom: number): { value: number; standardUncertainty: number } {
  const {
    atYC,
    slopeKPerAngstrom,
    sums: [s, sx, sxx],
  } = PERITECTIC_LINE;
  const variance = (sxx - 2 * beyondYAngstrom * sx + beyondYAngstrom ** 2 * s) / (s * sxx - sx * sx);
  return { value: atYC + slopeKPerAngstrom * beyondYAngstrom, standardUncertainty: Math.sqrt(variance) };
}

/** Where the shift begins: 123 + BaCuO2 + CuO = liquid in air, K [looked-up: NIST about 1994, 923 degC]. */
const LOW_MELTING_K = 923 + ZERO_CELSIUS_K;
/** It is whole this much above, well below every peritectic that the line gives, K. */
const RAMP_K = 50;
/** How that and the peritectic move with pO2, K per decade [derived: 1030, 1010 and 971 degC at 1, 0.21 and 0.02 atm, from memory]. */
const SLOPE_K_PER_DECADE = 35;

/**
 * Part of the rare earth's shift of 123 that counts at a temperature: none up to the low melting of 123 with BaCuO2 and CuO, all of
 * it from 50 K above on, smooth between. Low-melting reactions hardly depend on the rare earth, the peritectic does [looked-up: J.E.
 * Ullman, R.W. McCallum, J.D. Verhoeven, J. Mater. Res. 4 (1989)]; a shift at every temperature would take Ho123 and Er123 apart at
 * 800 degC in air, where they are made. The shape between is [common practice].
 *
 * @returns 0 to 1
 */
export function shiftPart(temperatureK: number, po2Atm: number): number {
  const inAirK = temperatureK - SLOPE_K_PER_DECADE * Math.log10(po2Atm / AIR_OXYGEN_ATM);
  const part = Math.min(1, Math.max(0, (inAirK - LOW_MELTING_K) / RAMP_K));
  return part * part * (3 - 2 * part);
}
