// The shapes of the invented records. They are the bodies that the store keeps, except that a field ending in `Label` or
// `Labels` names other records by their labels where the store's field, ending in `Id` or `Ids`, holds identifiers.

export interface Stated {
  readonly value: number;
  readonly standardUncertainty: number | null;
}
export type Cations = Readonly<Record<string, number>>;

export interface FactCondition {
  readonly temperatureK?: number;
  readonly fieldT?: number;
  readonly thetaDeg?: number;
}
export type DemoCriterion =
  | {
      readonly kind: 'number';
      readonly fact: string;
      readonly at?: FactCondition;
      readonly comparison: 'at least' | 'at most';
      readonly wanted: number;
      readonly relativeTo: 'nothing' | 'benchmark';
    }
  | { readonly kind: 'phase'; readonly phase: string; readonly wanted: 'present' | 'absent' };

export interface DemoSeries {
  readonly label: string;
  readonly aim: string;
  readonly isInvented: true;
  readonly rareEarths: readonly string[];
  readonly growth: {
    readonly temperatureC: number;
    readonly po2Atm: number;
    readonly meltOffsetJPerMol: number;
  };
  readonly coil: { readonly temperatureK: number; readonly fieldT: number };
  readonly criteria: readonly DemoCriterion[];
  readonly benchmarkPieceLabel: string;
  readonly controlPieceLabel: string;
  readonly note: string;
}

export interface DemoLot {
  readonly label: string;
  readonly formula: string;
  readonly lotNumber: string;
  readonly purity: number;
  readonly lossOnDrying: number;
  readonly note: string;
}

export interface DemoTarget {
  readonly label: string;
  readonly cations: Cations;
  readonly totalMassG: number;
  readonly lotLabels: readonly string[];
  readonly sheet: null;
  readonly sinterGas: string;
  readonly sintering: { readonly segments: readonly DemoSegment[]; readonly oxygen: null };
  readonly note: string;
}

export interface DemoRun {
  readonly label: string;
  readonly targetLabel: string;
  readonly startedAt: string;
  readonly route: 'in situ' | 'ex situ';
  readonly source: 'pulsed laser';
  readonly energyAtTargetMj: Stated | null;
  readonly energyBeforeWindowMj: Stated | null;
  readonly energyAfterWindowMj: Stated | null;
  readonly spotAreaMm2: Stated | null;
  readonly distanceMm: number;
  readonly repetitionHz: number;
  readonly pulses: number;
  readonly pulsesSinceResurfacing: number;
  readonly basePressurePa: number;
  readonly temperature: {
    readonly valueC: number;
    readonly place: 'heater block';
    readonly offsetK: Stated;
  };
  readonly pressure: {
    readonly valuePa: number;
    readonly kind: 'total';
    readonly gauge: string;
    readonly oxygenShare: number;
  };
  readonly chamberLabel: string;
  readonly mounting: string;
  readonly isWindowCleaned: boolean;
  readonly note: string;
}

export interface DemoFilm {
  readonly label: string;
  readonly runLabel: string;
  readonly cations: Cations | null;
  readonly substrate: string;
  readonly substrateLot: string;
  readonly position: string;
  readonly thicknessNm: Stated;
  readonly depositionRateNmPerS: Stated;
  readonly conversionRateNmPerS: Stated | null;
  readonly overallRateNmPerS: Stated;
  readonly note: string;
}

export interface DemoPiece {
  readonly label: string;
  readonly filmLabel: string;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly note: string;
}

export interface DemoSegment {
  readonly kind: 'ramp' | 'hold' | 'gas change' | 'cool';
  readonly toC: number;
  readonly durationS: number;
  readonly po2Atm: number;
  readonly gas: string;
}

export interface DemoTreatment {
  readonly label: string;
  readonly pieceLabel: string;
  readonly startedAt: string;
  readonly segments: readonly DemoSegment[];
  readonly planLabel: string | null;
  readonly chamberLabel: string | null;
  readonly note: string;
}

export interface DemoChamber {
  readonly label: string;
  readonly volumeL: Stated;
  readonly oxygenFlowSccm: Stated;
  readonly pumpingWhileFillingLPerS: Stated;
  readonly pumpingLPerS: Stated;
  readonly gasC: number;
  readonly thermalLagS: Stated;
  readonly temperaturePlace: 'heater block' | 'thermocouple on substrate';
  readonly offsetK: Stated;
  readonly pressureKind: 'total';
  readonly gauge: string;
  readonly oxygenShare: number;
  readonly note: string;
}

export interface DemoPathPlan {
  readonly label: string;
  readonly route: 'in situ' | 'ex situ';
  readonly cations: Cations;
  readonly thicknessNm: Stated;
  readonly substrate: string;
  readonly chamberLabel: string;
  readonly start: { readonly temperatureC: number; readonly po2Atm: number };
  readonly segments: readonly {
    readonly kind: 'ramp' | 'hold' | 'gas' | 'deposit' | 'cool';
    readonly toC?: number;
    readonly rateKPerMin?: number;
    readonly durationS?: number;
    readonly toPo2Atm?: number;
    readonly thicknessNm?: number;
  }[];
  readonly note: string;
}

export interface DemoComposition {
  readonly cations: Cations;
  readonly standardUncertainties: Cations;
  readonly method: 'EDX';
  readonly standard: string;
}

export interface DemoTypedFacts {
  readonly pieceLabel: string;
  /** null: as the piece left the run */
  readonly stateTreatmentLabel: string | null;
  readonly numbers: readonly {
    readonly name: string;
    readonly value: number;
    readonly standardUncertainty: number | null;
    readonly origin: 'typed';
    readonly method: string;
  }[];
  readonly phases: readonly [];
  readonly composition: DemoComposition | null;
  readonly source: string;
  readonly note: string;
}

export type DemoMeasurementKind =
  | 'diffraction scan'
  | 'resistance'
  | 'magnetic transition'
  | 'current-voltage'
  | 'magnetisation loop'
  | 'chamber log';

/** What the reduction of a file needs that the file's columns do not say. */
export interface DemoSettings {
  readonly anode?: 'Cu';
  readonly temperatureK?: number;
  readonly fieldT?: number;
  readonly thetaDeg?: number;
  readonly pressureKind?: 'total' | 'oxygen partial';
  readonly oxygenShare?: number;
  readonly tapDistanceM?: number;
  readonly bridgeWidthM?: number;
  readonly criterionVPerM?: number;
}

/** A column as the file states it: what it holds and the unit of its numbers. */
export interface DemoColumn {
  readonly quantity:
    | 'two theta'
    | 'counts'
    | 'temperature'
    | 'resistance'
    | 'current'
    | 'voltage'
    | 'field'
    | 'moment'
    | 'time'
    | 'pressure';
  readonly unit: string;
}

/** One instrument file with the piece, state and settings that it is to be imported for. */
export interface DemoFile {
  readonly name: string;
  readonly bytes: Uint8Array;
  readonly pieceLabel: string;
  /** treatment after which it was taken; null: as the piece left the run */
  readonly stateLabel: string | null;
  readonly kind: DemoMeasurementKind;
  readonly settings: DemoSettings;
  /** table of the file to import, counted from 0 */
  readonly block: number;
  /** in the order of the file; what a reader should find by itself */
  readonly columns: readonly DemoColumn[];
  readonly takenAt: string;
}

/** The whole invented series. */
export interface Demo {
  readonly series: DemoSeries;
  readonly lots: readonly DemoLot[];
  readonly targets: readonly DemoTarget[];
  readonly chambers: readonly DemoChamber[];
  readonly pathPlans: readonly DemoPathPlan[];
  readonly runs: readonly DemoRun[];
  readonly films: readonly DemoFilm[];
  readonly pieces: readonly DemoPiece[];
  readonly treatments: readonly DemoTreatment[];
  readonly typedFacts: readonly DemoTypedFacts[];
  readonly files: readonly DemoFile[];
  /** an older table of ten films, as a group keeps one, for importing a table */
  readonly pastFilmsCsv: string;
}

/** Stands in every file and on every record that can carry a sentence. */
export const INVENTED_NOTE = 'Invented data of the demonstration series: this film was never made.';
