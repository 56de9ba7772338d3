// What a person states beside a measurement file, in the trade's units; records hold SI. Pure.
import type { MeasurementKind, MeasurementSettings } from './kinds.ts';

export type NumberSetting = Exclude<keyof MeasurementSettings, 'anode'>;

interface NumberField {
  name: NumberSetting;
  label: string;
  unit: string;
  /** trade number = SI number times this */
  factor: number;
  /** limits of the record, in the trade's unit */
  min: number;
  max: number;
}

const NUMBER_FIELDS: readonly NumberField[] = [
  { name: 'temperatureK', label: 'Temperature', unit: 'K', factor: 1, min: 0, max: 400 },
  { name: 'fieldT', label: 'Field', unit: 'T', factor: 1, min: -100, max: 100 },
  { name: 'thetaDeg', label: 'Field angle from film normal', unit: '°', factor: 1, min: -90, max: 90 },
  { name: 'tapDistanceM', label: 'Tap distance', unit: 'mm', factor: 1e3, min: 1e-6, max: 1e5 },
  { name: 'bridgeWidthM', label: 'Bridge width', unit: 'µm', factor: 1e6, min: 1e-3, max: 1e6 },
  { name: 'criterionVPerM', label: 'Criterion', unit: 'µV/cm', factor: 1e4, min: 1e-4, max: 1e4 },
  { name: 'wavelengthAngstrom', label: 'Wavelength', unit: 'Å', factor: 1, min: 0.1, max: 3 },
];

interface KindSettings {
  /** in the order asked */
  fields: readonly NumberSetting[];
  hasAnode: boolean;
  /** without these the numbers read from the file cannot be judged */
  needed: readonly NumberSetting[];
}

export const SETTINGS_OF_KIND: Record<MeasurementKind, KindSettings> = {
  'diffraction scan': { fields: ['wavelengthAngstrom'], hasAnode: true, needed: [] },
  resistance: { fields: ['fieldT', 'thetaDeg'], hasAnode: false, needed: [] },
  'magnetic transition': { fields: ['fieldT', 'thetaDeg'], hasAnode: false, needed: [] },
  'current-voltage': {
    fields: ['temperatureK', 'fieldT', 'thetaDeg', 'tapDistanceM', 'bridgeWidthM', 'criterionVPerM'],
    hasAnode: false,
    needed: ['temperatureK', 'fieldT', 'tapDistanceM', 'bridgeWidthM'],
  },
  'magnetisation loop': { fields: ['temperatureK', 'thetaDeg'], hasAnode: false, needed: ['temperatureK'] },
};

export function settingField(name: NumberSetting): NumberField {
  return NUMBER_FIELDS.find((field) => field.name === name)!;
}

/** Rounds away what turning a unit adds. */
const plain = (value: number): number => Number(value.toPrecision(12));

/** A setting in the trade's unit; undefined if it is not stated. */
export function tradeValue(settings: MeasurementSettings, name: NumberSetting): number | undefined {
  const value = settings[name];
  return value === undefined ? undefined : plain(value * settingField(name).factor);
}

/** The settings with one number set from the trade's unit, or taken out. */
export function withTradeValue(
  settings: MeasurementSettings,
  name: NumberSetting,
  tradeNumber: number | undefined,
): MeasurementSettings {
  const { [name]: _before, ...rest } = settings;
  return tradeNumber === undefined
    ? rest
    : { ...rest, [name]: plain(tradeNumber / settingField(name).factor) };
}

/** Names of the needed settings that are not stated. */
export function missingSettings(kind: MeasurementKind, settings: MeasurementSettings): NumberSetting[] {
  return SETTINGS_OF_KIND[kind].needed.filter((name) => settings[name] === undefined);
}

/** The settings of a kind in one line: `30 K, 5 T, tap distance 0.5 mm`. */
export function settingsText(kind: MeasurementKind, settings: MeasurementSettings): string {
  const { fields, hasAnode } = SETTINGS_OF_KIND[kind];
  const numbers = fields.flatMap((name) => {
    const value = tradeValue(settings, name);
    if (value === undefined) return [];
    const { label, unit } = settingField(name);
    const number = `${Number(value.toPrecision(5))}${unit === '°' ? '' : ' '}${unit}`;
    return [name === 'temperatureK' || name === 'fieldT' ? number : `${label.toLowerCase()} ${number}`];
  });
  return [...(hasAnode && settings.anode ? [`${settings.anode} anode`] : []), ...numbers].join(', ');
}
