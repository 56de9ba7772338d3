// When a stored result is old: the effective version of an entry covers all that its answer rests on.
import type { Computation } from '../computations/computation.ts';
import { findComputationOrThrow } from './find-computation.ts';
import { hashOf } from './request-hash.ts';

/** An entry never changes while the program runs, and its hash is asked for at every look at a series. */
const known = new WeakMap<Computation, string>();

/**
 * Hash of an entry's own version, the effective versions of what it uses and the digests of its tables. Two results
 * with the same effective version and the same request are the same.
 *
 * @throws DomainError COMPUTATION_UNKNOWN if `uses` names nothing in the catalogue
 */
export function effectiveVersion(entry: Computation): string {
  const before = known.get(entry);
  if (before !== undefined) return before;
  const used = entry.uses.map((name) => [name, effectiveVersion(findComputationOrThrow(name))]);
  const whole = hashOf({ name: entry.name, version: entry.version, used, tables: entry.tables });
  const version = whole.slice(0, 16);
  known.set(entry, version);
  return version;
}
