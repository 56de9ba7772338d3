// The first answer to a change that was made before: a request that is repeated does its work only once.
import type { Store } from '../logbook/store.ts';

/**
 * @param isSuch tells by the description of a change whether it is one of this kind: another change under the same
 *   identifier is no repeat
 * @returns the answer in a list of one; nothing if there was no such change
 */
export async function firstAnswer<Answer>(
  store: Store,
  changeId: string,
  isSuch: (what: string) => boolean,
): Promise<Answer[]> {
  const first = await store.read.findChange(changeId);
  if (first === undefined || !isSuch(first.what)) return [];
  return [await store.write({ changeId, what: first.what }, async () => null as never)];
}
