// The triangle that a slider redraws: 5151 compositions, with the nominal member alone and with 50 members. Baseline: the
// lowest mixture by trying every triple of phases, at 100 of the compositions.
import { equilibriumFields } from '../src/computations/equilibrium/fields.ts';
import { diagramAt, phasePoints } from '../src/science/equilibrium/diagram.ts';
import { nominalMember } from '../src/science/equilibrium/members.ts';
import { lowestMixtureEnergy } from '../test/simulate/lowest-mixture.ts';

const WARM_UP = 3;
const TIMED = 15;
const BASELINE_POINTS = 100;

const requestOf = (members: number) =>
  equilibriumFields.request.parse({
    rareEarth: 'Dy',
    temperatureC: 900,
    po2Atm: 0.1,
    divisions: 100,
    members,
  });

function answer(members: number) {
  const request = requestOf(members);
  return equilibriumFields.merge(request, equilibriumFields.plan(request).map(equilibriumFields.runPart));
}

const conditions = { rareEarth: 'Dy', temperatureK: 1173.15, po2Atm: 0.1 } as const;
const candidates = phasePoints(nominalMember(), conditions).map(({ shares, height }) => ({
  shares,
  energy: height,
}));
const whole = answer(1);
const baseline = (): number[] =>
  Array.from({ length: BASELINE_POINTS }, (_, i) => {
    const k = i * Math.floor(whole.re.length / BASELINE_POINTS);
    return lowestMixtureEnergy(candidates, [whole.re[k]!, whole.ba[k]!, whole.cu[k]!]);
  });

// the answers agree before anything is timed
const { facets } = diagramAt(nominalMember(), conditions);
baseline().forEach((lowest, i) => {
  const k = i * Math.floor(whole.re.length / BASELINE_POINTS);
  const ours = Math.max(
    ...facets.map(({ plane }) => plane[0] * whole.re[k]! + plane[1] * whole.ba[k]! + plane[2] * whole.cu[k]!),
  );
  if (Math.abs(ours - lowest) > 1e-6) throw new Error(`composition ${k}: ${ours} against ${lowest} J/mol`);
});

const sumOf = (values: ArrayLike<number>): number =>
  Array.prototype.reduce.call(values, (a, b) => a + b, 0) as number;
const runs: [string, () => number][] = [
  ['5151 compositions, nominal member', () => sumOf(answer(1).liquidShare)],
  ['5151 compositions, 50 members', () => sumOf(answer(50).liquidShare)],
  [`every triple, ${BASELINE_POINTS} compositions, nominal member`, () => sumOf(baseline())],
];
const times = new Map<string, number[]>(runs.map(([name]) => [name, []]));
let consumed = 0;
for (let round = 0; round < WARM_UP + TIMED; round++) {
  for (const [name, run] of runs) {
    const start = performance.now();
    consumed += run();
    if (round >= WARM_UP) times.get(name)!.push(performance.now() - start);
  }
}
for (const [name, list] of times) {
  const sorted = list.sort((a, b) => a - b);
  const median = sorted[Math.floor(sorted.length / 2)]!;
  process.stdout.write(`${name}: minimum ${sorted[0]!.toFixed(1)} ms, median ${median.toFixed(1)} ms\n`);
}
process.stdout.write(`node ${process.version}, check sum ${consumed.toPrecision(6)}\n`);
