// The next targets: odds over the triangle, what was tried, asked of the catalogue.

import { filmRows } from '../records/film-rows.ts';
import type { Series } from '../records/kinds.ts';
import type { SeriesView } from '../records/series-view.ts';
import { ternaryCoordinates } from '../science/matter/cation-ratios.ts';

/** Lattice steps along a side: 861 compositions, fine enough for a target's ratio. */
const DIVISIONS = 40;

/** What `equilibrium.fields` is asked for the triangle of a series at its growth condition. */
export function fieldsRequest({ growth, rareEarths }: Series): Record<string, unknown> {
  return {
    rareEarth: rareEarths[0],
    temperatureC: growth.temperatureC,
    po2Atm: growth.po2Atm,
    divisions: DIVISIONS,
    offsetsJPerMol: growth.meltOffsetJPerMol === 0 ? {} : { liquid: growth.meltOffsetJPerMol },
  };
}

export interface FieldOdds {
  compositions: { re: number; ba: number; cu: number }[];
  odds: number[];
  usefulShares: number[];
}

/** What `learning.next` is asked: one tried composition a film, with its verdict and the first reason it fell short. */
export function proposalsRequest(
  view: SeriesView,
  count: number,
  fieldOdds: FieldOdds,
): Record<string, unknown> {
  const { growth, rareEarths } = view.series.body;
  const tried = filmRows(view).flatMap((row) => {
    if (!row.cations) return [];
    const { re, ba, cu } = ternaryCoordinates(row.cations);
    const reasons = (
      row.best?.verdict?.response as { reasons?: { outcome: string; sentence: string }[] } | undefined
    )?.reasons;
    const reason = reasons?.find((each) => each.outcome === 'falls short')?.sentence ?? '';
    return [{ re, ba, cu, outcome: row.outcome, reason: reason.slice(0, 300), label: row.film.body.label }];
  });
  return {
    rareEarth: rareEarths[0],
    fieldOdds,
    tried,
    count,
    temperatureC: growth.temperatureC,
    po2Atm: growth.po2Atm,
    seed: 0,
  };
}
