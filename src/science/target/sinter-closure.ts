// The temperature at which a cooling body stops exchanging with what is around it. K, s, m.
import { GAS_CONSTANT, ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { diffusionLine, thermodynamicFactor } from '../growth/oxygenation.ts';
import type { SinterBody, SinterPath, SinterSegment } from './sinter.ts';

/** Geometry factor A of the closure temperature [looked-up: Dodson 1973, Contrib. Mineral. Petrol. 40, 259, abstract]. */
const GEOMETRY = { sphere: 55, cylinder: 27, plate: 8.7 } as const;
/** Rate of the slowest mode of a sphere times L^2/D. */
const SLOWEST_OF_SPHERE = Math.PI ** 2;

/** D = D0 exp(-E/(R T)) in a body. */
export interface ClosingBody {
  readonly shape: keyof typeof GEOMETRY;
  readonly lengthM: number;
  readonly d0M2PerS: number;
  readonly activationJPerMol: number;
}

/**
 * Closure temperature: E/(R T) = ln(A tau D0/L^2), tau = R T^2/(E rate), by repeated substitution. What a body holds at the end of
 * an even cooling is what it held in balance there.
 *
 * @param rateKPerS of cooling at that temperature, above 0
 * @returns K
 *
 * Source: [looked-up: Dodson 1973, Contrib. Mineral. Petrol. 40, 259, abstract]. Range: cooling from far above it, even in 1/T near it.
 */
export function closureTemperatureK(
  { shape, lengthM, d0M2PerS, activationJPerMol }: ClosingBody,
  rateKPerS: number,
): number {
  let temperatureK = 700;
  for (let i = 0; i < 200; i++) {
    const tau = (GAS_CONSTANT * temperatureK ** 2) / (activationJPerMol * rateKPerS);
    const ln = Math.log((GEOMETRY[shape] * tau * d0M2PerS) / lengthM ** 2);
    const next = ln > 0.5 ? activationJPerMol / (GAS_CONSTANT * ln) : 2 * temperatureK;
    if (Math.abs(next - temperatureK) < 1e-9 * next) return next;
    temperatureK = next;
  }
  return temperatureK;
}

/** What a firing does about closing: where exchange froze, or why there is no such temperature. */
export type Closure =
  | { readonly kind: 'froze'; readonly temperatureC: number }
  | { readonly kind: 'still open' }
  | { readonly kind: 'never exchanged' };

/**
 * Where exchange froze, looked for from the end of a firing backwards: in a cooling by its closure temperature, in a hold that is
 * longer than the slowest mode of a grain needs at its temperature; of grains with open pores between them.
 *
 * @param z content at the end, for the thermodynamic factor
 */
export function closureOf({ start, segments }: SinterPath, body: SinterBody, z: number): Closure {
  const { lnD0, activationJPerMol } = diffusionLine('ab');
  const closing = (temperatureK: number): ClosingBody => ({
    shape: 'sphere',
    lengthM: body.grainRadiusM,
    d0M2PerS: Math.exp(lnD0) * body.diffusivityFactor * thermodynamicFactor(temperatureK, z),
    activationJPerMol,
  });
  const openFrom = (segment: SinterSegment, fromC: number): number | null => {
    const { toC, durationS } = segment;
    const toK = toC + ZERO_CELSIUS_K + body.shiftK;
    if (toC === fromC) {
      const { d0M2PerS } = closing(toK);
      const d = d0M2PerS * Math.exp(-activationJPerMol / (GAS_CONSTANT * toK));
      return (SLOWEST_OF_SPHERE * d * durationS) / body.grainRadiusM ** 2 >= 1 ? toC : null;
    }
    if (durationS === 0) return null;
    let closureK = 700;
    for (let i = 0; i < 20; i++)
      closureK = closureTemperatureK(closing(closureK), Math.abs(toC - fromC) / durationS);
    const closureC = closureK - ZERO_CELSIUS_K - body.shiftK;
    if (closureC <= toC) return toC;
    return toC < fromC && closureC < fromC ? closureC : null;
  };
  for (let i = segments.length - 1; i >= 0; i--) {
    const fromC = i > 0 ? segments[i - 1]!.toC : start.temperatureC;
    const temperatureC = openFrom(segments[i]!, fromC);
    if (temperatureC === null) continue;
    return temperatureC === segments.at(-1)!.toC ? { kind: 'still open' } : { kind: 'froze', temperatureC };
  }
  return { kind: 'never exchanged' };
}
