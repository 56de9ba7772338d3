// What the fields of the forms are called on the page, so that a fault can name its field. Pure.
import type { Sitting } from './sitting.ts';
import type { Faults } from './typed-numbers.ts';

export const FIELD_NAMES: Readonly<Record<string, string>> = {
  label: 'name',
  targetId: 'target',
  basePressureUnit: 'unit of the base pressure',
  temperaturePlace: 'place of the reading',
  pressureUnit: 'unit of the pressure',
  pressureKind: 'kind of pressure',
  isWindowCleaned: 'window cleaned',
  substrateLot: 'substrate lot',
  startedAt: 'start',
  energyAtTargetMj: 'energy at the target',
  energyBeforeWindowMj: 'energy before the window',
  energyAfterWindowMj: 'energy after the window',
  spotAreaMm2: 'spot area',
  distanceMm: 'target to substrate',
  repetitionHz: 'repetition',
  pulses: 'pulses',
  pulsesSinceResurfacing: 'pulses since resurfacing',
  preAblationPulses: 'pulses on the shuttered target',
  rateNmPerS: 'rate of the source',
  basePressure: 'base pressure',
  temperatureC: 'temperature reading',
  temperatureOffsetK: 'surface minus reading',
  pressure: 'pressure in the run',
  oxygenPercent: 'O₂ in the gas',
  cations: 'film ratio',
  substrate: 'substrate',
  thicknessNm: 'thickness',
  depositionRateNmPerS: 'deposition rate',
  conversionRateNmPerS: 'conversion rate',
  overallRateNmPerS: 'overall rate',
  lengthMm: 'length',
  widthMm: 'width',
  segments: 'steps',
  toC: 'end temperature',
  duration: 'duration',
  po2: 'oxygen pressure',
  gas: 'gas',
  ratio: 'wanted cation ratio',
  totalMassG: 'mass of the fired target',
  balanceStepMg: 'step of the balance',
  oxygenPer123: 'oxygen per formula',
  precursors: 'powders',
  formula: 'formula',
  base: 'matrix',
  percent: 'share',
  diameterMm: 'diameter of the pellet',
  thicknessMm: 'thickness of the pellet',
  densityPercent: 'relative density of the pellet',
  assayPercent: 'assay',
  dryingC: 'temperature of drying',
  grainRadiusUm: 'grain radius',
  drying: 'drying',
  hazardCodes: 'hazard codes',
  caution: 'caution',
  element: 'element',
  amount: 'amount',
  uncertainty: 'uncertainty',
  relativePercent: 'uncertainty of all amounts',
  rows: 'measured ratio',
  purityPercent: 'purity',
  lossPercent: 'loss on drying',
  phases: 'phases there',
  source: 'source',
  note: 'note',
  po2Unit: 'unit of the oxygen pressure',
  isTwinMeant: 'a point like it',
  planId: 'plan',
  chamberId: 'chamber',
  startC: 'temperature at the start',
  startPo2: 'oxygen pressure at the start',
  rate: 'rate',
  pieceId: 'piece',
  volumeL: 'volume',
  oxygenFlowSccm: 'oxygen flow',
  pumpingWhileFillingLPerS: 'pumping while filling',
  pumpingLPerS: 'pumping while oxygen is taken away',
  gasC: 'temperature of the gas',
  thermalLagS: 'thermal lag',
  offsetK: 'surface minus reading',
  gauge: 'gauge',
};

/** A field in words: `pulses`, `duration of step 2` for a field of a row, `loss of Cu` for one of an element. */
function fieldName(field: string, rowWord: string): string {
  const row = /^(?:([a-z]+)\.)?(\d+)\.(.+)$/.exec(field);
  if (row) return `${FIELD_NAMES[row[3]!] ?? row[3]} of ${row[1] ?? rowWord} ${Number(row[2]) + 1}`;
  const element = /^(factor|loss)\.([A-Z][a-z]?)$/.exec(field);
  if (element) return `${element[1] === 'factor' ? 'transfer factor' : 'loss'} of ${element[2]}`;
  return FIELD_NAMES[field] ?? field;
}

/**
 * Faults as sentences, each with the field that it is about.
 *
 * @param of      what the form is of: `film D07`
 * @param rowWord what a row of its table is: `step`, `powder`
 */
export function faultSentences(of: string, faults: Faults, rowWord = 'step'): string[] {
  return Object.entries(faults).map(([field, fault]) => `${of}, ${fieldName(field, rowWord)}: ${fault}`);
}

/** Every fault of a sitting, in the order of the page. */
export function sittingFaultSentences(sitting: Sitting, faults: Faults): string[] {
  const entries: [string, string][] = [];
  if (sitting.origin === 'run') entries.push([sitting.run.id, 'Run']);
  sitting.films.forEach((film, f) => {
    entries.push([film.id, `Film ${film.draft.label || f + 1}`]);
    film.pieces.forEach((piece, p) => {
      entries.push([piece.id, `Piece ${piece.draft.label || p + 1}`]);
      piece.treatments.forEach(({ id, draft }, t) => {
        entries.push([id, `Treatment ${draft.label || t + 1}`]);
      });
    });
  });
  return entries.flatMap(([id, of]) =>
    faultSentences(
      of,
      Object.fromEntries(
        Object.entries(faults)
          .filter(([field]) => field.startsWith(`${id}.`))
          .map(([field, fault]) => [field.slice(id.length + 1), fault]),
      ),
    ),
  );
}
