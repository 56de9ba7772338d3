// Answers for 123 in its three textures and for second phases, from their expected lines. Pure; degrees of 2theta, angstrom.
import type { CAxisFit } from './c-axis.ts';
import type { Cell123 } from './known-cells.ts';
import { findPhaseCell, KNOWN_PHASES, relativeSpacingUncertainty } from './known-cells.ts';
import { millerText } from './label-lines.ts';
import type { Cell, Miller } from './lattice.ts';
import type { ExpectedLine, PhaseAnswer, TestedLine, TestGround } from './phase-test.ts';
import { answerForPhase, testLine } from './phase-test.ts';
import type { ScanRemark } from './scan.ts';

/** c of a film may differ from the bulk's by oxygen, disorder and strain, angstrom. */
export const FILM_C_RANGE_ANGSTROM = 0.1;

export interface NamedPhase extends PhaseAnswer {
  readonly formula: string;
}

/** Where a line is expected, on the scan's own angle scale. */
type Placer = (cell: Cell, relativeU: number, hkl: Miller, label: string) => ExpectedLine;

/** 123 itself: c-axis grains from the (00l) set, a-axis grains from (h00), random grains from the (103) group. */
export function phasesOf123(
  formula: string,
  cell: Cell123 | undefined,
  cAxis: CAxisFit | undefined,
  peakOfOrder: ReadonlyMap<number, number>,
  ground: TestGround,
  place: Placer,
): NamedPhase[] {
  if (cell === undefined) return [];
  const filmCell: Cell = cAxis ? { ...cell, cAngstrom: cAxis.cAngstrom } : cell;
  const relativeU = relativeSpacingUncertainty(cell);
  const nothing = (): boolean => false;
  const tested = (hkls: readonly Miller[], spread: number): TestedLine[] =>
    hkls.map((hkl) => testLine(ground, place(filmCell, spread, hkl, `123 ${millerText(hkl)}`)));
  const orders: Miller[] = [
    [0, 0, 5],
    [0, 0, 7],
    [0, 0, 3],
  ];
  let cAxisPhase: NamedPhase;
  if (cAxis === undefined) {
    const answer = answerForPhase(
      { ...ground, referenceArea: null },
      tested(orders, FILM_C_RANGE_ANGSTROM / cell.cAngstrom),
      [],
      nothing,
    );
    cAxisPhase = {
      formula,
      ...answer,
      texture: 'c-axis',
      answer: answer.answer === 'present' ? 'cannot say' : answer.answer,
      odds: Math.min(answer.odds, 0.5),
    };
  } else {
    const lines = [...peakOfOrder]
      .sort(([p], [q]) => p - q)
      .map(
        ([order, p]): TestedLine => ({
          label: `123 ${millerText([0, 0, order])}`,
          twoThetaDeg: ground.peaks[p]!.twoThetaDeg,
          toleranceDeg: 0.07,
          isInScan: true,
          coveredBy: undefined,
          peak: p,
          areaCountsDeg: ground.peaks[p]!.areaCountsDeg,
          areaCountsDegU: ground.peaks[p]!.areaCountsDegU,
        }),
      );
    const isSure = lines.length >= 2;
    cAxisPhase = {
      formula,
      answer: isSure ? 'present' : 'cannot say',
      odds: isSure ? 0.995 : 0.8,
      texture: 'c-axis',
      detectionLimit: null,
      lines,
      reason: isSure
        ? `${lines.length} orders of (00l) fit one c.`
        : 'One order alone could be another phase’s line.',
    };
  }
  const aAxis = answerForPhase(
    ground,
    tested(
      [
        [2, 0, 0],
        [1, 0, 0],
      ],
      relativeU,
    ),
    ['123 (200)', '123 (100)'],
    nothing,
  );
  const random = answerForPhase(
    ground,
    tested(
      [
        [1, 0, 3],
        [0, 1, 3],
      ],
      relativeU + 0.0005,
    ),
    [],
    nothing,
  );
  return [cAxisPhase, { formula, ...aAxis, texture: 'a-axis' }, { formula, ...random, texture: 'random' }];
}

/** Second phases by formula; one that the table does not hold is answered 'cannot say' and remarked on. */
export function secondPhases(
  candidates: readonly string[],
  name123: string,
  ground: TestGround,
  place: Placer,
  remarks: ScanRemark[],
): NamedPhase[] {
  const looked = [...new Set(candidates)].filter((formula) => formula !== name123);
  const tested = looked.map((formula) => {
    const cell = findPhaseCell(formula);
    if (cell === undefined) return { formula, cell, lines: [] as TestedLine[] };
    const relativeU = relativeSpacingUncertainty(cell);
    const lines = cell.lines.map((hkl) =>
      testLine(ground, place(cell, relativeU, hkl, `${formula} ${millerText(hkl)}`)),
    );
    return { formula, cell, lines };
  });
  return tested.map(({ formula, cell, lines }): NamedPhase => {
    if (cell === undefined) {
      remarks.push({
        code: 'CANDIDATE_UNKNOWN',
        message: `No cell is known for ${formula}; known are ${KNOWN_PHASES.join(', ')}.`,
      });
      return {
        formula,
        answer: 'cannot say',
        odds: 1 / 3,
        texture: null,
        detectionLimit: null,
        lines: [],
        reason: 'Its cell is not in the table.',
      };
    }
    const oriented = cell.orientedLines.map((hkl) => `${formula} ${millerText(hkl)}`);
    const isContested = (peak: number): boolean =>
      tested.some((other) => other.formula !== formula && isSeenAt(other.lines, peak));
    return { formula, ...answerForPhase(ground, lines, oriented, isContested) };
  });
}

/** A rival counts only if it has not itself lost two of its lines. */
function isSeenAt(lines: readonly TestedLine[], peak: number): boolean {
  const isThere = lines.some((line) => line.peak === peak && line.coveredBy === undefined);
  const lost = lines.filter(
    (line) => line.isInScan && line.coveredBy === undefined && line.peak === undefined,
  );
  return isThere && lost.length < 2;
}
