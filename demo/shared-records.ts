// Records that the invented films share: the series with what it asks, the powders, the targets.
import {
  type DemoCriterion,
  type DemoLot,
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

/** Share of each cation that arrives in the film, dysprosium 1; invented, and corrected for when a pellet is made. */
const TRANSFER = { Dy: 1, Ba: 0.97, Cu: 0.985 } as const;

/** The pellet that gives the planned film after what is lost on the way. */
export function demoTarget(plan: PlannedTarget): DemoTarget {
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
    sinterGas: 'O2',
    note: `${plan.note} ${INVENTED_NOTE}`,
  };
}
