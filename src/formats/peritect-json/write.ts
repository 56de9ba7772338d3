// Writes Peritect's own documents, canonical (RFC 8785): the same content gives the same bytes on every machine.
import canonicalize from 'canonicalize';
import { type ReadFailure, readFailure, shown } from '../errors.ts';
import {
  DOCUMENT_FORMAT,
  DOCUMENT_KIND,
  DOCUMENT_VERSION,
  HEAD_KEYS,
  type PeritectDocument,
} from './schema.ts';

/**
 * The document as UTF-8 text with a line end.
 *
 * @returns the text, or WRITE_JSON if the content uses a key of the head or holds what JSON has not (NaN, infinity)
 */
export function writeDocument({ kind, content }: PeritectDocument): { ok: true; text: string } | ReadFailure {
  if (!DOCUMENT_KIND.test(kind)) return readFailure('WRITE_JSON', `"${shown(kind)}" is no kind of document.`);
  const taken = HEAD_KEYS.find((key) => Object.hasOwn(content, key));
  if (taken !== undefined)
    return readFailure('WRITE_JSON', `The content uses the key "${taken}" of the head.`);
  try {
    const text = canonicalize({ ...content, format: DOCUMENT_FORMAT, version: DOCUMENT_VERSION, kind });
    if (text !== undefined) return { ok: true, text: `${text}\n` };
  } catch (error) {
    return readFailure('WRITE_JSON', `The content is no JSON: ${shown(String(error), 200)}.`);
  }
  return readFailure('WRITE_JSON', 'The content is no JSON.');
}
