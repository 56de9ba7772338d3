// Numbers of src/science/current and of its fits beside the same numbers from outside.
import { levenbergMarquardt } from 'ml-levenberg-marquardt';
import {
  beanJcAPerM2,
  bridgeSelfFieldT,
  saturatedMomentAmpereM2,
  stripPenetrationT,
} from '../../src/science/current/bean.ts';
import { atOtherCriterion, offsetCriterion } from '../../src/science/current/criterion.ts';
import { depairingAt0KAPerM2 } from '../../src/science/current/depairing.ts';
import { magnetisationLoop } from '../../src/science/current/loop.ts';
import { DEFAULT_CRITERION_V_PER_M, voltageCurve } from '../../src/science/current/voltage.ts';
import { fitLeastSquares } from '../../src/science/numerics/least-squares.ts';
import { distanceIntegral } from '../simulate/magnetisation-loop.ts';
import { ramp, simulateVoltage } from '../simulate/voltage-curve.ts';
import type { OutsideCheck } from './outside-check.ts';

// NIST StRD, non-linear regression, data set Misra1a: volume against pressure, y = b1 (1 - exp(-b2 x))
const MISRA_X = [77.6, 114.9, 141.1, 190.8, 239.9, 289, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760];
const MISRA_Y = [
  10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78,
];
const MISRA_SOURCE =
  'NIST Statistical Reference Datasets, non-linear regression, Misra1a, certified values (as quoted in public test suites)';
const misra = () =>
  fitLeastSquares((p, i) => p[0]! * (1 - Math.exp(-p[1]! * MISRA_X[i]!)), MISRA_Y, [250, 5e-4], {
    tolerance: 1e-14,
  });

const BRIDGE = { icA: 0.4, n: 20, criterionV: 1e-7 };
const PIECE = { aM: 4e-3, bM: 6e-3, thicknessM: 500e-9 };

/** A noise-free power law read with `criterionVPerM`. */
function readBridge(criterionVPerM: number) {
  const currentA = ramp(0.5, 401);
  const voltageV = simulateVoltage(BRIDGE, currentA, currentA, () => 0);
  return voltageCurve({ currentA, voltageV, tapDistanceM: 1e-3, criterionVPerM });
}

/** Offset, ohmic part, ln Ic and n of a made curve by an independent Levenberg-Marquardt library. */
function byLibrary(): { ours: { ic: number; n: number }; theirs: { ic: number; n: number } } {
  const currentA = ramp(0.42, 85);
  let state = 12345;
  const noise = () => {
    // sum of twelve uniform deviates of a linear congruential generator, less six
    let sum = -6;
    for (let k = 0; k < 12; k++) {
      state = (state * 1103515245 + 12345) % 2147483648;
      sum += state / 2147483648;
    }
    return sum;
  };
  const truth = { ...BRIDGE, offsetV: 3e-8, seriesOhm: 5e-8, noiseV: 2e-9 };
  const voltageV = simulateVoltage(truth, currentA, currentA, noise);
  const ours = voltageCurve({ currentA, voltageV, tapDistanceM: 1e-3 });
  // the rows that ours uses: up to the second above its own Ic
  const last = currentA.filter((i) => i <= ours.ic!.value).length + 2;
  const x = currentA.slice(0, last);
  const y = voltageV.slice(0, last).map((v) => v / 1e-7);
  const theirs = levenbergMarquardt(
    { x, y },
    ([lnIc, lnN, v0, r]) =>
      (i: number) =>
        (i > 0 ? Math.exp(Math.exp(lnN!) * (Math.log(i) - lnIc!)) : 0) + v0! + r! * i,
    {
      initialValues: [Math.log(0.41), Math.log(15), 0, 0],
      maxIterations: 500,
      damping: 1e-3,
      gradientDifference: 1e-6,
      centralDifference: true,
      errorTolerance: 1e-12,
    },
  ).parameterValues;
  return {
    ours: { ic: ours.ic!.value, n: ours.n!.value },
    theirs: { ic: Math.exp(theirs[0]!), n: Math.exp(theirs[1]!) },
  };
}
const LIBRARY = byLibrary();

export const CHECKS: readonly OutsideCheck[] = [
  {
    functionName: 'fitLeastSquares',
    quantity: 'Misra1a b1',
    source: MISRA_SOURCE,
    provenance: 'looked-up',
    expected: '238.94212918',
    unit: '1',
    got: () => misra().parameters[0]!,
    tolerance: 1e-5,
    toleranceReason: 'derivatives by differences leave the minimum to about 1e-8 of the parameter',
  },
  {
    functionName: 'fitLeastSquares',
    quantity: 'Misra1a b2',
    source: MISRA_SOURCE,
    provenance: 'looked-up',
    expected: '5.5015643181e-4',
    unit: '1',
    got: () => misra().parameters[1]!,
    tolerance: 5e-11,
    toleranceReason: 'derivatives by differences leave the minimum to about 1e-7 of the parameter',
  },
  {
    functionName: 'fitLeastSquares, covariance',
    quantity: 'Misra1a standard deviation of b1',
    source: MISRA_SOURCE,
    provenance: 'looked-up',
    expected: '2.7070075241',
    unit: '1',
    got: () => {
      const fit = misra();
      return fit.standardUncertainties[0]! * Math.sqrt(fit.chiSquared / fit.degreesOfFreedom);
    },
    tolerance: 1e-5,
    toleranceReason: 'second order of the central difference',
  },
  {
    functionName: 'voltageCurve',
    quantity: 'critical current of a curve with offset, ohmic part and noise',
    source: 'ml-levenberg-marquardt 5.1.0 on the same rows, model V = Vc (I/Ic)^n + V0 + R I',
    provenance: 'reference library',
    expected: LIBRARY.theirs.ic.toPrecision(8),
    unit: 'A',
    got: () => LIBRARY.ours.ic,
    tolerance: 4e-6,
    toleranceReason: 'two stopping rules; a tenth of the standard uncertainty',
  },
  {
    functionName: 'voltageCurve',
    quantity: 'exponent of a curve with offset, ohmic part and noise',
    source: 'ml-levenberg-marquardt 5.1.0 on the same rows',
    provenance: 'reference library',
    expected: LIBRARY.theirs.n.toPrecision(8),
    unit: '1',
    got: () => LIBRARY.ours.n,
    tolerance: 5e-3,
    toleranceReason: 'two stopping rules; a fraction of the standard uncertainty',
  },
  {
    functionName: 'saturatedMomentAmpereM2',
    quantity: 'moment of a 4 x 6 mm, 500 nm piece at 2 MA/cm2',
    source: 'stream function of the critical state summed over 600 x 600 cells (test/simulate)',
    provenance: 'derived',
    expected: (2e10 * 500e-9 * distanceIntegral(4e-3, 6e-3, 600)).toPrecision(6),
    unit: 'A m2',
    got: () => saturatedMomentAmpereM2(2e10, PIECE),
    tolerance: 1e-9,
    toleranceReason: 'midpoint rule on kinked edges',
  },
  {
    functionName: 'beanJcAPerM2',
    quantity: 'Jc of a square from the practical form 30 dM/a (A/cm2, emu/cm3, cm)',
    source: 'Gyorgy et al. 1989, Appl. Phys. Lett. 55, 283; dM 100 emu/cm3, a 0.4 cm',
    provenance: 'memory',
    expected: '7500',
    unit: 'A/cm2',
    got: () => beanJcAPerM2(1e5 * 4e-3 * 4e-3 * 1e-6, { aM: 4e-3, bM: 4e-3, thicknessM: 1e-6 }) / 1e4,
  },
  {
    functionName: 'magnetisationLoop',
    quantity: 'Jc of a loop built from summed stream functions',
    source: 'constant 2 MA/cm2, moments +-Jc t times the summed distance to the nearest edge',
    provenance: 'derived',
    expected: '2.000',
    unit: 'MA/cm2',
    got: () => {
      const m = 2e10 * 500e-9 * distanceIntegral(4e-3, 6e-3, 600);
      const up = Array.from({ length: 81 }, (_, i) => -2 + 0.05 * i);
      const down = [...up].reverse();
      const loop = magnetisationLoop({
        fieldT: [...down, ...up],
        momentAmpereM2: [...down.map(() => m), ...up.map(() => -m)],
        shape: { kind: 'rectangle', ...PIECE },
      });
      return loop.points.find((p) => p.fieldT === 1)!.jc.value / 1e10;
    },
  },
  {
    functionName: 'atOtherCriterion',
    quantity: 'Ic at 1 uV/cm over Ic at 0.1 uV/cm, n 30',
    source: 'E ~ I^n by hand: exp(ln(10)/30) = 1 + 0.076753 + 0.002945 + 0.000075 + ...',
    provenance: 'derived',
    expected: '1.0798',
    unit: '1',
    got: () => atOtherCriterion(1, 30, 1e-5, 1e-4),
  },
  {
    functionName: 'voltageCurve',
    quantity: 'Ic under a criterion of 0.1 uV/cm, read from the curve',
    source: 'power law by hand: 0.4 A x 10^(-1/20), n 20',
    provenance: 'derived',
    expected: '0.35650',
    unit: 'A',
    got: () => readBridge(1e-5).ic!.value,
  },
  {
    functionName: 'voltageCurve',
    quantity: 'criterion where none is given',
    source: 'IEC 61788-26:2020: 1 uV/cm',
    provenance: 'memory',
    expected: '1',
    unit: 'uV/cm',
    got: () => DEFAULT_CRITERION_V_PER_M * 1e4,
    tolerance: 1e-9,
    toleranceReason: 'a definition',
  },
  {
    functionName: 'offsetCriterion',
    quantity: 'offset critical current over Ic, n 20',
    source: 'Ekin 1989, Appl. Phys. Lett. 55, 905: tangent to E = 0; slope n Ec/Ic by hand',
    provenance: 'derived',
    expected: '0.95',
    unit: '1',
    got: () => offsetCriterion(readBridge(1e-4).ic!.value, readBridge(1e-4).n!.value) / 0.4,
    tolerance: 1e-4,
    toleranceReason: 'through a fitted n',
  },
  {
    functionName: 'stripPenetrationT',
    quantity: 'full penetration of a strip, 5 mm x 250 nm, 3 MA/cm2',
    source: 'Brandt 1996, Phys. Rev. B 54, 4246, strip formula',
    provenance: 'memory',
    expected: '33',
    unit: 'mT',
    got: () => 1e3 * stripPenetrationT(3e10, 5e-3, 250e-9),
  },
  {
    functionName: 'bridgeSelfFieldT',
    quantity: 'field at the face of a 250 nm bridge at 3 MA/cm2',
    source: "Ampere's law by hand: mu0 K/2 with K = 7500 A/m",
    provenance: 'derived',
    expected: '4.712',
    unit: 'mT',
    got: () => 1e3 * bridgeSelfFieldT(3e10, 50e-6, 250e-9).faceT,
  },
  {
    functionName: 'depairingAt0KAPerM2',
    quantity: 'depairing of lambda 150 nm, xi 1.6 nm at 0 K',
    source: 'Hc = Phi0/(2 sqrt(2) pi mu0 lambda xi), Jd = (2/3)^(3/2) Hc/lambda, by hand [Tinkham 1996]',
    provenance: 'derived',
    expected: (
      ((2 / 3) ** 1.5 * 2.067833848e-15) /
      (2 * Math.SQRT2 * Math.PI * 4e-7 * Math.PI * 150e-9 ** 2 * 1.6e-9) /
      1e10
    ).toPrecision(5),
    unit: 'MA/cm2',
    got: () => depairingAt0KAPerM2(150e-9, 1.6e-9) / 1e10,
  },
];
