// Magnetisation loops of a flat rectangle by summing the critical state's stream function. Imports nothing of src/.

export interface LoopTruth {
  aM: number;
  bM: number;
  thicknessM: number;
  /** critical current density at a field, A/m2 */
  jc: (fieldT: number) => number;
  /** linear background of substrate and holder, A m2/T */
  backgroundAmpereM2PerT?: number;
  noiseAmpereM2?: number;
  /** drift of the moment over the whole loop, A m2 */
  driftAmpereM2?: number;
}

/**
 * Integral of the distance to the nearest edge over a rectangle, by the midpoint rule on a grid of square-ish cells. Times
 * Jc and the thickness it is the moment: currents flow along the edges, and m is the integral of the stream function.
 */
export function distanceIntegral(aM: number, bM: number, cells = 400): number {
  let sum = 0;
  for (let i = 0; i < cells; i++)
    for (let j = 0; j < cells; j++) {
      const x = ((i + 0.5) / cells) * aM;
      const y = ((j + 0.5) / cells) * bM;
      sum += Math.min(x, aM - x, y, bM - y);
    }
  return (sum * aM * bM) / cells ** 2;
}

/** Field from 0 up, down through 0 and up again, in steps of `stepT`. */
export function loopFields(largestT: number, stepT: number): number[] {
  const n = Math.round(largestT / stepT);
  const up = Array.from({ length: n + 1 }, (_, i) => i * stepT);
  const down = Array.from({ length: 2 * n }, (_, i) => (n - 1 - i) * stepT);
  const again = Array.from({ length: 2 * n }, (_, i) => (-n + 1 + i) * stepT);
  return [...up, ...down, ...again];
}

/** Moments along the fields: each branch saturated, with a thin strip's tanh after each turn. */
export function simulateLoop(truth: LoopTruth, fieldT: readonly number[], normal: () => number): number[] {
  const integral = distanceIntegral(truth.aM, truth.bM);
  const mu0 = 4e-7 * Math.PI;
  let turnT = fieldT[0]!;
  let direction = 1;
  let isVirgin = true;
  return fieldT.map((b, i) => {
    const before = fieldT[Math.max(0, i - 1)]!;
    if (i > 0 && Math.sign(b - before) !== 0 && Math.sign(b - before) !== direction) {
      direction = Math.sign(b - before);
      turnT = before;
      isVirgin = false;
    }
    const jc = truth.jc(Math.abs(b));
    const saturated = jc * truth.thicknessM * integral;
    const scaleT = (mu0 * jc * truth.thicknessM) / Math.PI;
    const way = Math.abs(b - turnT);
    const shape = isVirgin ? Math.tanh(way / scaleT) : 2 * Math.tanh(way / (2 * scaleT)) - 1;
    return (
      -direction * saturated * shape +
      (truth.backgroundAmpereM2PerT ?? 0) * b +
      ((truth.driftAmpereM2 ?? 0) * i) / fieldT.length +
      (truth.noiseAmpereM2 ?? 0) * normal()
    );
  });
}
