// Kills a server again and again while files are sent to it and read in, and prints what was lost.
// `--kills N` (20), `--seed S` (1), `--files N` (100). Exit codes: 0 nothing lost, 1 something lost or amiss, 2 bad
// arguments.
import { parseArgs } from 'node:util';
import { runServerKills } from '../test/server/kill-run.ts';

const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '20' },
    seed: { type: 'string', default: '1' },
    files: { type: 'string', default: '100' },
  },
});
const [kills, seed, files] = [values.kills, values.seed, values.files].map(Number) as [
  number,
  number,
  number,
];
const areWhole = [kills, seed, files].every(Number.isInteger);
if (!areWhole || kills < 1 || seed < 0 || files < 1 || files > 1000) {
  console.error(
    `--kills ${values.kills} --seed ${values.seed} --files ${values.files}: give whole numbers, 1 kill or more, a seed ` +
      'of 0 or more, 1 to 1000 files.',
  );
  process.exit(2);
}
const { faults, ...counts } = await runServerKills({
  kills,
  seed,
  files,
  report: (line) => console.log(line),
});
console.log(counts);
for (const fault of faults) console.log(fault);
const isWhole = counts.lost === 0 && counts.failedOpens === 0 && faults.length === 0;
process.exit(isWhole && counts.measurements === files ? 0 : 1);
