// Makes docs/errors.md from the error codes of every layer.
import { CLI_CODES } from '../src/cli/errors.ts';
import { FORMAT_CODES } from '../src/formats/errors.ts';
import { STORE_CODES } from '../src/logbook/errors.ts';
import { SCIENCE_CODES } from '../src/science/errors.ts';
import { SERVER_CODES } from '../src/server/errors.ts';

const LAYERS: readonly (readonly [layer: string, codes: Record<string, string>])[] = [
  ['science', SCIENCE_CODES],
  ['formats', FORMAT_CODES],
  ['logbook', STORE_CODES],
  ['server', SERVER_CODES],
  ['command line', CLI_CODES],
];

/** The whole document: one table a layer, the remedy in the last column. */
export function errorsDocument(): string {
  const tables = LAYERS.map(([layer, codes]) => {
    const rows = Object.entries(codes)
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .map(([code, remedy]) => `| \`${code}\` | ${remedy.replaceAll('|', '\\|')} |`);
    return [`## ${layer}`, '', '| code | what to do |', '| --- | --- |', ...rows, ''].join('\n');
  });
  return [
    '# Error codes',
    '',
    'Made by `npm run generate` from the `errors.ts` of each layer. A message says what is wrong with the value found,',
    'where, what was expected and what to do next; where a message names no remedy of its own, it is the one below.',
    '',
    ...tables,
  ].join('\n');
}
