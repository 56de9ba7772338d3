// Driving a plan with a piece: what becomes of it as a treatment, or as a run where a film is grown. Pure.
import type { PathPlan, Treatment } from '../../records/kinds.ts';
import { easiestPressure, PA_PER_ATM } from './pressure-units.ts';
import { type PlacedStep, treatmentSegments } from './recorded-path.ts';
import type { Sitting } from './sitting.ts';
import { type Faults, FieldReader, numberText } from './typed-numbers.ts';

export interface DriveDraft {
  pieceId: string;
  label: string;
  startedAt: string;
}

interface Driven {
  /** '' for a plan that is not kept */
  planId: string;
  chamberId: string;
  label: string;
  placed: readonly PlacedStep[];
}

/** The plan as a treatment of a piece. */
export function readDrive(
  draft: DriveDraft,
  { planId, chamberId, label, placed }: Driven,
): { body: Treatment; faults: Faults } {
  const read = new FieldReader();
  if (draft.pieceId === '') read.faults.pieceId = 'Found nothing; expected the piece that goes through it.';
  const { segments, deposits } = treatmentSegments(placed);
  if (deposits.length > 0)
    read.faults.segments = `Found a deposit in step ${deposits.join(', ')}; expected none, since growth belongs to a run.`;
  else if (segments.length === 0) read.faults.segments = 'Found no step; expected at least one.';
  return {
    body: {
      label: read.name('label', draft.label, 'a name of the treatment, such as anneal 1'),
      pieceId: draft.pieceId,
      startedAt: read.when('startedAt', draft.startedAt),
      segments,
      planId: planId || null,
      chamberId: chamberId || null,
      note: label ? `Driven by plan ${label}.` : '',
    },
    faults: read.faults,
  };
}

interface CarriedPlan {
  route: PathPlan['route'];
  chamberId: string;
  /** '' for a plan without a name */
  label: string;
  placed: readonly PlacedStep[];
}

/** A sitting with its run in the plan's chamber at the temperature and oxygen pressure of its deposit; all else of it stays. */
export function sittingOfPlan(sitting: Sitting, { route, chamberId, label, placed }: CarriedPlan): Sitting {
  const deposit = placed.find(({ kind }) => kind === 'deposit') ?? placed[0];
  if (!deposit) return sitting;
  const { text, unit } = easiestPressure(deposit.toPo2Atm * PA_PER_ATM);
  const { draft } = sitting.run;
  const named = label ? `Grown by plan ${label}.` : '';
  return {
    ...sitting,
    origin: 'run',
    run: {
      ...sitting.run,
      draft: {
        ...draft,
        route,
        chamberId,
        temperatureC: numberText(deposit.toC),
        temperaturePlace: 'surface',
        temperatureOffsetK: '',
        pressure: text,
        pressureUnit: unit,
        pressureKind: 'oxygen partial',
        note: draft.note.includes(named) ? draft.note : `${draft.note} ${named}`.trim(),
      },
    },
  };
}

/** Name under which the record page keeps what is typed of a sitting. */
export const sittingKey = (seriesId: string): string => `sitting 1 ${seriesId}`;
