// Figures of a transition: resistance or moment against temperature, with the lines and marks that it was read by. Pure.
import type { CurveSeries } from '../curve-request.ts';
import type { MagneticAnswer, ResistiveAnswer } from './answers.ts';
import { extent, type MeasuredFigure, picked, rowsInside, type StoredCurve, scaled } from './stored-curve.ts';

/** The whole curve, or the few kelvin around the transition. */
export type TransitionPart = 'transition' | 'whole curve';

interface Marked {
  value: number;
}
const SIZE = { width: 960, height: 480 };
/** A moment is written in emu: 1 emu = 1e-3 A m2. */
const EMU_PER_AMPERE_M2 = 1e3;

const marks = (named: Record<string, Marked | null | undefined>): { x: number; label: string }[] =>
  Object.entries(named).flatMap(([label, mark]) => (mark ? [{ x: mark.value, label }] : []));

/** A few widths either side of the marks, at least 3 K; null where nothing is marked. */
export function transitionWindow(verticals: readonly { x: number }[]): [number, number] | null {
  const range = extent(verticals.map(({ x }) => x));
  if (!range) return null;
  const reach = Math.max(3, 2 * (range[1] - range[0]));
  return [range[0] - reach, range[1] + reach];
}

interface TransitionParts {
  curve: StoredCurve<unknown>;
  role: string;
  quantity: string;
  unit: string;
  factor: number;
  verticals: { x: number; label: string }[];
  /** straight line of the normal state, SI */
  line: { intercept: number; slopePerK: number; fromK: number; toK: number } | null;
  levels: { y: number; label: string }[];
  part: TransitionPart;
}

function transitionFigure(parts: TransitionParts): MeasuredFigure | null {
  const { curve, role, quantity, unit, factor, verticals, line, levels, part } = parts;
  const temperatureK = curve.column('temperatureK');
  const values = curve.column(role);
  if (!temperatureK || !values) return null;
  const window = part === 'transition' ? transitionWindow(verticals) : null;
  const rows = rowsInside(temperatureK, window);
  const series: CurveSeries[] = [
    {
      id: 'measured',
      label: 'measured',
      look: 'points',
      x: picked(temperatureK, rows),
      y: scaled(picked(values, rows), factor),
    },
  ];
  if (line) {
    const lowest = verticals.length > 0 ? Math.min(...verticals.map(({ x }) => x)) : line.fromK;
    const x = [Math.max(lowest, window?.[0] ?? lowest), Math.min(line.toK, window?.[1] ?? line.toK)];
    const y = x.map((kelvin) => (line.intercept + line.slopePerK * kelvin) * factor);
    series.push({ id: 'normal', label: 'normal line', look: 'background', x, y });
  }
  return {
    id: role,
    request: {
      title: `${curve.title}: ${quantity} against temperature`,
      x: { label: 'temperature', unit: 'K', ...(window ? { domain: window } : {}) },
      y: { label: quantity, unit },
      series,
      verticals,
      levels,
      size: SIZE,
    },
  };
}

export function resistanceFigure(
  curve: StoredCurve<ResistiveAnswer>,
  part: TransitionPart,
): MeasuredFigure | null {
  const answer = curve.response;
  return transitionFigure({
    curve,
    role: 'resistanceOhm',
    quantity: 'resistance',
    unit: 'Ω',
    factor: 1,
    verticals: marks(
      answer
        ? {
            zero: answer.zero,
            '10 %': answer.t10,
            '50 %': answer.t50,
            '90 %': answer.t90,
            onset: answer.onset,
          }
        : {},
    ),
    line: answer?.baseline
      ? {
          ...answer.baseline,
          intercept: answer.baseline.interceptOhm,
          slopePerK: answer.baseline.slopeOhmPerK,
        }
      : null,
    levels: [],
    part,
  });
}

export function momentFigure(
  curve: StoredCurve<MagneticAnswer>,
  part: TransitionPart,
): MeasuredFigure | null {
  const answer = curve.response;
  return transitionFigure({
    curve,
    role: 'momentAmpereM2',
    quantity: 'moment',
    unit: 'emu',
    factor: EMU_PER_AMPERE_M2,
    verticals: marks(
      answer ? { '10 %': answer.t10, '50 %': answer.t50, '90 %': answer.t90, onset: answer.onset } : {},
    ),
    line: answer?.baseline
      ? {
          ...answer.baseline,
          intercept: answer.baseline.interceptAmpereM2,
          slopePerK: answer.baseline.slopeAmpereM2PerK,
        }
      : null,
    levels: answer?.shielding
      ? [{ y: answer.shielding.moment.value * EMU_PER_AMPERE_M2, label: 'full shielding' }]
      : [],
    part,
  });
}
