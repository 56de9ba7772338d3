// Looks an entry up by name and, where the name is wrong, says which are near.
import { CATALOGUE } from '../computations/catalogue.ts';
import type { Computation } from '../computations/computation.ts';
import { DomainError } from '../science/errors.ts';

function editDistance(one: string, other: string): number {
  let previous = Array.from({ length: other.length + 1 }, (_, j) => j);
  for (let i = 1; i <= one.length; i++) {
    const current = [i];
    for (let j = 1; j <= other.length; j++) {
      const replaced = previous[j - 1]! + (one[i - 1] === other[j - 1] ? 0 : 1);
      current.push(Math.min(previous[j]! + 1, current[j - 1]! + 1, replaced));
    }
    previous = current;
  }
  return previous[other.length]!;
}

/** The names nearest to a mistyped one, best first. */
export function nearestNames(name: string, known: readonly string[], count = 3): string[] {
  const wanted = name.slice(0, 100);
  return known
    .map((each) => ({ each, distance: editDistance(wanted, each) }))
    .sort((one, other) => one.distance - other.distance)
    .slice(0, count)
    .map(({ each }) => each);
}

/** @throws DomainError COMPUTATION_UNKNOWN with the nearest names */
export function findComputationOrThrow(name: string): Computation {
  const found = CATALOGUE.find((entry) => entry.name === name);
  if (found) return found;
  const near = nearestNames(
    name,
    CATALOGUE.map((entry) => entry.name),
  );
  throw new DomainError(
    'COMPUTATION_UNKNOWN',
    `No computation is called '${name.slice(0, 100)}'. Near it: ${near.join(', ')}.`,
  );
}
