// Critical current under another criterion. Pure; V/m, A.

/**
 * Critical current at field E2 from that at E1 on a power law: I2 = I1 (E2/E1)^(1/n).
 *
 * Source: [derived: E = Ec (I/Ic)^n].
 */
export function atOtherCriterion(current: number, n: number, fromVPerM: number, toVPerM: number): number {
  return current * (toVPerM / fromVPerM) ** (1 / n);
}

/**
 * Offset criterion: where the tangent at the criterion meets zero field, I_off = Ic (1 - 1/n) on a power law.
 *
 * Source: [looked-up: Ekin 1989, Appl. Phys. Lett. 55, 905, abstract]; factor [derived].
 */
export function offsetCriterion(current: number, n: number): number {
  return current * (1 - 1 / n);
}
