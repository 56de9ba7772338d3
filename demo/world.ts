// The hidden truth of the demonstration series: what a film is, given its cations, its conditions and chance. EVERY
// NUMBER HERE IS INVENTED. The shapes follow what is common knowledge of the trade (a liquid that appears above a line in
// (T, log pO2), growth that tolerates speed where liquid is present, cracks in thick films); no value is a measurement.
// Temperatures C or K as named, thickness nm, current density A/m2.
import type { RandomStream } from './random.ts';

export const PHASES = ['DyBa2Cu3O7', 'BaCuO2', 'CuO', 'Cu2O', 'Dy2O3', 'Dy2BaCuO5'] as const;
export type PhaseName = (typeof PHASES)[number];

/** What decides a film, apart from chance. */
export interface FilmConditions {
  /** cations of the film itself, any common factor */
  readonly cations: { readonly Dy: number; readonly Ba: number; readonly Cu: number };
  readonly route: 'in situ' | 'ex situ';
  readonly surfaceC: number;
  readonly po2Atm: number;
  /** thickness over everything growth took */
  readonly growthRateNmPerS: number;
  readonly thicknessNm: number;
  readonly substrate: 'LaAlO3' | 'tape';
  /** time beside the liquid after growth ended */
  readonly liquidHoldS: number;
}

/** What a film is once it is fully oxygenated. */
export interface FilmTruth {
  /** share of the layer that was liquid during growth */
  readonly liquidShare: number;
  /** volume share of each crystalline phase; they sum to 1 */
  readonly phaseShares: Readonly<Record<PhaseName, number>>;
  /** share of the 123 grains that lie at random */
  readonly randomShare: number;
  readonly cAxisAngstrom: number;
  readonly rockingWidthDeg: number;
  readonly tcMidpointK: number;
  /** 10 to 90 % */
  readonly transitionWidthK: number;
  /** at 77 K without applied field, transport at 1 uV/cm, away from cracks */
  readonly jc77APerM2: number;
  /** exponent of the fall of Jc with field */
  readonly fieldExponent: number;
  readonly nValue77: number;
  readonly cracksPerMm: number;
  readonly thicknessNm: number;
}

const COMPOUND_123 = [1 / 6, 2 / 6, 3 / 6] as const;
const INVENTED_LIQUID = [0.01, 0.32, 0.67] as const;
/** half-width of the invented window across the line from 123 to the liquid, in cation fraction */
const WINDOW_HALF_WIDTH = 0.03;
const RUN_SCATTER = 0.2;
const PIECE_SCATTER = 0.04;

const logistic = (x: number) => 1 / (1 + Math.exp(-x));
const excessOver = (x: number, scale: number) => scale * Math.log1p(Math.exp(x / scale));

/** Temperature at which liquid appears, C; invented line in log pO2. */
export function liquidOnsetC(po2Atm: number): number {
  return 900 + 30 * Math.log10(po2Atm / 0.21);
}

/** Temperature at which the compound decomposes, C; invented line in log pO2. */
export function decompositionC(po2Atm: number): number {
  return 1010 + 36 * Math.log10(po2Atm / 0.21);
}

/** `along`: the lever towards the liquid, 0 at the compound and 1 at the liquid; `across`: positive on the Ba side. */
export function placeInTriangle(cations: FilmConditions['cations']): { along: number; across: number } {
  const sum = cations.Dy + cations.Ba + cations.Cu;
  const from = [cations.Dy, cations.Ba, cations.Cu].map((amount, i) => amount / sum - COMPOUND_123[i]!);
  const line = INVENTED_LIQUID.map((share, i) => share - COMPOUND_123[i]!);
  const length = Math.hypot(...line);
  const unit = line.map((x) => x / length);
  const across = [unit[1]! - unit[2]!, unit[2]! - unit[0]!, unit[0]! - unit[1]!].map((x) => x / Math.sqrt(3));
  const dot = (a: readonly number[], b: readonly number[]) => a.reduce((total, x, i) => total + x * b[i]!, 0);
  return { along: dot(from, unit) / length, across: dot(from, across) };
}

/**
 * What the film is. Chance enters twice: `runRandom` gives the scatter of Jc between runs (a fifth, normal, cut at two
 * standard deviations), which the films of one run share; `random` gives small scatter in the other numbers.
 */
export function filmTruth(
  conditions: FilmConditions,
  runRandom: RandomStream,
  random: RandomStream,
): FilmTruth {
  const { along, across } = placeInTriangle(conditions.cations);
  const { surfaceC, po2Atm, thicknessNm } = conditions;
  const molten = logistic((surfaceC - liquidOnsetC(po2Atm)) / 4);
  const decomposed = logistic((surfaceC - decompositionC(po2Atm)) / 6);
  const lever = Math.max(0, along);
  const liquidShare = lever * molten * Math.exp(-((across / 0.05) ** 4));
  const isEx = conditions.route === 'ex situ';
  const coarsened = isEx ? 1 - Math.exp(-((conditions.liquidHoldS / 60) ** 1.5)) : 0;

  const baExcess = 2.5 * excessOver(across - WINDOW_HALF_WIDTH, 0.002) + 0.5 * lever * (1 - molten);
  const cuExcess = 2 * excessOver(-across - WINDOW_HALF_WIDTH, 0.002) + 0.4 * lever * (1 - molten);
  const reduced = logistic((-4.6 - Math.log10(po2Atm)) / 0.15);
  const dyLever = Math.max(0, -along);
  const fineParticles = 0.16 * liquidShare * (1 - coarsened);
  const foreign = {
    BaCuO2: baExcess,
    CuO: cuExcess * (1 - reduced),
    Cu2O: cuExcess * reduced,
    Dy2O3: 0.9 * dyLever + fineParticles + 0.1 * coarsened + 0.2 * decomposed,
    Dy2BaCuO5: 0.5 * dyLever + 0.4 * decomposed + 0.02 * coarsened,
  };
  const foreignSum = Object.values(foreign).reduce((total, share) => total + share, 0);
  const scale = 1 / (1 + foreignSum);

  const toleratedNmPerS = 8 * (1 + 60 * liquidShare);
  const speed = 1 / (1 + (conditions.growthRateNmPerS / toleratedNmPerS) ** 1.5);
  const harmful = foreignSum - fineParticles;
  const flooded = Math.exp(-((Math.max(0, liquidShare - 0.28) / 0.15) ** 2));
  const order = speed * flooded;
  const quality = Math.max(0.02, order * Math.exp(-harmful / 0.12) * (1 - 0.7 * coarsened));
  const tcLossK =
    5.5 * (1 - order) +
    35 * (foreign.BaCuO2 + foreign.Dy2BaCuO5) +
    15 * cuExcess +
    12 * Math.max(0, foreign.Dy2O3 - fineParticles) +
    3 * coarsened;
  const broadeningK = 3.2 * (1 - order) + 12 * harmful + 2 * coarsened;

  const isTape = conditions.substrate === 'tape';
  const cracksPerMm = isTape ? 0 : 6 * excessOver((thicknessNm - 1300) / 300, 0.3);
  const scatter = Math.max(-2, Math.min(2, runRandom.normal()));
  const pinning = fineParticles / (fineParticles + 0.015);
  return {
    liquidShare,
    phaseShares: {
      DyBa2Cu3O7: scale,
      BaCuO2: foreign.BaCuO2 * scale,
      CuO: foreign.CuO * scale,
      Cu2O: foreign.Cu2O * scale,
      Dy2O3: foreign.Dy2O3 * scale,
      Dy2BaCuO5: foreign.Dy2BaCuO5 * scale,
    },
    randomShare: Math.min(0.8, 0.01 + 0.5 * (1 - quality) ** 2 + (isTape ? 0.01 : 0)),
    cAxisAngstrom: 11.692 + 0.02 * (1 - quality) + 0.0015 * random.normal(),
    rockingWidthDeg: (isTape ? 1.4 : 0.22) * (1 + 1.5 * (1 - quality)) * (1 + 0.05 * random.normal()),
    tcMidpointK: Math.max(79.5, 91.2 - tcLossK - (isTape ? 0.5 : 0) + 0.15 * random.normal()),
    transitionWidthK: (0.5 + broadeningK + (isTape ? 0.1 : 0)) * (1 + 0.08 * random.normal()),
    jc77APerM2:
      3.2e10 *
      quality ** 1.1 *
      (250 / thicknessNm) ** 0.08 *
      (isTape ? 0.93 : 1) *
      Math.exp(RUN_SCATTER * scatter),
    fieldExponent: 0.52 - 0.2 * pinning + 0.01 * random.normal(),
    nValue77: 8 + 24 * quality,
    cracksPerMm: cracksPerMm * Math.exp(0.2 * random.normal()),
    thicknessNm,
  };
}

/** A second piece of the same film differs a little in its current. */
export function pieceTruth(film: FilmTruth, random: RandomStream): FilmTruth {
  return { ...film, jc77APerM2: film.jc77APerM2 * Math.exp(PIECE_SCATTER * random.normal()) };
}

/** Field above which no current flows, T; invented. */
function irreversibilityFieldT(truth: FilmTruth, temperatureK: number): number {
  return 55 * Math.max(0, 1 - (temperatureK / truth.tcMidpointK) ** 2) ** 1.5;
}

/**
 * Transport critical current density, A/m2, field along the c axis: an invented product of a fall with temperature and a
 * fall with field. Zero above Tc or above the irreversibility field.
 */
export function criticalCurrentDensityAPerM2(truth: FilmTruth, temperatureK: number, fieldT: number): number {
  const fallWithT = (t: number) => Math.max(0, 1 - (t / truth.tcMidpointK) ** 2) ** 1.5;
  const at77 = fallWithT(77);
  if (at77 === 0 || fallWithT(temperatureK) === 0) return 0;
  const share = Math.abs(fieldT) / irreversibilityFieldT(truth, temperatureK);
  if (share >= 1) return 0;
  const fallWithB = (1 + Math.abs(fieldT) / 0.06) ** -truth.fieldExponent * (1 - share) ** 2;
  return (truth.jc77APerM2 * fallWithT(temperatureK) * fallWithB) / at77;
}

/** Power of the voltage-current curve at a temperature and field; at least 4. */
export function powerIndex(truth: FilmTruth, temperatureK: number, fieldT: number): number {
  const share = Math.abs(fieldT) / Math.max(1e-9, irreversibilityFieldT(truth, temperatureK));
  return Math.max(4, truth.nValue77 * Math.max(0, 1 - share) * (temperatureK < 50 ? 0.95 : 1));
}
