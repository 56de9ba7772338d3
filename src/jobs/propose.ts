// The next targets: odds over the triangle, what was tried, asked of the catalogue.

import { filmRows } from '../records/film-rows.ts';
import { type FilmCondition, filmCondition } from '../records/growth-condition.ts';
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

/** A film grown further than this from the condition asked about is no evidence for it. [not established: a choice] */
const LARGEST_STEP_K = 40;
const LARGEST_STEP_DECADES = 1;

/** How a film's condition is unlike the one asked about, in words; empty where it is like it, or not recorded. */
function unlikeness(grown: FilmCondition | null, asked: Series['growth']): string {
  if (!grown) return '';
  const isLike =
    Math.abs(grown.temperatureC - asked.temperatureC) <= LARGEST_STEP_K &&
    Math.abs(Math.log10(grown.po2Atm / asked.po2Atm)) <= LARGEST_STEP_DECADES;
  return isLike
    ? ''
    : `grown at ${Math.round(grown.temperatureC)} degC and ${grown.po2Atm.toPrecision(2)} atm O2, too unlike to count`;
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
    const { label } = row.film.body;
    const unlike = unlikeness(filmCondition(view, row), growth);
    // a film grown elsewhere fills its place in the design, but its verdict says nothing of this condition
    const said = unlike ? { outcome: 'cannot say', reason: unlike } : { outcome: row.outcome, reason };
    return [{ re, ba, cu, outcome: said.outcome, reason: said.reason.slice(0, 300), label }];
  });
  return {
    rareEarth: rareEarths[0],
    fieldOdds,
    tried,
    count,
    temperatureC: growth.temperatureC,
    po2Atm: growth.po2Atm,
    meltOffsetJPerMol: growth.meltOffsetJPerMol,
    seed: 0,
  };
}
