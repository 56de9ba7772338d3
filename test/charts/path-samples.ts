// A path over time that several tests draw. All numbers are made up for the drawing and mean nothing.
import type { PathTimeRequest } from '../../src/charts/path/path-time-request.ts';

export const COMMAND = {
  timeS: [0, 100, 150, 150, 200, 400],
  temperatureC: [25, 800, 800, 800, 800, 25],
  log10Po2Atm: [-5, -5, -5, -3, -3, -3],
};
export const FILM = { ...COMMAND, log10Po2Atm: [-5, -5, -5, -5, -3.4, -3] };
export const PATH_TIME: PathTimeRequest = {
  title: 'A plan',
  command: COMMAND,
  film: FILM,
  segments: [
    { kind: 'ramp', startS: 0, endS: 100 },
    { kind: 'hold', startS: 100, endS: 150 },
    { kind: 'gas', startS: 150, endS: 150 },
    { kind: 'hold', startS: 150, endS: 200 },
    { kind: 'cool', startS: 200, endS: 400 },
  ],
  liquid: { label: 'liquid is likely', spans: [{ fromS: 90, toS: 170 }] },
  log: {
    label: 'logged',
    timeS: [0, 10, 20, 30, 200, 210, 220],
    temperatureC: [25, 100, null, 250, 800, 780, 700],
    log10Po2Atm: null,
  },
};
