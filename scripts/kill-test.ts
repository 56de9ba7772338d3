// Kills an import into a store again and again and prints what was lost.
// `--kills N` (100), `--seed S` (1). Exit codes: 0 nothing lost, 1 something lost or amiss, 2 bad arguments.
import { parseArgs } from 'node:util';
import { runKills } from '../test/logbook/kill-run.ts';

const { values } = parseArgs({
  options: { kills: { type: 'string', default: '100' }, seed: { type: 'string', default: '1' } },
});
const [kills, seed] = [Number(values.kills), Number(values.seed)];
if (!Number.isInteger(kills) || kills < 1 || !Number.isInteger(seed) || seed < 0) {
  console.error(
    `--kills ${values.kills} --seed ${values.seed}: give a whole number of kills, 1 or more, and a seed, 0 or more.`,
  );
  process.exit(2);
}
const figures = await runKills({ kills, seed, report: (line) => console.log(line) });
const { faults, ...counts } = figures;
console.log(counts);
for (const fault of faults) console.log(fault);
process.exit(figures.lost > 0 || faults.length > 0 ? 1 : 0);
