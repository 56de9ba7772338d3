// Identifiers: UUIDs of version 7, made by whoever asks, so that a repeated request can be told from a new one.
import { v7 } from 'uuid';
import { StoreError } from './errors.ts';

const UUID_V7 = /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/;

/** A new identifier; those of one process sort in the order they were made [looked-up: RFC 9562, sec. 5.7]. */
export function newId(): string {
  return v7();
}

/**
 * @param id   what was given
 * @param what what it is to name, for the sentence: "change", "record"
 * @throws StoreError ID_INVALID if it is no UUID of version 7 in small letters
 */
export function checkId(id: unknown, what: string): asserts id is string {
  if (typeof id !== 'string' || !UUID_V7.test(id)) {
    throw new StoreError('ID_INVALID', `${JSON.stringify(id) ?? typeof id} cannot name a ${what}.`);
  }
}
