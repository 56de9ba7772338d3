// A chamber as it is typed and as it is kept: what stands between a commanded path and the film. Pure.
import type { Chamber } from '../../records/kinds.ts';
import { type Faults, FieldReader, numberText, statedText } from './typed-numbers.ts';

export interface ChamberDraft {
  label: string;
  volumeL: string;
  oxygenFlowSccm: string;
  pumpingWhileFillingLPerS: string;
  pumpingLPerS: string;
  gasC: string;
  thermalLagS: string;
  temperaturePlace: Chamber['temperaturePlace'];
  offsetK: string;
  pressureKind: Chamber['pressureKind'];
  gauge: string;
  oxygenPercent: string;
  note: string;
}

export const EMPTY_CHAMBER: ChamberDraft = {
  label: '',
  volumeL: '',
  oxygenFlowSccm: '',
  pumpingWhileFillingLPerS: '',
  pumpingLPerS: '',
  gasC: '25',
  thermalLagS: '',
  temperaturePlace: 'heater block',
  offsetK: '',
  pressureKind: 'total',
  gauge: '',
  oxygenPercent: '100',
  note: '',
};

export function chamberDraftOf(chamber: Chamber): ChamberDraft {
  return {
    label: chamber.label,
    volumeL: statedText(chamber.volumeL),
    oxygenFlowSccm: statedText(chamber.oxygenFlowSccm),
    pumpingWhileFillingLPerS: statedText(chamber.pumpingWhileFillingLPerS),
    pumpingLPerS: statedText(chamber.pumpingLPerS),
    gasC: numberText(chamber.gasC),
    thermalLagS: statedText(chamber.thermalLagS),
    temperaturePlace: chamber.temperaturePlace,
    offsetK: statedText(chamber.offsetK),
    pressureKind: chamber.pressureKind,
    gauge: chamber.gauge,
    oxygenPercent: numberText(Number((chamber.oxygenShare * 100).toPrecision(12))),
    note: chamber.note,
  };
}

/** @param taken names of the other chambers */
export function readChamber(
  draft: ChamberDraft,
  taken: readonly string[],
): { body: Chamber; faults: Faults } {
  const read = new FieldReader();
  const label = read.name('label', draft.label, 'a name of the chamber');
  if (taken.includes(label))
    read.faults.label = `Found ${label}, which is taken; expected a name of its own.`;
  const oxygenPercent = read.number('oxygenPercent', draft.oxygenPercent, { above: 0, max: 100, unit: '%' });
  if (draft.oxygenPercent.trim() === '')
    read.faults.oxygenPercent = 'Found nothing; expected the share of oxygen in the gas, %.';
  return {
    body: {
      label,
      volumeL: read.stated('volumeL', draft.volumeL, { above: 0, max: 1e6, unit: 'L' }),
      oxygenFlowSccm: read.stated('oxygenFlowSccm', draft.oxygenFlowSccm, { min: 0, max: 1e6, unit: 'sccm' }),
      pumpingWhileFillingLPerS: read.stated('pumpingWhileFillingLPerS', draft.pumpingWhileFillingLPerS, {
        min: 0,
        max: 1e6,
        unit: 'L/s',
      }),
      pumpingLPerS: read.stated('pumpingLPerS', draft.pumpingLPerS, { min: 0, max: 1e6, unit: 'L/s' }),
      gasC: read.number('gasC', draft.gasC, { min: -200, max: 1000, unit: '°C' }),
      thermalLagS: read.stated('thermalLagS', draft.thermalLagS, { min: 0, max: 1e5, unit: 's' }),
      temperaturePlace: draft.temperaturePlace,
      offsetK: read.stated('offsetK', draft.offsetK, { min: -500, max: 500, unit: 'K' }),
      pressureKind: draft.pressureKind,
      gauge: draft.gauge.trim(),
      oxygenShare: Number(((oxygenPercent ?? 100) / 100).toPrecision(12)),
      note: draft.note,
    },
    faults: read.faults,
  };
}
