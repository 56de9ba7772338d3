// Files that were sent but belong to no record yet. Each is claimed, so that a sweep leaves it, until it is imported or
// forgotten.
import type { FileClaim } from '../logbook/files.ts';
import type { Store } from '../logbook/store.ts';

/** Uploads waiting at once; the oldest is forgotten first. */
const MOST_WAITING = 500;

export class Uploads {
  readonly #store: Store;
  /** by SHA-256, oldest first */
  readonly #waiting = new Map<string, FileClaim>();

  constructor(store: Store) {
    this.#store = store;
  }

  /** Takes a file in. The same bytes sent twice are one file. */
  async take(
    source: Uint8Array | AsyncIterable<Uint8Array>,
    maxBytes: number,
  ): Promise<{ sha256: string; bytes: number }> {
    const claim = await this.#store.putFile(source, { maxBytes });
    const { sha256, bytes } = claim;
    if (this.#waiting.has(sha256)) await claim.release();
    else this.#waiting.set(sha256, claim);
    for (const [oldest, old] of this.#waiting) {
      if (this.#waiting.size <= MOST_WAITING) break;
      this.#waiting.delete(oldest);
      await old.release();
    }
    return { sha256, bytes };
  }

  /** The claim that an import adds to its write; undefined if a record already holds the file. */
  claimOf(sha256: string): FileClaim | undefined {
    return this.#waiting.get(sha256);
  }

  /** @throws StoreError FILE_UNKNOWN if it was never sent, or sent before the program was started again */
  bytesOf(sha256: string): Promise<Uint8Array> {
    const claim = this.#waiting.get(sha256);
    return claim ? this.#store.claimedBytes(claim) : this.#store.fileBytes(sha256);
  }

  /** A file that waits no longer, since a record holds it. */
  async forget(sha256: string): Promise<void> {
    const claim = this.#waiting.get(sha256);
    this.#waiting.delete(sha256);
    await claim?.release();
  }
}
