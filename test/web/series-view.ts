// Views of a series for the tests of drafts: empty, and records as they are delivered.
import type { RecordBodies, RecordKind } from '../../src/records/kinds.ts';
import type { SeriesView } from '../../src/records/series-view.ts';

const AT = '2026-01-01T00:00:00.000Z';

/** A record as it is delivered. */
export function stored<Kind extends RecordKind>(kind: Kind, id: string, body: RecordBodies[Kind]) {
  return {
    id,
    kind,
    seriesId: 'series',
    revision: 1,
    body,
    createdAt: AT,
    updatedAt: AT,
    by: 'test',
    isDeleted: false,
  };
}

/** A view with the lists given; the rest is empty. */
export function viewWith(parts: Partial<SeriesView>): SeriesView {
  const series = stored('series', 'series', {
    label: 'S',
    aim: '',
    isInvented: true,
    rareEarths: ['Dy'],
    growth: { temperatureC: 835, po2Atm: 4e-4, meltOffsetJPerMol: 0 },
    coil: null,
    criteria: [],
    benchmarkPieceId: null,
    controlPieceId: null,
    note: '',
  });
  return {
    series,
    lots: [],
    targets: [],
    runs: [],
    films: [],
    pieces: [],
    treatments: [],
    measurements: [],
    typedFacts: [],
    literaturePoints: [],
    pathPlans: [],
    powders: [],
    chambers: [],
    analyses: [],
    verdicts: [],
    proposals: null,
    proposalsAreStale: false,
    ...parts,
  };
}
