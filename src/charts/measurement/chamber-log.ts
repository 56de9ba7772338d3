// Figures of a furnace or chamber log over time: temperature with the holds found and the plan, and the pressure. Pure.
import type { CurveSeries } from '../curve-request.ts';
import type { LogAnswer } from './answers.ts';
import { extent, type MeasuredFigure, type StoredCurve } from './stored-curve.ts';

const ZERO_CELSIUS_K = 273.15;
const PA_PER_ATM = 101325;
const PA_PER_MBAR = 100;
const TIME_UNITS = [
  { unit: 's', seconds: 1, upToS: 300 },
  { unit: 'min', seconds: 60, upToS: 3 * 3600 },
  { unit: 'h', seconds: 3600, upToS: Number.POSITIVE_INFINITY },
] as const;

type Curve = StoredCurve<LogAnswer>;

/** Rows of two arrays with a hole in every gap, so that no line crosses what was not read. */
function withHoles(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  gaps: readonly { readonly fromS: number }[],
): { x: number[]; y: number[] } {
  const begins = new Set(gaps.map(({ fromS }) => fromS));
  const open = { x: [] as number[], y: [] as number[] };
  for (let i = 0; i < x.length; i++) {
    open.x.push(x[i]!);
    open.y.push(y[i]!);
    if (!begins.has(x[i]!) || x[i + 1] === x[i]) continue;
    open.x.push(x[i]!);
    open.y.push(Number.NaN);
  }
  return open;
}

/** Level lines parted by holes. */
function levelSeries(
  id: string,
  label: string,
  holds: readonly { fromS: number; toS: number; value: number }[],
  perUnitS: number,
): CurveSeries[] {
  if (holds.length === 0) return [];
  return [
    {
      id,
      label,
      look: 'fit',
      x: holds.flatMap(({ fromS, toS }) => [fromS / perUnitS, toS / perUnitS, toS / perUnitS]),
      y: holds.flatMap(({ value }) => [value, value, Number.NaN]),
    },
  ];
}

/** The log's pressure as an axis shows it: of oxygen in atm where it was reduced, else as the gauge read it in mbar. */
function pressureOf(curve: Curve): { values: Float64Array; label: string; unit: string } | null {
  const pressurePa = curve.column('pressurePa');
  const logarithm = curve.column('log10PressurePa');
  const readPa = pressurePa ?? logarithm?.map((value) => 10 ** value);
  if (!readPa) return null;
  const share = Number(curve.request.oxygenShare ?? Number.NaN);
  const isOxygen = share > 0;
  const factor = isOxygen ? share / PA_PER_ATM : 1 / PA_PER_MBAR;
  return {
    values: readPa.map((value) => (value > 0 ? value * factor : Number.NaN)),
    label: isOxygen ? 'pO₂' : 'pressure',
    unit: isOxygen ? 'atm' : 'mbar',
  };
}

export function logFigures(curve: Curve): MeasuredFigure[] {
  const timeS = curve.column('timeS');
  const temperatureK = curve.column('temperatureK');
  if (!timeS || !temperatureK) return [];
  const answer = curve.response;
  const plan = answer?.planOnLog ?? null;
  const ends = extent([...(extent(timeS) ?? [0, 1]), ...(plan?.timeS ?? [])])!;
  const { unit, seconds } = TIME_UNITS.find(({ upToS }) => ends[1] - ends[0] <= upToS)!;
  const inUnit = (values: ArrayLike<number>): number[] => Array.from(values, (value) => value / seconds);
  const gaps = answer?.gaps ?? [];
  const x = { label: 'time on the log', unit, domain: [ends[0] / seconds, ends[1] / seconds] as const };
  const logged = withHoles(timeS, temperatureK, gaps);
  const holds = answer?.holds ?? [];
  const temperature: MeasuredFigure = {
    id: 'log-temperature',
    request: {
      title: `${curve.title}: temperature against time`,
      x,
      y: { label: 'temperature', unit: '°C' },
      series: [
        ...(plan
          ? [
              {
                id: 'plan',
                label: 'planned',
                look: 'background' as const,
                x: inUnit(plan.timeS),
                y: plan.temperatureC,
              },
            ]
          : []),
        {
          id: 'measured',
          label: 'logged',
          look: 'line',
          x: inUnit(logged.x),
          y: logged.y.map((value) => value - ZERO_CELSIUS_K),
        },
        ...levelSeries(
          'holds',
          'holds found',
          holds.map(({ fromS, toS, meanC }) => ({ fromS, toS, value: meanC.value })),
          seconds,
        ),
      ],
      size: { width: 960, height: 430 },
    },
  };
  const pressure = pressureOf(curve);
  if (!pressure || !extent(pressure.values)) return [temperature];
  const open = withHoles(timeS, pressure.values, gaps);
  const isOxygen = pressure.unit === 'atm';
  return [
    temperature,
    {
      id: 'log-pressure',
      request: {
        title: `${curve.title}: ${isOxygen ? 'oxygen pressure' : 'pressure'} against time`,
        x,
        y: { label: pressure.label, unit: pressure.unit, kind: 'log' },
        series: [
          ...(plan && isOxygen ? [plannedOxygen(plan, seconds)] : []),
          { id: 'measured', label: 'logged', look: 'line', x: inUnit(open.x), y: open.y },
          ...levelSeries(
            'holds',
            'in holds found',
            isOxygen
              ? holds.flatMap(({ fromS, toS, log10Po2 }) =>
                  log10Po2 ? [{ fromS, toS, value: 10 ** log10Po2.value }] : [],
                )
              : [],
            seconds,
          ),
        ],
        size: { width: 960, height: 320 },
      },
    },
  ];
}

/** The planned oxygen pressure; a vacuum is a hole. */
function plannedOxygen(plan: NonNullable<LogAnswer['planOnLog']>, perUnitS: number): CurveSeries {
  return {
    id: 'plan',
    label: 'planned',
    look: 'background',
    x: plan.timeS.map((value) => value / perUnitS),
    y: plan.log10Po2Atm.map((value) => (value === null ? Number.NaN : 10 ** value)),
  };
}

/** What the log did otherwise than planned, each as a sentence; null where there was no plan to compare with. */
export function logDeviationSentences(response: unknown): string[] | null {
  const answer = response as LogAnswer;
  return answer.planOnLog ? answer.deviations.map(({ sentence }) => sentence) : null;
}
