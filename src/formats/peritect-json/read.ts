// Reads Peritect's own documents; bounded in size and depth. An incremental pure parser that parses at its end.
import { type ReadFailure, readFailure, shown } from '../errors.ts';
import type { OpenReader, Reader, ReadResult } from '../reader.ts';
import { binaryKind } from '../text/signature.ts';
import { JsonFault, parseJson } from './parse.ts';
import {
  DOCUMENT_FORMAT,
  DOCUMENT_KIND,
  DOCUMENT_VERSION,
  MAX_DEPTH,
  MAX_DOCUMENT_BYTES,
  MAX_VALUES,
  type PeritectDocument,
} from './schema.ts';

class DocumentReading implements OpenReader<PeritectDocument> {
  bytesRead = 0;
  #failure: ReadFailure | null = null;
  #result: ReadResult<PeritectDocument> | null = null;
  #bytes = new Uint8Array(1024);

  get failure(): ReadFailure | null {
    return this.#failure;
  }

  push(bytes: Uint8Array): void {
    if (this.#failure !== null || this.#result !== null) return;
    const length = this.bytesRead + bytes.length;
    if (length > MAX_DOCUMENT_BYTES) {
      const sentence = `The document is larger than ${MAX_DOCUMENT_BYTES / 1e6} MB, the most that is read.`;
      this.#failure = readFailure('READ_TOO_LARGE', sentence);
      this.bytesRead = length;
      this.#bytes = new Uint8Array(0);
      return;
    }
    if (length > this.#bytes.length) {
      const grown = new Uint8Array(Math.max(length, 2 * this.#bytes.length));
      grown.set(this.#bytes.subarray(0, this.bytesRead));
      this.#bytes = grown;
    }
    this.#bytes.set(bytes, this.bytesRead);
    this.bytesRead = length;
  }

  end(): ReadResult<PeritectDocument> {
    if (this.#result === null) {
      this.#result = this.#failure ?? documentOf(this.#bytes.subarray(0, this.bytesRead));
      if (!this.#result.ok) this.#failure = this.#result;
      this.#bytes = new Uint8Array(0);
    }
    return this.#result;
  }
}

function documentOf(bytes: Uint8Array): ReadResult<PeritectDocument> {
  if (bytes.length === 0) return readFailure('READ_EMPTY', 'The file is empty: it has 0 bytes.');
  const kindOfBinary = binaryKind(bytes);
  if (kindOfBinary !== undefined) {
    return readFailure(
      'READ_BINARY',
      `This is ${kindOfBinary}, not a document.`,
      1,
      1,
      'Choose a document of Peritect.',
    );
  }
  let text: string;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return readFailure('READ_JSON', 'The document is not valid UTF-8 text.', 1, 1);
  }
  const value = parseJson(text, MAX_DEPTH, MAX_VALUES);
  if (value instanceof JsonFault) return faultAt(text, value);
  if (value === null || typeof value !== 'object' || Array.isArray(value)) {
    return readFailure('READ_JSON_FORMAT', 'The document is no JSON object.', 1, 1);
  }
  const { format, version, kind, ...content } = value;
  if (format !== DOCUMENT_FORMAT || typeof kind !== 'string' || !DOCUMENT_KIND.test(kind)) {
    const found = shown(JSON.stringify({ format: format ?? null, kind: kind ?? null }));
    const sentence = `The document says ${found}; "format": "${DOCUMENT_FORMAT}" and a kind were expected.`;
    return readFailure('READ_JSON_FORMAT', sentence, 1, 1);
  }
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1) {
    const sentence = `The version of the document is ${shown(JSON.stringify(version ?? null))}.`;
    return readFailure('READ_JSON_FORMAT', sentence, 1, 1);
  }
  if (version > DOCUMENT_VERSION) {
    const sentence = `The document has version ${version}; versions up to ${DOCUMENT_VERSION} are read here.`;
    return readFailure('READ_JSON_VERSION', sentence, 1, 1);
  }
  return { ok: true, value: { kind, content }, warnings: [] };
}

function faultAt(text: string, { at, expected, reason }: JsonFault): ReadFailure {
  const before = text.slice(0, at);
  const line = (before.match(/\n/g)?.length ?? 0) + 1;
  const column = Array.from(before.slice(before.lastIndexOf('\n') + 1)).length + 1;
  const found = at >= text.length ? 'the end of the file' : `"${shown(text.slice(at, at + 20), 20)}"`;
  const sentence = `Line ${line}, column ${column}: ${found} found, ${expected} expected.`;
  return readFailure(reason === 'syntax' ? 'READ_JSON' : 'READ_JSON_DEPTH', sentence, line, column);
}

/** The reader of Peritect's own documents. Keys of the head: format, version, kind; the rest is content. */
export const documentReader: Reader<PeritectDocument, Record<never, never>> = {
  name: 'peritect-json',
  version: 1,
  maxBytes: MAX_DOCUMENT_BYTES,
  open: () => new DocumentReading(),
};
