// What a theta-2theta scan of a 123 film says: lines named, c, phases, hump, oxygen. Pure; degrees of 2theta, angstrom.
import type { AmorphousAnswer } from './amorphous.ts';
import { amorphousShare, humpWindowDeg } from './amorphous.ts';
import type { CAxisFit, OrderAssignment, OrderLine } from './c-axis.ts';
import { ANGLE_PRIORS_DEG, assignOrders, fitCAxis, seenTwoThetaDeg } from './c-axis.ts';
import type { NamedPhase } from './film-phases.ts';
import { FILM_C_RANGE_ANGSTROM, phasesOf123, secondPhases } from './film-phases.ts';
import type { FittedPeak } from './fit-peaks.ts';
import { sumOfPeaks } from './fit-peaks.ts';
import type { FittedScan } from './fit-scan.ts';
import { fitScan } from './fit-scan.ts';
import type { SubstrateCell } from './known-cells.ts';
import { find123Cell, substratesNamed } from './known-cells.ts';
import type { LineLabel } from './label-lines.ts';
import {
  ghostPlacesDeg,
  hasSubstrateLine,
  labelRemainders,
  labelSubstrateLines,
  millerText,
  otherLineAt,
  recogniseSubstrate,
} from './label-lines.ts';
import type { Cell, Miller } from './lattice.ts';
import { planeSpacingAngstrom, twoThetaDegOfSpacing, twoThetaDegPerRelativeSpacing } from './lattice.ts';
import type { ExpectedLine, TestGround } from './phase-test.ts';
import type { Radiation } from './radiation.ts';
import type { Scan, ScanRemark } from './scan.ts';

export interface Interpretation extends FittedScan {
  /** one a peak */
  readonly labels: readonly LineLabel[];
  readonly substrates: readonly SubstrateCell[];
  /** undefined where no (00l) set of 123 was found */
  readonly cAxis: CAxisFit | undefined;
  /** place of (005) in the peaks, or undefined */
  readonly peakOf005: number | undefined;
  readonly phases: readonly NamedPhase[];
  readonly amorphous: AmorphousAnswer;
  readonly remarks: readonly ScanRemark[];
}

interface InterpretationQuestion {
  readonly rareEarth: string;
  /** free text, e.g. 'SrTiO3' or 'CeO2/YSZ/Ni-W' */
  readonly substrate: string | undefined;
  readonly candidates: readonly string[];
}

/** An order closer than this to a substrate line, or to where one drags its K-beta, is not used for c. */
const CLEAR_OF_SUBSTRATE_DEG = 0.2;

/**
 * Names every line, fits c, and answers for each candidate phase.
 *
 * Order of work: lines and background; substrate lines and their ghosts; (00l) of 123; c with the displacement; then
 * second phases at places corrected by that displacement, each line only if nothing explained covers it.
 */
export function interpretScan(
  scan: Scan,
  radiation: Radiation,
  question: InterpretationQuestion,
): Interpretation {
  const remarks: ScanRemark[] = [];
  const fitted = fitScan(scan, radiation);
  const wavelength = radiation.kAlpha1Angstrom;
  const { peaks } = fitted;
  const fromDeg = scan.twoThetaDeg[0]!;
  const toDeg = scan.twoThetaDeg[scan.twoThetaDeg.length - 1]!;
  const substrates = chooseSubstrates(question.substrate, peaks, wavelength, fromDeg, toDeg, remarks);
  const { labels: substrateLabels, standards } = labelSubstrateLines(peaks, substrates, radiation);
  const labels: (LineLabel | undefined)[] = [...substrateLabels];
  const ghosts = ghostPlacesDeg(peaks, labels, radiation);
  const cell = find123Cell(question.rareEarth);
  const substratePlaces = peaks
    .filter((_, p) => labels[p]?.kind === 'substrate')
    .map((peak) => peak.twoThetaDeg);
  const isClear = (twoThetaDeg: number): boolean =>
    [...substratePlaces, ...ghosts].every((place) => Math.abs(place - twoThetaDeg) > CLEAR_OF_SUBSTRATE_DEG);
  const isVisible = (twoThetaDeg: number): boolean =>
    twoThetaDeg > fromDeg + 0.3 && twoThetaDeg < toDeg - 0.3 && isClear(twoThetaDeg);
  const free = peaks.map((_, p) => p).filter((p) => labels[p] === undefined);
  const expectedC = cell
    ? { value: cell.cAngstrom, range: FILM_C_RANGE_ANGSTROM }
    : { value: 11.7, range: 0.2 };
  const assignment = assignOrders(
    free.map((p) => peaks[p]!),
    wavelength,
    isVisible,
    expectedC,
  );
  const name123 = `${question.rareEarth}Ba2Cu3O7`;
  const { cAxis, peakOfOrder } = cFromOrders(
    assignment,
    free,
    peaks,
    standards,
    wavelength,
    isClear,
    remarks,
  );
  for (const [order, p] of peakOfOrder)
    labels[p] = { label: `123 ${millerText([0, 0, order])}`, kind: 'film' };
  labelRemainders(peaks, labels, radiation);
  const isTheta =
    cAxis === undefined &&
    remarkDoubledAngles(
      free.map((p) => peaks[p]!),
      wavelength,
      expectedC,
      toDeg,
      remarks,
    );

  const filmArea = (p: number): number => peaks[p]!.areaCountsDeg;
  const peakOf005 = peakOfOrder.get(5);
  const film = [...peakOfOrder.values()];
  const clearFilm = film.filter((p) => isClear(peaks[p]!.twoThetaDeg));
  const referenceArea =
    peakOf005 !== undefined
      ? filmArea(peakOf005)
      : clearFilm.length > 0
        ? Math.max(...clearFilm.map(filmArea))
        : null;
  const lineCounts = sumOfPeaks(scan, peaks, radiation);
  const ground: TestGround = {
    scan,
    peaks,
    taken: labels.map((label) => label?.label),
    background: fitted.backgroundCounts,
    residual: scan.counts.map((value, i) => value - fitted.fitCounts[i]!),
    lineCounts,
    ghostDeg: ghosts,
    referenceArea,
  };
  const scale = cAxis ?? { shiftDeg: 0, shiftDegU: ANGLE_PRIORS_DEG.shift, zeroDeg: 0, axialDeg: 0 };
  const place = (spaced: Cell, relativeU: number, hkl: Miller, label: string): ExpectedLine => {
    const trueDeg = twoThetaDegOfSpacing(planeSpacingAngstrom(spaced, hkl), wavelength);
    const cos = Math.cos((trueDeg * Math.PI) / 360);
    return {
      label,
      twoThetaDeg: seenTwoThetaDeg(trueDeg, scale),
      toleranceDeg:
        0.06 + 2 * Math.hypot(relativeU * twoThetaDegPerRelativeSpacing(trueDeg), scale.shiftDegU * cos),
    };
  };
  const tested = [
    ...phasesOf123(name123, cell, cAxis, peakOfOrder, ground, place),
    ...secondPhases(question.candidates, name123, ground, place, remarks),
  ];
  // lines at half their angles fall on others by chance: nothing is said of a phase until the column is set right
  const phases = isTheta ? tested.map(unsaid) : tested;
  for (const phase of phases) {
    for (const line of phase.lines) {
      if (line.peak === undefined || labels[line.peak] !== undefined || line.coveredBy !== undefined)
        continue;
      if (phase.answer === 'present') {
        labels[line.peak] = { label: line.label, kind: phase.formula === name123 ? 'film' : 'second phase' };
      }
    }
  }
  const finalLabels = labels.map((label, p): LineLabel => {
    if (label !== undefined) return label;
    return otherLineAt(peaks[p]!.twoThetaDeg, wavelength) ?? { label: 'unexplained', kind: 'unexplained' };
  });
  const humpWindow = humpWindowDeg(wavelength);
  const inHumpWindow = (peak: FittedPeak): boolean =>
    peak.twoThetaDeg > humpWindow.from && peak.twoThetaDeg < humpWindow.to;
  const crystalline = peaks
    .filter(
      (peak, p) =>
        inHumpWindow(peak) && ['film', 'second phase', 'unexplained'].includes(finalLabels[p]!.kind),
    )
    .reduce((sum, peak) => sum + peak.areaCountsDeg, 0);
  const amorphous = amorphousShare(scan, lineCounts, crystalline, wavelength);
  return { ...fitted, labels: finalLabels, substrates, cAxis, peakOf005, phases, amorphous, remarks };
}

const unsaid = (phase: NamedPhase): NamedPhase => ({
  ...phase,
  answer: 'cannot say',
  odds: 0.5,
  reason: 'The angles look like theta, not 2theta, so no line is where it should be.',
});

function chooseSubstrates(
  named: string | undefined,
  peaks: readonly FittedPeak[],
  wavelength: number,
  fromDeg: number,
  toDeg: number,
  remarks: ScanRemark[],
): SubstrateCell[] {
  const recognised = recogniseSubstrate(peaks, wavelength, fromDeg, toDeg);
  if (named !== undefined && named.trim() !== '') {
    const { known, unknown } = substratesNamed(named);
    if (unknown.length > 0) {
      remarks.push({
        code: 'SUBSTRATE_UNKNOWN',
        message: `No cell is known for '${unknown.join("', '")}': its lines will stand as unexplained, and no line of this stack sets the angle scale.`,
      });
    }
    const isBare = unknown.length === 0 && known.every((row) => row.kind === 'substrate');
    const isSeen = known.some((row) => hasSubstrateLine(row, peaks, wavelength));
    if (known.length > 0 && (isSeen || !isBare || recognised === undefined)) return known;
    if (known.length > 0 && recognised !== undefined) {
      remarks.push({
        code: 'SUBSTRATE_DISAGREES',
        message: `No line of ${known.map(({ id }) => id).join(', ')} is there, and the strongest lines are those of ${recognised.id}, which was taken for the substrate instead: write the right one on the film.`,
      });
      return [recognised];
    }
  }
  if (recognised === undefined) {
    remarks.push({
      code: 'SUBSTRATE_NOT_FOUND',
      message:
        'No substrate line was recognised: name the substrate so that its lines are not taken for the film’s.',
    });
    return [];
  }
  remarks.push({
    code: 'SUBSTRATE_RECOGNISED',
    message: `The strongest lines are those of ${recognised.id}, so it was taken for the substrate: name it to be sure.`,
  });
  return [recognised];
}

function cFromOrders(
  assignment: OrderAssignment | undefined,
  free: readonly number[],
  peaks: readonly FittedPeak[],
  standards: Parameters<typeof fitCAxis>[1],
  wavelength: number,
  isClear: (twoThetaDeg: number) => boolean,
  remarks: ScanRemark[],
): { cAxis: CAxisFit | undefined; peakOfOrder: Map<number, number> } {
  const peakOfOrder = new Map<number, number>();
  if (assignment === undefined) {
    remarks.push({
      code: 'C_AXIS_NOT_FOUND',
      message: 'No set of lines fits the (00l) orders of 123 with c between 11.5 and 12.0 angstrom.',
    });
    return { cAxis: undefined, peakOfOrder };
  }
  for (const [order, place] of assignment.peakOfOrder) peakOfOrder.set(order, free[place]!);
  const all: OrderLine[] = [...peakOfOrder].map(([order, p]) => ({ order, ...peaks[p]! }));
  const clear = all.filter((line) => isClear(line.twoThetaDeg));
  const used = clear.length > 0 ? clear : all;
  let cAxis = fitCAxis(used, standards, wavelength);
  // A line that is off by more than four of its uncertainties is somebody else's; with four or more orders it can be told.
  const kept = used.filter(
    (line) =>
      Math.abs(predictedDeg(cAxis, line.order, wavelength) - line.twoThetaDeg) <
      4 * Math.hypot(line.twoThetaDegU, 0.01),
  );
  if (kept.length >= 3 && kept.length < used.length) {
    for (const line of used) if (!kept.includes(line)) peakOfOrder.delete(line.order);
    cAxis = fitCAxis(kept, standards, wavelength);
  }
  if (cAxis.orders.length === 1) {
    remarks.push({
      code: 'C_AXIS_ONE_ORDER',
      message: `Only (00${cAxis.orders[0]}) was clear of other lines${standards.length > 0 ? '' : ', and no substrate line sets the angle scale'}: c rests on a sample displacement of 0 +- 0.1 degree of 2theta taken as known.`,
    });
  } else if (standards.length === 0) {
    remarks.push({
      code: 'C_AXIS_NO_STANDARD',
      message: `No untwinned substrate line sets the angle scale: the displacement was fitted from ${cAxis.orders.length} orders of the film itself, which widens the uncertainty of c.`,
    });
  }
  return { cAxis, peakOfOrder };
}

function predictedDeg(cAxis: CAxisFit, order: number, wavelength: number): number {
  const trueDeg = twoThetaDegOfSpacing(cAxis.cAngstrom / order, wavelength);
  return seenTwoThetaDeg(trueDeg, cAxis);
}

function remarkDoubledAngles(
  peaks: readonly FittedPeak[],
  wavelength: number,
  expectedC: { value: number; range: number },
  toDeg: number,
  remarks: ScanRemark[],
): boolean {
  if (toDeg > 60 || peaks.length < 3) return false;
  const doubled = peaks.map((peak) => ({ ...peak, twoThetaDeg: 2 * peak.twoThetaDeg }));
  const found = assignOrders(doubled, wavelength, () => true, expectedC);
  const isTheta = found !== undefined && found.peakOfOrder.size >= 3;
  if (isTheta) {
    remarks.push({
      code: 'SCAN_LOOKS_LIKE_THETA',
      message: `The lines fit 123 only if the angles are doubled (c near ${found.cAngstrom.toFixed(2)} angstrom): this column looks like theta, not 2theta. Give 2theta.`,
    });
  }
  return isTheta;
}
