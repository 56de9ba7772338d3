// What growth.deposition is asked for a wanted thickness: films of the series, a rate, a plume. Pure.
import { type CalibrationGroup, calibrationsOf, type SourceRate } from './pulse-calibrations.ts';
import { type InputSpec, type InputTexts, readInputs } from './stated-inputs.ts';
import type { Faults } from './typed-numbers.ts';

/** What the thickness comes from: a group of films, or a source that states its rate. */
export type Origin =
  | { readonly kind: 'pulses'; readonly group: CalibrationGroup }
  | { readonly kind: 'rate'; readonly rate: SourceRate }
  | { readonly kind: 'none' };

export function depositionInputs(origin: Origin, wantedNm: number | null): InputSpec[] {
  const group = origin.kind === 'pulses' ? origin.group : null;
  const bare = (value: number | null | undefined) => (value ? { value, standardUncertainty: null } : null);
  const thickness: InputSpec = {
    key: 'thicknessNm',
    ask: 'wanted.thicknessNm',
    label: 'Wanted thickness, nm',
    limits: { above: 0, max: 1e6, unit: 'nm' },
    usual: bare(wantedNm),
    from: wantedNm === null ? 'state it' : 'of the plan',
    isBare: true,
  };
  const bySource: InputSpec[] = group
    ? [
        {
          key: 'repetitionRateHz',
          label: 'Repetition rate, Hz',
          limits: { above: 0, max: 1e4, unit: 'Hz' },
          usual: bare(group.repetitionHz),
          from: group.repetitionHz ? 'newest run of this target and fluence' : 'not recorded: state it',
          isBare: true,
        },
        {
          key: 'commonPercent',
          isRare: true,
          ask: 'commonRelativeU',
          label: 'Scale of the thickness gauge, %',
          limits: { min: 0, max: 100, unit: '%' },
          usual: { value: 0, standardUncertainty: null },
          from: 'standard uncertainty that all measured thicknesses share; 0 unless stated',
          isBare: true,
        },
        {
          key: 'probabilityPercent',
          isRare: true,
          ask: 'wanted.probability',
          label: 'Odds that the interval holds, %',
          limits: { min: 50, max: 99.9, unit: '%' },
          usual: { value: 95, standardUncertainty: null },
          from: 'for one more film',
          isBare: true,
        },
      ]
    : [
        {
          key: 'rateNmPerS',
          label: 'Rate of the source, nm/s',
          limits: { above: 0, max: 1e6 },
          usual: origin.kind === 'rate' ? origin.rate.rateNmPerS : null,
          from:
            origin.kind === 'rate'
              ? `stated in run ${origin.rate.name}`
              : 'of evaporation, sputtering or another source',
        },
      ];
  return [thickness, ...bySource];
}

export const plumeInputs = (distanceMm: number | null): readonly InputSpec[] => [
  {
    key: 'distanceMm',
    ask: 'plume.distanceMm',
    label: 'Target to substrate, mm',
    limits: { above: 0, max: 1000, unit: 'mm' },
    usual: distanceMm ? { value: distanceMm, standardUncertainty: 1 } : null,
    from: distanceMm ? 'of the newest run; doubt of 1 mm assumed' : 'not recorded: state it',
  },
  {
    key: 'exponent',
    ask: 'plume.exponent',
    label: 'Exponent n of cosⁿ',
    limits: { min: 0, max: 100 },
    usual: { value: 8, standardUncertainty: 3 },
    from: 'flux into a solid angle, 4 to 12 [memory: usual plumes]; some print n + 3: fit it to a profile',
  },
  {
    key: 'offsetMm',
    ask: 'plume.offsetMm',
    label: 'Axis to middle of substrate, mm',
    limits: { min: 0, max: 1000, unit: 'mm' },
    usual: { value: 0, standardUncertainty: null },
    from: 'on the axis',
    isBare: true,
  },
  {
    key: 'widthMm',
    ask: 'plume.widthMm',
    label: 'Substrate across, mm',
    limits: { above: 0, max: 1000, unit: 'mm' },
    usual: { value: 10, standardUncertainty: null },
    from: 'a usual size',
    isBare: true,
  },
  {
    key: 'lengthMm',
    ask: 'plume.lengthMm',
    label: 'Substrate along, mm',
    limits: { above: 0, max: 1000, unit: 'mm' },
    usual: { value: 10, standardUncertainty: null },
    from: 'a usual size',
    isBare: true,
  },
];

interface DepositionSetting {
  readonly origin: Origin;
  readonly groups: readonly CalibrationGroup[];
  readonly wantedNm: number | null;
  readonly distanceMm: number | null;
  readonly isTurning: boolean;
}

/** One request for the thickness and one for the plume, so that what is missing of one leaves the other. */
export function depositionAsk(
  { origin, groups, wantedNm, distanceMm, isTurning }: DepositionSetting,
  texts: InputTexts,
): {
  thickness: object | null;
  plume: object | null;
  faults: Faults;
  specs: InputSpec[];
  plumeSpecs: readonly InputSpec[];
} {
  const specs = depositionInputs(origin, wantedNm);
  const plumeSpecs = plumeInputs(distanceMm);
  const read = readInputs(specs, texts);
  const plumeRead = readInputs(plumeSpecs, texts);
  const { values } = read;
  const isRead = Object.keys(read.faults).length === 0;
  const wanted = values.thicknessNm?.value;
  const one = (key: string): number => plumeRead.values[key]!.value;
  const isPlumeRead = Object.keys(plumeRead.faults).length === 0 && plumeRead.values.distanceMm !== null;
  return {
    specs,
    plumeSpecs,
    faults: { ...read.faults, ...plumeRead.faults },
    thickness: !isRead ? null : thicknessAsk(origin, groups, values, wanted),
    plume: !isPlumeRead
      ? null
      : {
          plume: {
            distanceMm: plumeRead.values.distanceMm,
            exponent: plumeRead.values.exponent,
            offsetMm: one('offsetMm'),
            isRotating: isTurning,
            widthMm: one('widthMm'),
            lengthMm: one('lengthMm'),
          },
        },
  };
}

function thicknessAsk(
  origin: Origin,
  groups: readonly CalibrationGroup[],
  values: ReturnType<typeof readInputs>['values'],
  wanted: number | undefined,
): object | null {
  if (origin.kind !== 'pulses')
    return wanted !== undefined && values.rateNmPerS
      ? { rateNmPerS: values.rateNmPerS, wanted: { thicknessNm: wanted } }
      : null;
  const { repetitionRateHz, commonPercent, probabilityPercent } = values;
  return {
    calibrations: calibrationsOf(groups),
    commonRelativeU: commonPercent!.value / 100,
    // a clock of the laser is known far better than the slope
    ...(repetitionRateHz
      ? { repetitionRateHz: { value: repetitionRateHz.value, standardUncertainty: 0 } }
      : {}),
    ...(wanted === undefined
      ? {}
      : {
          wanted: {
            thicknessNm: wanted,
            group: origin.group.name,
            probability: probabilityPercent!.value / 100,
          },
        }),
  };
}
