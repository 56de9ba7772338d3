// A deviation of a log from its plan: what it may be, and what is let pass.

export type DeviationKind =
  | 'overshoot'
  | 'dip'
  | 'hold too hot'
  | 'hold too cold'
  | 'hold too long'
  | 'hold too short'
  | 'ramp too fast'
  | 'ramp too slow'
  | 'too much oxygen'
  | 'too little oxygen'
  | 'oxygen late'
  | 'oxygen early'
  | 'segment missing'
  | 'not seen';

export interface LogDeviation {
  readonly kind: DeviationKind;
  /** first and last segment of the plan concerned, from 0 */
  readonly firstSegment: number;
  readonly lastSegment: number;
  /** logged less planned; null where nothing is measured */
  readonly size: {
    readonly value: number;
    readonly standardUncertainty: number;
    readonly unit: string;
  } | null;
  /** what was planned, in the same unit; null as above */
  readonly planned: number | null;
  /** on the log's clock */
  readonly fromS: number;
  readonly toS: number;
}

/** What is let pass; beyond it a deviation must also exceed three standard uncertainties. */
export interface Tolerances {
  readonly temperatureK: number;
  /** of a rate, relative */
  readonly rate: number;
  /** of the length of a hold, relative, and at least durationS */
  readonly duration: number;
  readonly durationS: number;
  /** of a change of gas */
  readonly timeS: number;
  readonly log10Po2: number;
}

/** [common practice: what furnaces of this trade keep without remark] */
export const USUAL_TOLERANCES: Tolerances = {
  temperatureK: 5,
  rate: 0.2,
  duration: 0.1,
  durationS: 10,
  timeS: 10,
  log10Po2: 0.15,
};
