// How far the melt must lie lower than the published one for liquid with 123 to be as likely as not, found by asking.
import type { FieldsAnswer } from '../charts/ternary/fields-on-triangle.ts';
import { patientRunner } from './compute.ts';
import { type GrowthCondition, readingFields } from './reading.ts';
import { regionOf } from './region-words.ts';

/** Offsets tried, from the published melt on, J per mole of its cations. */
const TRIED_J_PER_MOL = [-1000, -2000, -3000, -4000, -6000, -8000, -10_000, -15_000, -20_000] as const;
/** A first look, and what the triangle shows: it must hold there. */
const LOOKS = [{ divisions: 40, members: 20 }, { divisions: 60 }] as const;

/**
 * The smallest lowering of those tried that gives a region of even odds; null where none does.
 *
 * @param region part of the triangle asked about, as `equilibrium.fields` takes it
 */
export async function meltLoweringFor(
  rareEarth: string,
  condition: GrowthCondition,
  region: object,
  signal: AbortSignal,
): Promise<number | null> {
  const { temperatureC, po2Atm } = condition;
  for (const meltOffsetJPerMol of TRIED_J_PER_MOL) {
    const moved = readingFields({ ...condition, meltOffsetJPerMol });
    let isThere = true;
    for (const fineness of LOOKS) {
      if (!isThere) break;
      const request = { rareEarth, temperatureC, po2Atm, ...fineness, ...moved, ...region };
      const answer = await patientRunner().run('equilibrium.fields', request, { signal });
      isThere = regionOf(answer as FieldsAnswer) !== null;
    }
    if (isThere) return meltOffsetJPerMol;
  }
  return null;
}
