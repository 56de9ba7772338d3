// Voltage-current curves of known critical current and exponent. Imports nothing of src/.

export interface VoltageCurveTruth {
  icA: number;
  n: number;
  criterionV: number;
  offsetV?: number;
  driftVPerS?: number;
  /** resistance in series between the taps */
  seriesOhm?: number;
  /** resistance in parallel with the superconductor; the source current divides */
  shuntOhm?: number;
  noiseV?: number;
  /** heating: the critical current falls by this share a watt */
  heatingPerW?: number;
  /** above this current the bridge is normal, with this resistance */
  quench?: { aboveA: number; ohm: number };
}

/** Current through the superconductor when it shares `totalA` with a shunt, by bisection on Kirchhoff's laws. */
function sharedCurrentA(truth: VoltageCurveTruth, totalA: number): number {
  if (truth.shuntOhm === undefined) return totalA;
  let low = 0;
  let high = totalA;
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2;
    const voltage = truth.criterionV * (middle / truth.icA) ** truth.n;
    if (middle + voltage / truth.shuntOhm < totalA) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/**
 * @param currentA source current in the order of measurement
 * @param timeS    time of each row
 * @param normal   normal deviates, called once a row
 */
export function simulateVoltage(
  truth: VoltageCurveTruth,
  currentA: readonly number[],
  timeS: readonly number[],
  normal: () => number,
): number[] {
  let isNormal = false;
  return currentA.map((current, i) => {
    const size = Math.abs(current);
    if (truth.quench && size > truth.quench.aboveA) isNormal = true;
    if (size < 1e-9) isNormal = false;
    let voltage: number;
    if (isNormal) voltage = truth.quench!.ohm * size;
    else {
      const inside = sharedCurrentA(truth, size);
      voltage = truth.criterionV * (inside / truth.icA) ** truth.n;
      // heating: a few rounds of the fixed point are enough below run-away
      for (let round = 0; truth.heatingPerW && round < 40; round++) {
        const ic = truth.icA * Math.max(0.5, 1 - truth.heatingPerW * voltage * size);
        voltage = truth.criterionV * (inside / ic) ** truth.n;
      }
    }
    return (
      Math.sign(current) * voltage +
      (truth.offsetV ?? 0) +
      (truth.driftVPerS ?? 0) * timeS[i]! +
      (truth.seriesOhm ?? 0) * current +
      (truth.noiseV ?? 0) * normal()
    );
  });
}

/** Ramp from 0 to `largestA` in equal steps. */
export function ramp(largestA: number, n: number): number[] {
  return Array.from({ length: n }, (_, i) => (largestA * i) / (n - 1));
}
