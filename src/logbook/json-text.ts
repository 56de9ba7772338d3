// JSON as the store keeps it: text that gives back what was put in, or a refusal that says where it would not.
import { StoreError } from './errors.ts';

/** Longest text of one body or result, characters; larger things belong in a file. */
const MAX_JSON_CHARACTERS = 16_000_000;

/**
 * The value as JSON text. A field that is undefined is left out; anything else that JSON would quietly alter is refused.
 *
 * @param value what to keep
 * @param what  what it is, for the sentence: "the body of film ..."
 * @throws StoreError NOT_JSON with the path of the first part that is no JSON, or if the text is too long
 */
export function jsonText(value: unknown, what: string): string {
  const fault = firstFault(value, '', new Set());
  if (fault !== undefined) throw new StoreError('NOT_JSON', `In ${what}, ${fault}.`);
  const text = JSON.stringify(value === undefined ? null : value);
  if (text.length > MAX_JSON_CHARACTERS) {
    throw new StoreError(
      'NOT_JSON',
      `The text of ${what} has ${text.length} characters; ${MAX_JSON_CHARACTERS} is the most.`,
      { remedy: 'Put the large part into a file and name the file.' },
    );
  }
  return text;
}

function firstFault(value: unknown, path: string, above: Set<object>): string | undefined {
  const here = path === '' ? 'the whole' : path;
  switch (typeof value) {
    case 'undefined':
    case 'boolean':
      return undefined;
    case 'number':
      return Number.isFinite(value) ? undefined : `${here} is ${value}`;
    case 'string':
      return value.includes('\0') ? `${here} holds a NUL character` : undefined;
    case 'object':
      return value === null ? undefined : faultInside(value, path, above);
    default:
      return `${here} is a ${typeof value}`;
  }
}

function faultInside(value: object, path: string, above: Set<object>): string | undefined {
  const here = path === '' ? 'the whole' : path;
  if (above.has(value)) return `${here} holds itself`;
  const isList = Array.isArray(value);
  const prototype = Object.getPrototypeOf(value);
  if (!isList && prototype !== Object.prototype && prototype !== null) {
    return `${here} is a ${prototype?.constructor?.name ?? 'strange object'}`;
  }
  above.add(value);
  for (const [key, part] of Object.entries(value)) {
    const partPath = isList ? `${path}[${key}]` : path === '' ? key : `${path}.${key}`;
    if (key.includes('\0')) return `a name in ${here} holds a NUL character`;
    if (isList && part === undefined) return `${partPath} is undefined`;
    const fault = firstFault(part, partPath, above);
    if (fault !== undefined) return fault;
  }
  above.delete(value);
  return undefined;
}
