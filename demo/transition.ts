// Transitions of the invented films: resistance and zero-field-cooled moment against temperature. K, ohm, emu.
import type { RandomStream } from './random.ts';
import type { FilmTruth } from './world.ts';

/** 10 to 90 % of a logistic step of unit scale: 2 ln 9 */
const LOGISTIC_WIDTH = 2 * Math.log(9);

export interface ResistanceRow {
  readonly temperatureK: number;
  readonly resistanceOhm: number;
}

export interface BridgeShape {
  readonly lengthM: number;
  readonly widthM: number;
}

/** Temperatures of one sweep, warm to cold: closer where the transition is. */
function sweepK(truth: FilmTruth): number[] {
  const fineFromK = truth.tcMidpointK + 3 * truth.transitionWidthK + 2;
  const fineToK = truth.tcMidpointK - 3 * truth.transitionWidthK - 3;
  const temperatures: number[] = [];
  for (let t = 290; t > 40; ) {
    temperatures.push(t);
    t -= t > fineFromK + 20 ? 4 : t > fineFromK || t < fineToK ? 1 : 0.1;
  }
  return temperatures;
}

/**
 * Resistance of a bridge on cooling and on warming: a straight normal line times a logistic step of the film's width,
 * with the lag of the thermometer (opposite on the two ways), an offset of the contacts and noise.
 */
export function resistanceSweeps(
  truth: FilmTruth,
  shape: BridgeShape,
  random: RandomStream,
): { cooling: ResistanceRow[]; warming: ResistanceRow[] } {
  const resistivityAt300 = 2.6e-6 * (1 + 2.5 * (1 - truth.phaseShares.DyBa2Cu3O7)) * random.between(0.9, 1.1);
  const at300 = (resistivityAt300 * shape.lengthM) / (shape.widthM * truth.thicknessNm * 1e-9);
  const cracked = 1 + 0.05 * truth.cracksPerMm;
  const offsetOhm = at300 * 4e-4 * random.normal();
  const lagK = random.between(0.02, 0.08);
  const scaleK = truth.transitionWidthK / LOGISTIC_WIDTH;
  const row = (temperatureK: number, lag: number): ResistanceRow => {
    const filmK = temperatureK + lag + 0.01 * random.normal();
    const normal = at300 * cracked * (0.08 + 0.92 * (filmK / 300));
    const share = 1 / (1 + Math.exp(-(filmK - truth.tcMidpointK) / scaleK));
    return {
      temperatureK: temperatureK + 0.002 * random.normal(),
      resistanceOhm: normal * share + offsetOhm + at300 * 1.5e-4 * random.normal(),
    };
  };
  const temperatures = sweepK(truth);
  return {
    cooling: temperatures.map((t) => row(t, lagK)),
    warming: [...temperatures].reverse().map((t) => row(t, -lagK)),
  };
}

export interface MomentRow {
  readonly temperatureK: number;
  readonly momentEmu: number;
}

/** Moment of a piece cooled without field and warmed in 10 Oe: shielding that breaks down just below Tc. */
export function magneticTransition(truth: FilmTruth, areaMm2: number, random: RandomStream): MomentRow[] {
  const fullEmu = -3.2e-4 * (areaMm2 / 20) ** 1.5;
  const onsetK = truth.tcMidpointK - 0.2 * truth.transitionWidthK;
  const rows: MomentRow[] = [];
  for (let t = 10; t <= 110; t += t > 70 && t < 95 ? 0.25 : 2) {
    const below = Math.max(0, 1 - (t / onsetK) ** 2);
    const shielded = 1 - Math.exp(-(below * 12) / (1 + 2 * truth.transitionWidthK));
    rows.push({
      temperatureK: t + 0.005 * random.normal(),
      momentEmu: fullEmu * shielded + 4e-7 + 6e-7 * random.normal(),
    });
  }
  return rows;
}
