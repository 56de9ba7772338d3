// The published values that the equilibrium's ensemble was kept from, beside what its members say: printed, and written to
// docs/science/equilibrium-checks.md. `--check` only says whether that page is as it would be written.
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { MEMBERS } from '../test/outside/equilibrium-asked.ts';
import { type KeptOut, keptOutRows } from '../test/outside/equilibrium-kept-out.ts';

const PAGE = join(import.meta.dirname, '..', 'docs', 'science', 'equilibrium-checks.md');

const number = (value: number): string =>
  Number.isFinite(value) ? String(Number(value.toPrecision(4))) : 'none';
/** A row says `inside` where the median lies in the published band, `bands overlap` where only the two bands meet. */
const verdict = ({ isInside, overlaps }: KeptOut): string =>
  isInside ? 'inside' : overlaps ? 'MISS (bands overlap)' : 'MISS';

const rows = keptOutRows();
const inside = rows.filter(({ isInside }) => isInside).length;
const lines = rows.map((row) => {
  const { quantity, unit, published, median, low, high, having, source, tag } = row;
  const some = having < MEMBERS.length && unit !== 'share of members' ? ` (${having} have it)` : '';
  return `| ${[quantity, published, unit, number(median), `${number(low)} to ${number(high)}${some}`, verdict(row), `${source} [${tag}]`].join(' | ')} |`;
});
const text = `# Published values kept out of the fit

Written by \`scripts/equilibrium-table.ts\`; do not edit. Nothing in this table is in any fit of the melt or its ensemble, but for the rows
"predicted without it", which say what a fit gives for a datum that was left out of it. Computed: the median of the
${MEMBERS.length} members and their middle 95 %. A row is inside where the median lies in the published band; a miss stays a
miss. A value or band tagged memory was not read again; bands of values printed without one are the width of the last
printed place or as said. For claims the number is the share of members that have it, and 95 % must.

${inside} of ${rows.length} are inside, ${rows.length - inside} are missed.

| quantity | published | unit | computed | middle 95 % | | source |
| --- | --- | --- | --- | --- | --- | --- |
${lines.join('\n')}
`;

if (process.argv.includes('--check')) {
  if (readFileSync(PAGE, 'utf8') !== text) {
    process.stderr.write(
      'docs/science/equilibrium-checks.md is not what the ensemble says now. Run `npm run check:science`.\n',
    );
    process.exitCode = 1;
  }
} else {
  writeFileSync(PAGE, text);
  process.stdout.write(`\n## published values kept out of the equilibrium's fit\n${lines.join('\n')}\n`);
}
process.stdout.write(
  `${inside} of ${rows.length} values kept out of the fit are inside their published band\n`,
);
