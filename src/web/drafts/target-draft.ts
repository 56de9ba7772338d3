// A target's batch as it is typed, and the request it makes to `target.batch`. Pure.
import type { CationRatio } from '../../records/common.ts';
import type { Segment } from '../../records/kinds.ts';
import type { ResolvedAddition } from '../../science/target/additions.ts';
import {
  type FactorsDraft,
  type FilmAim,
  type FilmKnowledge,
  NOTHING_KNOWN,
  readFilmAim,
} from './film-aim.ts';
import {
  type KnownLot,
  type PrecursorAsk,
  type PrecursorDraft,
  proposedPrecursors,
  readPowderRows,
} from './powder-rows.ts';
import { readSegments, type SegmentDraft } from './segment-rows.ts';
import { type SinterAsk, sinterAsk } from './sintering-draft.ts';
import { type Faults, FieldReader } from './typed-numbers.ts';
import { emptyWanted, readWanted, type Wanted, type WantedDraft } from './wanted-draft.ts';

export interface TargetDraft extends WantedDraft, FactorsDraft {
  label: string;
  wantedIn: 'target' | 'film';
  amountAs: 'mass' | 'pellet';
  totalMassG: string;
  diameterMm: string;
  thicknessMm: string;
  densityPercent: string;
  balanceStepMg: string;
  oxygenPer123: string;
  /** null: what the ratio asks for, from the recorded lots and the library */
  precursors: PrecursorDraft[] | null;
  /** where no step is written down */
  sinterGas: string;
  segments: SegmentDraft[];
  grainRadiusUm: string;
  isPorous: '' | 'yes' | 'no';
  gasSccmPerG: string;
  temperatureUK: string;
  note: string;
}

export function emptyTarget(ratio: string, rareEarth = 'Y'): TargetDraft {
  return {
    ...emptyWanted(ratio, rareEarth),
    label: '',
    wantedIn: 'target',
    factors: {},
    losses: {},
    lossesFrom: '',
    amountAs: 'mass',
    totalMassG: '20',
    diameterMm: '25',
    thicknessMm: '5',
    densityPercent: '90',
    balanceStepMg: '0.1',
    oxygenPer123: '',
    precursors: null,
    sinterGas: '',
    segments: [],
    grainRadiusUm: '',
    isPorous: '',
    gasSccmPerG: '',
    temperatureUK: '',
    note: '',
  };
}

export interface BatchAsk extends Wanted {
  totalMassG?: number;
  pellet?: { diameterMm: number; thicknessMm: number; relativeDensity: number };
  oxygenPer123?: number;
  precursors: PrecursorAsk[];
  balanceStepMg: number;
}

export interface ReadTarget {
  wanted: Wanted | null;
  /** cations wanted, in the target or in the film */
  wantedCations: CationRatio | null;
  additions: readonly ResolvedAddition[];
  /** the way to the film's target; null where the ratio is the target's own */
  aim: FilmAim | null;
  /** cations of the target that is weighed */
  cations: CationRatio | null;
  rows: PrecursorDraft[];
  /** null while something cannot be read */
  request: BatchAsk | null;
  segments: Segment[];
  /** leading steps that can be read */
  readable: Segment[];
  sinter: SinterAsk | null;
  /** `ratio`, or `0.formula` for the field of a row; the name is no part of the batch and is checked when it is kept */
  faults: Faults;
}

export function readTarget(
  draft: TargetDraft,
  rareEarth: string,
  lots: readonly KnownLot[],
  known: FilmKnowledge = NOTHING_KNOWN,
): ReadTarget {
  const read = new FieldReader();
  const { wanted, cations: wantedCations, additions } = readWanted(draft, rareEarth, read);
  const aim =
    draft.wantedIn === 'film' && wantedCations ? readFilmAim(wantedCations, draft, known, read) : null;
  const cations = aim ? aim.answer.target.cations : wantedCations;
  const rows = draft.precursors ?? (wantedCations ? proposedPrecursors(wantedCations, lots) : []);
  const amount = readAmount(draft, read);
  const balanceStepMg = readPositive(read, draft, 'balanceStepMg', 'the step of the balance', 10_000, 'mg');
  const oxygenPer123 = read.number('oxygenPer123', draft.oxygenPer123, { min: 6, max: 7 });
  const precursors = readPowderRows(rows, read);
  if (cations && precursors.length === 0) read.faults.precursors = 'Found no powder; expected at least one.';
  const hasBatchFault = Object.keys(read.faults).length > 0;
  const { segments, readable } = readSegments(draft.segments, 'step.', read);
  if (segments.length > 60) read.faults.segments = `Found ${segments.length} steps; expected at most 60.`;
  const grainRadiusUm = read.stated('grainRadiusUm', draft.grainRadiusUm, { above: 0, max: 1e4, unit: 'µm' });
  const gasSccmPerG = read.stated('gasSccmPerG', draft.gasSccmPerG, { above: 0, max: 1e4, unit: 'sccm/g' });
  const temperatureUK = read.number('temperatureUK', draft.temperatureUK, { min: 0, max: 200, unit: 'K' });
  const isRead = wanted && cations && amount && balanceStepMg !== null && !hasBatchFault;
  const isWholePath = readable.length === segments.length;
  return {
    wanted,
    wantedCations,
    additions,
    aim,
    cations,
    rows,
    request: isRead
      ? {
          ...(aim ? { composition: { cations: aim.answer.target.cations } } : wanted),
          ...amount,
          ...(oxygenPer123 === null ? {} : { oxygenPer123 }),
          precursors,
          balanceStepMg,
        }
      : null,
    segments,
    readable,
    sinter: isWholePath
      ? sinterAsk(cations, segments, {
          grainRadiusUm,
          isPorous: draft.isPorous === '' ? null : draft.isPorous === 'yes',
          gasSccmPerG,
          temperatureUK,
        })
      : null,
    faults: read.faults,
  };
}

/** A number that must be there and above 0. */
function readPositive(
  read: FieldReader,
  draft: TargetDraft,
  field: 'totalMassG' | 'diameterMm' | 'thicknessMm' | 'densityPercent' | 'balanceStepMg',
  what: string,
  max: number,
  unit: string,
): number | null {
  if (draft[field].trim() === '') read.faults[field] = `Found nothing; expected ${what}, ${unit}.`;
  return read.number(field, draft[field], { above: 0, max, unit });
}

function readAmount(
  draft: TargetDraft,
  read: FieldReader,
): Pick<BatchAsk, 'totalMassG'> | Pick<BatchAsk, 'pellet'> | null {
  if (draft.amountAs === 'mass') {
    const totalMassG = readPositive(read, draft, 'totalMassG', 'the mass of the fired target', 10_000, 'g');
    return totalMassG === null ? null : { totalMassG };
  }
  const diameterMm = readPositive(read, draft, 'diameterMm', 'the diameter of the pellet', 500, 'mm');
  const thicknessMm = readPositive(read, draft, 'thicknessMm', 'the thickness of the pellet', 200, 'mm');
  const percent = readPositive(
    read,
    draft,
    'densityPercent',
    'the share of the density without pores',
    100,
    '%',
  );
  if (diameterMm === null || thicknessMm === null || percent === null) return null;
  return {
    pellet: { diameterMm, thicknessMm, relativeDensity: Number((percent / 100).toPrecision(12)) },
  };
}
