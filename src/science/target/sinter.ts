// Oxygen of a target along its firing: balance with the gas, diffusion into grains, and the oxygen the gas can bring. SI; K, atm.
import { GAS_CONSTANT, oxygenAboveSix, po2OfOxygenAtm, ZERO_CELSIUS_K } from '../equilibrium/oxygen.ts';
import { DomainError } from '../errors.ts';
import { chemicalDiffusivity } from '../growth/oxygenation.ts';
import { type PathSamples, type PathSegment, placeSegments, samplePath } from '../growth/path.ts';
import { checkRange } from '../growth/range.ts';
import type { Amounts } from '../matter/cation-ratios.ts';
import { isRareEarth } from '../matter/elements.ts';
import { elementAmounts, parseFormula } from '../matter/formula.ts';
import { molarMass } from '../matter/molar-mass.ts';
import { diffusingBody, PLATE, SPHERE } from '../numerics/diffusion-modes.ts';

/** One step of a firing: it ends at toC after durationS, in gas of po2Atm. */
export interface SinterSegment {
  readonly kind: 'ramp' | 'hold' | 'gas change' | 'cool';
  readonly toC: number;
  readonly durationS: number;
  readonly po2Atm: number;
}

export interface SinterStart {
  readonly temperatureC: number;
  readonly po2Atm: number;
}

/** A firing with its ends checked, and its samples. */
export interface SinterPath {
  readonly start: SinterStart;
  readonly segments: readonly SinterSegment[];
  readonly samples: PathSamples;
}

const TEMPERATURE_C = { min: 0, max: 1400 };
const PO2_ATM = { min: 1e-12, max: 10 };
const DURATION_S = { min: 0, max: 1e7 };

function checkPo2(field: string, po2Atm: number): void {
  if (po2Atm >= PO2_ATM.min && po2Atm <= PO2_ATM.max) return;
  throw new DomainError(
    'PATH_RANGE',
    `${field} is ${po2Atm} atm; allowed is ${PO2_ATM.min} to ${PO2_ATM.max}.`,
    'Give the oxygen partial pressure in atm: no gas is free of oxygen, and bottled argon brings some 1e-6 to 1e-5 atm of it.',
  );
}

/**
 * A firing as a sampled path: temperature moves evenly within a segment; its gas is there from its beginning, but for a gas
 * change, in which pO2 moves evenly in its logarithm.
 *
 * @throws DomainError PATH_RANGE, naming segments[i].field, its value and what is allowed
 */
export function sinterPath(start: SinterStart, segments: readonly SinterSegment[]): SinterPath {
  checkRange('start.temperatureC', start.temperatureC, TEMPERATURE_C, 'PATH_RANGE');
  checkPo2('start.po2Atm', start.po2Atm);
  let { temperatureC, po2Atm } = start;
  const steps: PathSegment[] = [];
  segments.forEach((segment, i) => {
    const { kind, toC, durationS } = segment;
    checkRange(`segments[${i}].toC`, toC, TEMPERATURE_C, 'PATH_RANGE');
    checkRange(`segments[${i}].durationS`, durationS, DURATION_S, 'PATH_RANGE');
    checkPo2(`segments[${i}].po2Atm`, segment.po2Atm);
    const refuse = (allowed: string): never => {
      throw new DomainError(
        'PATH_RANGE',
        `segments[${i}].toC is ${toC} in a ${kind} that begins at ${temperatureC} degC; allowed is ${allowed}.`,
        'Take a ramp for another temperature.',
      );
    };
    if ((kind === 'hold' || kind === 'gas change') && toC !== temperatureC) refuse('only that temperature');
    if (kind === 'cool' && toC > temperatureC) refuse('that temperature or a lower one');
    if (kind === 'gas change') steps.push({ kind: 'gas', toPo2Atm: segment.po2Atm, durationS });
    else {
      if (segment.po2Atm !== po2Atm) steps.push({ kind: 'gas', toPo2Atm: segment.po2Atm, durationS: 0 });
      steps.push({ kind, durationS, ...(kind === 'hold' ? {} : { toC }) });
    }
    temperatureC = toC;
    po2Atm = segment.po2Atm;
  });
  return { start, segments, samples: samplePath(placeSegments(start, steps), start) };
}

/** What the oxygen goes through: grains with open pores between them. */
export interface SinterBody {
  readonly grainRadiusM: number;
  /** half the thickness of a target whose pores close when it is hottest, m; from then on a plate without a way in between */
  readonly closesToPlateM?: number | undefined;
  /** flow of gas a gram of target, standard cm3/min (0 degC, 1 atm) */
  readonly gasSccmPerG: number;
  /** multiplies the diffusivity */
  readonly diffusivityFactor: number;
  readonly shiftK: number;
}

/** Last sample at the highest temperature. */
export function lastHottest({ temperatureK }: PathSamples): number {
  const hottest = temperatureK.reduce((most, each) => Math.max(most, each), 0);
  return temperatureK.findLastIndex((each) => each >= hottest - 1e-6);
}

/** 1 standard cm3/min, mol/s: an ideal gas at 0 degC and 1 atm [derived]. */
const MOL_PER_S_SCCM = (101_325 * 1e-6) / (GAS_CONSTANT * ZERO_CELSIUS_K) / 60;
const ELEMENTS_WITHOUT_RE = elementAmounts(parseFormula('Ba2Cu3O6'));

/** Mass of REBa2Cu3O6+z, g/mol, with the rare earths of these cations; Y without any. */
export function massOf123(z: number, cations: Amounts = {}): number {
  const elements: Record<string, number> = { ...ELEMENTS_WITHOUT_RE, O: ELEMENTS_WITHOUT_RE.O! + z };
  const rareEarths = Object.entries(cations).filter(([symbol, n]) => n > 0 && isRareEarth(symbol));
  const sum = rareEarths.reduce((total, [, n]) => total + n, 0);
  for (const [symbol, n] of rareEarths) elements[symbol] = n / sum;
  if (sum === 0) elements.Y = 1;
  return molarMass(elements).gramPerMol;
}

/** Most oxygen above six: one full chain site a cell [looked-up: abstract of a weighing study, 350 to 1000 degC, z 0.1 to 1; Kishio et al. 1987, authors memory]. */
const MOST_OXYGEN = 1;
const LEAST_OXYGEN = 1e-9;

/**
 * Mean oxygen above six of a target along its firing, one a sample.
 *
 * The surface of the grains is in balance with the gas around them, z_s = z(T, p), at most 1; inside oxygen diffuses
 * (diffusingBody) with the chemical diffusivity at the mean content. The gas brings or carries off what flows through it:
 * with p_in in the gas let in, M the mass of a mole and F its flow a gram,
 *   (1/2) dz/dt = M F (p_in - p)/(1 atm),
 * so a target takes up little oxygen from lean gas however long the balance would give it more. Each step is implicit.
 *
 * @param startOxygen z at the beginning, the same everywhere
 *
 * Source: [derived: conservation of oxygen in stirred gas]; z(T, p) and D as named there.
 * Range: that of oxygenAboveSix (500 to 900 degC, 0.01 to 1 atm), beyond extrapolated; exchange at the surface at once.
 */
export function oxygenAlongFiring(
  { samples }: SinterPath,
  body: SinterBody,
  startOxygen: number,
): Float64Array {
  const { timeS, temperatureK, log10Po2Atm } = samples;
  const n = timeS.length;
  const mean = new Float64Array(n);
  mean[0] = startOxygen;
  let plan = diffusingBody(SPHERE, 0);
  let lengthM = body.grainRadiusM;
  const closesAt = body.closesToPlateM === undefined ? n : lastHottest(samples);
  let surface = startOxygen;
  for (let i = 1; i < n; i++) {
    if (i === closesAt + 1) {
      plan = diffusingBody(PLATE, 0);
      lengthM = body.closesToPlateM!;
      surface = mean[closesAt]!;
    }
    const durationS = timeS[i]! - timeS[i - 1]!;
    if (durationS === 0) {
      mean[i] = mean[i - 1]!;
      continue;
    }
    const middleK = (temperatureK[i]! + temperatureK[i - 1]!) / 2 + body.shiftK;
    const diffusivity = body.diffusivityFactor * chemicalDiffusivity('ab', middleK, mean[i - 1]!);
    const step = plan((diffusivity * durationS) / lengthM ** 2);
    const endK = temperatureK[i]! + body.shiftK;
    const inletAtm = 10 ** log10Po2Atm[i]!;
    const perAtm = 2 * massOf123(mean[i - 1]!) * body.gasSccmPerG * MOL_PER_S_SCCM * durationS;
    const from = surface;
    const before = mean[i - 1]!;
    /** oxygen taken up less what the gas brings, if the surface goes there; rises with it */
    const excess = (to: number): number =>
      from +
      step.stays +
      step.perChange * (to - from) -
      before -
      perAtm * (inletAtm - po2OfOxygenAtm(endK, to));
    let [low, high] = [LEAST_OXYGEN, MOST_OXYGEN];
    for (let k = 0; k < 44; k++) {
      const middle = (low + high) / 2;
      if (excess(middle) < 0) low = middle;
      else high = middle;
    }
    surface = (low + high) / 2;
    mean[i] = surface + step.take(surface - from);
  }
  return mean;
}

/** Below this nothing moves in an hour: a powder that is colder holds what it closed with [derived: sinter-closure]. */
const CLOSED_BELOW_C = 400;

/** Oxygen above six that a powder is taken to begin with: in balance with the first gas, at no less than 400 degC; at most 1. */
export const startOxygen = ({ temperatureC, po2Atm }: SinterStart): number =>
  Math.min(MOST_OXYGEN, oxygenAboveSix(Math.max(temperatureC, CLOSED_BELOW_C) + ZERO_CELSIUS_K, po2Atm));
