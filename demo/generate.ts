// The demonstration series: records with labels for references, and the instrument files that belong to them.
// Everything is invented; the same seed gives the same bytes.
import { chamberLogFile } from './chamber-log.ts';
import {
  currentFile,
  loopFile,
  magneticTransitionFile,
  resistanceFile,
  type Subject,
  scanFile,
} from './exports.ts';
import { pastFilmsCsv } from './past-films.ts';
import { type RandomStream, randomStream } from './random.ts';
import {
  type Demo,
  type DemoFile,
  type DemoFilm,
  type DemoRun,
  type DemoSegment,
  type DemoTreatment,
  type DemoTypedFacts,
  INVENTED_NOTE,
  type Stated,
} from './records.ts';
import {
  PLANNED_TARGETS,
  type PlannedFilm,
  type PlannedPiece,
  plannedFilms,
  TAKE_NAMES,
  type TakeName,
} from './roster.ts';
import {
  DEMO_CHAMBERS,
  DEMO_LOTS,
  DEMO_PATH_PLANS,
  DEPOSITION_CHAMBER,
  demoSeries,
  demoTarget,
  FURNACE,
} from './shared-records.ts';
import { type FilmTruth, filmTruth, pieceTruth } from './world.ts';

/** Seed of the series that the program shows; with it two films pass. */
export const DEMO_SEED = 13;
export const DEMO_FILM_COUNT = 12;

const FIRST_DAY_MS = Date.UTC(2023, 2, 6, 8, 0, 0);
const DAY_MS = 86_400_000;

/** A time of the invented calendar: a film each six days. */
function at(filmNumber: number, days: number, hours = 0): string {
  return new Date(FIRST_DAY_MS + (6 * filmNumber + days) * DAY_MS + hours * 3_600_000).toISOString();
}

const digits = (value: number, count: number) => Number(value.toPrecision(count));

const runNumber = (plan: PlannedFilm) => Number(plan.runLabel.slice(1));

/** Thickness over everything that growth of this piece took, nm/s. */
function overallRateNmPerS(plan: PlannedFilm, piece: PlannedPiece): number {
  if (plan.conversionRateNmPerS === null) return plan.depositionRateNmPerS;
  const timeS =
    plan.thicknessNm / plan.depositionRateNmPerS +
    plan.thicknessNm / plan.conversionRateNmPerS +
    piece.liquidHoldS;
  return plan.thicknessNm / timeS;
}

/** The hidden truth of a piece once oxygenated; films of one run share the run's scatter. */
export function pieceTruthOf(seed: number, plan: PlannedFilm, piece: PlannedPiece): FilmTruth {
  const { film } = PLANNED_TARGETS.find(({ label }) => label === plan.targetLabel)!;
  const truth = filmTruth(
    {
      cations: film,
      route: plan.route,
      surfaceC: plan.surfaceC,
      po2Atm: plan.po2Atm,
      growthRateNmPerS: overallRateNmPerS(plan, piece),
      thicknessNm: plan.thicknessNm,
      substrate: plan.substrate,
      liquidHoldS: plan.route === 'ex situ' ? piece.liquidHoldS : 0,
    },
    randomStream(seed, `run ${plan.runLabel}`),
    randomStream(seed, `film ${plan.label}`),
  );
  return pieceTruth(truth, randomStream(seed, `piece ${plan.label}-${piece.letter}`));
}

function runOf(seed: number, plan: PlannedFilm): DemoRun {
  const random = randomStream(seed, `log ${plan.runLabel}`);
  const isEx = plan.route === 'ex situ';
  // the stated offset is the chamber's calibration; what the chamber does differs within its uncertainty
  const trueOffsetK = -45 + 4 * random.normal();
  const depositionC = isEx ? 150 : plan.surfaceC;
  const repetitionHz = digits(plan.depositionRateNmPerS / 0.08, 2);
  const before: Stated = { value: digits(random.between(58, 64), 3), standardUncertainty: 1 };
  return {
    label: plan.runLabel,
    targetLabel: plan.targetLabel,
    startedAt: at(runNumber(plan), 0),
    route: plan.route,
    source: 'pulsed laser',
    energyAtTargetMj: { value: digits(before.value * 0.82, 3), standardUncertainty: 2 },
    energyBeforeWindowMj: before,
    energyAfterWindowMj: {
      value: digits(before.value * random.between(0.84, 0.88), 3),
      standardUncertainty: 1,
    },
    spotAreaMm2: { value: 3.2, standardUncertainty: 0.3 },
    distanceMm: 55,
    repetitionHz,
    pulses: Math.round((repetitionHz * plan.thicknessNm) / plan.depositionRateNmPerS),
    pulsesSinceResurfacing: Math.round(random.between(0, 40) * 1000),
    basePressurePa: digits(10 ** random.between(-4, -3), 2),
    temperature: {
      valueC: Math.round(depositionC - (isEx ? 0 : trueOffsetK)),
      place: 'heater block',
      offsetK: { value: isEx ? 0 : -45, standardUncertainty: isEx ? 15 : 8 },
    },
    pressure: {
      valuePa: isEx ? 5 : digits(plan.po2Atm * 101_325, 3),
      kind: 'total',
      gauge: 'capacitance',
      oxygenShare: isEx ? 0.01 : 1,
    },
    chamberLabel: DEPOSITION_CHAMBER,
    mounting: plan.substrate === 'tape' ? 'clamped' : 'silver paste',
    isWindowCleaned: random.uniform() < 0.4,
    note: INVENTED_NOTE,
  };
}

function filmOf(seed: number, plan: PlannedFilm): DemoFilm {
  const random = randomStream(seed, `record ${plan.label}`);
  const { film } = PLANNED_TARGETS.find(({ label }) => label === plan.targetLabel)!;
  const edx = (amount: number) => digits(amount * (1 + 0.015 * random.normal()), 3);
  const measured = plan.thicknessNm * (1 + 0.03 * random.normal());
  const shortPath = plan.pieces.at(-1)!;
  const stated = (value: number, share: number): Stated => ({
    value: digits(value, 3),
    standardUncertainty: digits(value * share, 2),
  });
  return {
    label: plan.label,
    runLabel: plan.runLabel,
    cations: { Dy: 1, Ba: edx(film.Ba / film.Dy), Cu: edx(film.Cu / film.Dy) },
    substrate: plan.substrate === 'tape' ? 'CeO2/LaMnO3 on nickel-alloy tape' : 'LaAlO3 (001)',
    substrateLot: plan.substrate === 'tape' ? 'invented reel 2' : 'invented box 5',
    position: plan.substrate === 'tape' ? '8 mm off centre' : 'centre',
    thicknessNm: stated(measured, 0.04),
    depositionRateNmPerS: stated(plan.depositionRateNmPerS, 0.05),
    conversionRateNmPerS: plan.conversionRateNmPerS === null ? null : stated(plan.conversionRateNmPerS, 0.2),
    overallRateNmPerS: stated(overallRateNmPerS(plan, shortPath), 0.06),
    note: [INVENTED_NOTE, plan.note, 'Cations by EDX, three spots, about 2 % each.']
      .filter(Boolean)
      .join(' '),
  };
}

/** After the run every piece is oxygenated; an ex situ piece is converted on the same path. */
function treatmentOf(plan: PlannedFilm, piece: PlannedPiece, pieceLabel: string): DemoTreatment {
  const oxygen = { po2Atm: 1, gas: 'O2' };
  const oxygenation: DemoSegment[] = [
    { kind: 'cool', toC: 450, durationS: 600, ...oxygen },
    { kind: 'hold', toC: 450, durationS: 1800, ...oxygen },
    { kind: 'cool', toC: 25, durationS: 2400, ...oxygen },
  ];
  const dry = { po2Atm: 1e-5, gas: 'Ar with 10 ppm O2' };
  const wet = { po2Atm: plan.po2Atm, gas: 'Ar with O2' };
  const segments: DemoSegment[] =
    plan.conversionRateNmPerS === null
      ? [{ kind: 'ramp', toC: 450, durationS: 900, ...oxygen }, ...oxygenation.slice(1)]
      : [
          { kind: 'ramp', toC: 400, durationS: 60, ...dry },
          { kind: 'ramp', toC: plan.surfaceC, durationS: 12, ...dry },
          { kind: 'gas change', toC: plan.surfaceC, durationS: 1, ...wet },
          {
            kind: 'hold',
            toC: plan.surfaceC,
            durationS: digits(plan.thicknessNm / plan.conversionRateNmPerS + piece.liquidHoldS, 3),
            ...wet,
          },
          ...oxygenation,
        ];
  return {
    label: `${pieceLabel} ${plan.conversionRateNmPerS === null ? 'oxygen' : 'conversion'}`,
    pieceLabel,
    startedAt: at(runNumber(plan), 1),
    segments,
    planLabel: isTape(plan) ? DEMO_PATH_PLANS[0]!.label : null,
    chamberLabel: plan.conversionRateNmPerS === null ? DEPOSITION_CHAMBER : FURNACE,
    note: INVENTED_NOTE,
  };
}

function fileOf(subject: Subject, plan: PlannedFilm, take: TakeName): DemoFile {
  switch (take) {
    case 'scan as grown':
      return scanFile(subject, {
        substrate: plan.substrate,
        state: plan.route === 'ex situ' ? 'amorphous' : 'short of oxygen',
      });
    case 'scan':
      return scanFile(subject, { substrate: plan.substrate, state: 'oxygenated' });
    case 'resistance':
      return resistanceFile(subject);
    case 'current 77 K':
      return currentFile(subject, { temperatureK: 77, fieldT: 0 });
    case 'current 30 K':
      return currentFile(subject, { temperatureK: 30, fieldT: 5 });
    case 'loop 77 K':
      return loopFile(subject, 77, 2);
    case 'loop 30 K':
      return loopFile(subject, 30, 7);
    case 'magnetic transition':
      return magneticTransitionFile(subject);
  }
}

const isTape = (plan: PlannedFilm): boolean => plan.route === 'ex situ' && plan.substrate === 'tape';

/** Loss of each cation a minute beside the liquid, as invented as the rest. */
const LOSS_PER_MIN = { Dy: 0, Ba: 0.012, Cu: 0.02 } as const;

/** What EDX said of the piece as it left the run, and after a long conversion once more. */
function compositionsOf(
  seed: number,
  plan: PlannedFilm,
  piece: PlannedPiece,
  pieceLabel: string,
  treatment: DemoTreatment,
): DemoTypedFacts[] {
  const random = randomStream(seed, `cations ${pieceLabel}`);
  const { film } = PLANNED_TARGETS.find(({ label }) => label === plan.targetLabel)!;
  const facts = (stateTreatmentLabel: string | null, minutes: number): DemoTypedFacts => {
    const read = (cation: 'Dy' | 'Ba' | 'Cu'): number =>
      digits(film[cation] * (1 - LOSS_PER_MIN[cation] * minutes) * (1 + 0.015 * random.normal()), 4);
    const cations = { Dy: read('Dy'), Ba: read('Ba'), Cu: read('Cu') };
    return {
      pieceLabel,
      stateTreatmentLabel,
      numbers: [],
      phases: [],
      composition: {
        cations,
        standardUncertainties: {
          Dy: digits(0.02 * cations.Dy, 2),
          Ba: digits(0.02 * cations.Ba, 2),
          Cu: digits(0.02 * cations.Cu, 2),
        },
        method: 'EDX',
        standard: 'invented pressed 123 pellet',
      },
      source: 'Typed by the invented group: EDX, three spots.',
      note: INVENTED_NOTE,
    };
  };
  return piece.liquidHoldS > 60
    ? [facts(null, 0), facts(treatment.label, piece.liquidHoldS / 60)]
    : [facts(null, 0)];
}

function typedFactsOf(
  plan: PlannedFilm,
  piece: PlannedPiece,
  truth: FilmTruth,
  treatment: DemoTreatment,
  random: RandomStream,
): DemoTypedFacts {
  const number = (name: string, value: number, standardUncertainty: number | null, method: string) => ({
    name,
    value,
    standardUncertainty,
    origin: 'typed' as const,
    method,
  });
  const countedMm = 4;
  const cracks = random.count(truth.cracksPerMm * countedMm);
  return {
    pieceLabel: treatment.pieceLabel,
    stateTreatmentLabel: treatment.label,
    numbers: [
      number(
        'cracksPerMm',
        cracks / countedMm,
        Math.sqrt(Math.max(1, cracks)) / countedMm,
        'counted along 4 mm of line in micrographs',
      ),
      number(
        'rockingWidthDeg',
        digits(truth.rockingWidthDeg, 3),
        digits(0.05 * truth.rockingWidthDeg, 2),
        'rocking curve of (005)',
      ),
      // pieces of one film may spend unlike times beside the liquid, so each states its own rate
      ...(plan.pieces.length > 1
        ? [
            number(
              'overallRateNmPerS',
              digits(overallRateNmPerS(plan, piece), 3),
              null,
              'thickness over time',
            ),
          ]
        : []),
    ],
    phases: [],
    composition: null,
    source: 'Typed by the invented group.',
    note: INVENTED_NOTE,
  };
}

/**
 * The demonstration series of `filmCount` films, 2 to 40. The first films do not change with the count.
 *
 * @throws RangeError for a count outside that range (the benchmark and the control are films 1 and 2), or a seed that is
 * not a whole number from 0
 */
export function generateDemo(seed: number = DEMO_SEED, filmCount: number = DEMO_FILM_COUNT): Demo {
  if (!Number.isInteger(filmCount) || filmCount < 2 || filmCount > 40) {
    throw new RangeError(`filmCount is ${filmCount}; give a whole number from 2 to 40.`);
  }
  if (!Number.isSafeInteger(seed) || seed < 0) {
    throw new RangeError(`seed is ${seed}; give a whole number from 0.`);
  }
  const plans = plannedFilms(seed, filmCount);
  const pieces = plans.flatMap((plan, i) =>
    plan.pieces.map((piece) => ({
      plan,
      piece,
      filmNumber: i,
      label: `${plan.label}-${piece.letter}`,
      truth: pieceTruthOf(seed, plan, piece),
    })),
  );
  const treatments = pieces.map(({ plan, piece, label }) => treatmentOf(plan, piece, label));
  const files = pieces.flatMap(({ plan, piece, filmNumber, label, truth }, i) => [
    ...TAKE_NAMES.filter((take) => piece.takes[take] !== undefined).map((take, takeNumber) =>
      fileOf(
        {
          pieceLabel: label,
          stateLabel: take === 'scan as grown' ? null : treatments[i]!.label,
          takenAt: at(runNumber(plan), take === 'scan as grown' ? 0 : 2, 5 + takeNumber),
          truth,
          piece,
          oddity: piece.takes[take]!,
          instrument: filmNumber,
          random: randomStream(seed, `${take} ${label}`),
        },
        plan,
        take,
      ),
    ),
    ...(plan.route === 'ex situ'
      ? [chamberLogFile(treatments[i]!, randomStream(seed, `furnace ${label}`))]
      : []),
  ]);
  const runs = plans.filter((plan, i) => plans.findIndex((one) => one.runLabel === plan.runLabel) === i);
  return {
    series: demoSeries('D01-a', 'D02-a'),
    lots: DEMO_LOTS,
    targets: PLANNED_TARGETS.map(demoTarget),
    chambers: DEMO_CHAMBERS,
    pathPlans: DEMO_PATH_PLANS,
    runs: runs.map((plan) => runOf(seed, plan)),
    films: plans.map((plan) => filmOf(seed, plan)),
    pieces: pieces.map(({ plan, piece, label }) => ({
      label,
      filmLabel: plan.label,
      lengthMm: piece.lengthMm,
      widthMm: piece.widthMm,
      note: [INVENTED_NOTE, piece.note].filter(Boolean).join(' '),
    })),
    treatments,
    typedFacts: [
      ...pieces.map(({ plan, piece, label, truth }, i) =>
        typedFactsOf(plan, piece, truth, treatments[i]!, randomStream(seed, `typed ${label}`)),
      ),
      ...pieces.flatMap(({ plan, piece, label }, i) =>
        compositionsOf(seed, plan, piece, label, treatments[i]!),
      ),
    ],
    files,
    pastFilmsCsv: pastFilmsCsv(seed),
  };
}
