// `next`: the next targets of a series, each with its reason.
import { ratioText } from '../charts/trade-text.ts';
import { proposeTargets } from '../jobs/propose-targets.ts';
import { newId } from '../logbook/ids.ts';
import { type Command, SERIES_OPTION } from './command.ts';
import { wholeNumber } from './command-line.ts';
import { EXIT } from './errors.ts';
import { withHome } from './home.ts';
import { chosenView, withNotice } from './series-records.ts';
import { plainText } from './text-table.ts';

interface ProposalsAnswer {
  proposals: { cations: Record<string, number>; sentence: string; couldGoWrong: string }[];
  flags: { code: string; message: string }[];
}

const DEFAULT_COUNT = 3;
const COUNT_RANGE = [1, 10] as const;

export const NEXT: Command = {
  name: 'next',
  summary: 'Ask which targets to press next, and keep the proposals.',
  usage: ['next [--series LABEL|ID] [--count N]'],
  options: {
    series: SERIES_OPTION,
    count: {
      takes: 'text',
      placeholder: 'N',
      says: `how many, ${COUNT_RANGE.join(' to ')}; ${DEFAULT_COUNT} if left out`,
    },
  },
  positionals: [0, 0],
  async run(call) {
    const count = wholeNumber(call, 'count', DEFAULT_COUNT, COUNT_RANGE);
    return withHome(async (bench) => {
      const view = await chosenView(bench.store.read, call.text('series'));
      const record = await proposeTargets(bench, { seriesId: view.series.id, changeId: newId(), count });
      const { computation, version, response } = record.body;
      const { proposals, flags } = response as ProposalsAnswer;
      const text = [
        ...proposals.map(({ cations, sentence, couldGoWrong }, i) =>
          [
            plainText(`${i + 1}. ${ratioText(cations)}`),
            plainText(`   ${sentence}`),
            plainText(`   ${couldGoWrong}`),
          ].join('\n'),
        ),
        ...flags.map(({ message }) => plainText(`note: ${message}`)),
      ].join('\n\n');
      return {
        exitCode: proposals.length > 0 ? EXIT.passes : EXIT.cannotSay,
        json: { id: record.id, computation, version, response },
        text: withNotice(view, text),
      };
    });
  },
};
