// A point of the literature as it is typed and as it is kept. Pure.
import type { LiteraturePoint } from '../../records/kinds.ts';
import { easiestPressure, PA_PER_ATM, type PressureUnit, readPressurePa } from './pressure-units.ts';
import { type Faults, FieldReader, numberText, readTemperatureC } from './typed-numbers.ts';

export interface LiteratureDraft {
  label: string;
  temperatureC: string;
  po2: string;
  po2Unit: PressureUnit;
  phases: string;
  source: string;
  note: string;
  /** a point like one that is there already is meant */
  isTwinMeant: boolean;
}

export const EMPTY_LITERATURE: LiteratureDraft = {
  label: '',
  temperatureC: '',
  po2: '',
  po2Unit: 'atm',
  phases: '',
  source: '',
  note: '',
  isTwinMeant: false,
};

export function literatureDraftOf(point: LiteraturePoint): LiteratureDraft {
  const { text, unit } = easiestPressure(point.po2Atm * PA_PER_ATM);
  const { label, temperatureC, phases, source, note } = point;
  return {
    label,
    temperatureC: numberText(temperatureC),
    po2: text,
    po2Unit: unit,
    phases,
    source,
    note,
    isTwinMeant: false,
  };
}

const LARGEST_ATM = 1000;
const SAME_K = 0.5;
const SAME_PART = 0.01;

/** A point at the same temperature and oxygen pressure with the same phases, whatever it is called. */
export function twinOf(
  point: LiteraturePoint,
  others: readonly LiteraturePoint[],
): LiteraturePoint | undefined {
  const words = (phases: string): string =>
    (phases.match(/[\p{L}\p{N}.]+/gu) ?? []).sort().join(' ').toLowerCase();
  return others.find(
    (other) =>
      Math.abs(other.temperatureC - point.temperatureC) <= SAME_K &&
      Math.abs(other.po2Atm / point.po2Atm - 1) <= SAME_PART &&
      words(other.phases) === words(point.phases),
  );
}

/**
 * @param others points of the series, without the one that is edited
 */
export function readLiterature(
  draft: LiteratureDraft,
  others: readonly LiteraturePoint[],
): { body: LiteraturePoint; faults: Faults; twin: LiteraturePoint | undefined } {
  const read = new FieldReader();
  const label = read.name('label', draft.label, 'a name of the point, such as 123 melts');
  const temperatureC = read.take('temperatureC', readTemperatureC(draft.temperatureC));
  const po2Pa = read.take(
    'po2',
    readPressurePa(draft.po2, draft.po2Unit, { above: 0, max: LARGEST_ATM * PA_PER_ATM }),
  );
  const phases = read.name('phases', draft.phases, 'the phases seen, such as 123 + liquid', 300);
  const source = read.name('source', draft.source, 'authors, journal and year', 500);
  if (draft.temperatureC.trim() === '')
    read.faults.temperatureC = 'Found nothing; expected a temperature, °C.';
  if (draft.po2.trim() === '') read.faults.po2 = 'Found nothing; expected the oxygen pressure.';
  const body: LiteraturePoint = {
    label,
    temperatureC: temperatureC ?? 0,
    po2Atm: po2Pa === null ? 1 : Number((po2Pa / PA_PER_ATM).toPrecision(12)),
    phases,
    source,
    note: draft.note,
  };
  const twin = temperatureC === null || po2Pa === null ? undefined : twinOf(body, others);
  if (twin && !draft.isTwinMeant)
    read.faults.isTwinMeant = `Found '${twin.label}' at the same temperature, oxygen pressure and phases (${twin.source}); expected a new point, or a tick that both are meant.`;
  return { body, faults: read.faults, twin };
}
