// A heat and gas path as it is typed, row by row, and as it is kept. Pure.
import type { Segment, Treatment } from '../../records/kinds.ts';
import { easiestPressure, PA_PER_ATM, type PressureUnit, readPressurePa } from './pressure-units.ts';
import {
  durationText,
  type Faults,
  FieldReader,
  numberText,
  readDurationS,
  readTemperatureC,
  whenText,
} from './typed-numbers.ts';

export interface SegmentDraft {
  /** stays with the row when rows change places */
  key: string;
  kind: Segment['kind'];
  toC: string;
  duration: string;
  po2: string;
  po2Unit: PressureUnit;
  gas: string;
}

export interface TreatmentDraft {
  label: string;
  startedAt: string;
  segments: SegmentDraft[];
  /** of the plan it was driven by and of its chamber; kept as they are while the rest is typed */
  planId?: string | null;
  chamberId?: string | null;
  note: string;
}

export const SEGMENT_KINDS: readonly Segment['kind'][] = ['ramp', 'hold', 'gas change', 'cool'];
/** Where a path begins, since its first segment only says where it ends. */
export const ROOM_C = 25;
const MAX_SEGMENTS = 200;

/** The row after a row: a hold after a ramp and the other way about, in the same gas. */
export function nextSegment(key: string, before: SegmentDraft | undefined): SegmentDraft {
  if (!before) return { key, kind: 'ramp', toC: '', duration: '', po2: '1', po2Unit: 'atm', gas: 'O2' };
  const isRamp = before.kind === 'ramp';
  return { ...before, key, kind: isRamp ? 'hold' : 'ramp', toC: isRamp ? before.toC : '', duration: '' };
}

export function segmentDraftOf(segment: Segment, key: string): SegmentDraft {
  const { text, unit } = easiestPressure(segment.po2Atm * PA_PER_ATM);
  return {
    key,
    kind: segment.kind,
    toC: numberText(segment.toC),
    duration: durationText(segment.durationS),
    po2: text,
    po2Unit: unit,
    gas: segment.gas,
  };
}

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

/** The rows with one of them moved by `by` places; unchanged where it would leave the table. */
export function movedSegment<Row>(segments: readonly Row[], from: number, by: number): Row[] {
  const rows = [...segments];
  const to = from + by;
  if (to < 0 || to >= rows.length) return rows;
  const [row] = rows.splice(from, 1);
  rows.splice(to, 0, row!);
  return rows;
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
  const readable: Segment[] = [];
  let isWhole = true;
  const segments = draft.segments.map((row, i): Segment => {
    const required = (field: 'toC' | 'duration' | 'po2', what: string): void => {
      if (row[field].trim() === '') read.faults[`${i}.${field}`] = `Found nothing; expected ${what}.`;
    };
    const toC = read.take(`${i}.toC`, readTemperatureC(row.toC));
    const durationS = read.take(`${i}.duration`, readDurationS(row.duration, 1e7));
    const po2Pa = read.take(
      `${i}.po2`,
      readPressurePa(row.po2, row.po2Unit, { min: 0, max: 1000 * PA_PER_ATM }),
    );
    required('toC', 'the temperature it ends at, °C');
    required('duration', 'how long it takes, such as 5 min');
    required('po2', 'the oxygen pressure, 0 for none');
    const segment: Segment = {
      kind: row.kind,
      toC: toC ?? 0,
      durationS: durationS ?? 0,
      po2Atm: Number(((po2Pa ?? 0) / PA_PER_ATM).toPrecision(12)),
      gas: row.gas.trim(),
    };
    isWhole &&= toC !== null && durationS !== null && po2Pa !== null;
    if (isWhole) readable.push(segment);
    return segment;
  });
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
