// `report`: a series as one document that others can open, with its tables and figures.
import { chooseSeries } from './choose.ts';
import { type Command, SERIES_OPTION } from './command.ts';
import { CliError, EXIT } from './errors.ts';
import { withHome } from './home.ts';
import { claimFolder, writeReport } from './report-folder.ts';

export const REPORT: Command = {
  name: 'report',
  summary: 'Write the report of a series: one HTML document, tables as CSV, figures as SVG, PNG and CSV.',
  usage: ['report --out FOLDER [--series LABEL|ID]'],
  options: {
    out: {
      takes: 'text',
      placeholder: 'FOLDER',
      says: 'an empty or new folder, or one that this command made before',
    },
    series: SERIES_OPTION,
  },
  positionals: [0, 0],
  async run(call) {
    const out = call.text('out');
    if (out === undefined)
      throw new CliError('OPTION_VALUE', '`report` needs --out FOLDER, but it was not given.');
    return withHome(async (bench) => {
      const series = await chooseSeries(bench.store.read, call.text('series'));
      const folder = await claimFolder(out, `Report of the series ${series.id}, written by Peritect.`);
      const written = await writeReport(bench, series.id, folder, call.progress);
      return {
        exitCode: EXIT.passes,
        json: { seriesId: series.id, ...written },
        text: `${written.report}: the report of ${series.body.label}, with ${written.figures} figures in figures/, films.csv and facts.csv.`,
      };
    });
  },
};
