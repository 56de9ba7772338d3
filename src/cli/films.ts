// `films`: the films of a series, best first.
import { filmCell, filmColumns } from '../charts/film-columns.ts';
import { pressureText, ratioText } from '../charts/trade-text.ts';
import { type FilmRow, filmRows } from '../records/film-rows.ts';
import { type Command, SERIES_OPTION } from './command.ts';
import { EXIT } from './errors.ts';
import { withHome } from './home.ts';
import { chosenView, withNotice } from './series-records.ts';
import { textTable } from './text-table.ts';

function filmJson(row: FilmRow): unknown {
  const { film, run, target, cations, route, temperatureC, po2Atm, best, outcome, rank } = row;
  return {
    rank,
    id: film.id,
    label: film.body.label,
    run: run?.body.label ?? null,
    target: target?.body.label ?? null,
    outcome: best?.verdict ? outcome : null,
    isVerdictStale: best?.verdict?.isStale ?? false,
    piece: best?.piece.body.label ?? null,
    cations,
    route,
    temperatureC,
    po2Atm,
    numbers: best?.numbers ?? [],
    phases: best?.phases ?? [],
  };
}

export const FILMS: Command = {
  name: 'films',
  summary: 'The films of a series in rank order, with what was measured.',
  usage: ['films [--series LABEL|ID]'],
  options: { series: SERIES_OPTION },
  positionals: [0, 0],
  run: (call) =>
    withHome(async ({ store }) => {
      const view = await chosenView(store.read, call.text('series'));
      const { coil, benchmarkPieceId, controlPieceId } = view.series.body;
      const rows = filmRows(view);
      const columns = filmColumns(coil);
      const has = (row: FilmRow, pieceId: string | null) =>
        pieceId !== null && row.states.some(({ piece }) => piece.id === pieceId);
      const table = textTable(
        [
          { heading: 'Rank', isNumber: true },
          { heading: 'Film' },
          { heading: '' },
          { heading: 'Verdict' },
          { heading: 'Cation ratio' },
          { heading: 'Grown' },
          ...columns.map(({ heading }) => ({ heading, isNumber: true })),
        ],
        rows.map((row) => [
          row.best?.verdict ? String(row.rank) : '',
          row.film.body.label,
          has(row, benchmarkPieceId) ? 'benchmark' : has(row, controlPieceId) ? 'control' : '',
          row.best?.verdict ? `${row.outcome}${row.best.verdict.isStale ? ' (old)' : ''}` : 'not judged',
          row.cations ? ratioText(row.cations) : '',
          [
            row.route,
            row.temperatureC === null ? '' : `${Math.round(row.temperatureC)} °C`,
            row.po2Atm === null ? '' : pressureText(row.po2Atm),
          ]
            .filter(Boolean)
            .join(', '),
          ...columns.map((column) =>
            filmCell(column, row.best?.numbers ?? [], row.best?.oldMeasurementIds ?? []),
          ),
        ]),
      );
      const text = rows.length > 0 ? table : 'No film is recorded yet.';
      return { exitCode: EXIT.passes, json: rows.map(filmJson), text: withNotice(view, text) };
    }),
};
