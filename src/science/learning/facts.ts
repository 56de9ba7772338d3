// What is known about a piece, and what a series asks of it: shapes and words. A fact is a reduced number or a phase.

/** Facts that are numbers, with the unit each is kept in. */
export const FACT_UNITS = {
  cAxisAngstrom: 'angstrom',
  breadth005Deg: 'deg',
  rockingWidthDeg: 'deg',
  tcOnsetK: 'K',
  tcMidpointK: 'K',
  tcZeroK: 'K',
  tcMagneticOnsetK: 'K',
  transitionWidthK: 'K',
  jcAPerM2: 'A/m2',
  icPerWidthAPerM: 'A/m',
  nValue: '1',
  thicknessNm: 'nm',
  depositionRateNmPerS: 'nm/s',
  conversionRateNmPerS: 'nm/s',
  overallRateNmPerS: 'nm/s',
  cracksPerMm: '1/mm',
} as const;
export type FactName = keyof typeof FACT_UNITS;

/** The name of a fact as a sentence says it. */
export const FACT_WORDS: Readonly<Record<FactName, string>> = {
  cAxisAngstrom: 'the c axis',
  breadth005Deg: 'the breadth of (005)',
  rockingWidthDeg: 'the rocking width',
  tcOnsetK: 'the onset of Tc',
  tcMidpointK: 'the midpoint of Tc',
  tcZeroK: 'the zero of resistance',
  tcMagneticOnsetK: 'the magnetic onset of Tc',
  transitionWidthK: 'the transition width',
  jcAPerM2: 'Jc',
  icPerWidthAPerM: 'Ic per width',
  nValue: 'the n value',
  thicknessNm: 'the thickness',
  depositionRateNmPerS: 'the deposition rate',
  conversionRateNmPerS: 'the conversion rate',
  overallRateNmPerS: 'the overall rate',
  cracksPerMm: 'the number of cracks',
};

/** Condition a fact belongs to; angles are from the film normal (c axis). A field left out is not stated. */
export interface FactCondition {
  readonly temperatureK?: number | undefined;
  readonly fieldT?: number | undefined;
  readonly thetaDeg?: number | undefined;
}

export interface Fact {
  readonly name: FactName;
  readonly at?: FactCondition | undefined;
  readonly value: number;
  /** null: not stated */
  readonly standardUncertainty: number | null;
  readonly origin: 'measured' | 'typed';
  readonly method: string;
  /** measurement it was read from; absent for a typed number */
  readonly measurementId?: string | undefined;
  /** the true value lies above, or below, `value` */
  readonly bound?: 'above' | 'below' | undefined;
}

export interface PhaseFact {
  readonly phase: string;
  readonly answer: 'present' | 'absent' | 'cannot say';
  readonly origin: 'measured' | 'typed';
}

export interface Facts {
  readonly numbers: readonly Fact[];
  readonly phases: readonly PhaseFact[];
}

export interface NumberCriterion {
  readonly kind: 'number';
  readonly fact: FactName;
  readonly at?: FactCondition | undefined;
  readonly comparison: 'at least' | 'at most';
  /** a value, or a share of the benchmark's own */
  readonly wanted: number;
  readonly relativeTo: 'nothing' | 'benchmark';
}

export interface PhaseCriterion {
  readonly kind: 'phase';
  readonly phase: string;
  readonly wanted: 'present' | 'absent';
}

export type Criterion = NumberCriterion | PhaseCriterion;

export const VERDICTS = ['passes', 'falls short', 'cannot say'] as const;
export type VerdictOutcome = (typeof VERDICTS)[number];

/** `77 K, 1 T, 30 deg`; empty where nothing is stated. */
export function printCondition(at: FactCondition | undefined): string {
  const parts: string[] = [];
  if (at?.temperatureK !== undefined) parts.push(`${at.temperatureK} K`);
  if (at?.fieldT !== undefined) parts.push(at.fieldT === 0 ? 'self-field' : `${at.fieldT} T`);
  if (at?.thetaDeg !== undefined) parts.push(`${at.thetaDeg} deg from the normal`);
  return parts.join(', ');
}
