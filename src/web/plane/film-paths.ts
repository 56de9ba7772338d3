// The heat and gas paths of a series that the map can show: treatments of pieces, and the runs of films grown in situ. Pure.

import type { CationRatio } from '../../records/common.ts';
import { filmRows } from '../../records/film-rows.ts';
import type { Segment } from '../../records/kinds.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { ROOM_C } from '../drafts/treatment-draft.ts';

export interface FilmPath {
  readonly id: string;
  readonly label: string;
  readonly cations: CationRatio | null;
  /** temperature before the first segment */
  readonly startC: number;
  readonly segments: readonly Segment[];
}

/** A run says one temperature and one pressure; how long the film was there, it does not. */
const RUN_STAYS_S = 0;

/** Every path, films in rank order, each with its run before its treatments. */
export function filmPaths(view: SeriesView): FilmPath[] {
  return filmRows(view).flatMap((row) => {
    const { film, cations, temperatureC, po2Atm } = row;
    const label = film.body.label;
    const grown: FilmPath[] =
      temperatureC !== null && po2Atm !== null && po2Atm > 0
        ? [
            {
              id: film.id,
              label: `${label}: run`,
              cations,
              startC: temperatureC,
              segments: [{ kind: 'hold', toC: temperatureC, durationS: RUN_STAYS_S, po2Atm, gas: '' }],
            },
          ]
        : [];
    const pieceIds = view.pieces.filter(({ body }) => body.filmId === film.id).map(({ id }) => id);
    const treated = view.treatments
      .filter(({ body }) => pieceIds.includes(body.pieceId))
      .map(({ id, body }) => ({
        id,
        label: `${label}: ${body.label}`,
        cations,
        startC: ROOM_C,
        segments: body.segments,
      }));
    return [...grown, ...treated];
  });
}
