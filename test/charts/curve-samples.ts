// Curves, paths and intervals that several tests draw. All numbers are made up for the drawing and mean nothing.
import type { CurveRequest } from '../../src/charts/curve-request.ts';
import type { IntervalRequest } from '../../src/charts/interval-chart.ts';
import type { PathRequest, PathStep } from '../../src/charts/path-chart.ts';

/** Repeatable noise, -1 to 1. */
function noise(i: number): number {
  const x = Math.sin(i * 12.9898) * 43758.5453;
  return 2 * (x - Math.floor(x)) - 1;
}

const LINES = [7.6, 15.2, 22.85, 30.6, 38.5, 46.7, 55.05];

/** Counts over 5 to 65 deg with lines, a hump, its fit and the difference. */
export function scanRequest(n: number): CurveRequest {
  const x = Float64Array.from({ length: n }, (_, i) => 5 + (60 * i) / (n - 1));
  const background = x.map((at) => 60 + 900 / at + 40 * Math.exp(-(((at - 30) / 8) ** 2)));
  const fit = x.map(
    (at, i) =>
      background[i]! +
      LINES.reduce((sum, line, j) => sum + 3000 / (1 + j) / (1 + ((at - line) / 0.08) ** 2), 0),
  );
  const y = fit.map((value, i) => value + noise(i) * Math.sqrt(value) * 1.7);
  return {
    title: 'Diffraction scan of a film',
    x: { label: '2θ', unit: 'deg' },
    y: { label: 'Counts', unit: '', kind: 'sqrt' },
    series: [
      { id: 'data', label: 'measured', look: 'points', x, y },
      { id: 'background', label: 'background', look: 'background', x, y: background },
      { id: 'fit', label: 'fit', look: 'fit', x, y: fit },
    ],
    difference: { label: 'Difference', x, y: y.map((value, i) => value - fit[i]!) },
    tickRows: [
      { label: '123', ticks: LINES.map((line, i) => ({ x: line, label: `00${i + 1}` })) },
      { label: '211', ticks: [29.8, 30.5, 31.1, 33.2].map((line) => ({ x: line, label: '' })) },
    ],
    verticals: [],
    size: { width: 760, height: 480 },
  };
}

export const TRANSITION: CurveRequest = (() => {
  const x = Array.from({ length: 141 }, (_, i) => 80 + i * 0.1);
  const y = x.map(
    (at, i) => (2e-3 * (0.7 + at / 300)) / (1 + Math.exp(-(at - 89.6) / 0.35)) + noise(i) * 6e-6,
  );
  y[70] = Number.NaN;
  return {
    title: 'Resistance of a film through its transition',
    x: { label: 'Temperature', unit: 'K' },
    y: { label: 'Resistance', unit: 'Ω' },
    series: [{ id: 'data', label: 'S104, as grown', look: 'points', x, y }],
    bands: [
      {
        label: 'normal state, extrapolated',
        x,
        lower: x.map((at) => 1.95e-3 * (0.7 + at / 300)),
        upper: x.map((at) => 2.05e-3 * (0.7 + at / 300)),
      },
    ],
    verticals: [
      { x: 90.9, label: 'onset 90.9 K' },
      { x: 89.6, label: 'midpoint 89.6 K' },
      { x: 88.3, label: 'zero 88.3 K' },
    ],
    levels: [{ y: 1e-3, label: 'half of the normal state' }],
  };
})();

export const CURRENT_VOLTAGE: CurveRequest = (() => {
  const x = Array.from({ length: 60 }, (_, i) => 10 ** (-1 + i * 0.045));
  const field = (ic: number, n: number) =>
    x.map((at, i) => 1e-4 * (at / ic) ** n * (1 + 0.2 * noise(i)) + 2e-8 * noise(i * 3));
  return {
    title: 'Field against current in three fields',
    x: { label: 'Current', unit: 'A', kind: 'log' },
    y: { label: 'Electric field', unit: 'V/m', kind: 'log', domain: [1e-8, 1e2] },
    series: [
      { id: 'a', label: '77 K, 0 T', look: 'points', x, y: field(21, 28), yU: x.map(() => 2e-8) },
      { id: 'b', label: '77 K, 1 T along c', look: 'points', x, y: field(4, 14) },
      { id: 'c', label: '77 K, 3 T along c', look: 'line', x, y: field(0.9, 8) },
    ],
    levels: [{ y: 1e-4, label: 'criterion 1 µV/cm' }],
  };
})();

export const STEPS: readonly PathStep[] = [
  { kind: 'ramp', toC: 850, durationS: 1800, po2Atm: 1e-5 },
  { kind: 'hold', toC: 850, durationS: 300, po2Atm: 1e-5 },
  { kind: 'gas change', toC: 850, durationS: 20, po2Atm: 1e-2 },
  { kind: 'hold', toC: 850, durationS: 280, po2Atm: 1e-2 },
  { kind: 'ramp', toC: 500, durationS: 1200, po2Atm: 1 },
  { kind: 'hold', toC: 500, durationS: 1800, po2Atm: 1 },
  { kind: 'cool', toC: 25, durationS: 1800, po2Atm: 1 },
];

export const PATH: PathRequest = {
  title: 'Heat and gas path of treatment A2',
  startC: 25,
  steps: STEPS,
  temperatures: [
    {
      label: '123 decomposes above',
      timeS: [0, 2100, 2101, 2400, 2401, 7200],
      temperatureC: [760, 760, 905, 905, 1010, 1010],
    },
  ],
  spans: [{ label: 'melted', fromS: 1650, toS: 2120 }],
  levelsC: [{ temperatureC: 850, label: 'growth temperature 850 °C' }],
  cursorS: 2000,
};

export function intervals(count: number): IntervalRequest {
  return {
    title: 'Critical current density of the films',
    quantity: { label: 'Jc at 77 K, self field', unit: 'MA/cm²' },
    criterion: { value: 2.5, label: 'asked for: 2.5 MA/cm²' },
    rows: Array.from({ length: count }, (_, i) => ({
      id: `f${i}`,
      label:
        i === 2 ? 'S102, a film received from elsewhere with a very long name of its own' : `S${100 + i}`,
      value: i % 9 === 8 ? null : 2.4 + 1.6 * noise(i + 3),
      standardUncertainty: i % 9 === 8 ? null : 0.05 + 0.1 * Math.abs(noise(i)),
      ...(i === 5 ? { bound: 'above' as const } : i === 6 ? { bound: 'below' as const } : {}),
      verdict: (['passes', 'falls short', 'cannot say'] as const)[i % 3]!,
      isBenchmark: i === 4,
    })),
  };
}
