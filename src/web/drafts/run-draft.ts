// A deposition run as it is typed, and as it is kept. Pure.

import type { Stated } from '../../records/common.ts';
import type { Run } from '../../records/kinds.ts';
import { fluenceJPerM2, oxygenPressurePa, surfaceTemperatureC } from '../../science/growth/deposition.ts';
import { nextName } from './names.ts';
import { easiestPressure, type PressureUnit, readPressurePa } from './pressure-units.ts';
import {
  type Faults,
  FieldReader,
  numberText,
  readTemperatureC,
  statedText,
  whenText,
} from './typed-numbers.ts';

/** Every field as text; `''` is not stated. */
export interface RunDraft {
  label: string;
  targetId: string;
  startedAt: string;
  route: Run['route'];
  source: Run['source'];
  energyAtTargetMj: string;
  energyBeforeWindowMj: string;
  energyAfterWindowMj: string;
  spotAreaMm2: string;
  distanceMm: string;
  repetitionHz: string;
  pulses: string;
  pulsesSinceResurfacing: string;
  preAblationPulses: string;
  rateNmPerS: string;
  chamberId: string;
  basePressure: string;
  basePressureUnit: PressureUnit;
  temperatureC: string;
  temperaturePlace: NonNullable<Run['temperature']>['place'];
  temperatureOffsetK: string;
  pressure: string;
  pressureUnit: PressureUnit;
  pressureKind: NonNullable<Run['pressure']>['kind'];
  gauge: string;
  oxygenPercent: string;
  mounting: string;
  isWindowCleaned: '' | 'yes' | 'no';
  note: string;
}

export const EMPTY_RUN: RunDraft = {
  label: '',
  targetId: '',
  startedAt: '',
  route: 'in situ',
  source: 'pulsed laser',
  energyAtTargetMj: '',
  energyBeforeWindowMj: '',
  energyAfterWindowMj: '',
  spotAreaMm2: '',
  distanceMm: '',
  repetitionHz: '',
  pulses: '',
  pulsesSinceResurfacing: '',
  preAblationPulses: '',
  rateNmPerS: '',
  chamberId: '',
  basePressure: '',
  basePressureUnit: 'mTorr',
  temperatureC: '',
  temperaturePlace: 'heater block',
  temperatureOffsetK: '',
  pressure: '',
  pressureUnit: 'mTorr',
  pressureKind: 'total',
  gauge: '',
  oxygenPercent: '100',
  mounting: '',
  isWindowCleaned: '',
  note: '',
};

/** A stored run as its form shows it. */
export function runDraftOf(run: Run): RunDraft {
  const { temperature, pressure, basePressurePa } = run;
  const base = basePressurePa === null ? null : easiestPressure(basePressurePa);
  const gas = pressure === null ? null : easiestPressure(pressure.valuePa);
  return {
    label: run.label,
    targetId: run.targetId ?? '',
    startedAt: whenText(run.startedAt),
    route: run.route,
    source: run.source,
    energyAtTargetMj: statedText(run.energyAtTargetMj),
    energyBeforeWindowMj: statedText(run.energyBeforeWindowMj),
    energyAfterWindowMj: statedText(run.energyAfterWindowMj),
    spotAreaMm2: statedText(run.spotAreaMm2),
    distanceMm: numberText(run.distanceMm),
    repetitionHz: numberText(run.repetitionHz),
    pulses: numberText(run.pulses),
    pulsesSinceResurfacing: numberText(run.pulsesSinceResurfacing),
    preAblationPulses: numberText(run.preAblationPulses),
    rateNmPerS: statedText(run.rateNmPerS),
    chamberId: run.chamberId ?? '',
    basePressure: base?.text ?? '',
    basePressureUnit: base?.unit ?? 'mTorr',
    temperatureC: numberText(temperature?.valueC),
    temperaturePlace: temperature?.place ?? 'heater block',
    temperatureOffsetK: statedText(temperature?.offsetK ?? null),
    pressure: gas?.text ?? '',
    pressureUnit: gas?.unit ?? 'mTorr',
    pressureKind: pressure?.kind ?? 'total',
    gauge: pressure?.gauge ?? '',
    oxygenPercent: numberText(pressure === null ? 100 : pressure.oxygenShare * 100),
    mounting: run.mounting,
    isWindowCleaned: run.isWindowCleaned === null ? '' : run.isWindowCleaned ? 'yes' : 'no',
    note: run.note,
  };
}

/**
 * The next run after a run: all as it was, but a name of its own, no date, and the pulses counted on since the target
 * was resurfaced.
 */
export function nextRunDraft(last: Run, takenLabels: readonly string[]): RunDraft {
  const { pulses, pulsesSinceResurfacing } = last;
  return {
    ...runDraftOf(last),
    label: nextName(last.label, takenLabels),
    startedAt: '',
    pulsesSinceResurfacing:
      pulsesSinceResurfacing === null ? '' : numberText(pulsesSinceResurfacing + (pulses ?? 0)),
    isWindowCleaned: '',
    note: '',
  };
}

const ENERGY = { above: 0, max: 1e5, unit: 'mJ' };

/** The run that a draft describes, and what is wrong with it; to be kept only where `faults` is empty. */
export function readRun(draft: RunDraft): { run: Run; faults: Faults } {
  const read = new FieldReader();
  const valueC = read.take('temperatureC', readTemperatureC(draft.temperatureC));
  const offsetK = read.stated('temperatureOffsetK', draft.temperatureOffsetK, {
    min: -500,
    max: 500,
    unit: 'K',
  });
  const valuePa = read.take(
    'pressure',
    readPressurePa(draft.pressure, draft.pressureUnit, { above: 0, max: 1e7 }),
  );
  const oxygenPercent = read.number('oxygenPercent', draft.oxygenPercent, { min: 0, max: 100, unit: '%' });
  if (valuePa !== null && draft.pressureKind === 'total' && draft.oxygenPercent.trim() === '')
    read.faults.oxygenPercent = 'Found nothing; expected the share of O₂ of a total pressure, such as 100 %.';
  if (draft.temperatureOffsetK.trim() !== '' && draft.temperatureC.trim() === '')
    read.faults.temperatureC = 'Found nothing; expected the reading that the offset belongs to.';
  const run: Run = {
    label: read.name('label', draft.label, "the lab's own name of the run, such as D07"),
    targetId: draft.targetId === '' ? null : draft.targetId,
    startedAt: read.when('startedAt', draft.startedAt),
    route: draft.route,
    source: draft.source,
    energyAtTargetMj: read.stated('energyAtTargetMj', draft.energyAtTargetMj, ENERGY),
    energyBeforeWindowMj: read.stated('energyBeforeWindowMj', draft.energyBeforeWindowMj, ENERGY),
    energyAfterWindowMj: read.stated('energyAfterWindowMj', draft.energyAfterWindowMj, ENERGY),
    spotAreaMm2: read.stated('spotAreaMm2', draft.spotAreaMm2, { above: 0, max: 1e4, unit: 'mm²' }),
    distanceMm: read.number('distanceMm', draft.distanceMm, { above: 0, max: 1000, unit: 'mm' }),
    repetitionHz: read.number('repetitionHz', draft.repetitionHz, { above: 0, max: 10_000, unit: 'Hz' }),
    pulses: read.number('pulses', draft.pulses, { min: 0, max: 1e9, isWhole: true }),
    pulsesSinceResurfacing: read.number('pulsesSinceResurfacing', draft.pulsesSinceResurfacing, {
      min: 0,
      max: 1e9,
      isWhole: true,
    }),
    preAblationPulses: read.number('preAblationPulses', draft.preAblationPulses, {
      min: 0,
      max: 1e9,
      isWhole: true,
    }),
    rateNmPerS: read.stated('rateNmPerS', draft.rateNmPerS, { above: 0, max: 1e4, unit: 'nm/s' }),
    chamberId: draft.chamberId === '' ? null : draft.chamberId,
    basePressurePa: read.take(
      'basePressure',
      readPressurePa(draft.basePressure, draft.basePressureUnit, { above: 0, max: 1e5 }),
    ),
    temperature: valueC === null ? null : { valueC, place: draft.temperaturePlace, offsetK },
    pressure:
      valuePa === null
        ? null
        : {
            valuePa,
            kind: draft.pressureKind,
            gauge: draft.gauge.trim(),
            oxygenShare: Number(((oxygenPercent ?? 100) / 100).toPrecision(12)),
          },
    mounting: draft.mounting.trim(),
    isWindowCleaned: draft.isWindowCleaned === '' ? null : draft.isWindowCleaned === 'yes',
    note: draft.note,
  };
  return { run, faults: read.faults };
}

/** What follows from the readings of a run; null where a reading is missing. */
export interface RunDerived {
  /** with the place whose energy it rests on */
  fluence: { jPerM2: Stated; from: string } | null;
  surfaceC: Stated | null;
  oxygenPa: number | null;
}

export function runDerived(run: Run): RunDerived {
  const energy = run.energyAtTargetMj
    ? { stated: run.energyAtTargetMj, from: 'energy at the target' }
    : run.energyAfterWindowMj
      ? { stated: run.energyAfterWindowMj, from: 'energy after the window' }
      : null;
  const { spotAreaMm2: spot, temperature, pressure } = run;
  return {
    fluence:
      energy && spot
        ? { jPerM2: fluenceJPerM2(scaled(energy.stated, 1e-3), scaled(spot, 1e-6)), from: energy.from }
        : null,
    surfaceC: temperature ? surfaceTemperatureC(temperature.valueC, temperature.offsetK) : null,
    oxygenPa: pressure ? oxygenPressurePa(pressure.valuePa, pressure.kind, pressure.oxygenShare) : null,
  };
}

/** A number in another unit: value and uncertainty alike. */
function scaled({ value, standardUncertainty }: Stated, factor: number): Stated {
  return {
    value: value * factor,
    standardUncertainty: standardUncertainty === null ? null : standardUncertainty * factor,
  };
}
