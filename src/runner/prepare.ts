// From a request on the wire to what `run` takes: blobs resolved, schema checked, errors in words.
import type { z } from 'zod';
import type { Computation } from '../computations/computation.ts';
import { type BlobColumn, blobColumnSchema } from '../computations/schema.ts';
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

/** What is wrong with a value that a schema refused, a line a field. */
export function describeIssues(error: z.ZodError, value: unknown): string {
  return error.issues
    .slice(0, 5)
    .map((issue) => {
      const path = issue.path
        .map((step) => (typeof step === 'number' ? `[${step}]` : `.${String(step)}`))
        .join('');
      const found = issue.path.reduce<unknown>(
        (inner, step) =>
          inner !== null && typeof inner === 'object'
            ? (inner as Record<PropertyKey, unknown>)[step]
            : undefined,
        value,
      );
      const shown = found === undefined ? 'nothing' : JSON.stringify(found)?.slice(0, 80);
      return `${path.replace(/^\./, '') || 'the request'}: ${issue.message} (found ${shown}).`;
    })
    .join(' ');
}

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
    throw new DomainError('REQUEST_INVALID', `${entry.name}: ${describeIssues(parsed.error, request)}`);
  }
  return parsed.data as never;
}
