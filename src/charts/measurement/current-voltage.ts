// Figure of a voltage-current curve with its criterion and fit, straight or in logarithms. Pure.
import type { CurveRequest, CurveSeries } from '../curve-request.ts';
import type { VoltageAnswer } from './answers.ts';
import { type MeasuredFigure, type StoredCurve, scaled, wireNumbers } from './stored-curve.ts';

const MICROVOLTS_PER_VOLT = 1e6;
/** 1 uV/cm is 1e-4 V/m. */
const MICROVOLTS_PER_CM = 1e4;
/** 1 uV/cm [as in current.voltage, where nothing else is stated] */
const DEFAULT_CRITERION_V_PER_M = 1e-4;

/** Rows by rising current: the fit is drawn as a line, and a sweep may turn back. */
function risingRows(currentA: ArrayLike<number>): number[] {
  return Array.from(currentA, (_, i) => i).sort((one, other) => currentA[one]! - currentA[other]!);
}

/**
 * @param isLog both axes in logarithms, of the sizes of current and voltage, after the offset of the fit is taken off
 */
export function voltageFigure(curve: StoredCurve<VoltageAnswer>, isLog: boolean): MeasuredFigure | null {
  const currentA = curve.column('currentA');
  const voltageV = curve.column('voltageV');
  if (!currentA || !voltageV) return null;
  const answer = curve.response;
  const offsetV = answer?.offset?.value ?? 0;
  const offset = isLog ? offsetV : 0;
  const shown = (values: ArrayLike<number>, less: number): Float64Array =>
    Float64Array.from(values, (value) => (isLog ? Math.abs(value - less) : value - less));
  const tapDistanceM = Number(curve.request.tapDistanceM ?? curve.settings.tapDistanceM ?? Number.NaN);
  const criterionVPerM = Number(
    curve.request.criterionVPerM ?? curve.settings.criterionVPerM ?? DEFAULT_CRITERION_V_PER_M,
  );
  const x = shown(currentA, 0);
  const series: CurveSeries[] = [
    {
      id: 'measured',
      label: isLog && answer?.offset ? 'measured, offset taken off' : 'measured',
      look: 'points',
      x,
      y: scaled(shown(voltageV, offset), MICROVOLTS_PER_VOLT),
    },
  ];
  if (answer && answer.curve.length === currentA.length) {
    const rows = risingRows(currentA);
    const fit = scaled(shown(wireNumbers(answer.curve), offset), MICROVOLTS_PER_VOLT);
    series.push({
      id: 'fit',
      label: 'fit',
      look: 'fit',
      x: rows.map((i) => x[i]!),
      y: rows.map((i) => fit[i]!),
    });
  }
  const levels: NonNullable<CurveRequest['levels']> = Number.isFinite(tapDistanceM)
    ? [
        {
          y: (criterionVPerM * tapDistanceM + (isLog ? 0 : offsetV)) * MICROVOLTS_PER_VOLT,
          label: `criterion ${Number((criterionVPerM * MICROVOLTS_PER_CM).toPrecision(4))} µV/cm${answer?.offset && !isLog ? ' above the offset' : ''}`,
        },
      ]
    : [];
  const verticals = answer?.ic ? [{ x: answer.ic.value, label: 'Ic' }] : [];
  return {
    id: 'voltage',
    request: {
      title: `${curve.title}: voltage against current`,
      x: { label: 'current', unit: 'A', ...(isLog ? { kind: 'log' } : {}) },
      y: { label: 'voltage', unit: 'µV', ...(isLog ? { kind: 'log' } : {}) },
      series,
      levels,
      verticals,
      size: { width: 960, height: 480 },
    },
  };
}
