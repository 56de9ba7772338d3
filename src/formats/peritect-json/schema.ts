// Peritect's own documents: one JSON object that says what it is before what it holds.

export const DOCUMENT_FORMAT = 'peritect';
/** raised when a document of the old version could be misread */
export const DOCUMENT_VERSION = 1;
export const MAX_DOCUMENT_BYTES = 50_000_000;
export const MAX_DEPTH = 64;
/** values (numbers, texts, arrays, objects) in one document */
export const MAX_VALUES = 5_000_000;

export type JsonValue = null | boolean | number | string | JsonValue[] | { [key: string]: JsonValue };

/** `kind` says what `content` is; the two and the head stand in one object. */
export interface PeritectDocument {
  readonly kind: string;
  readonly content: { readonly [key: string]: JsonValue };
}

export const DOCUMENT_KIND = /^[a-z][a-z0-9 -]{0,59}$/;
/** keys of the head, which content may not use */
export const HEAD_KEYS: readonly string[] = ['format', 'version', 'kind'];
