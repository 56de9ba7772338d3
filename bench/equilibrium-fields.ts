// The whole triangle, 5151 compositions in 50 members, beside SciPy on the same Gibbs-energy points: the points that our
// diagrams ended with, melts among them. SciPy is given the points; ours is timed once on the same given points and once with
// the search for the melts, which SciPy is spared. Answers are compared before times.
import { type Diagram, diagramOf } from '../src/science/equilibrium/diagram.ts';
import { type FieldScan, scanDiagrams, scanFields } from '../src/science/equilibrium/field-scan.ts';
import { compositionLattice } from '../src/science/equilibrium/lattice.ts';
import { publishedMembers } from '../src/science/equilibrium/members.ts';
import { LIQUID, phaseSystem, superconductorName } from '../src/science/equilibrium/phase-system.ts';
import { GrowingHull } from '../src/science/numerics/growing-hull.ts';
import { inTurn, machine, PythonBaseline, printSummaries, type Time, timeOf } from './baseline/rounds.ts';

const MEMBERS = 50;
const DIVISIONS = 100;
const SHAPES = [
  { name: 'easy: 800 degC, 1e-4 atm, solids but for a corner', temperatureK: 1073.15, po2Atm: 1e-4 },
  { name: 'middle: 900 degC, 0.1 atm', temperatureK: 1173.15, po2Atm: 0.1 },
  { name: 'worst: 1000 degC, 0.21 atm, melt over half the triangle', temperatureK: 1273.15, po2Atm: 0.21 },
];

interface Points {
  readonly shares: readonly number[];
  readonly heights: readonly number[];
  readonly isLiquid: readonly boolean[];
  readonly is123: readonly boolean[];
}
const lattice = compositionLattice(DIVISIONS);
const n = lattice.re.length;
const members = publishedMembers(0, MEMBERS);
const superconductor = superconductorName('Y');

/** Our hull of given points. */
function diagramFrom({ shares: s, heights, isLiquid, is123 }: Points): Diagram {
  const hull = new GrowingHull([heights[0]!, heights[1]!, heights[2]!]); // the first three are the corners
  const nameOf = (i: number): string => (isLiquid[i] ? LIQUID : is123[i] ? superconductor : `solid ${i}`);
  const names = [0, 1, 2].map(nameOf);
  for (let i = 3; i < heights.length; i++)
    if (hull.add(s[3 * i]!, s[3 * i + 1]!, s[3 * i + 2]!, heights[i]!) >= 0) names.push(nameOf(i));
  return { hull, names };
}

const scanPoints = (all: readonly Points[]): FieldScan =>
  scanDiagrams(all.map(diagramFrom), superconductor, lattice.re, lattice.ba, lattice.cu);

/** Energy of every composition in every member, members innermost, J per mole of cations. */
function energiesOf(all: readonly Points[]): Float64Array {
  const weights = new Float64Array(3);
  const hulls = all.map((points) => diagramFrom(points).hull);
  return Float64Array.from({ length: n * all.length }, (_, at) => {
    const i = Math.floor(at / all.length);
    const hull = hulls[at % all.length]!;
    const place = [lattice.re[i]!, lattice.ba[i]!, lattice.cu[i]!] as const;
    return -hull.heightAbove(hull.locate(...place, weights), ...place, 0);
  });
}

let consumed = 0;
for (const { name, temperatureK, po2Atm } of SHAPES) {
  const conditions = { rareEarth: 'Y', temperatureK, po2Atm } as const;
  const points = members.map((member): Points => {
    const { hull, names } = diagramOf(phaseSystem(member, conditions));
    return {
      shares: hull.shares,
      heights: hull.heights,
      isLiquid: names.map((each) => each === LIQUID),
      is123: names.map((each) => each === superconductor),
    };
  });
  const compositions = Array.from({ length: n }, (_, i) => [lattice.re[i]!, lattice.ba[i]!, lattice.cu[i]!]);
  const python = new PythonBaseline('hulls.py', { compositions: compositions.flat(), members: points });

  const theirs = await python.ask<{ energies: number[]; shares: number[] }>('answer');
  const energies = energiesOf(points);
  const ours = scanPoints(points);
  const whole = scanFields(members, conditions, lattice.re, lattice.ba, lattice.cu);
  const doubtful: [composition: number, member: number][] = [];
  for (let at = 0; at < theirs.energies.length; at++) {
    const isSame =
      Math.abs(energies[at]! - theirs.energies[at]!) < 1e-5 && // J per mole of cations, of some 1e4
      Math.abs(ours.liquidShare[at]! - theirs.shares[at]!) < 1e-6 &&
      Math.abs(whole.liquidShare[at]! - theirs.shares[at]!) < 1e-6;
    if (!isSame) doubtful.push([Math.floor(at / MEMBERS), at % MEMBERS]);
  }
  // next to the rim some facets are so thin that their planes are rounding: there a linear programme on the points decides
  const decided = await python.ask<number[]>(`decide ${JSON.stringify(doubtful)}`);
  const worstJ = Math.max(
    0,
    ...decided.map((lowest, i) => Math.abs(energies[doubtful[i]![0] * MEMBERS + doubtful[i]![1]]! - lowest)),
  );
  console.log(name);
  console.log(
    `  ${points.reduce((sum, { heights }) => sum + heights.length, 0) / MEMBERS} points a member; ${doubtful.length} of ` +
      `${theirs.energies.length} answers differ, there ours is within ${worstJ.toExponential(1)} J of the linear programme`,
  );
  if (worstJ > 1e-4 || doubtful.length > theirs.energies.length / 200)
    throw new Error(`the answers differ: ${name}`);

  const summaries = await inTurn([
    ['SciPy, points given', () => python.ask<Time>('triangle')],
    [
      'ours, points given',
      () =>
        timeOf(() => {
          consumed += scanPoints(points).liquidShare[n]!;
        }),
    ],
    [
      'ours, melts searched for',
      () =>
        timeOf(() => {
          consumed += scanFields(members, conditions, lattice.re, lattice.ba, lattice.cu).liquidShare[n]!;
        }),
    ],
  ]);
  python.close();
  printSummaries(summaries);
  const [scipy, given, searched] = summaries as [
    (typeof summaries)[0],
    (typeof summaries)[0],
    (typeof summaries)[0],
  ];
  console.log(
    `  SciPy / ours: points given ${(scipy.medianMs / given.medianMs).toFixed(1)} (processor time ` +
      `${(scipy.medianCpuMs / given.medianCpuMs).toFixed(1)}), melts searched for ` +
      `${(scipy.medianMs / searched.medianMs).toFixed(1)} (${(scipy.medianCpuMs / searched.medianCpuMs).toFixed(1)})`,
  );
}
console.log(`${machine()}, sum ${consumed.toExponential(3)}`);
