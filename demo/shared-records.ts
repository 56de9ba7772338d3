// Records that the invented films share: the series with what it asks, the powders, the targets.
import {
  type DemoChamber,
  type DemoCriterion,
  type DemoLot,
  type DemoPathPlan,
  type DemoSegment,
  type DemoSeries,
  type DemoTarget,
  INVENTED_NOTE,
} from './records.ts';
import type { PlannedTarget } from './roster.ts';

const AT_77_K = { temperatureK: 77, fieldT: 0 } as const;
const IN_THE_COIL = { temperatureK: 30, fieldT: 5, thetaDeg: 0 } as const;

const CRITERIA: readonly DemoCriterion[] = [
  { kind: 'phase', phase: 'DyBa2Cu3O7', wanted: 'present' },
  { kind: 'phase', phase: 'BaCuO2', wanted: 'absent' },
  { kind: 'phase', phase: 'CuO', wanted: 'absent' },
  { kind: 'number', fact: 'tcMidpointK', comparison: 'at least', wanted: 88, relativeTo: 'nothing' },
  { kind: 'number', fact: 'transitionWidthK', comparison: 'at most', wanted: 1.5, relativeTo: 'nothing' },
  {
    kind: 'number',
    fact: 'jcAPerM2',
    at: AT_77_K,
    comparison: 'at least',
    wanted: 0.6,
    relativeTo: 'benchmark',
  },
  {
    kind: 'number',
    fact: 'jcAPerM2',
    at: IN_THE_COIL,
    comparison: 'at least',
    wanted: 1,
    relativeTo: 'benchmark',
  },
  { kind: 'number', fact: 'overallRateNmPerS', comparison: 'at least', wanted: 10, relativeTo: 'nothing' },
];

export const DEMO_LABEL = 'Dy123 for a 30 K, 5 T insert (invented)';

/** The series; benchmark and control are pieces. */
export function demoSeries(benchmarkPieceLabel: string, controlPieceLabel: string): DemoSeries {
  return {
    label: DEMO_LABEL,
    aim:
      'DyBa2Cu3O7-d at ten nanometres a second or faster on buffered metal tape and LaAlO3, carrying at 30 K and 5 T ' +
      'no less current density than a slow stoichiometric film. All of it is invented.',
    isInvented: true,
    rareEarths: ['Dy'],
    growth: { temperatureC: 835, po2Atm: 4e-4, meltOffsetJPerMol: -2000 },
    coil: { temperatureK: 30, fieldT: 5 },
    criteria: CRITERIA,
    benchmarkPieceLabel,
    controlPieceLabel,
    note: INVENTED_NOTE,
  };
}

const lot = (label: string, formula: string, purity: number, lossOnDrying: number): DemoLot => ({
  label,
  formula,
  lotNumber: `invented ${label}`,
  purity,
  lossOnDrying,
  note: INVENTED_NOTE,
});

export const DEMO_LOTS: readonly DemoLot[] = [
  lot('L1', 'Dy2O3', 0.9999, 0.004),
  lot('L2', 'BaCO3', 0.9995, 0.002),
  lot('L3', 'CuO', 0.9999, 0.001),
];

/** Two firings with a regrind between them, written as one path; the oxygen that it leaves is for the program to say. */
function firing(sinterGas: 'O2' | 'Ar'): DemoSegment[] {
  const air = { po2Atm: 0.21, gas: 'air' };
  const last = sinterGas === 'O2' ? { po2Atm: 1, gas: 'O2' } : { po2Atm: 1e-5, gas: 'Ar' };
  return [
    { kind: 'ramp', toC: 900, durationS: 10_800, ...air },
    { kind: 'hold', toC: 900, durationS: 43_200, ...air },
    { kind: 'gas change', toC: 900, durationS: 600, ...last },
    { kind: 'ramp', toC: sinterGas === 'O2' ? 930 : 800, durationS: 1800, ...last },
    { kind: 'hold', toC: sinterGas === 'O2' ? 930 : 800, durationS: 86_400, ...last },
    { kind: 'cool', toC: 450, durationS: 21_600, ...last },
    { kind: 'hold', toC: 450, durationS: 36_000, ...last },
    { kind: 'cool', toC: 25, durationS: 14_400, ...last },
  ];
}

export const DEPOSITION_CHAMBER = 'invented chamber 1';
export const FURNACE = 'invented furnace 2';

export const DEMO_CHAMBERS: readonly DemoChamber[] = [
  {
    label: DEPOSITION_CHAMBER,
    volumeL: { value: 50, standardUncertainty: 2 },
    oxygenFlowSccm: { value: 100, standardUncertainty: 1 },
    pumpingWhileFillingLPerS: { value: 0, standardUncertainty: 0 },
    pumpingLPerS: { value: 60, standardUncertainty: 10 },
    gasC: 40,
    thermalLagS: { value: 20, standardUncertainty: 5 },
    temperaturePlace: 'heater block',
    offsetK: { value: -45, standardUncertainty: 8 },
    pressureKind: 'total',
    gauge: 'capacitance',
    oxygenShare: 1,
    note: INVENTED_NOTE,
  },
  {
    label: FURNACE,
    volumeL: { value: 1.2, standardUncertainty: 0.1 },
    oxygenFlowSccm: { value: 500, standardUncertainty: 10 },
    pumpingWhileFillingLPerS: { value: 0, standardUncertainty: 0 },
    pumpingLPerS: { value: 5, standardUncertainty: 1 },
    gasC: 300,
    thermalLagS: { value: 4, standardUncertainty: 1 },
    temperaturePlace: 'thermocouple on substrate',
    offsetK: { value: -5, standardUncertainty: 5 },
    pressureKind: 'total',
    gauge: 'capacitance',
    oxygenShare: 0.001,
    note: INVENTED_NOTE,
  },
];

export const DEMO_PATH_PLANS: readonly DemoPathPlan[] = [
  {
    label: 'melt at 850, oxygen in, 4 s',
    route: 'ex situ',
    cations: { Dy: 1, Ba: 2.45, Cu: 3.95 },
    thicknessNm: { value: 600, standardUncertainty: 25 },
    substrate: 'CeO2/LaMnO3 on nickel-alloy tape',
    chamberLabel: FURNACE,
    start: { temperatureC: 25, po2Atm: 1e-5 },
    segments: [
      { kind: 'ramp', toC: 400, durationS: 60 },
      { kind: 'ramp', toC: 850, durationS: 12 },
      { kind: 'gas', toPo2Atm: 1e-3, durationS: 1 },
      { kind: 'hold', durationS: 10 },
      { kind: 'gas', toPo2Atm: 1, durationS: 5 },
      { kind: 'cool', toC: 450, durationS: 600 },
      { kind: 'hold', durationS: 1800 },
      { kind: 'cool', toC: 25, durationS: 2400 },
    ],
    note: INVENTED_NOTE,
  },
];

/** Share of each cation that arrives in the film, dysprosium 1; invented, and corrected for when a pellet is made. */
const TRANSFER = { Dy: 1, Ba: 0.97, Cu: 0.985 } as const;

/** The pellet that gives the planned film after what is lost on the way. */
export function demoTarget(plan: PlannedTarget): DemoTarget {
  const sinterGas = plan.label === 'T6' ? 'Ar' : 'O2';
  const pressed = (amount: number, share: number) => Number((amount / share).toFixed(2));
  return {
    label: plan.label,
    cations: {
      Dy: pressed(plan.film.Dy, TRANSFER.Dy),
      Ba: pressed(plan.film.Ba, TRANSFER.Ba),
      Cu: pressed(plan.film.Cu, TRANSFER.Cu),
    },
    totalMassG: 20,
    lotLabels: DEMO_LOTS.map(({ label }) => label),
    sheet: null,
    sinterGas,
    sintering: { segments: firing(sinterGas), oxygen: null },
    note: `${plan.note} ${INVENTED_NOTE}`,
  };
}
