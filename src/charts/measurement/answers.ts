// The parts of a reduction's answer that figures and tables show. The catalogue's responses have more; charts know no
// entry by name, so the shapes stand here.

export type MeasuredKind =
  | 'diffraction scan'
  | 'resistance'
  | 'magnetic transition'
  | 'current-voltage'
  | 'magnetisation loop'
  | 'chamber log';

export interface Quantity {
  readonly value: number;
  readonly standardUncertainty: number;
}
export type Maybe = Quantity | null;

export interface ScanAnswer {
  readonly peaks: readonly {
    readonly twoThetaDeg: Quantity;
    readonly label: string;
    readonly kind: string;
  }[];
  readonly cAxisAngstrom: Maybe;
  readonly cAxisOrders: readonly number[];
  readonly fwhmDeg: Maybe;
  readonly oxygen: Maybe;
  readonly displacementShiftDeg: Maybe;
  readonly displacementMm: Maybe;
  readonly amorphous: { readonly answer: string; readonly share: Maybe };
  readonly wavelengthAngstrom: number;
  /** one number a row of the file */
  readonly background: ArrayLike<number | null>;
  readonly fit: ArrayLike<number | null>;
}

interface TransitionAnswer {
  readonly onset: Maybe;
  readonly t90: Maybe;
  readonly t50: Maybe;
  readonly t10: Maybe;
  readonly width: Maybe;
  readonly transitions: readonly { readonly t50: Quantity; readonly share: number }[];
}

export interface ResistiveAnswer extends TransitionAnswer {
  readonly zero: Maybe;
  readonly background: { readonly resistance: Quantity } | null;
  readonly baseline: {
    readonly interceptOhm: number;
    readonly slopeOhmPerK: number;
    readonly fromK: number;
    readonly toK: number;
  } | null;
}

export interface MagneticAnswer extends TransitionAnswer {
  readonly shielding: { readonly moment: Quantity } | null;
  readonly baseline: {
    readonly interceptAmpereM2: number;
    readonly slopeAmpereM2PerK: number;
    readonly fromK: number;
    readonly toK: number;
  } | null;
}

export interface VoltageAnswer {
  readonly ic: Maybe;
  /** A; the current reached without the criterion */
  readonly icAbove: number | null;
  readonly jc: Maybe;
  readonly icPerWidthAPerM: Maybe;
  readonly n: Maybe;
  readonly fitWindow: { readonly fromVPerM: number; readonly toVPerM: number } | null;
  readonly crossing: Maybe;
  readonly offset: Maybe;
  readonly ohmic: Maybe;
  readonly shunt: Maybe;
  readonly drift: Maybe;
  readonly noiseV: number;
  /** one number a row of the file */
  readonly curve: ArrayLike<number | null>;
}

export interface LoopAnswer {
  readonly points: readonly { readonly fieldT: number; readonly jc: Quantity; readonly isRounded: boolean }[];
  readonly selfFieldT: number | null;
  readonly background: { readonly slopeAmpereM2PerT: Quantity; readonly offsetAmpereM2: number } | null;
  readonly noiseAmpereM2: number;
}

export interface LogAnswer {
  readonly readings: number;
  readonly durationS: number;
  readonly typicalIntervalS: number;
  readonly hottestC: Quantity;
  readonly hottestAtS: number;
  readonly holds: readonly {
    readonly fromS: number;
    readonly toS: number;
    readonly beginsUnseen: boolean;
    readonly endsUnseen: boolean;
    readonly meanC: Quantity;
    readonly driftKPerMin: number;
    readonly log10Po2: Maybe;
  }[];
  readonly log10Po2Range: { readonly lowest: number; readonly highest: number } | null;
  readonly gaps: readonly { readonly fromS: number; readonly toS: number }[];
  readonly alignment: { readonly offset: Quantity } | null;
  /** corners of the plan on the log's clock */
  readonly planOnLog: {
    readonly timeS: readonly number[];
    readonly temperatureC: readonly number[];
    readonly log10Po2Atm: readonly (number | null)[];
  } | null;
  readonly deviations: readonly { readonly sentence: string }[];
}
