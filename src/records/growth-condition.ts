// At which temperature and oxygen pressure a film became what it is. Pure.
import type { FilmRow } from './film-rows.ts';
import type { SeriesView } from './series-view.ts';

export interface FilmCondition {
  temperatureC: number;
  po2Atm: number;
}

/** A treatment below this only takes oxygen up or dries; nothing converts. [common practice] */
const COLDEST_CONVERSION_C = 600;

/**
 * In situ, and where no route is stated, the run's surface temperature and oxygen pressure; ex situ, the hottest step of the treatments that the piece
 * which speaks for the film went through. Null where that is not recorded.
 */
export function filmCondition(view: SeriesView, row: FilmRow): FilmCondition | null {
  if (row.route === 'ex situ') {
    const steps = view.treatments
      .filter((treatment) => treatment.body.pieceId === row.best?.piece.id)
      .flatMap((treatment) => treatment.body.segments)
      .filter(({ toC, po2Atm }) => toC >= COLDEST_CONVERSION_C && po2Atm > 0);
    const hottest = steps.sort((one, other) => other.toC - one.toC)[0];
    return hottest ? { temperatureC: hottest.toC, po2Atm: hottest.po2Atm } : null;
  }
  const { temperatureC, po2Atm } = row;
  return temperatureC === null || po2Atm === null || po2Atm <= 0 ? null : { temperatureC, po2Atm };
}
