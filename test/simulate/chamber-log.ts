// Logs of a furnace with known truth: straight ramps and holds, uneven sampling, noise, gaps, wild readings. s, K.

export interface SimulatedStep {
  /** degC at its end */
  toC: number;
  durationS: number;
  /** decades of atm throughout */
  log10Po2?: number;
}

export interface SimulatedLog {
  timeS: number[];
  temperatureK: number[];
  log10Po2Atm: number[];
}

export interface LogOptions {
  seed: number;
  startC: number;
  steps: SimulatedStep[];
  intervalS: number;
  /** parts of the interval by which each time is moved */
  jitter?: number;
  noiseK?: number;
  noiseDecades?: number;
  /** of the display, K */
  stepK?: number;
  /** readings in these times are left out */
  gaps?: readonly (readonly [number, number])[];
  /** time of the path's start on the log */
  offsetS?: number;
  /** time at the start temperature before the path, and at its last temperature after it */
  idleS?: number;
  /** K above the first step that ends hotter than 800 degC, dying away with this time */
  overshoot?: { K: number; timeS: number; step: number };
  /** of the controller about its command, all along */
  swing?: { K: number; periodS: number };
}

/** mulberry32, and a normal deviate by Box and Muller. */
export function randomOf(seed: number): { even(): number; normal(): number } {
  let state = seed >>> 0;
  const even = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let x = state;
    x = Math.imul(x ^ (x >>> 15), x | 1);
    x ^= x + Math.imul(x ^ (x >>> 7), x | 61);
    return ((x ^ (x >>> 14)) >>> 0) / 4294967296;
  };
  return {
    even,
    normal: () => Math.sqrt(-2 * Math.log(1 - even())) * Math.cos(2 * Math.PI * even()),
  };
}

export function simulatedLog(options: LogOptions): SimulatedLog {
  const {
    startC,
    steps,
    intervalS,
    jitter = 0,
    noiseK = 0,
    noiseDecades = 0,
    stepK = 0,
    gaps = [],
  } = options;
  const { offsetS = 0, idleS = 0, overshoot, swing, seed } = options;
  const random = randomOf(seed);
  const ends: { fromS: number; toS: number; fromC: number; toC: number; log10Po2: number }[] = [];
  let [atS, atC, po2] = [0, startC, steps[0]?.log10Po2 ?? 0];
  for (const step of steps) {
    po2 = step.log10Po2 ?? po2;
    ends.push({ fromS: atS, toS: atS + step.durationS, fromC: atC, toC: step.toC, log10Po2: po2 });
    atS += step.durationS;
    atC = step.toC;
  }
  const log: SimulatedLog = { timeS: [], temperatureK: [], log10Po2Atm: [] };
  const from = -idleS;
  const count = Math.floor((atS + 2 * idleS) / intervalS);
  for (let i = 0; i <= count; i++) {
    const pathS = from + (i + jitter * (random.even() - 0.5)) * intervalS;
    const noise = noiseK * random.normal();
    const decades = noiseDecades * random.normal();
    if (gaps.some(([a, b]) => pathS > a && pathS < b)) continue;
    const step = ends.find(({ toS }) => pathS < toS) ?? ends.at(-1)!;
    const part = Math.min(1, Math.max(0, (pathS - step.fromS) / (step.toS - step.fromS || 1)));
    let temperatureC = step.fromC + part * (step.toC - step.fromC) + noise;
    const beganS = overshoot ? pathS - ends[overshoot.step]!.fromS : -1;
    if (overshoot && beganS >= 0) temperatureC += overshoot.K * Math.exp(-beganS / overshoot.timeS);
    if (swing) temperatureC += swing.K * Math.sin((2 * Math.PI * pathS) / swing.periodS);
    if (stepK > 0) temperatureC = Math.round(temperatureC / stepK) * stepK;
    log.timeS.push(pathS + offsetS);
    log.temperatureK.push(temperatureC + 273.15);
    log.log10Po2Atm.push(step.log10Po2 + decades);
  }
  return log;
}
