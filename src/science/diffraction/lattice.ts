// Plane spacings and line positions from a cell. Pure functions; angstrom and degrees (of 2theta where a name says so).

/** A cell whose alpha is 90 degrees: every phase of the tables is one. */
export interface Cell {
  readonly aAngstrom: number;
  readonly bAngstrom: number;
  readonly cAngstrom: number;
  readonly betaDeg: number;
  readonly gammaDeg: number;
}

/** h, k, l */
export type Miller = readonly [number, number, number];

const RAD_PER_DEG = Math.PI / 180;

/**
 * Volume of a cell, V = a b c sqrt(1 - cos^2 beta - cos^2 gamma) for alpha = 90 degrees.
 *
 * @returns cubic angstrom
 * Source: [common practice] textbook geometry; checked against published volumes.
 */
export function cellVolumeCubicAngstrom(cell: Cell): number {
  const cosBeta = Math.cos(cell.betaDeg * RAD_PER_DEG);
  const cosGamma = Math.cos(cell.gammaDeg * RAD_PER_DEG);
  return cell.aAngstrom * cell.bAngstrom * cell.cAngstrom * Math.sqrt(1 - cosBeta ** 2 - cosGamma ** 2);
}

/**
 * Spacing of the planes (hkl): 1/d^2 = h G* h, with G* the inverse of the metric tensor G.
 *
 * @param cell  lengths in angstrom, angles in degrees
 * @param hkl   Miller indices, not all zero
 * @returns d in angstrom
 * Source: [common practice] B.D. Cullity, S.R. Stock, Elements of X-ray Diffraction.
 */
export function planeSpacingAngstrom(cell: Cell, [h, k, l]: Miller): number {
  const { aAngstrom: a, bAngstrom: b, cAngstrom: c } = cell;
  const cosBeta = Math.cos(cell.betaDeg * RAD_PER_DEG);
  const cosGamma = Math.cos(cell.gammaDeg * RAD_PER_DEG);
  // G of a cell with alpha = 90 degrees; its inverse by cofactors over the determinant V^2.
  const g12 = a * b * cosGamma;
  const g13 = a * c * cosBeta;
  const determinant = cellVolumeCubicAngstrom(cell) ** 2;
  const squaredInverse =
    (h * h * b * b * c * c +
      k * k * (a * a * c * c - g13 * g13) +
      l * l * (a * a * b * b - g12 * g12) -
      2 * h * k * g12 * c * c -
      2 * h * l * g13 * b * b +
      2 * k * l * g12 * g13) /
    determinant;
  return 1 / Math.sqrt(squaredInverse);
}

/**
 * Bragg's law: 2theta = 2 asin(lambda / (2 d)).
 *
 * @returns degrees of 2theta; NaN where the planes are too close to diffract this wavelength
 */
export function twoThetaDegOfSpacing(spacingAngstrom: number, wavelengthAngstrom: number): number {
  return (2 * Math.asin(wavelengthAngstrom / (2 * spacingAngstrom))) / RAD_PER_DEG;
}

/** Bragg's law solved for d: lambda / (2 sin theta), angstrom. */
export function spacingAngstromOfTwoTheta(twoThetaDeg: number, wavelengthAngstrom: number): number {
  return wavelengthAngstrom / (2 * Math.sin((twoThetaDeg / 2) * RAD_PER_DEG));
}

/**
 * How far a line moves when its spacing changes by one part: d(2theta) = -2 tan(theta) (dd/d).
 *
 * @returns degrees of 2theta for a relative change of 1; the sign is left out
 */
export function twoThetaDegPerRelativeSpacing(twoThetaDeg: number): number {
  return (2 * Math.tan((twoThetaDeg / 2) * RAD_PER_DEG)) / RAD_PER_DEG;
}
