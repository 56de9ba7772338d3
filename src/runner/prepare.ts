// From a request on the wire to what `run` takes: blobs resolved, schema checked, errors in words.
import type { Computation } from '../computations/computation.ts';
import { type BlobColumn, blobColumnSchema } from '../computations/schema.ts';
import { issueSentences } from '../computations/schema-issues.ts';
import { DomainError } from '../science/errors.ts';

/** Fetches one column of a stored table. */
export type ColumnResolver = (column: BlobColumn) => Promise<Float64Array>;

/** Where no stored table can be reached, a request must carry its arrays inline. */
export const noColumns: ColumnResolver = async ({ blob }) => {
  throw new DomainError(
    'REQUEST_INVALID',
    `The request names the stored table ${blob}, which cannot be reached from here.`,
    'Give the array inline.',
  );
};

async function resolveColumns(value: unknown, resolve: ColumnResolver): Promise<unknown> {
  if (Array.isArray(value)) {
    if (typeof value[0] === 'number') return value;
    return Promise.all(value.map((each) => resolveColumns(each, resolve)));
  }
  if (value !== null && typeof value === 'object' && !ArrayBuffer.isView(value)) {
    if ('blob' in value && 'column' in value) {
      const column = blobColumnSchema.safeParse(value);
      if (column.success) return resolve(column.data);
    }
    const entries = await Promise.all(
      Object.entries(value).map(async ([key, each]) => [key, await resolveColumns(each, resolve)] as const),
    );
    return Object.fromEntries(entries);
  }
  return value;
}

/** Replaces each `{ blob, column }` of a request by its numbers. The rest is untouched. */
export function withColumns(request: unknown, resolve: ColumnResolver): Promise<unknown> {
  return resolveColumns(request, resolve);
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
