// A population of scans of 123 films with known truth: substrate, c, displacement, zero error, strength and widths vary.
// Imports nothing of src/.
import type { ScanTruth, SimulatedLine } from './diffraction-scan.ts';
import { filmLines, normalFrom, simulateScan, uniformSource } from './diffraction-scan.ts';

export interface FilmScan {
  twoThetaDeg: number[];
  counts: number[];
  cAngstrom: number;
  /** undefined = not told to the analysis */
  substrate: string | undefined;
  areaOf005: number;
}

const SUBSTRATES: [name: string | undefined, a: number, lines: [order: number, share: number][]][] = [
  [
    'SrTiO3',
    3.90528,
    [
      [1, 10],
      [2, 40],
      [3, 8],
    ],
  ],
  [
    'LaAlO3',
    3.79,
    [
      [1, 5],
      [2, 20],
      [3, 4],
    ],
  ],
  ['MgO', 4.2112, [[2, 40]]],
  [undefined, 1, []],
];

/** The k-th scan: a clean c-axis film, with further lines if given as shares of (005). */
export function simulateFilmScan(
  k: number,
  further: { spacing: number; share: number; width: number }[] = [],
): FilmScan {
  const uniform = uniformSource(1000 + k);
  const cAngstrom = 11.66 + 0.1 * uniform();
  const shiftDeg = (uniform() * 2 - 1) * 0.12;
  const zeroDeg = 0.01 * normalFrom(uniform);
  const [substrate, a, substrateLines] = SUBSTRATES[k % 4]!;
  const areaOf005 = 20 * 100 ** uniform();
  const lines: SimulatedLine[] = filmLines(cAngstrom, areaOf005, 0.08 + 0.2 * uniform());
  for (const [order, share] of substrateLines) {
    lines.push({ spacing: a / order, area: areaOf005 * share, width: 0.05 });
    // A twin's line beside the first.
    if (substrate === 'LaAlO3')
      lines.push({ spacing: (a / order) * 1.0012, area: 0.4 * areaOf005 * share, width: 0.05 });
  }
  for (const { spacing, share, width } of further) lines.push({ spacing, area: share * areaOf005, width });
  const truth: ScanTruth = {
    lines,
    seed: k + 1,
    shiftDeg,
    zeroDeg,
    stepDeg: [0.02, 0.03, 0.05][k % 3]!,
    toDeg: k % 5 === 0 ? 60 : 80,
    kBetaShare: 0.004,
    backgroundCounts: 30 + 200 * uniform(),
    instrumentDeg: 0.05 + 0.05 * uniform(),
  };
  return { ...simulateScan(truth), cAngstrom, substrate, areaOf005 };
}
