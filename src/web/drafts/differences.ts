// Where two drafts of one record differ, in words, so that a person sees what a save would write over. Pure.
import { FIELD_NAMES } from './field-names.ts';

export interface Difference {
  field: string;
  /** the field in words */
  name: string;
  /** as the record stands now */
  theirs: string;
  /** as typed on this page */
  mine: string;
}

/** Turns the value of a field into words; undefined where the value reads well as it is. */
export type FieldWords = (field: string, value: unknown) => string | undefined;

const NOT_STATED = 'not stated';

/** Rows of a table as `ramp to 450 degC in 30 min; hold ...`: their keys say nothing. */
function plainWords(value: unknown): string {
  if (Array.isArray(value)) return value.map(plainWords).join('; ') || NOT_STATED;
  if (typeof value === 'object' && value !== null) {
    return Object.entries(value)
      .filter(([field, part]) => field !== 'key' && part !== '')
      .map(([, part]) => plainWords(part))
      .join(' ');
  }
  return String(value ?? '') || NOT_STATED;
}

/**
 * The fields in which the record as it stands now is not as typed here.
 *
 * @param theirs draft of the record as it stands
 * @param mine   draft as typed on this page
 */
export function draftDifferences<Draft extends object>(
  theirs: Draft,
  mine: Draft,
  words: FieldWords = () => undefined,
): Difference[] {
  const said = (field: string, value: unknown) => words(field, value) ?? plainWords(value);
  return Object.entries(theirs).flatMap(([field, value]) => {
    const [one, other] = [said(field, value), said(field, mine[field as keyof Draft])];
    return one === other ? [] : [{ field, name: FIELD_NAMES[field] ?? field, theirs: one, mine: other }];
  });
}
