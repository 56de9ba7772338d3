// Critical state of a flat rectangle in a perpendicular field: moment, Jc, self-field, penetration. Pure; SI.

const MU0 = 4e-7 * Math.PI; // [looked-up: CODATA 2018, to 1e-9]

/** Full in-plane sides and thickness of a film piece, m; a is the shorter side. */
export interface Rectangle {
  aM: number;
  bM: number;
  thicknessM: number;
}

/**
 * Moment of a fully penetrated rectangle: m = Jc t a^2 b (1 - a/(3b))/4, half of the loop's opening.
 *
 * Source: [memory: Gyorgy et al. 1989, Appl. Phys. Lett. 55, 283]; checked in the tests by summing the stream function.
 */
export function saturatedMomentAmpereM2(jcAPerM2: number, { aM, bM, thicknessM }: Rectangle): number {
  return (jcAPerM2 * thicknessM * aM ** 2 * bM * (1 - aM / (3 * bM))) / 4;
}

/**
 * Critical current density from the opening of a loop: Jc = 2 dM/[a (1 - a/(3b))], dM = dm/(a b t).
 *
 * @param openingAmpereM2 dm = m(falling field) - m(rising field), A m2
 * @param shape           a not above b
 * @returns A/m2
 *
 * Source: as saturatedMomentAmpereM2. Range: Jc that changes little across the piece's own field.
 */
export function beanJcAPerM2(openingAmpereM2: number, { aM, bM, thicknessM }: Rectangle): number {
  return (2 * openingAmpereM2) / (aM * bM * thicknessM * aM * (1 - aM / (3 * bM)));
}

/** Share of change of Jc for a share of change of each length: d ln Jc/d ln a, /d ln b, /d ln t. */
export function beanSensitivities({ aM, bM }: Rectangle): { a: number; b: number; thickness: number } {
  const form = aM ** 2 * (bM - aM / 3);
  return { a: -(aM ** 2 * (2 * bM - aM)) / form, b: -(aM ** 2 * bM) / form, thickness: -1 };
}

/**
 * Field at which a long strip of rectangular section is fully penetrated, which is its own field too:
 * B_p = mu0 Jc (h/pi) [(2A/h) atan(h/A) + ln(1 + A^2/h^2)], half-width A = a/2, half-thickness h = t/2.
 *
 * Source: [memory: Brandt 1996, Phys. Rev. B 54, 4246]; checked in the tests by Biot and Savart's law.
 */
export function stripPenetrationT(jcAPerM2: number, widthM: number, thicknessM: number): number {
  const halfWidth = widthM / 2;
  const h = thicknessM / 2;
  const bracket = ((2 * halfWidth) / h) * Math.atan(h / halfWidth) + Math.log(1 + (halfWidth / h) ** 2);
  return ((MU0 * jcAPerM2 * h) / Math.PI) * bracket;
}

/**
 * Change of field after a turning point over which a thin strip's moment comes to within 0.1 % of the other branch:
 * m = -ms + 2 ms tanh(dH/(2 Hd)), Hd = Jc t/pi, so dH = 2 Hd atanh(0.999).
 *
 * Source: [memory: Brandt and Indenbom 1993, Phys. Rev. B 48, 12893].
 */
export function reversalFieldT(jcAPerM2: number, thicknessM: number): number {
  return (MU0 * 2 * Math.atanh(0.999) * jcAPerM2 * thicknessM) / Math.PI;
}

/** Fields at the edges of a bridge that carries its critical current, T. */
export function bridgeSelfFieldT(
  jcAPerM2: number,
  widthM: number,
  thicknessM: number,
): { edgeT: number; faceT: number } {
  const faceT = (MU0 * jcAPerM2 * thicknessM) / 2;
  // edge: perpendicular field at the rim of a strip cut off at half a thickness [derived: Biot and Savart's law]
  return { edgeT: (faceT / Math.PI) * (1 + Math.log((2 * widthM) / thicknessM)), faceT };
}
