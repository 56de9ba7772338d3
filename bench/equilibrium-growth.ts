// How the cost of the triangle grows with compositions and members: diagrams, then their scan, and the entry as a page asks it.
import { equilibriumFields } from '../src/computations/equilibrium/fields.ts';
import { type Diagram, diagramOf } from '../src/science/equilibrium/diagram.ts';
import { scanDiagrams } from '../src/science/equilibrium/field-scan.ts';
import { compositionLattice } from '../src/science/equilibrium/lattice.ts';
import { publishedMembers } from '../src/science/equilibrium/members.ts';
import { phaseSystem, superconductorName } from '../src/science/equilibrium/phase-system.ts';
import { inTurn, machine, printSummaries, type Time, timeOf } from './baseline/rounds.ts';

const CONDITIONS = { rareEarth: 'Y', temperatureK: 1173.15, po2Atm: 0.1 } as const;
const DIVISIONS = [30, 50, 100, 200];
const MEMBERS = [1, 10, 50, 60];
let consumed = 0;

const diagramsOf = (count: number): Diagram[] =>
  publishedMembers(0, count).map((member) => diagramOf(phaseSystem(member, CONDITIONS)));

function entry(divisions: number, members: number): void {
  const request = equilibriumFields.request.parse({
    rareEarth: 'Y',
    temperatureC: 900,
    po2Atm: 0.1,
    divisions,
    members,
  });
  const answer = equilibriumFields.merge(
    request,
    equilibriumFields.plan(request).map(equilibriumFields.runPart),
  );
  consumed += answer.liquidShare[0]!;
}

const pieces: [string, () => Time][] = [];
for (const count of MEMBERS) {
  pieces.push([
    `diagrams of ${count} members`,
    () =>
      timeOf(() => {
        consumed += diagramsOf(count)[0]!.names.length;
      }),
  ]);
}
for (const [divisions, count] of [
  ...DIVISIONS.map((each) => [each, 50] as const),
  ...MEMBERS.map((each) => [100, each] as const),
]) {
  const { re, ba, cu } = compositionLattice(divisions);
  const diagrams = diagramsOf(count);
  pieces.push([
    `scan of ${re.length} compositions in ${count} members`,
    () =>
      timeOf(() => {
        consumed += scanDiagrams(diagrams, superconductorName('Y'), re, ba, cu).liquidShare[0]!;
      }),
  ]);
  pieces.push([
    `equilibrium.fields, ${re.length} compositions, ${count} members`,
    () => timeOf(() => entry(divisions, count)),
  ]);
}
printSummaries(await inTurn(pieces));
console.log(`${machine()}, sum ${consumed.toExponential(3)}`);
