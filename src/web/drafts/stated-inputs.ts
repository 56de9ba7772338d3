// Inputs of a computation that a person may state: what stands for each if they do not, and where that comes from. Pure.
import { shortNumber } from '../../charts/number-text.ts';
import type { Stated } from '../../records/common.ts';
import { type Faults, type Limits, readNumber, readStated, statedText } from './typed-numbers.ts';

/** One input as a page shows it. */
export interface InputSpec {
  /** field of the draft; also the field of the request where `ask` is left out */
  readonly key: string;
  /** field of the request as a refusal names it */
  readonly ask?: string;
  /** with its unit */
  readonly label: string;
  readonly limits: Limits;
  /** taken where nothing is typed; null: then nothing is taken */
  readonly usual: Stated | null;
  /** where the usual one comes from, with its tag; or what an empty field means */
  readonly from: string;
  /** a number without an uncertainty */
  readonly isBare?: boolean;
  /** seldom changed: shown on demand */
  readonly isRare?: boolean;
}

/** As typed, by key; a key that is missing is empty. */
export type InputTexts = Readonly<Record<string, string>>;

export interface ReadInputs {
  /** typed, else usual */
  readonly values: Readonly<Record<string, Stated | null>>;
  /** typed alone */
  readonly typed: Readonly<Record<string, Stated>>;
  readonly faults: Faults;
}

/** What the fields say. A field that cannot be read has a fault, and `values` keeps the usual one. */
export function readInputs(specs: readonly InputSpec[], texts: InputTexts): ReadInputs {
  const values: Record<string, Stated | null> = {};
  const typed: Record<string, Stated> = {};
  const faults: Faults = {};
  for (const { key, limits, usual, isBare } of specs) {
    values[key] = usual;
    const text = texts[key] ?? '';
    const reading = isBare ? readNumber(text, limits) : readStated(text, limits);
    if ('fault' in reading) faults[key] = reading.fault;
    else if (reading.value !== null)
      values[key] = typed[key] =
        typeof reading.value === 'number'
          ? { value: reading.value, standardUncertainty: null }
          : reading.value;
  }
  return { values, typed, faults };
}

/** The usual number as a field shows it before anything is typed. */
export function usualText({ usual }: InputSpec): string {
  if (!usual) return '';
  if (Math.abs(usual.value) < 1e6) return statedText(usual);
  const short = (value: number): string => value.toExponential().replace('e+', 'e');
  return usual.standardUncertainty === null
    ? short(usual.value)
    : `${short(usual.value)} ± ${short(usual.standardUncertainty)}`;
}

const sayName = ({ label }: InputSpec): string => label.replace(/,[^,]*$/, '').toLowerCase();

/** Fields of the requests that are no input of a panel, as people say them. */
const OTHER_NAMES: Readonly<Record<string, string>> = {
  thicknessNm: 'the film’s thickness',
  growthC: 'the growth temperature',
  'gas.po2Pa': 'the oxygen pressure',
  po2Pa: 'the oxygen pressure',
  'liquid.bulkMolPerM3': 'the solute far from the face',
  'liquid.atFaceMolPerM3': 'the solute at the face',
  molarVolumeM3PerMol: 'the volume of the particle',
  crystalMolPerM3: 'the amount in the crystal',
  'pulse.energyMj': 'the energy of a pulse',
  'pulse.spotAreaMm2': 'the spot area',
  'wanted.thicknessNm': 'the wanted thickness',
  'interfacial-energy': 'interfacial energy',
  'crystal-123': 'amount in the crystal',
  'volume-211': 'volume of 211',
};

/** Rows of the tables, as a remark names them. */
const ROW_NAMES: Readonly<Record<string, string>> = {
  'BaO-1939': 'the BaO line of 1939',
  'BaO-1968': 'the BaO line of 1968',
  'BaO-with-water': 'the line of BaO with water',
  'Cu-coefficients': 'the copper line',
  c11: 'C₁₁',
  c22: 'C₂₂',
  c33: 'C₃₃',
  c12: 'C₁₂',
  c13: 'C₁₃',
  c23: 'C₂₃',
};

/** A plain word is left where it stands: it may be meant as one. */
const isRaw = (name: string): boolean => /[A-Z0-9.[-]/.test(name);

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');

/** A sentence of the catalogue with its fields in the words of the page. */
export function inFieldWords(sentence: string, specs: readonly InputSpec[]): string {
  const names = new Map(Object.entries({ ...OTHER_NAMES, ...ROW_NAMES }));
  for (const spec of specs) {
    const name = spec.ask ?? spec.key;
    if (isRaw(name)) names.set(name, sayName(spec));
  }
  const longestFirst = [...names.keys()].sort((one, other) => other.length - one.length).map(escaped);
  const field = new RegExp(`(?<![\\w.])(?:${longestFirst.join('|')})(?![\\w])`, 'g');
  return sentence
    .replace(field, (found) => names.get(found)!)
    .replaceAll('degC', '°C')
    .replaceAll('+-', '±')
    .replace(/\d{7,}/g, (digits) => shortNumber(Number(digits), 3));
}

/** The input that a refusal of the catalogue is about, with the refusal in words; null where it is about none of them. */
export function refusedInput(
  refusal: { sentence?: string; remedy?: string } | null,
  specs: readonly InputSpec[],
): { key: string; fault: string } | null {
  if (!refusal?.sentence) return null;
  const { sentence, remedy = '' } = refusal;
  const found = specs
    .filter(({ ask, key }) => new RegExp(`^${escaped(ask ?? key)}(?![\\w])`).test(sentence))
    .sort((one, other) => (other.ask ?? other.key).length - (one.ask ?? one.key).length)[0];
  const words = inFieldWords(`${sentence} ${remedy}`.trim(), specs);
  return found ? { key: found.key, fault: words[0]!.toUpperCase() + words.slice(1) } : null;
}
