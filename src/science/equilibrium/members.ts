// The ensemble: melts and solids that agree with the published data within their widths, from every surviving form together.
import { seededRandom } from '../numerics/seeded-random.ts';
import { MELT_MEMBERS } from '../tables/melt-members.ts';
import type { MeltForm } from './melt.ts';
import type { Member } from './phase-system.ts';
import type { SolidId, SolidValues } from './solids.ts';

/** A member as it is stored: A and B of each solid that is not the table's, J per mole of formula. */
export interface StoredMember {
  readonly form: MeltForm;
  readonly melt: Readonly<Record<string, number>>;
  readonly solids: Readonly<Partial<Record<SolidId, readonly [number, number]>>>;
  readonly jPerMolPerKelvin: number;
  readonly peritecticKPerAngstrom: number;
}

/** A stored member as the phases take it. */
export function memberFrom({
  form,
  melt,
  solids,
  jPerMolPerKelvin,
  peritecticKPerAngstrom,
}: StoredMember): Member {
  const values: SolidValues = {};
  for (const [id, [aJPerMol, bJPerMolK]] of Object.entries(solids) as [
    SolidId,
    readonly [number, number],
  ][]) {
    values[id] = { aJPerMol, bJPerMolK };
  }
  return { solids: values, melt: { form, values: melt }, jPerMolPerKelvin, peritecticKPerAngstrom };
}

/** Every member of the published ensemble; neighbours are of different forms. */
const PUBLISHED: readonly Member[] = MELT_MEMBERS.records.map((record) => memberFrom(record as StoredMember));

/** How many members the published ensemble has. */
export const PUBLISHED_COUNT = PUBLISHED.length;

/**
 * Members of the published ensemble, all counting alike. The first ones for seed 0, so that neighbouring members are of different
 * forms; another seed takes them in another order, so that fewer members than all are other members.
 *
 * @param count 1 to PUBLISHED_COUNT
 */
export function publishedMembers(seed: number, count: number): readonly Member[] {
  if (seed === 0) return PUBLISHED.slice(0, count);
  const random = seededRandom(seed);
  const order = PUBLISHED.map((_, i) => i);
  for (let i = order.length - 1; i > 0; i--) {
    const j = Math.floor(random.uniform() * (i + 1));
    [order[i], order[j]] = [order[j]!, order[i]!];
  }
  return order.slice(0, count).map((i) => PUBLISHED[i]!);
}
