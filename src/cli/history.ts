// `history` and `undo`: what was changed, and taking a change back.

import { newId } from '../logbook/ids.ts';
import type { StoredChange } from '../logbook/reader.ts';
import { chooseSeries } from './choose.ts';
import type { Command } from './command.ts';
import { wholeNumber } from './command-line.ts';
import { EXIT } from './errors.ts';
import { withHome } from './home.ts';
import { plainText, textTable } from './text-table.ts';

const DEFAULT_COUNT = 20;
const COUNT_RANGE = [1, 1000] as const;

function stateOf(change: StoredChange): string {
  if (change.undoneBy !== null) return 'undone';
  return change.undoes === null ? '' : 'takes one back';
}

export const HISTORY: Command = {
  name: 'history',
  summary: 'The latest changes of the store, newest first.',
  usage: ['history [--series LABEL|ID] [--count N]'],
  options: {
    series: { takes: 'text', placeholder: 'LABEL|ID', says: 'of one series only' },
    count: {
      takes: 'text',
      placeholder: 'N',
      says: `how many, ${COUNT_RANGE.join(' to ')}; ${DEFAULT_COUNT} if left out`,
    },
  },
  positionals: [0, 0],
  async run(call) {
    const limit = wholeNumber(call, 'count', DEFAULT_COUNT, COUNT_RANGE);
    return withHome(async ({ store }) => {
      const wanted = call.text('series');
      const seriesId = wanted === undefined ? undefined : (await chooseSeries(store.read, wanted)).id;
      const changes = await store.read.changes({ limit, ...(seriesId === undefined ? {} : { seriesId }) });
      const table = textTable(
        [
          { heading: 'When (UTC)' },
          { heading: 'By' },
          { heading: 'What' },
          { heading: '' },
          { heading: 'Change' },
        ],
        changes.map((change) => [
          change.at.slice(0, 19).replace('T', ' '),
          change.by,
          change.what,
          stateOf(change),
          change.id,
        ]),
      );
      const text = changes.length > 0 ? table : 'Nothing was changed yet.';
      return { exitCode: EXIT.passes, json: changes, text };
    });
  },
};

export const UNDO: Command = {
  name: 'undo',
  summary: 'Take one change back; this is a change too, and can be taken back.',
  usage: ['undo CHANGE'],
  options: {},
  positionals: [1, 1],
  notes: ['CHANGE is an identifier that `peritect history` prints.'],
  run: (call) =>
    withHome(async ({ store }) => {
      const changeId = newId();
      const ofChange = call.positionals[0]!;
      const result = await store.undo({ changeId, ofChange });
      const undone = await store.read.findChange(ofChange);
      const text = plainText(
        `Taken back: ${undone?.what ?? ofChange} (${result.records.length} records). To do it again: peritect undo ${changeId}`,
      );
      return { exitCode: EXIT.passes, json: { changeId, ...result }, text };
    }),
};
