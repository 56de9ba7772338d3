// A refusal of the catalogue, put at the field that it is about.
import { type InputSpec, refusedInput } from '../../../drafts/stated-inputs.ts';
import type { Faults } from '../../../drafts/typed-numbers.ts';

/** @returns the faults with that of the refusal, and the error where no field takes it */
export function placedRefusal(
  error: Error | null,
  specs: readonly InputSpec[],
  faults: Faults,
): { faults: Faults; error: Error | null } {
  const refused = refusedInput(error as (Error & { sentence?: string; remedy?: string }) | null, specs);
  return refused ? { faults: { ...faults, [refused.key]: refused.fault }, error: null } : { faults, error };
}
