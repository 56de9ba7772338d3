// One composition in 50 members, each minimised exactly over solids and a melt of free composition, beside one hull of 200 given
// points in SciPy. Answers are compared before times: ours with a linear programme over the solids and a dense sample of melts.
import { assemblageAt } from '../src/science/equilibrium/assemblage.ts';
import { publishedMembers } from '../src/science/equilibrium/members.ts';
import { phaseSystem } from '../src/science/equilibrium/phase-system.ts';
import { pointEquilibrium } from '../src/science/equilibrium/point-equilibrium.ts';
import { inTurn, machine, PythonBaseline, printSummaries, type Time, timeOf } from './baseline/rounds.ts';

const MEMBERS = 50;
const POINTS = 200;
const REPEATS = 10;
/** A sample misses the lowest melt by this at most, J per mole of cations. */
const SAMPLED_J = 20;
const SHAPES = [
  { name: 'easy: 800 degC, 1e-4 atm, solids', temperatureK: 1073.15, po2Atm: 1e-4 },
  { name: 'middle: 900 degC, 0.1 atm', temperatureK: 1173.15, po2Atm: 0.1 },
  { name: 'worst: 1000 degC, 0.21 atm, melt in every member', temperatureK: 1273.15, po2Atm: 0.21 },
];
const SHARES = [0.1, 0.3, 0.6] as const;

const members = publishedMembers(0, MEMBERS);
let consumed = 0;
for (const { name, temperatureK, po2Atm } of SHAPES) {
  const conditions = { rareEarth: 'Y', temperatureK, po2Atm } as const;
  /** The solids, and melts up to a number of points in all: dense where melts lie. */
  const pointsOf = (member: (typeof members)[number], count: number) => {
    const { shares, heights, names, search } = phaseSystem(member, conditions);
    const points = {
      shares: [...shares],
      heights: [...heights],
      isLiquid: names.map(() => false),
      is123: names.map((each) => each === 'YBa2Cu3O7'),
    };
    const nMelt = count - heights.length;
    const nRe = Math.max(4, Math.round(Math.sqrt(nMelt) / 3));
    for (let k = 0; k < nMelt; k++) {
      const y = 10 ** (-4 + (3.4 * (k % nRe)) / (nRe - 1));
      const b = ((Math.floor(k / nRe) + 0.5) / Math.ceil(nMelt / nRe)) * (1 - y);
      points.shares.push(y, b, 1 - y - b);
      points.heights.push(search.melt.omega(y, b));
      points.isLiquid.push(true);
      points.is123.push(false);
    }
    return points;
  };
  const energies = members.map((member) => {
    const { plane } = pointEquilibrium(phaseSystem(member, conditions), SHARES);
    return SHARES.reduce((sum, share, k) => sum + share * plane[k]!, 0);
  });
  const judge = new PythonBaseline('hulls.py', {
    compositions: SHARES,
    members: members.map((member) => pointsOf(member, 5000)),
  });
  const sampled = await judge.ask<number[]>(`decide ${JSON.stringify(members.map((_, m) => [0, m]))}`);
  judge.close();
  const above = energies.map((energy, m) => sampled[m]! - energy);
  console.log(name);
  console.log(
    `  the exact minimum lies ${Math.min(...above).toExponential(1)} to ${Math.max(...above).toFixed(2)} J below the sampled one`,
  );
  if (Math.min(...above) < -1e-3 || Math.max(...above) > SAMPLED_J)
    throw new Error(`the answers differ: ${name}`);

  const python = new PythonBaseline('hulls.py', {
    compositions: SHARES,
    members: [pointsOf(members[0]!, POINTS)],
  });
  const summaries = await inTurn([
    [`SciPy, one hull of ${POINTS} points`, () => python.ask<Time>('point')],
    [
      `ours, ${MEMBERS} members minimised`,
      () =>
        timeOf(() => {
          for (const member of members)
            consumed += pointEquilibrium(phaseSystem(member, conditions), SHARES).plane[2];
        }, REPEATS),
    ],
    [
      'ours, with odds, intervals and driving',
      () =>
        timeOf(() => {
          consumed += assemblageAt(members, conditions, SHARES).liquidShare.value;
        }, REPEATS),
    ],
  ]);
  python.close();
  printSummaries(summaries);
  const [hull, ...ours] = summaries;
  console.log(
    `  ours / SciPy: ${ours.map(({ medianMs, medianCpuMs }) => `${(medianMs / hull!.medianMs).toFixed(1)} (processor ${(medianCpuMs / hull!.medianCpuMs).toFixed(1)})`).join(', ')}`,
  );
}
console.log(`${machine()}, sum ${consumed.toExponential(3)}`);
