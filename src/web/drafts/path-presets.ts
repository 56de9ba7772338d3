// Where growers begin a heat and gas path; every number is [common practice] and is meant to be changed. Pure.
import type { PathPlan } from '../../records/kinds.ts';
import { type PathDraft, type StepDraft, type StepKind, step } from './path-draft.ts';
import type { PressureUnit } from './pressure-units.ts';
import { ROOM_C } from './treatment-draft.ts';
import { numberText } from './typed-numbers.ts';

interface Preset {
  readonly id: string;
  readonly label: string;
  readonly route: PathPlan['route'];
  readonly startPo2: string;
  readonly startPo2Unit: PressureUnit;
  readonly steps: readonly (Partial<StepDraft> & { kind: StepKind })[];
}

/** Where growers begin; every number of them is [common practice] and is meant to be changed. */
export const PRESETS: readonly Preset[] = [
  {
    id: 'in situ',
    label: 'in situ: deposit at 780 °C, 150 mTorr, then oxygen on cooling',
    route: 'in situ',
    startPo2: '150',
    startPo2Unit: 'mTorr',
    steps: [
      { kind: 'ramp', toC: '780', rate: '30' },
      { kind: 'hold', duration: '5 min' },
      { kind: 'deposit', thicknessNm: '500', duration: '500 s' },
      { kind: 'gas', po2: '0.8', po2Unit: 'atm', duration: '2 min' },
      { kind: 'cool', toC: '500', rate: '20' },
      { kind: 'hold', duration: '30 min' },
      { kind: 'cool', toC: '25', rate: '10' },
    ],
  },
  {
    id: 'ex situ',
    label: 'ex situ: amorphous layer, melt at low oxygen, let oxygen in',
    route: 'ex situ',
    startPo2: '0.02',
    startPo2Unit: 'mTorr',
    steps: [
      { kind: 'ramp', toC: '400', rate: '60' },
      { kind: 'gas', po2: '20', po2Unit: 'mTorr', duration: '30 s' },
      { kind: 'ramp', toC: '860', rate: '200' },
      { kind: 'hold', duration: '10 s' },
      { kind: 'gas', po2: '100', po2Unit: 'mTorr', duration: '10 s' },
      { kind: 'hold', duration: '30 s' },
      { kind: 'cool', toC: '500', rate: '100' },
      { kind: 'gas', po2: '0.8', po2Unit: 'atm', duration: '2 min' },
      { kind: 'hold', duration: '30 min' },
      { kind: 'cool', toC: '25', rate: '10' },
    ],
  },
  {
    id: 'hybrid',
    label: 'hybrid: liquid layer first, then film',
    route: 'in situ',
    startPo2: '20',
    startPo2Unit: 'mTorr',
    steps: [
      { kind: 'ramp', toC: '820', rate: '30' },
      { kind: 'deposit', thicknessNm: '50', duration: '50 s' },
      { kind: 'hold', duration: '10 s' },
      { kind: 'gas', po2: '100', po2Unit: 'mTorr', duration: '10 s' },
      { kind: 'deposit', thicknessNm: '500', duration: '100 s' },
      { kind: 'gas', po2: '0.8', po2Unit: 'atm', duration: '2 min' },
      { kind: 'cool', toC: '500', rate: '20' },
      { kind: 'hold', duration: '30 min' },
      { kind: 'cool', toC: '25', rate: '10' },
    ],
  },
];

/** A draft with the steps of a preset; film and chamber stay. */
export function withPreset(
  draft: PathDraft,
  { label, route, startPo2, startPo2Unit, steps }: Preset,
): PathDraft {
  return {
    ...draft,
    planId: '',
    treatmentId: '',
    label: '',
    note: `Begun from common practice, ${label}.`,
    route,
    typedAs: 'surface',
    startC: numberText(ROOM_C),
    startPo2,
    startPo2Unit,
    steps: steps.map(({ kind, ...fields }, i) => step(`preset-${i}`, kind, fields)),
  };
}

/** What the page begins with: the preset of the route in situ, for a ratio. */
export function emptyPath(ratio: string): PathDraft {
  const bare: PathDraft = {
    planId: '',
    treatmentId: '',
    label: '',
    route: 'in situ',
    ratio,
    thicknessNm: '500',
    substrate: 'SrTiO3',
    chamberId: '',
    typedAs: 'surface',
    startC: '',
    startPo2: '',
    startPo2Unit: 'mTorr',
    steps: [],
    note: '',
  };
  return withPreset(bare, PRESETS[0]!);
}
