// The tables of a report as comma-separated values: films, and every fact with its origin. Numbers in SI, in full.
import { type Cell, csvText } from '../charts/csv.ts';
import { filmColumns } from '../charts/film-columns.ts';
import type { FilmRow } from '../records/film-rows.ts';
import { filmStory, type Origin } from '../records/film-story.ts';
import type { SeriesView } from '../records/series-view.ts';
import { FACT_UNITS } from '../science/learning/facts.ts';
import { findFact } from '../science/learning/find-fact.ts';

const columnsOf = (names: readonly (readonly [name: string, unit: string])[], rows: readonly Cell[][]) =>
  csvText({ columns: names.map(([name, unit], i) => ({ name, unit, values: rows.map((row) => row[i]!) })) });

/** One line a film, best first. */
export function filmsCsv(view: SeriesView, rows: readonly FilmRow[]): string {
  const cations = [...new Set(rows.flatMap((row) => Object.keys(row.cations ?? {})))];
  const numbers = filmColumns(view.series.body.coil);
  const names: [string, string][] = [
    ['rank', ''],
    ['film', ''],
    ['verdict', ''],
    ['best piece', ''],
    ['route', ''],
    ['surface temperature', '°C'],
    ['pO₂', 'atm'],
    ...cations.map((element): [string, string] => [element, 'amount']),
    ...numbers.flatMap(({ fact, at }): [string, string][] => {
      const where = at ? ` at ${at.temperatureK} K ${at.fieldT} T` : '';
      const unit = FACT_UNITS[fact];
      return [
        [`${fact}${where}`, unit],
        [`${fact}${where} u`, unit],
        [`${fact}${where} bound`, ''],
      ];
    }),
  ];
  return columnsOf(
    names,
    rows.map((row) => [
      row.best?.verdict ? row.rank : null,
      row.film.body.label,
      row.best?.verdict ? row.outcome : null,
      row.best?.piece.body.label ?? null,
      row.route,
      row.temperatureC,
      row.po2Atm,
      ...cations.map((element) => row.cations?.[element] ?? null),
      ...numbers.flatMap(({ fact, at }): Cell[] => {
        const found = findFact(row.best?.numbers ?? [], fact, at)?.fact;
        return [found?.value ?? null, found?.standardUncertainty ?? null, found?.bound ?? null];
      }),
    ]),
  );
}

function originCells({ measurement, typed }: Origin): Cell[] {
  return [measurement?.body.fileName ?? typed?.body.source ?? null, measurement?.body.fileSha256 ?? null];
}

/** One line a fact of each piece in each state, with where it came from. */
export function factsCsv(view: SeriesView, rows: readonly FilmRow[]): string {
  const lines = rows.flatMap(({ film }) =>
    filmStory(view, film.id)!.pieces.flatMap(({ piece, states }) =>
      states.flatMap(({ treatment, facts, phases }): Cell[][] => {
        const where = [film.body.label, piece.body.label, treatment?.body.label ?? 'as grown'];
        return [
          ...facts.map(({ fact, ...origin }): Cell[] => [
            ...where,
            fact.name,
            fact.value,
            fact.standardUncertainty,
            FACT_UNITS[fact.name],
            fact.bound ?? null,
            fact.at?.temperatureK ?? null,
            fact.at?.fieldT ?? null,
            fact.at?.thetaDeg ?? null,
            fact.method,
            fact.origin,
            ...originCells(origin),
          ]),
          ...phases.map(({ fact, ...origin }): Cell[] => [
            ...where,
            fact.phase,
            fact.answer,
            null,
            null,
            null,
            null,
            null,
            null,
            'phase',
            fact.origin,
            ...originCells(origin),
          ]),
        ];
      }),
    ),
  );
  const names: [string, string][] = [
    ['film', ''],
    ['piece', ''],
    ['state', ''],
    ['fact', ''],
    ['value', ''],
    ['standard uncertainty', ''],
    ['unit', ''],
    ['bound', ''],
    ['temperature', 'K'],
    ['field', 'T'],
    ['angle from film normal', 'deg'],
    ['method', ''],
    ['origin', ''],
    ['file or source', ''],
    ['SHA-256', ''],
  ];
  return columnsOf(names, lines);
}
