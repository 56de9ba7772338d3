// What a person states beside a measurement file, in the trade's units; records hold SI. Pure.
import type { MeasurementKind, MeasurementSettings } from './kinds.ts';

export type NumberSetting = Exclude<keyof MeasurementSettings, 'anode' | 'pressureKind'>;

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
  {
    name: 'thermometerUncertaintyK',
    label: 'Uncertainty of a temperature',
    unit: 'K',
    factor: 1,
    min: 0,
    max: 20,
  },
  { name: 'oxygenShare', label: 'Share of O₂ in the gas', unit: '%', factor: 100, min: 0, max: 100 },
];

interface KindSettings {
  /** in the order asked */
  fields: readonly NumberSetting[];
  hasAnode: boolean;
  /** the file may hold a pressure, of the gas or of its oxygen */
  hasPressure?: boolean;
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
  'chamber log': {
    fields: ['oxygenShare', 'thermometerUncertaintyK'],
    hasAnode: false,
    hasPressure: true,
    needed: [],
  },
};

const PRESSURE_ROLES = ['pressurePa', 'log10PressurePa'];
export const hasPressure = (roles: readonly string[]): boolean =>
  roles.some((role) => PRESSURE_ROLES.includes(role));

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

/**
 * Names of the needed settings that are not stated.
 *
 * @param roles of the file's columns: a logged total pressure needs the share of oxygen
 */
export function missingSettings(
  kind: MeasurementKind,
  settings: MeasurementSettings,
  roles: readonly string[] = [],
): NumberSetting[] {
  const { needed } = SETTINGS_OF_KIND[kind];
  const isTotal = hasPressure(roles) && settings.pressureKind !== 'oxygen partial';
  return [...needed, ...(isTotal ? (['oxygenShare'] as const) : [])].filter(
    (name) => settings[name] === undefined,
  );
}

/** The settings of a kind in one line: `30 K, 5 T, tap distance 0.5 mm`. */
export function settingsText(kind: MeasurementKind, settings: MeasurementSettings): string {
  const { fields, hasAnode, hasPressure: mayHold } = SETTINGS_OF_KIND[kind];
  const numbers = fields.flatMap((name) => {
    const value = tradeValue(settings, name);
    if (value === undefined) return [];
    const { label, unit } = settingField(name);
    const number = `${Number(value.toPrecision(5))}${unit === '°' ? '' : ' '}${unit}`;
    return [name === 'temperatureK' || name === 'fieldT' ? number : `${label.toLowerCase()} ${number}`];
  });
  return [
    ...(hasAnode && settings.anode ? [`${settings.anode} anode`] : []),
    ...(mayHold && settings.pressureKind ? [`pressure: ${settings.pressureKind}`] : []),
    ...numbers,
  ].join(', ');
}
