// Instrument files with known truth, written in ways that neither the program nor the demonstration series writes.
// Imports nothing: a reader or a reduction that finds the truth again did not get it from its own code.

export interface SimulatedFile {
  readonly name: string;
  readonly text: string;
}

/** Deviates of mean 0 and standard deviation 1: a linear congruential generator, twelve uniform numbers summed. */
function noiseOf(seed: number): () => number {
  let state = (seed ^ 0x2545f491) >>> 0;
  const uniform = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  return () => Array.from({ length: 12 }, uniform).reduce((sum, u) => sum + u, -6);
}

export interface ScanTruth {
  readonly pieceLabel: string;
  readonly cAxisAngstrom: number;
  /** counts at the top of (005) */
  readonly peakCounts: number;
  /** further lines: 2theta in degrees and counts at the top */
  readonly extraLines?: readonly { readonly twoThetaDeg: number; readonly counts: number }[];
  readonly seed?: number;
}

const K_ALPHA_1_ANGSTROM = 1.540593;
const K_ALPHA_2_ANGSTROM = 1.544427;

/**
 * A scan of a c-axis film, 10 to 70 degrees in steps of 0.025: Gaussian lines of width 0.18 degrees, each with its second
 * component of half the height; flat background of 50 counts. Comma separated with quoted headings and Windows line ends.
 */
export function scanFile(truth: ScanTruth): SimulatedFile {
  const noise = noiseOf(truth.seed ?? 1);
  const sigmaDeg = 0.18 / (2 * Math.sqrt(2 * Math.LN2));
  const heights = [0.15, 0.2, 0.6, 0.08, 1, 1.5, 0.2];
  const angleDeg = (spacing: number, wavelength: number) =>
    (360 / Math.PI) * Math.asin(wavelength / (2 * spacing));
  const tops = heights.flatMap((height, i) => {
    const spacing = truth.cAxisAngstrom / (i + 1);
    return [
      { at: angleDeg(spacing, K_ALPHA_1_ANGSTROM), height: truth.peakCounts * height },
      { at: angleDeg(spacing, K_ALPHA_2_ANGSTROM), height: 0.5 * truth.peakCounts * height },
    ];
  });
  tops.push(
    ...(truth.extraLines ?? []).map(({ twoThetaDeg, counts }) => ({ at: twoThetaDeg, height: counts })),
  );
  const lines = [
    '"Invented scan for a test"',
    `"Sample id","${truth.pieceLabel}"`,
    '"2-Theta [deg]","Intensity [counts]"',
  ];
  for (let i = 0; i <= 2400; i++) {
    const at = 10 + 0.025 * i;
    const mean = tops.reduce(
      (sum, top) => sum + top.height * Math.exp(-0.5 * ((at - top.at) / sigmaDeg) ** 2),
      50,
    );
    lines.push(`${at.toFixed(3)},${Math.max(0, Math.round(mean + Math.sqrt(mean) * noise()))}`);
  }
  return { name: `scan ${truth.pieceLabel}.csv`, text: `${lines.join('\r\n')}\r\n` };
}

export interface TransitionTruth {
  readonly pieceLabel: string;
  readonly midpointK: number;
  /** from 10 to 90 % of the normal line */
  readonly widthK: number;
  readonly resistanceAt300Ohm: number;
  readonly seed?: number;
}

/**
 * Resistance on warming, 70 to 300 K: a straight line through 300 K and a tenth of it at 0 K, times a step that rises
 * linearly in its middle (so its 10 to 90 % width is 0.8 of its whole). Tab separated, decimal comma, kiloohm.
 */
export function resistanceFile(truth: TransitionTruth): SimulatedFile {
  const noise = noiseOf(truth.seed ?? 2);
  const lines = [
    '* invented transition for a test',
    `* sample\t${truth.pieceLabel}`,
    'Sample temperature [K]\tR [kOhm]',
  ];
  const comma = (value: number, digits: number) => value.toFixed(digits).replace('.', ',');
  for (let t = 70; t <= 300; t += t < 110 ? 0.1 : 2) {
    const share = Math.min(1, Math.max(0, 0.5 + (0.8 * (t - truth.midpointK)) / truth.widthK));
    const normal = truth.resistanceAt300Ohm * (0.1 + (0.9 * t) / 300);
    const ohm = normal * share + truth.resistanceAt300Ohm * 1e-4 * noise();
    lines.push(`${comma(t, 2)}\t${comma(ohm / 1000, 7)}`);
  }
  return { name: `${truth.pieceLabel} transition.txt`, text: `${lines.join('\n')}\n` };
}

export interface CurrentTruth {
  readonly pieceLabel: string;
  /** current at 1 uV/cm */
  readonly icA: number;
  readonly powerIndex: number;
  readonly tapDistanceM: number;
  readonly offsetV?: number;
  readonly seed?: number;
}

/**
 * A ramp in 150 equal steps to the current at twenty times the criterion; noise of a fiftieth of the criterion. Semicolon
 * separated, decimal point, current in ampere and voltage in millivolt.
 */
export function currentFile(truth: CurrentTruth): SimulatedFile {
  const noise = noiseOf(truth.seed ?? 3);
  const criterionV = 1e-4 * truth.tapDistanceM;
  const topA = truth.icA * 20 ** (1 / truth.powerIndex);
  const lines = ['Invented ramp for a test', `Specimen;${truth.pieceLabel}`, 'Current (A);Voltage (mV)'];
  for (let i = 0; i <= 150; i++) {
    const currentA = (topA * i) / 150;
    const volts =
      criterionV * (currentA / truth.icA) ** truth.powerIndex +
      (truth.offsetV ?? 0) +
      0.02 * criterionV * noise();
    lines.push(`${currentA.toFixed(7)};${(1e3 * volts).toFixed(9)}`);
  }
  return { name: `${truth.pieceLabel} ramp.txt`, text: `${lines.join('\n')}\n` };
}

export interface LoopTruth {
  readonly pieceLabel: string;
  /** the same at every field */
  readonly jcAPerM2: number;
  readonly lengthM: number;
  readonly widthM: number;
  readonly thicknessM: number;
  /** slope of holder and substrate */
  readonly backgroundAm2PerT?: number;
  readonly seed?: number;
}

/**
 * A loop to 6 T and back through -6 T of a rectangle with one current density everywhere, taken as fully penetrated right
 * after each turn: half the opening is J t a^2 b (1 - a/(3b))/4 with a the shorter side [memory: Gyorgy et al. 1989,
 * Appl. Phys. Lett. 55, 283]. Blank separated, tesla and ampere square metre.
 */
export function loopFile(truth: LoopTruth): SimulatedFile {
  const noise = noiseOf(truth.seed ?? 4);
  const a = Math.min(truth.lengthM, truth.widthM);
  const b = Math.max(truth.lengthM, truth.widthM);
  const half = (truth.jcAPerM2 * truth.thicknessM * a * a * b * (1 - a / (3 * b))) / 4;
  const lines = ['// invented loop for a test', `// sample ${truth.pieceLabel}`, 'mu0H/T    m/(A*m^2)'];
  const write = (fieldT: number, sign: number) => {
    const moment = sign * half + (truth.backgroundAm2PerT ?? 0) * fieldT + 1e-3 * half * noise();
    lines.push(`${fieldT.toFixed(3).padStart(7)}   ${moment.toExponential(6)}`);
  };
  for (let i = 60; i >= -60; i--) write(i / 10, 1);
  for (let i = -59; i <= 60; i++) write(i / 10, -1);
  return { name: `loop_${truth.pieceLabel}.dat`, text: `${lines.join('\n')}\n` };
}
