// One axis: from numbers to pixels and back, where its ticks stand and what they say.
import { tickStep, ticks } from 'd3-array';
import { format } from 'd3-format';
import { scaleLinear, scaleLog, scaleSqrt } from 'd3-scale';
import { decadeText, raised } from './number-text.ts';

export type AxisKind = 'linear' | 'log' | 'sqrt';

export interface AxisSpec {
  readonly label: string;
  /** '' or '1' for a pure number */
  readonly unit: string;
  /** linear if left out; sqrt keeps the sign, so that negative numbers stay visible */
  readonly kind?: AxisKind;
  /** what to show; from the data if left out */
  readonly domain?: readonly [number, number];
}

export interface Tick {
  readonly value: number;
  readonly at: number;
  /** '' for a minor tick */
  readonly text: string;
}

export interface Axis {
  readonly label: string;
  readonly unit: string;
  readonly kind: AxisKind;
  readonly domain: readonly [number, number];
  /** px of a number; NaN if it is missing, infinite, or not above zero on a log axis */
  at(value: number): number;
  /** the number at a pixel */
  invert(px: number): number;
  readonly ticks: readonly Tick[];
  /** label with unit, and the power of ten that the ticks leave out */
  readonly title: string;
}

/** Farther out than any screen; keeps far-off points printable without turning the lines that lead to them. */
const FAR_PX = 1e6;

interface Extent {
  readonly min: number;
  readonly max: number;
}

/** Smallest and largest number that an axis of this kind can show, or null if there is none. */
export function extentOf(kind: AxisKind, arrays: readonly ArrayLike<number>[]): Extent | null {
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (const values of arrays) {
    for (let i = 0; i < values.length; i++) {
      const value = values[i]!;
      if (Number.isFinite(value) && (kind !== 'log' || value > 0)) {
        if (value < min) min = value;
        if (value > max) max = value;
      }
    }
  }
  return min <= max ? { min, max } : null;
}

function domainOf(kind: AxisKind, extent: Extent | null, padShare: number): [number, number] {
  if (!extent) {
    return kind === 'log' ? [1, 10] : [0, 1];
  }
  const { min, max } = extent;
  if (kind === 'log') {
    const factor = min === max ? 3 : (max / min) ** padShare;
    return [min / factor, max * factor];
  }
  const span = max - min;
  // A spread below rounding is no spread.
  if (span <= 1e-12 * Math.max(Math.abs(min), Math.abs(max)) || span === 0) {
    const reach = min === 0 ? 1 : 0.1 * Math.abs(min);
    return [min - reach, max + reach];
  }
  if (kind === 'sqrt') {
    return [min >= 0 ? 0 : min * (1 + padShare), max > 0 ? max * (1 + padShare) : 0];
  }
  return [min - padShare * span, max + padShare * span];
}

interface NamedTicks {
  readonly values: readonly { readonly value: number; readonly text: string }[];
  /** power of ten that the texts leave out */
  readonly power: number;
}

function evenTicks(domain: readonly [number, number], count: number): NamedTicks {
  const [lo, hi] = domain;
  const largest = Math.max(Math.abs(lo), Math.abs(hi));
  const power = largest >= 1e5 || largest < 1e-3 ? 3 * Math.floor(Math.log10(largest) / 3) : 0;
  const scale = 10 ** power;
  const step = Math.abs(tickStep(lo, hi, count)) / scale;
  const places = Math.max(0, Math.min(12, -Math.floor(Math.log10(step) + 1e-9)));
  const write = format(`.${places}f`);
  return { values: ticks(lo, hi, count).map((value) => ({ value, text: write(value / scale) })), power };
}

function logTicks([lo, hi]: readonly [number, number], count: number): NamedTicks {
  const first = Math.ceil(Math.log10(Math.min(lo, hi)) - 1e-9);
  const last = Math.floor(Math.log10(Math.max(lo, hi)) + 1e-9);
  const decades = last - first + 1;
  if (decades < 2) {
    const even = evenTicks([lo, hi], count);
    return { ...even, values: even.values.filter(({ value }) => value > 0) };
  }
  const every = Math.max(1, Math.ceil(decades / count));
  const isPlain = first >= -2 && last <= 3;
  const values: { value: number; text: string }[] = [];
  for (let power = first - 1; power <= last; power++) {
    if (power >= first) {
      const isNamed = power % every === 0;
      values.push({ value: 10 ** power, text: isNamed ? decadeText(power, isPlain) : '' });
    }
    for (let digit = 2; every === 1 && decades <= 8 && digit <= 9; digit++) {
      values.push({ value: digit * 10 ** power, text: '' });
    }
  }
  return { values: values.filter(({ value }) => value >= lo && value <= hi), power: 0 };
}

function titleOf({ label, unit }: AxisSpec, power: number): string {
  const parts = [power === 0 ? '' : `10${raised(power)}`, unit === '1' ? '' : unit].filter(
    (part) => part !== '',
  );
  return parts.length === 0 ? label : `${label} (${parts.join(' ')})`;
}

function scaleOf(kind: AxisKind, domain: readonly [number, number], rangePx: readonly [number, number]) {
  if (kind === 'log') return scaleLog(domain, rangePx);
  return kind === 'sqrt' ? scaleSqrt(domain, rangePx) : scaleLinear(domain, rangePx);
}

/**
 * An axis over the data given, or over the domain that the spec states.
 *
 * @param rangePx  pixels of the domain's two ends
 * @param padShare room left beyond the data, as a share of their spread
 * @param tickPx   about one tick in so many pixels
 */
export function makeAxis(
  spec: AxisSpec,
  arrays: readonly ArrayLike<number>[],
  rangePx: readonly [number, number],
  padShare: number,
  tickPx: number,
): Axis {
  const kind = spec.kind ?? 'linear';
  const stated = spec.domain;
  const isUsable =
    stated !== undefined &&
    Number.isFinite(stated[0] - stated[1]) &&
    stated[0] !== stated[1] &&
    (kind !== 'log' || (stated[0] > 0 && stated[1] > 0));
  const domain = isUsable ? stated : domainOf(kind, extentOf(kind, arrays), padShare);
  const scale = scaleOf(kind, domain, rangePx);
  const at = (value: number): number => {
    if (!Number.isFinite(value) || (kind === 'log' && value <= 0)) return Number.NaN;
    return Math.max(-FAR_PX, Math.min(FAR_PX, scale(value)));
  };
  const count = Math.max(2, Math.floor(Math.abs(rangePx[1] - rangePx[0]) / tickPx));
  const named = kind === 'log' ? logTicks(domain, count) : evenTicks(domain, count);
  return {
    label: spec.label,
    unit: spec.unit,
    kind,
    domain,
    at,
    invert: (px) => scale.invert(px),
    ticks: named.values.map(({ value, text }) => ({ value, text, at: at(value) })),
    title: titleOf(spec, named.power),
  };
}
