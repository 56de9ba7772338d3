// Currents of the invented films: voltage against current of a bridge, and moment against field of a piece. A, V; the
// magnetometer's own units (oersted, emu) where a name says so.
import type { RandomStream } from './random.ts';
import { criticalCurrentDensityAPerM2, type FilmTruth, powerIndex } from './world.ts';

/** 1 uV/cm */
export const CRITERION_V_PER_M = 1e-4;

export interface CurrentConditions {
  readonly temperatureK: number;
  readonly fieldT: number;
  readonly tapDistanceM: number;
  readonly bridgeWidthM: number;
  readonly oddity: 'plain' | 'shunt' | 'quench' | 'supply limit' | 'cracked through';
}

export interface CurrentRow {
  readonly timeS: number;
  readonly currentA: number;
  readonly voltageV: number;
}

/** Current in film and shunt together at a voltage. */
function currentAt(
  voltageV: number,
  icA: number,
  criterionV: number,
  index: number,
  shuntOhm: number,
): number {
  return icA * (voltageV / criterionV) ** (1 / index) + voltageV / shuntOhm;
}

/** Voltage at a current, by halving: the shunted curve has no closed form. */
function voltageAt(
  currentA: number,
  icA: number,
  criterionV: number,
  index: number,
  shuntOhm: number,
): number {
  let low = 0;
  let high = 1;
  for (let i = 0; i < 80; i++) {
    const middle = (low + high) / 2;
    if (currentAt(middle, icA, criterionV, index, shuntOhm) < currentA) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** One ramp: a power law between the taps with offset, drift and noise, and what is odd about this bridge. */
export function currentRamp(
  truth: FilmTruth,
  conditions: CurrentConditions,
  random: RandomStream,
): CurrentRow[] {
  const { temperatureK, fieldT, tapDistanceM, bridgeWidthM, oddity } = conditions;
  const sectionM2 = bridgeWidthM * truth.thicknessNm * 1e-9;
  const isCracked = oddity === 'cracked through';
  const icA = criticalCurrentDensityAPerM2(truth, temperatureK, fieldT) * sectionM2 * (isCracked ? 0.1 : 1);
  const criterionV = CRITERION_V_PER_M * tapDistanceM;
  const index = powerIndex(truth, temperatureK, fieldT);
  const shuntOhm = oddity === 'shunt' ? (8 * criterionV) / icA : Number.POSITIVE_INFINITY;
  const crackOhm = isCracked ? (4 * criterionV) / icA : 0;
  const topA =
    oddity === 'supply limit'
      ? 0.7 * icA
      : currentAt((oddity === 'quench' ? 3 : 14) * criterionV, icA, criterionV, index, shuntOhm);
  const steps = 110;
  const offsetV = 0.25 * criterionV * random.normal();
  const driftVPerS = 4e-4 * criterionV * random.normal();
  const noiseV = Math.max(2e-9, 0.025 * criterionV);
  const rows: CurrentRow[] = [];
  for (let i = 0; i <= steps; i++) {
    // slow start, then equal steps: the way a ramp-and-hold sequence is programmed
    const currentA = topA * (i < 20 ? 0.02 * i : 0.4 + (0.6 * (i - 20)) / (steps - 20));
    const timeS = 1.2 * i;
    const flux = voltageAt(currentA, icA, criterionV, index, shuntOhm);
    const steady = flux + crackOhm * currentA + offsetV + driftVPerS * timeS;
    rows.push({ timeS, currentA, voltageV: steady + noiseV * random.normal() });
  }
  if (oddity === 'quench') {
    for (let i = 1; i <= 3; i++) {
      const currentA = topA * (1 + 0.01 * i);
      rows.push({
        timeS: 1.2 * (steps + i),
        currentA,
        voltageV: currentA * 20 * (1 + 1e-3 * random.normal()),
      });
    }
  }
  return rows;
}

export interface LoopRow {
  readonly fieldOe: number;
  readonly momentEmu: number;
}

/** Field of one tesla in oersted: 1e4 in vacuum. */
const OE_PER_T = 1e4;
const EMU_PER_AMPERE_M2 = 1e3;

/**
 * Moment of a rectangular piece whose whole area carries the same current density, A m2: the sheet current flows along
 * lines parallel to the nearest edge, so the moment is J t times the volume under the roof "distance to the nearest
 * edge", summed here over a grid.
 */
function roofMoment(jcAPerM2: number, lengthM: number, widthM: number, thicknessM: number): number {
  const n = 200;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    const x = (i + 0.5) / n;
    const fromSide = Math.min(x, 1 - x) * lengthM;
    for (let k = 0; k < n; k++) {
      const y = (k + 0.5) / n;
      sum += Math.min(fromSide, Math.min(y, 1 - y) * widthM);
    }
  }
  return jcAPerM2 * thicknessM * ((sum * lengthM * widthM) / (n * n));
}

/** A sweep 0, +top, -top, +top with closer points near zero, T. */
function loopFieldsT(topT: number): number[] {
  const up: number[] = [];
  for (let b = 0; b < topT - 1e-9; ) {
    up.push(b);
    b += b < 0.2 ? 0.02 : b < 1 ? 0.08 : 0.2;
  }
  up.push(topT);
  const down = [...up].reverse().slice(1);
  const negative = up.slice(1).map((b) => -b);
  const back = [...negative].reverse().slice(1);
  return [...up, ...down, ...negative, ...back, ...up];
}

/**
 * A magnetisation loop. The moment follows the full moment of the branch with a short memory after each turn of the
 * field; the induction that sets Jc includes the film's own field; the electric field of the sweep is a tenth of the
 * transport criterion, so the loop reads a little less current than a bridge does.
 */
export function magnetisationLoop(
  truth: FilmTruth,
  conditions: {
    readonly temperatureK: number;
    readonly topT: number;
    readonly lengthMm: number;
    readonly widthMm: number;
  },
  random: RandomStream,
): LoopRow[] {
  const { temperatureK, topT } = conditions;
  const thicknessM = truth.thicknessNm * 1e-9;
  const index = powerIndex(truth, temperatureK, 0);
  const sweepShare = 0.1 ** (1 / index) / (1 + 0.03 * truth.cracksPerMm);
  const perJc = roofMoment(1, conditions.lengthMm * 1e-3, conditions.widthMm * 1e-3, thicknessM);
  const ownFieldT = 4e-7 * Math.PI * criticalCurrentDensityAPerM2(truth, temperatureK, 0) * thicknessM;
  const slopeEmuPerT = -8e-5 * (conditions.lengthMm * conditions.widthMm) * (1 + 0.1 * random.normal());
  const fullEmu = (fieldT: number) =>
    EMU_PER_AMPERE_M2 *
    perJc *
    sweepShare *
    criticalCurrentDensityAPerM2(truth, temperatureK, Math.hypot(fieldT, ownFieldT));
  const noiseEmu = 2e-5 + 1e-3 * fullEmu(0.5);
  const fields = loopFieldsT(topT);
  let moment = 0;
  return fields.map((fieldT, i) => {
    if (i > 0) {
      const step = fieldT - fields[i - 1]!;
      const wanted = -Math.sign(step) * fullEmu(fieldT);
      const memory = Math.exp(-Math.abs(step) / (0.6 * ownFieldT + 0.004));
      moment = wanted + (moment - wanted) * memory;
    }
    const reading = moment + slopeEmuPerT * fieldT + noiseEmu * random.normal();
    return { fieldOe: fieldT * OE_PER_T + 0.5 * random.normal(), momentEmu: reading };
  });
}
