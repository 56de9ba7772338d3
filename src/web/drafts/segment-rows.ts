// The steps of a heat and gas path as they are typed, row by row. Pure.
import type { Segment } from '../../records/kinds.ts';
import { easiestPressure, PA_PER_ATM, type PressureUnit, readPressurePa } from './pressure-units.ts';
import {
  durationText,
  type FieldReader,
  numberText,
  readDurationS,
  readTemperatureC,
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

export const SEGMENT_KINDS: readonly Segment['kind'][] = ['ramp', 'hold', 'gas change', 'cool'];

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

/** The rows with one of them moved by `by` places; unchanged where it would leave the table. */
export function movedSegment<Row>(segments: readonly Row[], from: number, by: number): Row[] {
  const rows = [...segments];
  const to = from + by;
  if (to < 0 || to >= rows.length) return rows;
  const [row] = rows.splice(from, 1);
  rows.splice(to, 0, row!);
  return rows;
}

interface ReadSegments {
  segments: Segment[];
  /** the leading steps that can be read, for the chart that is drawn while typing */
  readable: Segment[];
}

/**
 * Reads the rows.
 *
 * @param prefix of the fields of faults: `''` gives `0.toC`, `step.` gives `step.0.toC`
 */
export function readSegments(rows: readonly SegmentDraft[], prefix: string, read: FieldReader): ReadSegments {
  const readable: Segment[] = [];
  let isWhole = true;
  const segments = rows.map((row, i): Segment => {
    const at = (field: string): string => `${prefix}${i}.${field}`;
    const required = (field: 'toC' | 'duration' | 'po2', what: string): void => {
      if (row[field].trim() === '') read.faults[at(field)] = `Found nothing; expected ${what}.`;
    };
    const toC = read.take(at('toC'), readTemperatureC(row.toC));
    const durationS = read.take(at('duration'), readDurationS(row.duration, 1e7));
    const po2Pa = read.take(
      at('po2'),
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
  return { segments, readable };
}
