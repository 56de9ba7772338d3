// A small series whose every text tries to break out of a document, a table or a folder.
import type { StoredView } from '../../src/charts/measurement/stored-curve.ts';
import type { RecordBodies, RecordKind } from '../../src/records/kinds.ts';
import type { SeriesView } from '../../src/records/series-view.ts';
import type { ReportInput } from '../../src/reports/report-input.ts';
import {
  filmBody,
  measurementBody,
  pieceBody,
  runBody,
  seriesBody,
  targetBody,
  treatmentBody,
} from '../logbook/bodies.ts';

export const HOSTILE =
  '</style></svg><script src="https://evil.example/x.js">alert(1)</script>"\'&../../x\u202e';

const AT = '2024-05-01T10:00:00.000Z';
let count = 0;

function record<Kind extends RecordKind>(kind: Kind, body: RecordBodies[Kind]) {
  count++;
  const id = `01900000-0000-7000-8000-${String(count).padStart(12, '0')}`;
  return {
    id,
    kind,
    seriesId: null,
    revision: 1,
    body,
    createdAt: AT,
    updatedAt: AT,
    by: HOSTILE,
    isDeleted: false,
  };
}

const temperatureK = Array.from({ length: 41 }, (_, i) => 80 + 0.5 * i);

export function hostileSeries(isInvented: boolean): ReportInput {
  count = 0;
  const target = record('target', { ...targetBody(HOSTILE), note: HOSTILE });
  const run = record('run', { ...runBody(HOSTILE, target.id), mounting: HOSTILE, note: HOSTILE });
  const film = record('film', { ...filmBody(HOSTILE, run.id), substrate: HOSTILE, note: HOSTILE });
  const piece = record('piece', { ...pieceBody(HOSTILE, film.id), note: HOSTILE });
  const treatment = record('treatment', { ...treatmentBody(HOSTILE, piece.id), note: HOSTILE });
  const measurement = record('measurement', {
    ...measurementBody(HOSTILE, {
      pieceId: piece.id,
      stateTreatmentId: treatment.id,
      fileSha256: 'a'.repeat(64),
      fileBytes: 1000,
      blob: 'b'.repeat(64),
    }),
    fileName: HOSTILE,
    warnings: [HOSTILE],
    mapping: {
      kind: 'resistance',
      block: 0,
      columns: [
        { role: 'temperatureK', column: 0, unit: 'K' },
        { role: 'resistanceOhm', column: 1, unit: 'ohm' },
      ],
    },
  });
  const facts = {
    numbers: [
      {
        name: 'tcMidpointK' as const,
        value: 90.5,
        standardUncertainty: 0.1,
        origin: 'measured' as const,
        method: HOSTILE,
        measurementId: measurement.id,
      },
    ],
    phases: [{ phase: HOSTILE, answer: 'absent' as const, origin: 'typed' as const }],
  };
  const typed = record('typedFacts', {
    pieceId: piece.id,
    stateTreatmentId: treatment.id,
    numbers: [],
    phases: facts.phases,
    composition: null,
    source: HOSTILE,
    note: HOSTILE,
  });
  const made = { computation: 'transition.resistive', version: 1, effectiveVersion: HOSTILE };
  const view = {
    series: record('series', {
      ...seriesBody(HOSTILE),
      isInvented,
      aim: HOSTILE,
      note: HOSTILE,
      criteria: [
        { kind: 'phase', phase: HOSTILE, wanted: 'absent' },
        { kind: 'number', fact: 'tcMidpointK', comparison: 'at least', wanted: 88, relativeTo: 'nothing' },
      ],
      benchmarkPieceId: piece.id,
    }),
    lots: [],
    targets: [target],
    runs: [run],
    films: [film],
    pieces: [piece],
    treatments: [treatment],
    measurements: [measurement],
    typedFacts: [typed],
    literaturePoints: [],
    pathPlans: [],
    powders: [],
    chambers: [],
    analyses: [
      {
        ...made,
        id: measurement.id,
        measurementId: measurement.id,
        isStale: true,
        failure: null,
        facts: { ...facts, phases: [] },
        flags: [{ code: 'X', message: HOSTILE }],
        madeAt: AT,
      },
    ],
    verdicts: [
      {
        ...made,
        computation: 'learning.verdict',
        id: piece.id,
        pieceId: piece.id,
        stateTreatmentId: treatment.id,
        isStale: true,
        outcome: 'falls short',
        response: {
          reasons: [
            {
              criterionIndex: 0,
              outcome: 'falls short',
              odds: 0.001,
              sentence: HOSTILE,
              wouldDecide: HOSTILE,
            },
          ],
          flags: [{ code: 'X', message: HOSTILE }],
        },
        madeAt: AT,
      },
    ],
    proposals: record('proposals', {
      ...made,
      computation: 'learning.next',
      seriesId: film.id,
      request: {},
      response: {
        proposals: [
          {
            cations: { Y: 1, Ba: 3, Cu: 6 },
            re: 0.1,
            ba: 0.3,
            cu: 0.6,
            oddsLiquidAnd123: 0.5,
            sentence: HOSTILE,
            couldGoWrong: HOSTILE,
          },
        ],
        flags: [{ code: 'X', message: HOSTILE }],
      },
    }),
    proposalsAreStale: true,
  } as unknown as SeriesView;
  const curve: StoredView = {
    measurement: { body: { label: HOSTILE, settings: {} } },
    analysis: null,
    roles: ['temperatureK', 'resistanceOhm'],
    columns: [temperatureK, temperatureK.map((kelvin) => (kelvin > 90 ? 50 : 0))],
  };
  return { view, fields: null, curves: new Map([[measurement.id, curve]]) };
}
