// The wavelengths of an X-ray tube and the doublet they make of every line. Pure functions; angstrom, degrees of 2theta.
import { XRAY_LINES } from '../tables/xray-lines.ts';

export type Anode = 'Cu' | 'Co' | 'Mo';

/** What reaches the sample, as far as line positions go. */
export interface Radiation {
  readonly kAlpha1Angstrom: number;
  /** undefined where one line is all there is (a monochromator that takes K-alpha1 only, or a single wavelength) */
  readonly kAlpha2Angstrom: number | undefined;
  /** area of the K-alpha2 line as a share of K-alpha1's */
  readonly kAlpha2Share: number;
  /** undefined where no K-beta can reach the sample */
  readonly kBetaAngstrom: number | undefined;
  readonly tungstenLAlphaAngstrom: number | undefined;
}

interface RadiationChoice {
  readonly radiation: Radiation;
  /** what was made of a wavelength that the user gave: 'table' if none was given */
  readonly reading: 'table' | 'kAlpha1' | 'mean' | 'single';
}

/** A given wavelength this close (relative) to K-alpha1 or to the doublet's mean is taken to be that. */
const SAME_WAVELENGTH = 2e-4;

/**
 * The radiation of an anode, from the table, or from a wavelength that the user gives: near K-alpha1 it rescales the
 * doublet (older angstrom scales differ by 20 ppm), near the doublet's mean (2 K-alpha1 + K-alpha2)/3 the doublet of the
 * table is used, anything else is one line without K-alpha2 and K-beta.
 *
 * @param takesKAlpha1Only true for a monochromator that removes K-alpha2 and K-beta
 * Source of the wavelengths: data/xray-lines.json, each with its tag.
 */
export function radiationOf(
  anode: Anode,
  wavelengthAngstrom?: number,
  takesKAlpha1Only = false,
): RadiationChoice {
  const line = XRAY_LINES.lines.find((candidate) => candidate.anode === anode)!;
  const isNear = (target: number): boolean =>
    wavelengthAngstrom !== undefined && Math.abs(wavelengthAngstrom / target - 1) < SAME_WAVELENGTH;
  const mean = (2 * line.kAlpha1Angstrom + line.kAlpha2Angstrom) / 3;
  const reading =
    wavelengthAngstrom === undefined
      ? 'table'
      : isNear(line.kAlpha1Angstrom)
        ? 'kAlpha1'
        : isNear(mean)
          ? 'mean'
          : 'single';
  if (reading === 'single' || takesKAlpha1Only) {
    const only = reading === 'single' || reading === 'kAlpha1' ? wavelengthAngstrom! : line.kAlpha1Angstrom;
    return {
      reading,
      radiation: {
        kAlpha1Angstrom: only,
        kAlpha2Angstrom: undefined,
        kAlpha2Share: 0,
        kBetaAngstrom: undefined,
        tungstenLAlphaAngstrom: undefined,
      },
    };
  }
  const scale = reading === 'kAlpha1' ? wavelengthAngstrom! / line.kAlpha1Angstrom : 1;
  return {
    reading,
    radiation: {
      kAlpha1Angstrom: line.kAlpha1Angstrom * scale,
      kAlpha2Angstrom: line.kAlpha2Angstrom * scale,
      kAlpha2Share: line.kAlpha2Share,
      kBetaAngstrom: line.kBetaAngstrom * scale,
      tungstenLAlphaAngstrom: XRAY_LINES.tungstenLAlphaAngstrom.value,
    },
  };
}

/** Where the same planes put another wavelength: sin(theta') = sin(theta) lambda'/lambda; degrees of 2theta. */
export function twoThetaDegAtWavelength(
  twoThetaDeg: number,
  wavelengthAngstrom: number,
  otherAngstrom: number,
): number {
  const sine = Math.sin((twoThetaDeg * Math.PI) / 360) * (otherAngstrom / wavelengthAngstrom);
  return (Math.asin(sine) * 360) / Math.PI;
}
