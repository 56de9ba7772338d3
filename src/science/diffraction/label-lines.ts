// Which lines belong to the substrate, its K-beta and the tube, and which are left for the film. Pure; degrees of 2theta.

import type { StandardLine } from './c-axis.ts';
import type { FittedPeak } from './fit-peaks.ts';
import type { SubstrateCell } from './known-cells.ts';
import { OTHER_LINES, SINGLE_CRYSTALS } from './known-cells.ts';
import type { Miller } from './lattice.ts';
import { twoThetaDegOfSpacing, twoThetaDegPerRelativeSpacing } from './lattice.ts';
import type { Radiation } from './radiation.ts';
import { twoThetaDegAtWavelength } from './radiation.ts';

type PeakKind =
  | 'film'
  | 'substrate'
  | 'film K-beta'
  | 'substrate K-beta'
  | 'tungsten'
  | 'second phase'
  | 'holder or contact'
  | 'unexplained';

export interface LineLabel {
  readonly label: string;
  readonly kind: PeakKind;
}

/** How far a line may stand from its place before the angle scale is known, degrees. */
const FREE_PLACE_DEG = 0.2;
const GHOST_PLACE_DEG = 0.08;

export function millerText([h, k, l]: Miller): string {
  const one = (index: number): string => (index < 0 ? `-${-index}` : `${index}`);
  return [h, k, l].some((index) => index < 0 || index > 9)
    ? `(${one(h)} ${one(k)} ${one(l)})`
    : `(${h}${k}${l})`;
}

interface SubstratePlace {
  readonly hkl: Miller;
  readonly twoThetaDeg: number;
  readonly toleranceDeg: number;
  readonly spacingAngstrom: number;
}

/** Places of a substrate's lines along the normal, cubic or pseudocubic. */
function placesOf(substrate: SubstrateCell, wavelengthAngstrom: number): SubstratePlace[] {
  return substrate.lines.flatMap((hkl) => {
    const spacingAngstrom = substrate.aAngstrom / Math.hypot(...hkl);
    const twoThetaDeg = twoThetaDegOfSpacing(spacingAngstrom, wavelengthAngstrom);
    if (Number.isNaN(twoThetaDeg)) return [];
    const relative = substrate.uncertaintyAngstrom / substrate.aAngstrom;
    const toleranceDeg = FREE_PLACE_DEG + relative * twoThetaDegPerRelativeSpacing(twoThetaDeg);
    return [{ hkl, twoThetaDeg, toleranceDeg, spacingAngstrom }];
  });
}

/**
 * Recognises a single-crystal substrate that was not named: its lines must be much the strongest of the scan, and every
 * line of low order inside the scan must be there.
 *
 * @returns undefined where no crystal of the table fits
 */
export function recogniseSubstrate(
  peaks: readonly FittedPeak[],
  wavelengthAngstrom: number,
  fromDeg: number,
  toDeg: number,
): SubstrateCell | undefined {
  const strongest = [...peaks].sort((p, q) => q.areaCountsDeg - p.areaCountsDeg)[0];
  if (strongest === undefined) return undefined;
  let best: { substrate: SubstrateCell; offDeg: number } | undefined;
  for (const substrate of SINGLE_CRYSTALS) {
    const places = placesOf(substrate, wavelengthAngstrom).filter(
      (place) => place.twoThetaDeg > fromDeg + 0.5 && place.twoThetaDeg < toDeg - 0.5,
    );
    const near = (peak: FittedPeak): SubstratePlace | undefined =>
      places.find((place) => Math.abs(place.twoThetaDeg - peak.twoThetaDeg) < place.toleranceDeg);
    const place = near(strongest);
    if (place === undefined) continue;
    const rest = peaks.filter((peak) => near(peak) === undefined);
    const isDominant = rest.every((peak) => peak.areaCountsDeg < strongest.areaCountsDeg / 4);
    const hasAll = places.every((wanted) =>
      peaks.some(
        (peak) =>
          Math.abs(peak.twoThetaDeg - wanted.twoThetaDeg) < wanted.toleranceDeg &&
          peak.areaCountsDeg > strongest.areaCountsDeg / 200,
      ),
    );
    const offDeg = Math.abs(place.twoThetaDeg - strongest.twoThetaDeg);
    if (isDominant && hasAll && (best === undefined || offDeg < best.offDeg)) best = { substrate, offDeg };
  }
  return best?.substrate;
}

/** Is a line of a crystal there, of those that lie inside the scan? A line that is not in the scan speaks neither way. */
export function hasSubstrateLine(
  substrate: SubstrateCell,
  peaks: readonly FittedPeak[],
  wavelengthAngstrom: number,
): boolean {
  return placesOf(substrate, wavelengthAngstrom).some((place) =>
    peaks.some((peak) => Math.abs(peak.twoThetaDeg - place.twoThetaDeg) < place.toleranceDeg),
  );
}

interface SubstrateLabels {
  /** one a peak; undefined where a peak is the film's or nobody's yet */
  readonly labels: (LineLabel | undefined)[];
  /** lines of untwinned, unstrained crystals, to set the angle scale by */
  readonly standards: readonly StandardLine[];
}

/**
 * Names the lines of the substrate and what a strong substrate line drags with it: its K-beta line and the tungsten line
 * of an old tube, whose places follow from where the line was seen. Of an untwinned crystal the strongest peak near the
 * place is the line; a twinned crystal and a tape's buffers may split theirs, so all peaks there are.
 */
export function labelSubstrateLines(
  peaks: readonly FittedPeak[],
  substrates: readonly SubstrateCell[],
  radiation: Radiation,
): SubstrateLabels {
  const labels: (LineLabel | undefined)[] = peaks.map(() => undefined);
  const standards: StandardLine[] = [];
  const wavelength = radiation.kAlpha1Angstrom;
  for (const substrate of substrates) {
    for (const place of placesOf(substrate, wavelength)) {
      const near = peaks
        .map((_, p) => p)
        .filter(
          (p) =>
            Math.abs(peaks[p]!.twoThetaDeg - place.twoThetaDeg) < place.toleranceDeg &&
            labels[p] === undefined,
        )
        .sort((p, q) => peaks[q]!.areaCountsDeg - peaks[p]!.areaCountsDeg);
      if (near.length === 0) continue;
      const name = `${substrate.id} ${millerText(place.hkl)}`;
      const own = substrate.isAngleStandard
        ? near.slice(0, 1)
        : near.filter((p) => peaks[p]!.areaCountsDeg > 0.05 * peaks[near[0]!]!.areaCountsDeg);
      for (const p of own) labels[p] = { label: name, kind: 'substrate' };
      const main = peaks[near[0]!]!;
      if (substrate.isAngleStandard) {
        standards.push({
          twoThetaDeg: main.twoThetaDeg,
          // A film line may hide under it: half a hundredth of its width is not to be trusted.
          twoThetaDegU: Math.hypot(main.twoThetaDegU, 0.05 * main.fwhmDeg),
          spacingAngstrom: place.spacingAngstrom,
          relativeSpacingU: substrate.uncertaintyAngstrom / substrate.aAngstrom,
        });
      }
      labelGhosts(peaks, labels, main, name, radiation);
    }
  }
  return { labels, standards };
}

function labelGhosts(
  peaks: readonly FittedPeak[],
  labels: (LineLabel | undefined)[],
  main: FittedPeak,
  name: string,
  radiation: Radiation,
): void {
  const ghosts: [number | undefined, string, PeakKind][] = [
    [radiation.kBetaAngstrom, `${name} K-beta`, 'substrate K-beta'],
    [radiation.tungstenLAlphaAngstrom, `${name} tungsten L-alpha`, 'tungsten'],
  ];
  for (const [wavelength, label, kind] of ghosts) {
    if (wavelength === undefined) continue;
    const at = twoThetaDegAtWavelength(main.twoThetaDeg, radiation.kAlpha1Angstrom, wavelength);
    for (const [p, peak] of peaks.entries()) {
      const isFainter = peak.areaCountsDeg < main.areaCountsDeg / 4;
      if (labels[p] === undefined && isFainter && Math.abs(peak.twoThetaDeg - at) < GHOST_PLACE_DEG)
        labels[p] = { label, kind };
    }
  }
}

/**
 * Names what the film's own strong lines drag with them, and the foot of a substrate line that the fit took for a line
 * of its own since no pseudo-Voigt is quite right there. Only peaks that nothing else explains are named.
 */
export function labelRemainders(
  peaks: readonly FittedPeak[],
  labels: (LineLabel | undefined)[],
  radiation: Radiation,
): void {
  for (const [m, main] of peaks.entries()) {
    const owner = labels[m];
    if (owner?.kind === 'film' && radiation.kBetaAngstrom !== undefined) {
      const at = twoThetaDegAtWavelength(
        main.twoThetaDeg,
        radiation.kAlpha1Angstrom,
        radiation.kBetaAngstrom,
      );
      for (const [p, peak] of peaks.entries()) {
        const isFainter = peak.areaCountsDeg < main.areaCountsDeg / 4;
        if (
          labels[p] === undefined &&
          isFainter &&
          Math.abs(peak.twoThetaDeg - at) < GHOST_PLACE_DEG + main.fwhmDeg / 4
        ) {
          labels[p] = { label: `${owner.label} K-beta`, kind: 'film K-beta' };
        }
      }
    }
    if (owner?.kind === 'substrate' && !owner.label.endsWith('foot')) {
      for (const [p, peak] of peaks.entries()) {
        const isFoot = Math.abs(peak.twoThetaDeg - main.twoThetaDeg) < 2 * main.fwhmDeg + 0.1;
        if (labels[p] === undefined && isFoot && peak.areaCountsDeg < main.areaCountsDeg / 2) {
          labels[p] = { label: `${owner.label} foot`, kind: 'substrate' };
        }
      }
    }
  }
}

/** Places where a strong substrate line would put its K-beta and tungsten lines, whether or not one was found there. */
export function ghostPlacesDeg(
  peaks: readonly FittedPeak[],
  labels: readonly (LineLabel | undefined)[],
  radiation: Radiation,
): number[] {
  const wavelengths = [radiation.kBetaAngstrom, radiation.tungstenLAlphaAngstrom].filter(
    (value) => value !== undefined,
  );
  return peaks.flatMap((peak, p) =>
    labels[p]?.kind === 'substrate'
      ? wavelengths.map((value) =>
          twoThetaDegAtWavelength(peak.twoThetaDeg, radiation.kAlpha1Angstrom, value),
        )
      : [],
  );
}

/** A holder's or contact's line at this place, if the table has one there. */
export function otherLineAt(twoThetaDeg: number, wavelengthAngstrom: number): LineLabel | undefined {
  const found = OTHER_LINES.find(
    (line) => Math.abs(twoThetaDegOfSpacing(line.spacingAngstrom, wavelengthAngstrom) - twoThetaDeg) < 0.1,
  );
  return found && { label: `${found.label}?`, kind: 'holder or contact' };
}
