// Where the Jc of a current-voltage curve and that of a magnetisation loop, of one piece at one condition, are further
// apart than their uncertainties. Pure; A/m2.
import type { Fact } from './facts.ts';
import { conditionDistance } from './find-fact.ts';

export interface MethodDisagreement {
  readonly transport: Fact;
  readonly loop: Fact;
  /** both state an uncertainty; where one does not, a factor of two is taken */
  readonly byUncertainty: boolean;
}

/** Standard uncertainties apart that count [common practice: coverage factor 2, about 95 %]. */
const COVERAGE = 2;
/** Taken where an uncertainty is not stated. [not established: a choice] */
const FACTOR_WITHOUT_UNCERTAINTY = 2;

const isLoop = ({ method }: Fact): boolean => /\bloop\b|magneti[sz]ation/i.test(method);
const isTransport = ({ method }: Fact): boolean => /\btransport\b|\bcurrent-voltage\b/i.test(method);

function isApart(one: Fact, other: Fact): boolean {
  if (one.standardUncertainty !== null && other.standardUncertainty !== null) {
    const joint = Math.hypot(one.standardUncertainty, other.standardUncertainty);
    return Math.abs(one.value - other.value) > COVERAGE * joint;
  }
  const [small, large] = [one.value, other.value].sort((a, b) => a - b) as [number, number];
  return large > FACTOR_WITHOUT_UNCERTAINTY * small;
}

/**
 * For each Jc of a current-voltage curve the Jc of a loop nearest in condition, where |Jc1 - Jc2| > 2 sqrt(u1^2 + u2^2), or,
 * where an uncertainty is not stated, where one is more than twice the other. Both must state their temperature; a curve
 * that states no field was taken in self-field; conditions count as the same within the tolerances of `find-fact.ts`.
 * Bounds are left out. Assumes independent errors; both share the thickness, so that the joint uncertainty is rather too
 * large and a few disagreements pass unseen.
 *
 * @param numbers facts of one piece in one state
 * @returns the pairs that disagree, in the order of the current-voltage curves
 *
 * Source: [derived: comparison of two values at coverage factor 2]. Range: any pair of positive current densities.
 */
export function methodDisagreements(numbers: readonly Fact[]): MethodDisagreement[] {
  const densities = numbers.filter(({ name, bound }) => name === 'jcAPerM2' && bound === undefined);
  const loops = densities.filter((fact) => isLoop(fact) && fact.at?.temperatureK !== undefined);
  return densities.flatMap((transport) => {
    if (!isTransport(transport) || isLoop(transport) || transport.at?.temperatureK === undefined) return [];
    const { temperatureK, fieldT = 0 } = transport.at;
    const near = loops
      .map((loop) => ({ loop, distance: distanceTo(loop, transport.at?.thetaDeg, temperatureK, fieldT) }))
      .filter((each): each is { loop: Fact; distance: number } => each.distance !== undefined)
      .sort((a, b) => a.distance - b.distance);
    const loop = near[0]?.loop;
    if (!loop || !isApart(transport, loop)) return [];
    const byUncertainty = transport.standardUncertainty !== null && loop.standardUncertainty !== null;
    return [{ transport, loop, byUncertainty }];
  });
}

/** An angle counts only where both state one. */
function distanceTo(
  { at }: Fact,
  thetaDeg: number | undefined,
  temperatureK: number,
  fieldT: number,
): number | undefined {
  const angle = thetaDeg !== undefined && at?.thetaDeg !== undefined ? { thetaDeg } : {};
  return conditionDistance({ temperatureK, fieldT, ...angle }, at);
}
