// Diffraction scans of the invented films: counts against 2theta for copper radiation. Own code and a small own list of
// cells; intensities of second phases are rough on purpose. Angles in degrees, lengths in angstrom.
import type { RandomStream } from './random.ts';
import type { FilmTruth, PhaseName } from './world.ts';

/** [looked-up: Deslattes et al., International Tables for Crystallography C (2006), table 4.2.2.6] */
const K_ALPHA_1_ANGSTROM = 1.54059292;
/** [memory: same chapter] */
const K_ALPHA_2_ANGSTROM = 1.544427;
/** [memory: same chapter] */
const K_BETA_ANGSTROM = 1.392234;
/** share of K-beta that the filter of the invented instrument lets through */
const K_BETA_SHARE = 0.006;
const CIRCLE_RADIUS_MM = 240;

const FIRST_DEG = 5;
const STEP_DEG = 0.02;
const STEPS = 3751;

const rad = (deg: number) => (deg * Math.PI) / 180;

/** 2theta of a spacing, degrees; undefined beyond backscattering. */
function twoThetaDeg(spacingAngstrom: number, wavelengthAngstrom: number): number | undefined {
  const sine = wavelengthAngstrom / (2 * spacingAngstrom);
  return sine < 1 ? (2 * Math.asin(sine) * 180) / Math.PI : undefined;
}

interface Line {
  readonly spacingAngstrom: number;
  /** area of the K-alpha-1 part, counts times degrees */
  readonly area: number;
  /** width at half height, degrees at 2theta = 40 */
  readonly widthDeg: number;
}

type Triple = readonly [number, number, number];
const orthorhombic =
  (a: number, b = a, c = a) =>
  ([h, k, l]: Triple) =>
    1 / Math.hypot(h / a, k / b, l / c);

/**
 * Second phases: cell and rough relative intensities (strongest 100).
 * Cells: Dy2O3 [memory: usual C-type value 10.665]; Dy2BaCuO5 [derived: between the yttrium (12.179, 5.659, 7.132) and
 * gadolinium (12.32, 5.715, 7.225) cells by ionic radius, both memory: Michel and Raveau 1982, J. Solid State Chem. 43,
 * 73]; BaCuO2 [memory: Kipka and Mueller-Buschbaum 1977, Z. Naturforsch. 32b, 121]; Cu2O [memory: NBS Circular 539
 * vol. 2]. CuO spacings [memory: usual powder values]. Intensities of BaCuO2 and Dy2BaCuO5 [not established]: invented.
 */
const SECOND_PHASES: Readonly<Record<Exclude<PhaseName, 'DyBa2Cu3O7'>, readonly [number, number][]>> = {
  Dy2O3: (
    [
      [[2, 1, 1], 12],
      [[2, 2, 2], 100],
      [[4, 0, 0], 32],
      [[4, 4, 0], 42],
      [[6, 2, 2], 32],
    ] as const
  ).map(([hkl, height]) => [orthorhombic(10.665)(hkl), height]),
  Dy2BaCuO5: (
    [
      [[0, 1, 1], 15],
      [[3, 1, 1], 100],
      [[1, 1, 2], 70],
      [[0, 2, 0], 40],
      [[4, 1, 2], 20],
    ] as const
  ).map(([hkl, height]) => [orthorhombic(12.212, 5.672, 7.154)(hkl), height]),
  BaCuO2: (
    [
      [[4, 1, 1], 12],
      [[5, 3, 0], 25],
      [[6, 0, 0], 100],
      [[6, 1, 1], 70],
      [[6, 2, 0], 30],
      [[6, 6, 0], 25],
    ] as const
  ).map(([hkl, height]) => [orthorhombic(18.277)(hkl), height]),
  Cu2O: (
    [
      [[1, 1, 0], 9],
      [[1, 1, 1], 100],
      [[2, 0, 0], 37],
      [[2, 2, 0], 27],
    ] as const
  ).map(([hkl, height]) => [orthorhombic(4.2696)(hkl), height]),
  CuO: [
    [2.523, 100],
    [2.322, 95],
    [1.866, 25],
    [1.505, 18],
  ],
};

/** Squared structure factors of YBa2Cu3O6.9 (00l), l = 1 to 10, standing in for Dy; rounded. [derived: published cell] */
const STRENGTH_00L = [77, 425, 2326, 431, 9587, 22598, 3853, 211, 2472, 1944] as const;
/** In-plane sides of DyBa2Cu3O7 [memory: Tarascon et al. 1987, Phys. Rev. B 36, 226] */
const A_123_ANGSTROM = 3.8284;
const B_123_ANGSTROM = 3.8885;

/** Lines of the compound lying with its c axis up, and of the share that lies at random. */
function compoundLines(truth: FilmTruth, cAxisAngstrom: number, amount: number, isTape: boolean): Line[] {
  const oriented = STRENGTH_00L.map((strength, i) => {
    const spacingAngstrom = cAxisAngstrom / (i + 1);
    const sine = K_ALPHA_1_ANGSTROM / (2 * spacingAngstrom);
    const theta = Math.asin(sine);
    const lorentzPolarisation = (1 + Math.cos(2 * theta) ** 2) / (2 * Math.sin(2 * theta));
    return {
      spacingAngstrom,
      area: amount * (1 - truth.randomShare) * 0.16 * strength * lorentzPolarisation,
      widthDeg: isTape ? 0.16 : 0.11,
    };
  });
  const spacing = orthorhombic(A_123_ANGSTROM, B_123_ANGSTROM, cAxisAngstrom);
  const atRandom = (
    [
      [[0, 1, 3], 55],
      [[1, 0, 3], 60],
      [[1, 1, 0], 60],
      [[2, 0, 0], 22],
    ] as const
  ).map(([hkl, height]) => ({
    spacingAngstrom: spacing(hkl),
    area: amount * truth.randomShare * 4 * height,
    widthDeg: 0.16,
  }));
  return [...oriented, ...atRandom];
}

/**
 * Lines of the substrate. LaAlO3 pseudocubic 3.790 [memory: Howard et al. 2000, J. Phys.: Condens. Matter 12, 349]; the
 * tape: CeO2 cap 5.411 [looked-up: COD 9009008], LaMnO3 3.88 [common practice], a nickel alloy of invented side 3.59.
 */
function substrateLines(substrate: 'LaAlO3' | 'tape'): Line[] {
  if (substrate === 'LaAlO3') {
    return [1, 2, 3].map((l, i) => ({
      spacingAngstrom: 3.79 / l,
      area: [14_000, 52_000, 6_000][i]!,
      widthDeg: 0.06,
    }));
  }
  return [
    { spacingAngstrom: 5.411 / 2, area: 900, widthDeg: 0.3 },
    { spacingAngstrom: 3.88, area: 160, widthDeg: 0.3 },
    { spacingAngstrom: 3.88 / 2, area: 240, widthDeg: 0.3 },
    { spacingAngstrom: 3.59 / Math.sqrt(3), area: 700, widthDeg: 0.35 },
    { spacingAngstrom: 3.59 / 2, area: 420, widthDeg: 0.4 },
    { spacingAngstrom: 3.59 / Math.sqrt(8), area: 260, widthDeg: 0.45 },
  ];
}

export interface ScanOptions {
  readonly substrate: 'LaAlO3' | 'tape';
  /** amorphous: as an ex situ film leaves the run; short of oxygen: as an in situ film leaves it; else oxygenated */
  readonly state: 'amorphous' | 'short of oxygen' | 'oxygenated';
}

/** One symmetric scan, 5 to 80 degrees: 2theta in degrees and whole counts. */
export function diffractionScan(
  truth: FilmTruth,
  options: ScanOptions,
  random: RandomStream,
): { twoThetaDeg: number; counts: number }[] {
  const amount = (truth.thicknessNm / 250) * 1.2;
  const lines = substrateLines(options.substrate);
  if (options.state !== 'amorphous') {
    const cAxisAngstrom = truth.cAxisAngstrom + (options.state === 'short of oxygen' ? 0.08 : 0);
    const isTape = options.substrate === 'tape';
    lines.push(
      ...compoundLines(truth, cAxisAngstrom, amount * truth.phaseShares.DyBa2Cu3O7, isTape),
      ...Object.entries(SECOND_PHASES).flatMap(([phase, list]) =>
        list.map(([spacingAngstrom, height]) => ({
          spacingAngstrom,
          area: amount * truth.phaseShares[phase as PhaseName] * 9 * height,
          widthDeg: 0.28,
        })),
      ),
    );
  }
  const displacementMm = 0.03 * random.normal();
  const zeroDeg = 0.004 * random.normal();
  const expected = new Float64Array(STEPS);
  for (let i = 0; i < STEPS; i++) {
    const angle = FIRST_DEG + i * STEP_DEG;
    const hump = Math.exp(-(((angle - 29.5) / 3.2) ** 2));
    expected[i] =
      35 +
      900 * Math.exp(-angle / 9) +
      25 * Math.min(4, amount) +
      (options.state === 'amorphous' ? 130 * Math.min(4, amount) * hump : 0);
  }
  const add = (spacingAngstrom: number, wavelengthAngstrom: number, area: number, widthDeg: number) => {
    const ideal = twoThetaDeg(spacingAngstrom, wavelengthAngstrom);
    if (ideal === undefined) return;
    const theta = rad(ideal / 2);
    const centreDeg =
      ideal + zeroDeg - (2 * displacementMm * Math.cos(theta) * 180) / (Math.PI * CIRCLE_RADIUS_MM);
    const width = widthDeg * (0.6 + 0.4 * (Math.tan(theta) / Math.tan(rad(20))));
    const first = Math.max(0, Math.floor((centreDeg - 30 * width - FIRST_DEG) / STEP_DEG));
    const last = Math.min(STEPS - 1, Math.ceil((centreDeg + 30 * width - FIRST_DEG) / STEP_DEG));
    for (let i = first; i <= last; i++) {
      const u = (2 * (FIRST_DEG + i * STEP_DEG - centreDeg)) / width;
      // half Gaussian, half Lorentzian, each of unit area in degrees
      const bell = Math.sqrt(Math.LN2 / Math.PI) * Math.exp(-Math.LN2 * u * u);
      const tail = 1 / (Math.PI * (1 + u * u));
      expected[i]! += (area * (bell + tail)) / width;
    }
  };
  for (const { spacingAngstrom, area, widthDeg } of lines) {
    add(spacingAngstrom, K_ALPHA_1_ANGSTROM, area, widthDeg);
    add(spacingAngstrom, K_ALPHA_2_ANGSTROM, 0.5 * area, widthDeg);
    add(spacingAngstrom, K_BETA_ANGSTROM, K_BETA_SHARE * area, widthDeg);
  }
  return Array.from(expected, (mean, i) => ({
    twoThetaDeg: FIRST_DEG + i * STEP_DEG,
    counts: random.count(mean),
  }));
}
