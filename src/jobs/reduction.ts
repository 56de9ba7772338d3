// Which catalogue entry reduces a measurement, what it is asked, and which facts its answer holds. Pure.

import { FACT_UNITS, type Fact, type FactName, type Facts, type PhaseFact } from '../records/criteria.ts';
import type { Film, Measurement, MeasurementKind, Piece, Series, Treatment } from '../records/kinds.ts';
import { isSameOnWire } from '../runner/wire.ts';
import { isRareEarth } from '../science/matter/elements.ts';

export interface ReductionSubject {
  measurementId: string;
  measurement: Measurement;
  piece: Piece;
  film: Film;
  /** after which the measurement was taken; null: as grown */
  treatment: Treatment | null;
  /** the rare earth that names the 123 phase */
  rareEarth: string;
}

/** A measurement with the records that its reduction rests on. */
export function subjectFrom(
  measurementId: string,
  measurement: Measurement,
  piece: Piece,
  film: Film,
  series: Series,
  treatment: Treatment | null,
): ReductionSubject {
  const named = Object.entries(film.cations ?? {})
    .filter(([element]) => isRareEarth(element))
    .sort(([, one], [, other]) => other - one)[0]?.[0];
  return { measurementId, measurement, piece, film, treatment, rareEarth: named ?? series.rareEarths[0]! };
}

export type ReductionAsked =
  | { ok: true; computation: string; request: Record<string, unknown> }
  /** what must be known first, in words */
  | { ok: false; computation: string; code: 'SETTING_MISSING'; message: string };

type Quantity = { value: number; standardUncertainty: number } | null | undefined;
/** The parts of any reduction's answer that hold facts; each entry's schema says which it has. */
type Answer = Record<string, unknown>;

/** Columns that the entry of a kind takes; others of the file are kept but not asked about. */
const ROLES_ASKED: Record<MeasurementKind, readonly string[]> = {
  'diffraction scan': ['twoThetaDeg', 'counts'],
  resistance: ['temperatureK', 'resistanceOhm'],
  'magnetic transition': ['temperatureK', 'momentAmpereM2'],
  'current-voltage': ['timeS', 'currentA', 'voltageV'],
  'magnetisation loop': ['fieldT', 'momentAmpereM2'],
  'chamber log': ['timeS', 'temperatureK', 'pressurePa', 'log10PressurePa'],
};

/** Calibration of the thermometer and its distance from the film [common practice]; a setting of the measurement. */
const USUAL_THERMOMETER_UNCERTAINTY_K = 0.1;

/** 1 uV/cm [memory: IEC 61788-26]. */
const USUAL_CRITERION_V_PER_M = 1e-4;

const ENTRY_OF_KIND: Record<MeasurementKind, string> = {
  'diffraction scan': 'diffraction.scan',
  resistance: 'transition.resistive',
  'magnetic transition': 'transition.magnetic',
  'current-voltage': 'current.voltage',
  'magnetisation loop': 'current.loop',
  'chamber log': 'growth.log',
};

/** Width that the current flows through: the bridge's, else the piece's. */
function bridgeWidthM({ measurement, piece }: ReductionSubject): number | undefined {
  return measurement.settings.bridgeWidthM ?? (piece.widthMm === null ? undefined : piece.widthMm * 1e-3);
}

function missing(computation: string, what: string, where: string): ReductionAsked {
  return {
    ok: false,
    computation,
    code: 'SETTING_MISSING',
    message: `${what} is not known. Write it ${where}, then reduce again.`,
  };
}

/**
 * A treatment as a plan: what changes temperature is a ramp, whatever it is called. A treatment that begins with a hold
 * begins at its temperature; where one begins that starts with a ramp is not recorded.
 */
function planOf({ segments }: Treatment) {
  const first = segments[0]!;
  const beginsLevel = first.kind === 'hold' || first.kind === 'gas change';
  const steps = segments.map(({ kind, toC, durationS, po2Atm }, i) => {
    const isRamp = i === 0 ? !beginsLevel : toC !== segments[i - 1]!.toC;
    if (isRamp) return { kind: 'ramp', toC, durationS, toPo2Atm: po2Atm };
    return { kind: kind === 'gas change' ? 'gas' : 'hold', durationS, toPo2Atm: po2Atm };
  });
  const start = { temperatureC: first.toC, po2Atm: first.po2Atm };
  return { ...(beginsLevel ? { start } : {}), segments: steps };
}

/** The entry and the request that reduce a measurement, or what is missing for it. */
export function reductionRequest(subject: ReductionSubject): ReductionAsked {
  const { measurement, piece, film, treatment, rareEarth } = subject;
  const { columns, settings, mapping } = measurement;
  const computation = ENTRY_OF_KIND[mapping.kind];
  const curves: Record<string, unknown> = Object.fromEntries(
    columns.roles.flatMap((role, column) =>
      ROLES_ASKED[mapping.kind].includes(role) ? [[role, { blob: columns.blob, column }]] : [],
    ),
  );
  const thickness = film.thicknessNm;
  const thicknessM = thickness ? thickness.value * 1e-9 : null;
  const thicknessU =
    thickness?.standardUncertainty == null ? {} : { thicknessU: thickness.standardUncertainty * 1e-9 };
  switch (mapping.kind) {
    case 'diffraction scan': {
      const { anode, wavelengthAngstrom } = settings;
      const request = { ...curves, anode: anode ?? 'Cu', substrate: film.substrate, rareEarth };
      return {
        ok: true,
        computation,
        request: wavelengthAngstrom ? { ...request, wavelengthAngstrom } : request,
      };
    }
    case 'resistance':
    case 'magnetic transition': {
      const temperatureStandardUncertaintyK =
        settings.thermometerUncertaintyK ?? USUAL_THERMOMETER_UNCERTAINTY_K;
      return { ok: true, computation, request: { ...curves, options: { temperatureStandardUncertaintyK } } };
    }
    case 'current-voltage': {
      const { tapDistanceM, criterionVPerM, temperatureK } = settings;
      if (tapDistanceM === undefined) {
        return missing(computation, 'The distance of the voltage taps', 'in the settings of the measurement');
      }
      const widthM = bridgeWidthM(subject);
      const request = {
        ...curves,
        tapDistanceM,
        ...(widthM === undefined ? {} : { widthM }),
        ...(thicknessM === null ? {} : { thicknessM, ...thicknessU }),
        ...(temperatureK === undefined ? {} : { temperatureK }),
        criterionVPerM: criterionVPerM ?? USUAL_CRITERION_V_PER_M,
      };
      return { ok: true, computation, request };
    }
    case 'magnetisation loop': {
      if (thicknessM === null) return missing(computation, "The film's thickness", 'on the film');
      if (piece.lengthMm === null || piece.widthMm === null)
        return missing(computation, "The piece's length and width", 'on the piece');
      const shape = { kind: 'rectangle', aM: piece.lengthMm * 1e-3, bM: piece.widthMm * 1e-3, thicknessM };
      const { temperatureK } = settings;
      const uncertainties =
        thickness?.standardUncertainty == null
          ? {}
          : { uncertainties: { thicknessM: thickness.standardUncertainty * 1e-9 } };
      return {
        ok: true,
        computation,
        request: { ...curves, shape, ...uncertainties, ...(temperatureK ? { temperatureK } : {}) },
      };
    }
    case 'chamber log': {
      const { thermometerUncertaintyK, pressureKind, oxygenShare } = settings;
      const share = pressureKind === 'oxygen partial' ? 1 : oxygenShare;
      return {
        ok: true,
        computation,
        request: {
          ...curves,
          ...(share === undefined ? {} : { oxygenShare: share }),
          ...(thermometerUncertaintyK === undefined ? {} : { temperatureUK: thermometerUncertaintyK }),
          ...(treatment ? { plan: planOf(treatment) } : {}),
        },
      };
    }
  }
}

/** Would the entry be asked today what it was asked then? Not if the film's thickness, say, was corrected since. */
export function isAskedTheSame(subject: ReductionSubject, request: unknown): boolean {
  const asked = reductionRequest(subject);
  return isSameOnWire(asked.ok ? asked.request : null, request);
}

interface PhaseAnswer {
  id: string;
  answer: PhaseFact['answer'];
}

/** One answer a phase: an entry may answer for each texture, and a phase is there if it is there in any. */
function phasesSaid(answers: readonly PhaseAnswer[]): [string, PhaseFact['answer']][] {
  const said = new Map<string, PhaseFact['answer']>();
  for (const { id, answer } of answers) {
    const before = said.get(id);
    if (before === undefined || answer === 'present' || (answer === 'cannot say' && before === 'absent'))
      said.set(id, answer);
  }
  return [...said];
}

/** The facts that a reduction's answer holds about the piece. */
export function factsOf(subject: ReductionSubject, answer: Answer): Facts {
  const { measurement, measurementId } = subject;
  const { settings } = measurement;
  const numbers: Fact[] = [];
  const add = (name: FactName, quantity: unknown, method: string, at?: Fact['at']): void => {
    const found = quantity as Quantity;
    if (!found) return;
    const fact: Fact = {
      name,
      value: found.value,
      standardUncertainty: found.standardUncertainty,
      origin: 'measured',
      method,
      measurementId,
    };
    numbers.push(at ? { ...fact, at } : fact);
  };
  const field = {
    // a fact holds for a size of the field; the sign is the magnet's
    ...(settings.fieldT === undefined ? {} : { fieldT: Math.abs(settings.fieldT) }),
    ...(settings.thetaDeg === undefined ? {} : { thetaDeg: settings.thetaDeg }),
  };
  const at = {
    ...(settings.temperatureK === undefined ? {} : { temperatureK: settings.temperatureK }),
    ...field,
  };
  /** of a transition, which runs through the temperatures; a field moves it */
  const inField = settings.fieldT === undefined ? undefined : field;
  switch (measurement.mapping.kind) {
    case 'diffraction scan':
      add('cAxisAngstrom', answer.cAxisAngstrom, 'theta-2theta scan');
      add('breadth005Deg', answer.fwhmDeg, 'theta-2theta scan, (005)');
      break;
    case 'resistance':
      add('tcOnsetK', answer.onset, 'resistance, onset', inField);
      add('tcMidpointK', answer.t50, 'resistance, 50 % of the normal line', inField);
      add('tcZeroK', answer.zero, 'resistance, zero', inField);
      add('transitionWidthK', answer.width, 'resistance, 10 to 90 %', inField);
      break;
    case 'magnetic transition':
      add('tcMagneticOnsetK', answer.onset, 'moment, onset', inField);
      break;
    case 'current-voltage': {
      const method = `transport, ${(settings.criterionVPerM ?? USUAL_CRITERION_V_PER_M) * 1e4} uV/cm`;
      add('jcAPerM2', answer.jc, method, at);
      add('icPerWidthAPerM', answer.icPerWidthAPerM, method, at);
      add('nValue', answer.n, method, at);
      const above = answer.icAbove as number | null | undefined;
      const sectionM2 =
        (bridgeWidthM(subject) ?? Number.NaN) * (subject.film.thicknessNm?.value ?? Number.NaN) * 1e-9;
      if (!answer.jc && typeof above === 'number' && sectionM2 > 0) {
        const value = above / sectionM2;
        numbers.push({
          name: 'jcAPerM2',
          at,
          value,
          standardUncertainty: null,
          origin: 'measured',
          method,
          measurementId,
          bound: 'above',
        });
      }
      break;
    }
    case 'magnetisation loop': {
      const points = (answer.points ?? []) as { fieldT: number; jc: Quantity; isRounded: boolean }[];
      for (const point of points.filter(({ isRounded }) => !isRounded)) {
        add('jcAPerM2', point.jc, 'magnetisation loop, extended Bean', { ...at, fieldT: point.fieldT });
      }
      break;
    }
  }
  const phases = phasesSaid((answer.phases ?? []) as PhaseAnswer[]).map(
    ([phase, said]): PhaseFact => ({ phase, answer: said, origin: 'measured', measurementId }),
  );
  return { numbers: numbers.filter(({ name }) => name in FACT_UNITS), phases };
}
