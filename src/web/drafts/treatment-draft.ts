// A heat and gas path as it is typed, row by row, and as it is kept. Pure.
import type { Segment, Treatment } from '../../records/kinds.ts';
import { readSegments, type SegmentDraft, segmentDraftOf } from './segment-rows.ts';
import { type Faults, FieldReader, whenText } from './typed-numbers.ts';

export interface TreatmentDraft {
  label: string;
  startedAt: string;
  segments: SegmentDraft[];
  /** of the plan it was driven by and of its chamber; kept as they are while the rest is typed */
  planId?: string | null;
  chamberId?: string | null;
  note: string;
}

/** Where a path begins, since its first segment only says where it ends. */
export const ROOM_C = 25;
const MAX_SEGMENTS = 200;

export function treatmentDraftOf(treatment: Treatment): TreatmentDraft {
  return {
    label: treatment.label,
    startedAt: whenText(treatment.startedAt),
    segments: treatment.segments.map((segment, i) => segmentDraftOf(segment, `kept-${i}`)),
    planId: treatment.planId,
    chamberId: treatment.chamberId,
    note: treatment.note,
  };
}

interface ReadTreatment {
  treatment: Treatment;
  /** the leading segments that can be read, for the chart that is drawn while typing */
  readable: Segment[];
  /** `label`, or `0.toC` for the field of a row */
  faults: Faults;
}

export function readTreatment(draft: TreatmentDraft, pieceId: string): ReadTreatment {
  const read = new FieldReader();
  const label = read.name('label', draft.label, 'a name of the treatment, such as anneal 1');
  const startedAt = read.when('startedAt', draft.startedAt);
  const { segments, readable } = readSegments(draft.segments, '', read);
  if (segments.length === 0) read.faults.segments = 'Found no step; expected at least one.';
  if (segments.length > MAX_SEGMENTS)
    read.faults.segments = `Found ${segments.length} steps; expected at most ${MAX_SEGMENTS}.`;
  return {
    treatment: {
      label,
      pieceId,
      startedAt,
      segments,
      planId: draft.planId ?? null,
      chamberId: draft.chamberId ?? null,
      note: draft.note,
    },
    readable,
    faults: read.faults,
  };
}
