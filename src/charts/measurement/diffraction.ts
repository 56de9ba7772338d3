// Figure of a theta-2theta scan: counts, background, fit and difference, with the lines named in rows. Pure.
import type { AxisKind } from '../axis.ts';
import type { CurveRequest, CurveSeries } from '../curve-request.ts';
import type { ScanAnswer } from './answers.ts';
import {
  type MeasuredFigure,
  picked,
  rowsInside,
  type StoredCurve,
  wireNumbers,
  without,
} from './stored-curve.ts';

export interface ScanLook {
  scale: AxisKind;
  /** part of the scan shown, degrees of 2theta; null: all */
  windowDeg: readonly [number, number] | null;
}

const ROW_PX = 26;
const HEIGHT_PX = 470;
/** More rows than this would crowd the curve out; the table of lines has all. */
const MOST_ROWS = 8;

type Peak = ScanAnswer['peaks'][number];

/** `123 (005)` is line (005) of 123; a line without indices belongs to its whole label. */
function ownerAndLine({ label, kind }: Peak): { owner: string; line: string } {
  const split = /^(.*?) (\([^)]*\))(.*)$/.exec(label);
  if (kind === 'unexplained') return { owner: 'unexplained', line: '' };
  return split
    ? { owner: `${split[1]}${split[3]}`, line: split[2]!.replaceAll(/[()]/g, '') }
    : { owner: label, line: '' };
}

/** Lines of each owner, the owner with most lines first. */
function tickRowsOf(
  peaks: readonly Peak[],
  windowDeg: ScanLook['windowDeg'],
): NonNullable<CurveRequest['tickRows']> {
  const rows = new Map<string, { x: number; label: string }[]>();
  for (const peak of peaks) {
    const x = peak.twoThetaDeg.value;
    if (windowDeg && (x < windowDeg[0] || x > windowDeg[1])) continue;
    const { owner, line } = ownerAndLine(peak);
    rows.set(owner, [...(rows.get(owner) ?? []), { x, label: line }]);
  }
  return [...rows]
    .map(([label, ticks]) => ({ label, ticks }))
    .sort((one, other) => other.ticks.length - one.ticks.length)
    .slice(0, MOST_ROWS);
}

export function scanFigure(curve: StoredCurve<ScanAnswer>, look: ScanLook): MeasuredFigure | null {
  const angles = curve.column('twoThetaDeg');
  const counts = curve.column('counts');
  if (!angles || !counts) return null;
  const rows = rowsInside(angles, look.windowDeg);
  const x = picked(angles, rows);
  const measured = picked(counts, rows);
  const { response } = curve;
  const series: CurveSeries[] = [{ id: 'measured', label: 'measured', look: 'points', x, y: measured }];
  let difference: CurveRequest['difference'];
  if (response && response.fit.length === angles.length) {
    const fit = picked(wireNumbers(response.fit), rows);
    series.push(
      {
        id: 'background',
        label: 'background',
        look: 'background',
        x,
        y: picked(wireNumbers(response.background), rows),
      },
      { id: 'fit', label: 'fit', look: 'fit', x, y: fit },
    );
    difference = { label: 'difference', x, y: without(measured, fit) };
  }
  const tickRows = tickRowsOf(response?.peaks ?? [], look.windowDeg);
  return {
    id: 'scan',
    request: {
      title: `${curve.title}: counts against 2θ`,
      x: { label: '2θ', unit: '°', ...(look.windowDeg ? { domain: look.windowDeg } : {}) },
      y: { label: 'counts', unit: '', kind: look.scale },
      series,
      ...(difference ? { difference } : {}),
      tickRows,
      size: { width: 960, height: HEIGHT_PX + ROW_PX * tickRows.length },
    },
  };
}
