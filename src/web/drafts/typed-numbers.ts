// Numbers as people type them, read with a sentence for what does not fit. Pure; a draft keeps the text as typed.
import type { Stated } from '../../records/common.ts';

/** What is wrong with each field, by the field's name. */
export type Faults = Record<string, string>;

export interface Limits {
  min?: number;
  /** the number must be above this, not equal to it */
  above?: number;
  max?: number;
  isWhole?: boolean;
  unit?: string;
  /** why the range is as it is, in words */
  because?: string;
}

type Reading<Value> = { value: Value | null } | { fault: string };

function expected({ min, above, max, isWhole, unit, because }: Limits): string {
  const lower = above !== undefined ? `above ${above}` : min !== undefined ? `from ${min}` : '';
  const upper = max === undefined ? '' : above !== undefined ? `and up to ${max}` : `to ${max}`;
  return [
    `expected a ${isWhole ? 'whole number' : 'number'}`,
    lower,
    upper,
    unit ?? '',
    because ? `(${because})` : '',
  ]
    .filter(Boolean)
    .join(' ');
}

/** `1,234` may be a thousand and some or one and some; `0,5`, `12,75` and `0,125` can only have a decimal comma. */
function isCommaDoubtful(trimmed: string): boolean {
  return /^[-+]?[1-9]\d{0,2},\d{3}$/.test(trimmed);
}

/** Above any furnace that films are grown or annealed in [common practice]. */
const HOTTEST_C = 1500;

/** Reads a temperature in degC; one above any furnace is asked about, since it may be in K. */
export function readTemperatureC(text: string): Reading<number> {
  const reading = readNumber(text, { min: -273.15, unit: '°C' });
  if ('fault' in reading || reading.value === null || reading.value <= HOTTEST_C) return reading;
  const { value } = reading;
  const inC = Math.round(value - 273.15);
  const meant = inC <= HOTTEST_C ? `Was it meant in K, which is ${inC} °C?` : 'Was it mistyped?';
  return {
    fault: `Found '${text.trim()}'; ${numberText(value)} °C is above any furnace here. ${meant} Expected a number from -273.15 to ${HOTTEST_C} °C.`,
  };
}

/**
 * Reads one number, with a decimal point or, where it cannot be a separator of thousands, a decimal comma; an empty text is
 * null.
 *
 * @param limits what is allowed, in the unit of the text
 */
export function readNumber(text: string, limits: Limits = {}): Reading<number> {
  const trimmed = text.trim();
  if (trimmed === '') return { value: null };
  if (isCommaDoubtful(trimmed)) {
    return {
      fault: `Found '${trimmed}' with a comma; ${expected(limits)}, written as ${trimmed.replace(',', '.')} or ${trimmed.replace(',', '')}.`,
    };
  }
  const pointed = trimmed.replace(/^([-+]?\d*),(\d+(e[-+]?\d+)?)$/i, '$1.$2');
  const value = /^[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?$/i.test(pointed) ? Number(pointed) : Number.NaN;
  const { min, above, max, isWhole, unit } = limits;
  const fits =
    Number.isFinite(value) &&
    (min === undefined || value >= min) &&
    (above === undefined || value > above) &&
    (max === undefined || value <= max) &&
    (!isWhole || Number.isInteger(value));
  if (fits) return { value };
  const inC = value - 273.15;
  const isKelvinLikely = unit === '°C' && max !== undefined && value > max && inC <= max;
  const meant = isKelvinLikely ? ` Was it meant in K? That is ${numberText(Number(inC.toFixed(2)))} °C.` : '';
  return { fault: `Found '${trimmed.slice(0, 40)}'; ${expected(limits)}.${meant}` };
}

/**
 * Reads a number with or without its standard uncertainty: `60`, `60 ± 2`, `60 +- 2`, or `60.0(12)` where the bracket
 * counts in the last digit.
 */
export function readStated(text: string, limits: Limits = {}): Reading<Stated> {
  const trimmed = text.trim();
  if (trimmed === '') return { value: null };
  const bracket = /^([-+]?\d+(?:[.,](\d+))?)\((\d+)\)$/.exec(trimmed);
  const [valueText, uncertaintyText] = bracket
    ? [bracket[1]!, String(Number(bracket[3]) / 10 ** (bracket[2]?.length ?? 0))]
    : trimmed.split(/\s*(?:±|\+\/?-)\s*/);
  const value = readNumber(valueText ?? '', limits);
  if ('fault' in value) return { fault: `${value.fault.slice(0, -1)}, with its uncertainty such as 60 ± 2.` };
  if (uncertaintyText === undefined) {
    return { value: { value: value.value!, standardUncertainty: null } };
  }
  const uncertainty = readNumber(uncertaintyText, { min: 0 });
  if ('fault' in uncertainty || uncertainty.value === null || value.value === null) {
    return {
      fault: `Found '${trimmed.slice(0, 40)}'; expected a number and its uncertainty such as 60 ± 2.`,
    };
  }
  return { value: { value: value.value, standardUncertainty: uncertainty.value } };
}

/** A number as a field shows it: no more digits than it has. */
export function numberText(value: number | null | undefined): string {
  return value === null || value === undefined ? '' : String(Number(value.toPrecision(12)));
}

export function statedText(stated: Stated | null): string {
  if (!stated) return '';
  const { value, standardUncertainty } = stated;
  return standardUncertainty === null
    ? numberText(value)
    : `${numberText(value)} ± ${numberText(standardUncertainty)}`;
}

const SECONDS = { s: 1, min: 60, h: 3600, d: 86_400 } as const;

/** Reads a stretch of time with its unit: `30 s`, `5 min`, `1.5 h`; in s. A bare number is refused: its unit is not known. */
export function readDurationS(text: string, maxS: number): Reading<number> {
  const trimmed = text.trim();
  if (trimmed === '') return { value: null };
  const match = /^([\d.,]+(?:e[-+]?\d+)?)\s*(s|min|h|d)$/i.exec(trimmed);
  const reading = readNumber(match?.[1] ?? '');
  if (match && 'fault' in reading) return reading;
  const number = 'value' in reading && reading.value !== null ? reading.value : Number.NaN;
  const seconds = number * SECONDS[(match?.[2]?.toLowerCase() ?? 's') as keyof typeof SECONDS];
  return seconds >= 0 && seconds <= maxS
    ? { value: seconds }
    : { fault: `Found '${trimmed.slice(0, 40)}'; expected a time with its unit such as 30 s, 5 min or 2 h.` };
}

/** A stretch of time in the largest unit that keeps it short and loses nothing of it. */
export function durationText(seconds: number): string {
  for (const [unit, from] of [
    ['h', 3600],
    ['min', 120],
  ] as const) {
    const short = Number((seconds / SECONDS[unit]).toPrecision(6));
    if (seconds >= from && short * SECONDS[unit] === seconds) return `${numberText(short)} ${unit}`;
  }
  return `${numberText(seconds)} s`;
}

/** Collects what the fields of one form say; `faults` holds what could not be read, by the field's name. */
export class FieldReader {
  readonly faults: Faults = {};

  /** The value of a reading; where there is none, the fault is kept and null answered. */
  take<Value>(field: string, reading: Reading<Value>): Value | null {
    if ('fault' in reading) {
      this.faults[field] = reading.fault;
      return null;
    }
    return reading.value;
  }

  number(field: string, text: string, limits?: Limits): number | null {
    return this.take(field, readNumber(text, limits));
  }

  stated(field: string, text: string, limits?: Limits): Stated | null {
    return this.take(field, readStated(text, limits));
  }

  /** A text that must not be empty. */
  name(field: string, text: string, what: string, maxLength = 200): string {
    const trimmed = text.trim();
    if (trimmed === '') this.faults[field] = `Found nothing; expected ${what}.`;
    else if (trimmed.length > maxLength)
      this.faults[field] = `Found ${trimmed.length} characters; expected at most ${maxLength}.`;
    return trimmed;
  }

  /** A local date and time of a form field as UTC; empty is null. */
  when(field: string, text: string): string | null {
    if (text === '') return null;
    const time = new Date(text);
    if (!Number.isNaN(time.getTime())) return time.toISOString();
    this.faults[field] = `Found '${text.slice(0, 40)}'; expected a date and a time.`;
    return null;
  }
}

/** A stored UTC time as a date-and-time field shows it: local, to the minute. */
export function whenText(utc: string | null): string {
  if (utc === null) return '';
  const time = new Date(utc);
  const two = (number: number) => String(number).padStart(2, '0');
  return `${time.getFullYear()}-${two(time.getMonth() + 1)}-${two(time.getDate())}T${two(time.getHours())}:${two(time.getMinutes())}`;
}
