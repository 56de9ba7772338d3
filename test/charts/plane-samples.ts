// A map that several tests draw. The odds and the fields are made up for the drawing and mean nothing.
import type { PlaneRequest } from '../../src/charts/plane/plane-request.ts';

const COLUMNS = 13;
const ROWS = 15;
const onsetC = (column: number): number => 820 + 12 * column;
const endC = (column: number): number => 910 + 9 * column;
const temperatureC = Array.from({ length: ROWS }, (_, i) => 700 + 25 * i);
const x = Array.from({ length: COLUMNS }, (_, i) => 10 ** (-5 + (5 * i) / (COLUMNS - 1)));

/** Odds that rise over 20 K at the onset and fall over 20 K at the end. */
function oddsAt(t: number, column: number): number {
  const rise = 1 / (1 + Math.exp(-(t - onsetC(column)) / 10));
  return rise / (1 + Math.exp((t - endC(column)) / 10));
}
const fieldAt = (t: number, column: number): number => (t < onsetC(column) ? 0 : t < endC(column) ? 1 : 2);

export const PLANE: PlaneRequest = {
  title: 'Where liquid and 123 live together',
  across: { kind: 'oxygen', fromAtm: 1e-5, toAtm: 1 },
  temperatureC: [700, 1050],
  caption: 'equilibrium; all members',
  size: { width: 820, height: 560 },
  map: {
    x,
    temperatureC,
    odds: temperatureC.flatMap((t) => x.map((_, column) => oddsAt(t, column))),
    of: 'liquid with 123',
    field: temperatureC.flatMap((t) => x.map((_, column) => fieldAt(t, column))),
    fieldNames: ['BaCuO2 + CuO + YBa2Cu3O7', 'YBa2Cu3O7 + liquid', 'Y2BaCuO5 + liquid'],
    changes: x.flatMap((_, column) => [
      {
        column,
        temperatureC: onsetC(column),
        below: 'BaCuO2 + CuO + YBa2Cu3O7',
        above: 'YBa2Cu3O7 + liquid',
      },
      { column, temperatureC: endC(column), below: 'YBa2Cu3O7 + liquid', above: 'Y2BaCuO5 + liquid' },
    ]),
  },
  lines: [
    {
      id: 'bulk-line',
      label: 'a line',
      source: 'made up',
      kind: 'bulk',
      points: [
        { x: 1e-5, temperatureC: 720 },
        { x: 1e-3, temperatureC: 800 },
        { x: 0.1, temperatureC: 900 },
      ],
    },
    {
      id: 'film-line',
      label: 'a line of films',
      source: 'made up too',
      kind: 'film',
      points: [
        { x: 1e-5, temperatureC: 850 },
        { x: 1e-4, temperatureC: 900 },
        { x: 1e-3, temperatureC: 950 },
      ],
    },
  ],
  points: [
    {
      id: 'p1',
      label: 'a point',
      source: 'made up',
      kind: 'bulk',
      x: 0.21,
      temperatureC: 1010,
      temperatureCU: 8,
    },
    {
      id: 'own',
      label: 'mine',
      source: 'a notebook',
      kind: 'own',
      x: 1e-4,
      temperatureC: 760,
      temperatureCU: null,
    },
    {
      id: 'far',
      label: 'outside',
      source: 'made up',
      kind: 'bulk',
      x: 1,
      temperatureC: 1090,
      temperatureCU: null,
    },
  ],
  reaction: {
    label: '123 = 211 + liquid',
    points: x.map((atm, i) => ({
      x: atm,
      temperatureC: 860 + 11 * i,
      temperatureCU: 10,
      isStable: i > 5,
    })),
  },
  path: {
    label: 'F1: conversion',
    points: [
      { x: 1e-4, temperatureC: 25 },
      { x: 1e-4, temperatureC: 850 },
      { x: 1e-2, temperatureC: 850 },
      { x: 1e-2, temperatureC: 500 },
    ],
    ends: [
      { x: 1e-4, temperatureC: 850, label: 'end of step 1, ramp' },
      { x: 1e-2, temperatureC: 500, label: 'end of step 2, cool' },
    ],
  },
  selected: { x: 1e-3, temperatureC: 870 },
};
