// From a request on the wire to what `run` takes: blobs resolved, schema checked, errors in words.
import type { Computation } from '../computations/computation.ts';
import {
  type BlobColumn,
  type BlobDocument,
  blobColumnSchema,
  blobDocumentSchema,
} from '../computations/schema.ts';
import { issueSentences } from '../computations/schema-issues.ts';
import { DomainError } from '../science/errors.ts';

/** Fetches one column of a stored table as a Float64Array, or a stored JSON document as what it says. */
export type StoredResolver = (reference: BlobColumn | BlobDocument) => Promise<unknown>;

/** Where nothing stored can be reached, a request must carry its arrays and documents inline. */
export const nothingStored: StoredResolver = async ({ blob }) => {
  throw new DomainError(
    'REQUEST_INVALID',
    `The request names the stored blob ${blob}, which cannot be reached from here.`,
    'Give the array or the document inline.',
  );
};

async function resolveStored(value: unknown, resolve: StoredResolver): Promise<unknown> {
  if (Array.isArray(value)) {
    if (typeof value[0] === 'number') return value;
    return Promise.all(value.map((each) => resolveStored(each, resolve)));
  }
  if (value !== null && typeof value === 'object' && !ArrayBuffer.isView(value)) {
    if ('blob' in value) {
      const reference = ('column' in value ? blobColumnSchema : blobDocumentSchema).safeParse(value);
      if (reference.success) return resolve(reference.data);
    }
    const entries = await Promise.all(
      Object.entries(value).map(async ([key, each]) => [key, await resolveStored(each, resolve)] as const),
    );
    return Object.fromEntries(entries);
  }
  return value;
}

/** Replaces each `{ blob, column }` of a request by its numbers, each `{ blob }` by its document. The rest is untouched. */
export function withStored(request: unknown, resolve: StoredResolver): Promise<unknown> {
  return resolveStored(request, resolve);
}

/**
 * The request as `run` takes it.
 *
 * @throws DomainError REQUEST_INVALID naming each field, what was found and what was expected
 */
export function parseRequest(entry: Computation, request: unknown): never {
  const parsed = entry.request.safeParse(request);
  if (!parsed.success) {
    throw new DomainError(
      'REQUEST_INVALID',
      `${entry.name}: ${issueSentences(parsed.error, request).join('; ')}.`,
    );
  }
  return parsed.data as never;
}
