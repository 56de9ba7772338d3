// `demo`: the invented series, loaded the way a person would, and its report. Needs no store and leaves yours alone.
import { join } from 'node:path';
import { DEMO_FILM_COUNT, DEMO_SEED, generateDemo } from '../../demo/generate.ts';
import { loadSeries } from '../jobs/load-series.ts';
import { openWorkbench } from '../jobs/open-workbench.ts';
import type { Command } from './command.ts';
import { wholeNumber } from './command-line.ts';
import { EXIT } from './errors.ts';
import { threadCount } from './home.ts';
import { claimFolder, writeReport } from './report-folder.ts';
import { INVENTED } from './series-records.ts';

const DEFAULT_FOLDER = 'peritect-demo';
const FILM_RANGE = [2, 40] as const;
/** A file in so many is told of. */
const TOLD_FILES = 10;

export const DEMO: Command = {
  name: 'demo',
  summary: 'Load the invented demonstration series into a store of its own and write its report.',
  usage: ['demo [--out FOLDER] [--films N]'],
  options: {
    out: {
      takes: 'text',
      placeholder: 'FOLDER',
      says: `for store and report; ${DEFAULT_FOLDER} if left out`,
    },
    films: {
      takes: 'text',
      placeholder: 'N',
      says: `how many films, ${FILM_RANGE.join(' to ')}; ${DEMO_FILM_COUNT} if left out`,
    },
  },
  positionals: [0, 0],
  notes: [
    'Every number of it is invented and labelled so. A demo that broke off goes on where it stopped. To look at it on the',
    'pages or with the other commands, set PERITECT_HOME to FOLDER/store.',
  ],
  async run(call) {
    const films = wholeNumber(call, 'films', DEMO_FILM_COUNT, FILM_RANGE);
    const demo = generateDemo(DEMO_SEED, films);
    const holds = `Demonstration of Peritect with ${films} invented films.`;
    const folder = await claimFolder(call.text('out') ?? DEFAULT_FOLDER, holds);
    const store = join(folder, 'store');
    const bench = await openWorkbench(store, threadCount());
    try {
      call.progress(`Loading ${films} invented films with ${demo.files.length} measurement files ...`);
      const seriesId = await loadSeries(bench, demo, (done, total) => {
        if (done % TOLD_FILES === 0 || done === total) call.progress(`  ${done} of ${total} files read in`);
      });
      const written = await writeReport(bench, seriesId, folder, call.progress);
      return {
        exitCode: EXIT.passes,
        json: { seriesId, store, ...written },
        text: [
          INVENTED,
          '',
          `Report   ${written.report}`,
          `Store    ${store}`,
          '',
          'Open the report in a browser. To go on with this store: PERITECT_HOME=FOLDER/store, then `peritect films`.',
        ].join('\n'),
      };
    } finally {
      await bench.close();
    }
  },
};
