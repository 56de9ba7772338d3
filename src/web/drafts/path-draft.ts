// A plan of heat and gas as it is typed, step by step, and as it is kept. Temperatures are of the film's surface. Pure.
import { ratioText } from '../../charts/trade-text.ts';
import type { CationRatio, Stated } from '../../records/common.ts';
import type { PathPlan, Treatment } from '../../records/kinds.ts';
import { readRatio } from '../compositions.ts';
import { easiestPressure, PA_PER_ATM, type PressureUnit, readPressurePa } from './pressure-units.ts';
import { recordedPath } from './recorded-path.ts';
import { ROOM_C } from './treatment-draft.ts';
import {
  durationText,
  type Faults,
  FieldReader,
  numberText,
  readDurationS,
  readTemperatureC,
  statedText,
} from './typed-numbers.ts';

export type StepKind = PathPlan['segments'][number]['kind'];
export const STEP_KINDS: readonly StepKind[] = ['ramp', 'hold', 'gas', 'deposit', 'cool'];
/** What each kind asks for; a ramp takes a rate or a duration. */
export const STEP_FIELDS: Readonly<Record<StepKind, readonly StepField[]>> = {
  ramp: ['toC', 'rate', 'duration'],
  hold: ['duration'],
  gas: ['po2', 'duration'],
  deposit: ['thicknessNm', 'duration'],
  cool: ['toC', 'rate', 'duration'],
};
type StepField = 'toC' | 'rate' | 'duration' | 'po2' | 'thicknessNm';

export interface StepDraft {
  /** stays with the row when rows change places */
  key: string;
  kind: StepKind;
  toC: string;
  rate: string;
  duration: string;
  po2: string;
  po2Unit: PressureUnit;
  thicknessNm: string;
}

export interface PathDraft {
  /** kept plan that is changed; '' for one that is not kept yet */
  planId: string;
  /** treatment whose path it is and whose log is laid over; '' for none */
  treatmentId: string;
  label: string;
  route: PathPlan['route'];
  ratio: string;
  thicknessNm: string;
  substrate: string;
  /** '' is none: the film follows the command */
  chamberId: string;
  /** what the temperatures are typed as; the plan is kept as the surface's */
  typedAs: 'surface' | 'reading';
  startC: string;
  startPo2: string;
  startPo2Unit: PressureUnit;
  steps: StepDraft[];
  note: string;
}

const MAX_STEPS = 60;
/** What a path may be, as growth.path takes it. */
const PO2_LIMITS_PA = { above: 0, max: 10 * PA_PER_ATM };
const HOTTEST_C = 1400;

const NO_STEP = {
  toC: '',
  rate: '',
  duration: '',
  po2: '',
  po2Unit: 'mTorr' as PressureUnit,
  thicknessNm: '',
};

export const step = (key: string, kind: StepKind, fields: Partial<StepDraft> = {}): StepDraft => ({
  ...NO_STEP,
  key,
  kind,
  ...fields,
});

/** The row after a row: what usually follows it. */
export function nextStep(key: string, before: StepDraft | undefined): StepDraft {
  const kind = before === undefined || before.kind === 'hold' ? 'ramp' : 'hold';
  return step(key, kind, kind === 'ramp' ? { rate: '30' } : { duration: '5 min' });
}

const pressureDraft = (atm: number | undefined): { po2: string; po2Unit: PressureUnit } => {
  if (atm === undefined) return { po2: '', po2Unit: 'mTorr' };
  const { text, unit } = easiestPressure(atm * PA_PER_ATM);
  return { po2: text, po2Unit: unit };
};

/** The draft of a kept plan. */
export function pathDraftOf(planId: string, plan: PathPlan): PathDraft {
  const start = pressureDraft(plan.start.po2Atm);
  return {
    planId,
    treatmentId: '',
    label: plan.label,
    route: plan.route,
    ratio: plan.cations ? ratioText(plan.cations) : '',
    thicknessNm: statedText(plan.thicknessNm),
    substrate: plan.substrate,
    chamberId: plan.chamberId ?? '',
    typedAs: 'surface',
    startC: numberText(plan.start.temperatureC),
    startPo2: start.po2,
    startPo2Unit: start.po2Unit,
    steps: plan.segments.map(({ kind, toC, rateKPerMin, durationS, toPo2Atm, thicknessNm }, i) =>
      step(`kept-${i}`, kind, {
        toC: numberText(toC),
        rate: numberText(rateKPerMin),
        duration: durationS === undefined ? '' : durationText(durationS),
        ...pressureDraft(toPo2Atm),
        thicknessNm: numberText(thicknessNm),
      }),
    ),
    note: plan.note,
  };
}

/** A treatment's path as a plan that is not kept, for the film of a draft. */
export function pathDraftOfTreatment(
  base: PathDraft,
  treatmentId: string,
  { label, segments: recorded, chamberId }: Pick<Treatment, 'label' | 'segments' | 'chamberId'>,
): PathDraft {
  const { start, segments } = recordedPath(recorded);
  const path = pathDraftOf('', {
    label: '',
    route: 'ex situ',
    cations: null,
    thicknessNm: null,
    substrate: '',
    chamberId,
    start,
    segments,
    note: `The path of treatment ${label}.`,
  });
  const { ratio, thicknessNm, substrate } = base;
  return { ...path, treatmentId, ratio, thicknessNm, substrate };
}

/** Rounds away what adding an offset adds. */
export const plain = (value: number): number => Number(value.toPrecision(12));

export interface PathAsk {
  start: PathPlan['start'];
  segments: PathPlan['segments'];
}

interface ReadPath {
  cations: CationRatio | null;
  thicknessNm: Stated | null;
  /** null while a step cannot be read */
  plan: PathPlan | null;
  /** the start and the leading steps that can be read, for what is drawn while typing; null where there are none */
  readable: PathAsk | null;
  /** `startC`, or `0.toC` for the field of a row; the name is checked when the plan is kept */
  faults: Faults;
}

/**
 * @param rareEarth names the first of three bare numbers of a ratio
 * @param offsetK   surface minus reading of the draft's chamber; null: it has none
 */
export function readPath(draft: PathDraft, rareEarth: string, offsetK: number | null = null): ReadPath {
  const read = new FieldReader();
  const addK = draft.typedAs === 'reading' ? (offsetK ?? 0) : 0;
  let cations: CationRatio | null = null;
  if (draft.ratio.trim() !== '') {
    const ratio = readRatio(draft.ratio, rareEarth);
    if ('fault' in ratio) read.faults.ratio = ratio.fault;
    else cations = ratio.cations;
  }
  const thicknessNm = read.stated('thicknessNm', draft.thicknessNm, { above: 0, max: 1e6, unit: 'nm' });
  const required = (field: string, text: string, what: string): void => {
    if (text.trim() === '') read.faults[field] = `Found nothing; expected ${what}.`;
  };
  const degrees = (field: string, text: string): number | null => {
    const value = read.take(field, readTemperatureC(text));
    if (value === null) return null;
    if (value + addK <= HOTTEST_C) return plain(value + addK);
    read.faults[field] = `Found '${text.trim()}'; expected a number to ${numberText(HOTTEST_C - addK)} °C.`;
    return null;
  };
  const pressure = (field: string, text: string, unit: PressureUnit): number | null => {
    const pa = read.take(
      field,
      readPressurePa(text, unit, { ...PO2_LIMITS_PA, because: 'no gas is without a trace of oxygen' }),
    );
    return pa === null ? null : Number((pa / PA_PER_ATM).toPrecision(12));
  };
  required('startC', draft.startC, 'the temperature at the start, °C');
  required('startPo2', draft.startPo2, 'the oxygen pressure at the start');
  const start = {
    temperatureC: degrees('startC', draft.startC),
    po2Atm: pressure('startPo2', draft.startPo2, draft.startPo2Unit),
  };
  let fromC = start.temperatureC;
  const leading: PathPlan['segments'] = [];
  let isWhole = start.temperatureC !== null && start.po2Atm !== null;
  const segments = draft.steps.map((row, i) => {
    const segment = readStep(row, i, fromC, { read, required, degrees, pressure, addK });
    if (segment.toC !== undefined) fromC = segment.toC;
    isWhole &&= !Object.keys(read.faults).some((field) => field.startsWith(`${i}.`));
    if (isWhole) leading.push(segment);
    return segment;
  });
  if (segments.length === 0) read.faults.segments = 'Found no step; expected at least one.';
  if (segments.length > MAX_STEPS)
    read.faults.segments = `Found ${segments.length} steps; expected at most ${MAX_STEPS}.`;
  const isRead = isWhole && leading.length > 0 && segments.length <= MAX_STEPS;
  const begin = { temperatureC: start.temperatureC ?? ROOM_C, po2Atm: start.po2Atm ?? 1 };
  return {
    cations,
    thicknessNm,
    plan: isRead
      ? {
          label: draft.label.trim(),
          route: draft.route,
          cations,
          thicknessNm,
          substrate: draft.substrate.trim(),
          chamberId: draft.chamberId || null,
          start: begin,
          segments,
          note: draft.note,
        }
      : null,
    readable: leading.length > 0 ? { start: begin, segments: leading.slice(0, MAX_STEPS) } : null,
    faults: read.faults,
  };
}

interface StepTools {
  read: FieldReader;
  required: (field: string, text: string, what: string) => void;
  degrees: (field: string, text: string) => number | null;
  pressure: (field: string, text: string, unit: PressureUnit) => number | null;
  /** from what is typed to the surface, K */
  addK: number;
}

function readStep(
  row: StepDraft,
  i: number,
  fromC: number | null,
  { read, required, degrees, pressure, addK }: StepTools,
): PathPlan['segments'][number] {
  const { kind } = row;
  const at = (field: string): string => `${i}.${field}`;
  const segment: PathPlan['segments'][number] = { kind };
  const durationS = read.take(at('duration'), readDurationS(row.duration, 1e7));
  if (kind === 'ramp' || kind === 'cool') {
    required(at('toC'), row.toC, 'the temperature it ends at, °C');
    const toC = degrees(at('toC'), row.toC);
    const rate = read.number(at('rate'), row.rate, { above: 0, max: 1e5, unit: 'K/min' });
    if (toC !== null) segment.toC = toC;
    if (kind === 'cool' && toC !== null && fromC !== null && toC > fromC)
      read.faults[at('toC')] =
        `Found ${numberText(plain(toC - addK))} °C; expected no more than the ${numberText(plain(fromC - addK))} °C before it, or a ramp.`;
    if (row.rate.trim() !== '' && row.duration.trim() !== '')
      read.faults[at('duration')] =
        `Found ${row.rate.trim()} K/min and ${row.duration.trim()}; expected one of them, the other follows.`;
    else if (rate !== null) segment.rateKPerMin = rate;
    else if (durationS !== null) segment.durationS = durationS;
    else if (row.rate.trim() + row.duration.trim() === '')
      read.faults[at('rate')] = 'Found nothing; expected K/min, or how long it takes.';
    return segment;
  }
  if (kind === 'gas') {
    required(at('po2'), row.po2, 'the oxygen pressure it ends at');
    const toPo2Atm = pressure(at('po2'), row.po2, row.po2Unit);
    if (toPo2Atm !== null) segment.toPo2Atm = toPo2Atm;
  } else required(at('duration'), row.duration, 'how long it takes, such as 5 min');
  if (kind === 'deposit') {
    required(at('thicknessNm'), row.thicknessNm, 'how much is grown, nm');
    const thicknessNm = read.number(at('thicknessNm'), row.thicknessNm, { above: 0, max: 1e6, unit: 'nm' });
    if (thicknessNm !== null) segment.thicknessNm = thicknessNm;
  }
  if (durationS !== null) segment.durationS = durationS;
  return segment;
}
