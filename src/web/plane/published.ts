// Published lines and points, and the user's own, as the map lays them over. Pure.
import type { OverlayKind, PlaneRequest } from '../../charts/plane/plane-request.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { ZERO_CELSIUS_K } from '../../science/equilibrium/oxygen.ts';
import { PUBLISHED_EQUILIBRIA } from '../../science/tables/published-equilibria.ts';

/** One row of the list beside the map. */
export interface Observation {
  readonly id: string;
  readonly kind: OverlayKind;
  readonly label: string;
  readonly phases: string;
  /** where it stands, in words for the list */
  readonly temperatureC: readonly number[];
  readonly po2Atm: readonly number[];
  readonly source: string;
  /** how the number is known; null for the user's own */
  readonly tag: string | null;
}

type Lines = NonNullable<PlaneRequest['lines']>;
type Points = NonNullable<PlaneRequest['points']>;

const LINE_POINTS = 40;

const kindOf = ({ inFilms }: { inFilms: boolean }): OverlayKind => (inFilms ? 'film' : 'bulk');

/** pO2 of a published line: log10 of atm = a + b / T. */
const lineAtm = ([a, b]: readonly number[], temperatureC: number): number =>
  10 ** (a! + b! / (temperatureC + ZERO_CELSIUS_K));

export function publishedLines(): Lines {
  return PUBLISHED_EQUILIBRIA.records
    .filter((record) => record.kind === 'line')
    .map((record) => {
      const { id, label, source, log10Atm, temperatureC } = record;
      const [from, to] = temperatureC as readonly [number, number];
      return {
        id,
        label,
        source,
        kind: kindOf(record),
        points: Array.from({ length: LINE_POINTS }, (_, i) => {
          const at = from + ((to - from) * i) / (LINE_POINTS - 1);
          return { x: lineAtm(log10Atm, at), temperatureC: at };
        }),
      };
    });
}

export function publishedPoints(): Points {
  return PUBLISHED_EQUILIBRIA.records
    .filter((record) => record.kind === 'point')
    .map((record) => ({
      id: record.id,
      label: record.label,
      source: record.source,
      kind: kindOf(record),
      x: record.po2Atm,
      temperatureC: record.temperatureC,
      temperatureCU: record.sigmaC,
    }));
}

export function ownPoints(records: SeriesView['literaturePoints']): Points {
  return records.map(({ id, body }) => ({
    id,
    label: `${body.label} (${body.phases})`,
    source: body.source,
    kind: 'own' as const,
    x: body.po2Atm,
    temperatureC: body.temperatureC,
    temperatureCU: null,
  }));
}

/** Everything published, for the list under the map. */
export function publishedObservations(): Observation[] {
  return PUBLISHED_EQUILIBRIA.records.map((record) => {
    const { id, label, phases, source, tag } = record;
    const temperatureC =
      typeof record.temperatureC === 'number' ? [record.temperatureC] : record.temperatureC;
    return {
      id,
      kind: kindOf(record),
      label,
      phases: phases.join(', '),
      temperatureC,
      po2Atm:
        record.kind === 'point' ? [record.po2Atm] : temperatureC.map((at) => lineAtm(record.log10Atm, at)),
      source,
      tag,
    };
  });
}
