// Prints every check of ours against something outside the project: function, source, expected, got. How many count is
// said last: rows of one quantity once, at most three on one source, none that rest on memory, on common practice or on a
// derivation of our own. Then the values kept out of the equilibrium's fit, misses among them.
import { ALL_CHECKS } from '../test/outside/all-checks.ts';
import { halfLastPlace } from '../test/outside/outside-check.ts';

const MOST_PER_SOURCE = 3;
const perSource = new Map<string, Set<string>>();
const counted = new Set<string>();
let misses = 0;

for (const { subject, checks } of ALL_CHECKS) {
  process.stdout.write(`\n## ${subject}\n`);
  for (const check of checks) {
    const got = check.got();
    const tolerance = check.tolerance ?? halfLastPlace(check.expected);
    const isInside = Math.abs(got - Number(check.expected)) <= tolerance * (1 + 1e-9);
    if (!isInside) misses++;
    const quantities = perSource.get(check.source) ?? new Set();
    perSource.set(check.source, quantities);
    const canCount =
      (check.provenance === 'looked-up' || check.provenance === 'reference library') &&
      (quantities.has(check.quantity) || quantities.size < MOST_PER_SOURCE);
    if (canCount && isInside) {
      quantities.add(check.quantity);
      counted.add(check.quantity);
    }
    process.stdout.write(
      `${isInside ? 'agrees' : 'MISSES'}  ${check.functionName}: ${check.quantity} = ${Number(got.toPrecision(8))} ${check.unit}, ` +
        `expected ${check.expected} +- ${Number(tolerance.toPrecision(2))}${check.toleranceReason ? ` (${check.toleranceReason})` : ''} ` +
        `[${check.provenance}: ${check.source}]${canCount ? '' : ' (not counted)'}\n`,
    );
  }
}
await import('./equilibrium-table.ts');
process.stdout.write(`\n${counted.size} outside checks count, ${misses} miss\n`);
if (misses > 0) process.exitCode = 1;
