// Gibbs energies of BaCu2O2, 123, 132 and 124 from the published lines they take part in. J/mol, K, atm.
import { invert3 } from '../numerics/matrix3.ts';
import { GAS_CONSTANT, lineRecord, oxygenStateAt, ZERO_CELSIUS_K } from './oxygen.ts';
import {
  type SolidId,
  type SolidShift,
  type SolidValues,
  solidGrandPotentialJPerMol,
  solidRecord,
} from './solids.ts';

/** What the calibration takes as known; a member of the ensemble moves each within its uncertainty. */
export interface CalibrationTargets {
  /** BaCuO2, 211 and the placeholders: A + B T */
  readonly given: SolidValues;
  /** pO2 of 2 123 + 1/2 Cu2O = 211 + 3 012 at 850 C, atm */
  readonly r1Atm: number;
  /** pO2 of 7 123 = 3 211 + 8 012 + 132 at 850 C, atm */
  readonly r2Atm: number;
  /** pO2 above which 2 123 = 211 + 3 011 + 2 CuO at 800 C, atm */
  readonly upperAtm: number;
  /** slope of the low-pO2 line of 123: d(R T ln p)/d(1/T) over T, J per mole of O2 */
  readonly lineSlopeJPerMol: number;
  /** turn of the energy of 132 about 850 C, J per mole and K, added to the table's B */
  readonly turn132JPerMolK: number;
}

type Reaction = readonly (readonly [SolidId, number])[];
const R1: Reaction = [
  ['123', -2],
  ['cu2o', -0.5],
  ['211', 1],
  ['012', 3],
];
const R2: Reaction = [
  ['123', -7],
  ['211', 3],
  ['012', 8],
  ['132', 1],
];
const UPPER: Reaction = [
  ['123', -2],
  ['211', 1],
  ['011', 3],
  ['cuo', 2],
];

const LINE_K = 850 + ZERO_CELSIUS_K;
const UPPER_K = 800 + ZERO_CELSIUS_K;
/** The line's slope is laid through r1 over this step, K. */
const SLOPE_STEP_K = 40;
/** Ends between which the line 124 = 123 + CuO is met, K: within its published 870-1150 K. */
const LINE_124_K = [950, 1150] as const;

/** Grand potential of a reaction, J per mole as written; 0 on its line. */
function reactionJPerMol(
  reaction: Reaction,
  values: SolidValues,
  temperatureK: number,
  po2Atm: number,
): number {
  const oxygen = oxygenStateAt(temperatureK, po2Atm);
  let sum = 0;
  for (const [id, n] of reaction) sum += n * solidGrandPotentialJPerMol(solidRecord(id), values, oxygen);
  return sum;
}

/**
 * Published pO2 pair r1, r2 at 850 C halfway, in log pO2, between the quench study and the cell line of pure 123: the two
 * disagree by 0.43 decade. r1 keeps the quench study's ratio to r2.
 */
export function midwayLimitsAtm(): { r1Atm: number; r2Atm: number } {
  const quenched = lineRecord('123-r2').a;
  const cell = lineRecord('123-emf');
  const cellAtm = Math.exp((cell.a + cell.b * LINE_K) / (GAS_CONSTANT * LINE_K));
  const r2Atm = Math.sqrt(quenched * cellAtm);
  return { r1Atm: (r2Atm * lineRecord('123-r1').a) / quenched, r2Atm };
}

/**
 * Four compounds by linear conditions: r1 at 850 C, the same 40 K higher on the line's slope, and the upper limit at 800 C
 * fix A of 012 and A, B of 123; then r2 fixes A of 132, and two points of 124 = 123 + CuO fix A, B of 124.
 * B of 012 stays at the table's value.
 *
 * @returns the given values with the four added, J/mol
 * Source: lines in thermo-lines [looked-up]; the conditions themselves [derived].
 */
export function calibrateSolids(targets: CalibrationTargets): SolidValues {
  const b012 = solidRecord('012').bJPerMolK;
  const b132 = solidRecord('132').bJPerMolK + targets.turn132JPerMolK;
  const warmerK = LINE_K + SLOPE_STEP_K;
  const warmerAtm =
    targets.r1Atm * Math.exp((targets.lineSlopeJPerMol / GAS_CONSTANT) * (1 / warmerK - 1 / LINE_K));
  const conditions = [
    [R1, LINE_K, targets.r1Atm],
    [R1, warmerK, warmerAtm],
    [UPPER, UPPER_K, targets.upperAtm],
  ] as const;
  const withUnknowns = (a012: number, a123: number, b123: number): SolidValues => ({
    ...targets.given,
    '012': { aJPerMol: a012, bJPerMolK: b012 },
    '123': { aJPerMol: a123, bJPerMolK: b123 },
  });
  const residuals = (values: SolidValues): number[] =>
    conditions.map(([reaction, temperatureK, po2Atm]) =>
      reactionJPerMol(reaction, values, temperatureK, po2Atm),
    );
  const zero = residuals(withUnknowns(0, 0, 0));
  const unit = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ].map(([a, b, c]) => residuals(withUnknowns(a!, b!, c!)));
  const matrix = Float64Array.from(
    { length: 9 },
    (_, i) => unit[i % 3]![Math.floor(i / 3)]! - zero[Math.floor(i / 3)]!,
  );
  const inverse = invert3(matrix)!; // rows r1, r1 warmer, upper are independent at any T and p
  const [a012, a123, b123] = [0, 1, 2].map(
    (i) => -(inverse[i * 3]! * zero[0]! + inverse[i * 3 + 1]! * zero[1]! + inverse[i * 3 + 2]! * zero[2]!),
  );
  const values = withUnknowns(a012!, a123!, b123!);
  values['132'] = { aJPerMol: 0, bJPerMolK: b132 };
  values['132'] = { aJPerMol: -reactionJPerMol(R2, values, LINE_K, targets.r2Atm), bJPerMolK: b132 };
  values['124'] = calibrated124(values);
  return values;
}

/** A + B T of 124 such that 124 = 123 + CuO at both ends of its published line. */
function calibrated124(values: SolidValues): SolidShift {
  const line = lineRecord('124-emf');
  const needed = LINE_124_K.map((temperatureK) => {
    const po2Atm = Math.exp((line.a + line.b * temperatureK) / (GAS_CONSTANT * temperatureK));
    const products = reactionJPerMol(
      [
        ['123', 1],
        ['cuo', 1],
      ],
      values,
      temperatureK,
      po2Atm,
    );
    const bare = { ...values, '124': { aJPerMol: 0, bJPerMolK: 0 } };
    return (
      products - solidGrandPotentialJPerMol(solidRecord('124'), bare, oxygenStateAt(temperatureK, po2Atm))
    );
  });
  const bJPerMolK = (needed[1]! - needed[0]!) / (LINE_124_K[1] - LINE_124_K[0]);
  return { aJPerMol: needed[0]! - bJPerMolK * LINE_124_K[0], bJPerMolK };
}
