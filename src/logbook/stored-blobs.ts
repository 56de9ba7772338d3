// What a request names by its hash: a column of a stored table, or a stored JSON document.
import { readColumn } from './columns.ts';
import { StoreError } from './errors.ts';
import type { Store } from './store.ts';

/** Most bytes of a document that a request may name. */
const MAX_DOCUMENT_BYTES = 20_000_000;

/**
 * The numbers of a column, or what a document says.
 *
 * @throws StoreError BLOB_DOCUMENT if the file is too long or no JSON; those of readColumn
 */
export async function readStored(
  store: Store,
  reference: { readonly blob: string; readonly column?: number },
): Promise<unknown> {
  if (reference.column !== undefined) return readColumn(store, reference.blob, reference.column);
  const bytes = await store.fileBytes(reference.blob);
  const refuse = (found: string): never => {
    throw new StoreError(
      'BLOB_DOCUMENT',
      `The stored file ${reference.blob} ${found}; a JSON document was expected.`,
      {
        remedy: 'Name the file that holds the document.',
      },
    );
  };
  if (bytes.length > MAX_DOCUMENT_BYTES) refuse(`has ${bytes.length} bytes`);
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return refuse('is no JSON');
  }
}
