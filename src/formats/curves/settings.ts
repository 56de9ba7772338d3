// What a file's name and header lines say of temperature, field, angle and geometry; only what is stated with its unit.
import { findUnit } from '../units.ts';
import type { FileSettings } from './schema.ts';

type NumberSetting = Exclude<keyof FileSettings, 'anode'>;

/** Where a setting is looked for, and what is believed. */
interface Source {
  readonly setting: NumberSetting;
  readonly key: RegExp;
  readonly dimension: string;
  /** SI to the setting's unit */
  readonly scale: number;
  readonly min: number;
  readonly max: number;
}

const SOURCES: readonly Source[] = [
  {
    setting: 'temperatureK',
    key: /^(sample |set |measure\w* )?(temperature|temp\.?|t)$/i,
    dimension: 'temperature',
    scale: 1,
    min: 0,
    max: 400,
  },
  {
    setting: 'fieldT',
    key: /^(applied |magnetic |set )*(field|b|h|mu0 ?h)$/i,
    dimension: 'field',
    scale: 1,
    min: -100,
    max: 100,
  },
  {
    setting: 'wavelengthAngstrom',
    key: /^(wave ?length|lambda)( ?1)?$/i,
    dimension: 'length',
    scale: 1e10,
    min: 0.1,
    max: 3,
  },
  {
    setting: 'tapDistanceM',
    key: /(tap|contact|voltage)\w* (distance|spacing|separation)/i,
    dimension: 'length',
    scale: 1,
    min: 1e-9,
    max: 100,
  },
  {
    setting: 'bridgeWidthM',
    key: /(bridge|track|strip) width/i,
    dimension: 'length',
    scale: 1,
    min: 1e-9,
    max: 1,
  },
];
const NUMBER_AND_UNIT = /^([-+]?\d{1,9}(?:[.,]\d{1,9})?(?:[eE][-+]?\d{1,3})?)\s*(\S{0,12})$/;
const MAX_PAIRS = 200;

/** Words for no field at all; an applied field of `none` is the film's own field alone. */
const NO_FIELD = /^(none|zero|off|self[ -]?field)$/i;

/** `77 K`, or `77` under a key that names the unit: in SI. */
function statedSi(value: string, keyUnit: string, dimension: string): number | undefined {
  if (dimension === 'field' && NO_FIELD.test(value.trim())) return 0;
  const match = NUMBER_AND_UNIT.exec(value.trim().slice(0, 60));
  if (match === null) return undefined;
  const unit = findUnit(match[2] || keyUnit);
  if (unit?.dimension !== dimension) return undefined;
  return Number(match[1]!.replace(',', '.')) * unit.factor + unit.offset;
}

function fromComments(comments: Readonly<Record<string, string>>): Map<NumberSetting, number[]> {
  const found = new Map<NumberSetting, number[]>();
  for (const [key, value] of Object.entries(comments).slice(0, MAX_PAIRS)) {
    const parted = /^(.*?)\s*(?:[[(]([^\])]{1,12})[\])]|\/\s*(\S{1,12}))?$/.exec(key.slice(0, 80))!;
    const source = SOURCES.find((each) => each.key.test(parted[1]!.trim()));
    if (source === undefined) continue;
    const si = statedSi(value, parted[2] ?? parted[3] ?? '', source.dimension);
    if (si !== undefined) addTo(found, source, si * source.scale);
  }
  return found;
}

function addTo(found: Map<NumberSetting, number[]>, { setting, min, max }: Source, value: number): void {
  if (value >= min && value <= max) found.set(setting, [...(found.get(setting) ?? []), value]);
}

/** `77K`, `0p5T`, `500 Oe`, `45deg` as whole words of a file name. */
export function settingsFromFileName(fileName: string): FileSettings {
  return settled(fromName(fileName));
}

function fromName(fileName: string): Map<NumberSetting, number[]> {
  const found = new Map<NumberSetting, number[]>();
  const name = fileName
    .replace(/^.*[/\\]/, '')
    .replace(/\.[A-Za-z]\w{0,4}$/, '')
    .slice(0, 255);
  const words = /(?<![A-Za-z0-9.,])(-?\d{1,6}(?:[.,p]\d{1,6})?)\s?(K|mK|T|mT|Oe|kOe|G|deg)(?![A-Za-z0-9])/g;
  for (const [, digits, unitText] of name.matchAll(words)) {
    // a dash after a letter or digit parts words (`loop-5T`) and is not matched; after a blank or `_` it is a sign
    const value = Number(digits!.replace(/[,p]/, '.'));
    if (unitText === 'deg') {
      if (Math.abs(value) <= 90) found.set('thetaDeg', [...(found.get('thetaDeg') ?? []), value]);
      continue;
    }
    const unit = findUnit(unitText!)!;
    const source = SOURCES.find(({ dimension }) => dimension === unit.dimension)!;
    addTo(found, source, value * unit.factor + unit.offset);
  }
  return found;
}

/** A setting stated once, or always alike; one stated with different values is left out. */
function settled(found: Map<NumberSetting, number[]>): FileSettings {
  const settings: FileSettings = {};
  for (const [setting, values] of found) {
    const first = values[0]!;
    if (values.every((value) => Math.abs(value - first) <= 0.005 * Math.abs(first)))
      settings[setting] = first;
  }
  return settings;
}

/**
 * Settings that the file itself states with their unit, in its name or its header lines; what two places state
 * differently is left out, so that it is asked.
 */
export function settingsFromFile(fileName: string, comments: Readonly<Record<string, string>>): FileSettings {
  const found = fromComments(comments);
  for (const [setting, values] of fromName(fileName))
    found.set(setting, [...(found.get(setting) ?? []), ...values]);
  const settings = settled(found);
  for (const [key, value] of Object.entries(comments).slice(0, MAX_PAIRS)) {
    const anode = /^(anode|tube|x-?ray source)\b/i.test(key) ? /^(Cu|Co|Mo)\b/.exec(value)?.[1] : undefined;
    if (anode !== undefined) settings.anode = anode as 'Cu' | 'Co' | 'Mo';
  }
  return settings;
}
