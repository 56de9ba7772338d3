// What a schema refused, in words: each field with what was expected and what was found. Pure.
import type { z } from 'zod';

/** Faults named at most; the rest usually follow from the first. */
const MOST_ISSUES = 5;

/** `composition.cations.Ba: Too small: expected number to be >=0 (found -1)`, one a field, at most five. */
export function issueSentences(error: z.ZodError, value: unknown): string[] {
  return error.issues.slice(0, MOST_ISSUES).map(({ path, message }) => {
    const place = path.map((step) => (typeof step === 'number' ? `[${step}]` : `.${String(step)}`)).join('');
    const found = path.reduce<unknown>(
      (inner, step) =>
        inner !== null && typeof inner === 'object'
          ? (inner as Record<PropertyKey, unknown>)[step]
          : undefined,
      value,
    );
    const shown = found === undefined ? 'nothing' : JSON.stringify(found)?.slice(0, 80);
    return `${place.replace(/^\./, '') || 'the whole'}: ${message} (found ${shown})`;
  });
}
