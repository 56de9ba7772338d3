// `series`: what the store holds.
import { seriesViewFrom } from '../jobs/series-view.ts';
import { filmRows } from '../records/film-rows.ts';
import type { Command } from './command.ts';
import { EXIT } from './errors.ts';
import { withHome } from './home.ts';
import { textTable } from './text-table.ts';

export const SERIES: Command = {
  name: 'series',
  summary: 'List the series of the store, with how many films pass.',
  usage: ['series'],
  options: {},
  positionals: [0, 0],
  run: () =>
    withHome(async ({ store }) => {
      const all = await store.read.list('series');
      const list = await Promise.all(
        all.map(async ({ id, body }) => {
          const rows = filmRows(seriesViewFrom(await store.read.seriesRecords(id)));
          const passing = rows.filter(({ outcome }) => outcome === 'passes').length;
          return {
            id,
            label: body.label,
            isInvented: body.isInvented,
            films: rows.length,
            passing,
            aim: body.aim,
          };
        }),
      );
      const rows = list.map(({ id, label, isInvented, films, passing }) => [
        label,
        String(films),
        String(passing),
        isInvented ? 'invented' : '',
        id,
      ]);
      const table = textTable(
        [
          { heading: 'Series' },
          { heading: 'Films', isNumber: true },
          { heading: 'Pass', isNumber: true },
          { heading: 'Data' },
          { heading: 'Identifier' },
        ],
        rows,
      );
      return {
        exitCode: EXIT.passes,
        json: list,
        text: rows.length > 0 ? table : 'The store holds no series.',
      };
    }),
};
