// Fields that a kind of record gained after stores were written: what an older body holds in their place. Pure.
import type { RecordKind } from './kinds.ts';

const GROWN_FIELDS: Partial<Record<RecordKind, Readonly<Record<string, unknown>>>> = {
  lot: { assay: null, isMetalsBasis: null, dryingC: null },
  target: { sintering: null, filmAim: null },
  run: { preAblationPulses: null, rateNmPerS: null, chamberId: null },
  treatment: { planId: null, chamberId: null },
  typedFacts: { composition: null },
};

/** A stored body with the fields that its kind has gained since, at "not stated"; the stored bytes stay as they are. */
export function withGrownFields(kind: string, body: object): object {
  if (kind === 'series') {
    const { growth } = body as { growth?: object };
    return { ...body, growth: { meltOffsetJPerMol: 0, ...growth } };
  }
  return { ...GROWN_FIELDS[kind as RecordKind], ...body };
}
