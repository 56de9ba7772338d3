// The figures of a series report: scenes with the place of each in the report's folder.
import { curveScene } from '../charts/curve-chart.ts';
import { intervalScene } from '../charts/interval-chart.ts';
import type {
  LogAnswer,
  LoopAnswer,
  MagneticAnswer,
  ResistiveAnswer,
  ScanAnswer,
  VoltageAnswer,
} from '../charts/measurement/answers.ts';
import { logFigures } from '../charts/measurement/chamber-log.ts';
import { voltageFigure } from '../charts/measurement/current-voltage.ts';
import { scanFigure } from '../charts/measurement/diffraction.ts';
import { loopFigures } from '../charts/measurement/loop.ts';
import { type MeasuredFigure, type StoredView, storedCurve } from '../charts/measurement/stored-curve.ts';
import { momentFigure, resistanceFigure } from '../charts/measurement/transition.ts';
import { pathScene } from '../charts/path-chart.ts';
import type { Scene } from '../charts/scene.ts';
import { fieldsOnTriangle } from '../charts/ternary/fields-on-triangle.ts';
import { triangleScene } from '../charts/ternary/triangle-scene.ts';
import { FACT_TRADE_UNITS, pressureText, ratioText } from '../charts/trade-text.ts';
import type { Criterion } from '../records/criteria.ts';
import type { FilmRow } from '../records/film-rows.ts';
import type { MeasurementKind, Treatment } from '../records/kinds.ts';
import { findFact } from '../science/learning/find-fact.ts';
import { placeInTriangle } from '../science/matter/cation-ratios.ts';
import { proposalsOf, type ReportInput } from './report-input.ts';

export interface ReportFigure {
  /** begins the ids inside the picture, and names its files */
  readonly name: string;
  readonly scene: Scene;
}

/** A path is drawn from the temperature of a room. */
const ROOM_C = 25;

/** A label as part of a file's name: letters, digits, dot and dash. */
export const fileWord = (label: string): string =>
  label
    .normalize('NFKD')
    .replaceAll(/[^A-Za-z0-9.-]+/g, '-')
    .replaceAll(/^[-.]+|[-.]+$/g, '')
    .slice(0, 60) || 'unnamed';

export function triangleFigure({ view, fields }: ReportInput, rows: readonly FilmRow[]): ReportFigure {
  const { rareEarths, growth, benchmarkPieceId } = view.series.body;
  const rareEarth = rareEarths[0]!;
  const isMoved = growth.meltOffsetJPerMol !== 0;
  return {
    name: 'triangle',
    scene: triangleScene({
      title: `Odds of liquid with 123, ${rareEarth}-Ba-Cu`,
      rareEarth,
      size: { width: 760, height: 660 },
      caption: `${growth.temperatureC} °C, pO₂ ${pressureText(growth.po2Atm)}${isMoved ? `; melt's energy moved by ${growth.meltOffsetJPerMol / 1000} kJ/mol: not equilibrium` : '; equilibrium'}`,
      ...(fields ? fieldsOnTriangle(fields) : {}),
      films: rows.flatMap((row) => {
        const at = placeInTriangle(row.cations);
        if (!at) return [];
        const isBenchmark = row.states.some(({ piece }) => piece.id === benchmarkPieceId);
        return [{ id: row.film.id, label: row.film.body.label, at, verdict: row.outcome, isBenchmark }];
      }),
      namedFilmIds: rows.map(({ film }) => film.id),
      proposals: proposalsOf(view).proposals.map((proposal, i) => ({
        id: `proposal-${i + 1}`,
        label: ratioText(proposal.cations),
        at: proposal,
      })),
    }),
  };
}

/** One figure a criterion that is a number: the best piece of each film, with its uncertainty. */
export function criterionFigure(
  criterion: Criterion,
  number: number,
  text: string,
  rows: readonly FilmRow[],
  benchmarkPieceId: string | null,
): ReportFigure | null {
  if (criterion.kind !== 'number') return null;
  const { fact, at, wanted, relativeTo } = criterion;
  const { label, unit, factor } = FACT_TRADE_UNITS[fact];
  const intervals = rows.map((row) => {
    const found = findFact(row.best?.numbers ?? [], fact, at)?.fact;
    const standardUncertainty = found?.standardUncertainty;
    return {
      id: row.film.id,
      label: row.film.body.label,
      value: found ? found.value * factor : null,
      standardUncertainty: standardUncertainty == null ? null : standardUncertainty * factor,
      ...(found?.bound ? { bound: found.bound } : {}),
      verdict: row.outcome,
      isBenchmark: row.states.some(({ piece }) => piece.id === benchmarkPieceId),
    };
  });
  const benchmark = intervals.find(({ isBenchmark }) => isBenchmark)?.value;
  const limit =
    relativeTo === 'nothing' ? wanted * factor : benchmark == null ? undefined : wanted * benchmark;
  return {
    name: `criterion-${number}`,
    scene: intervalScene({
      title: text,
      quantity: { label, unit },
      rows: intervals,
      ...(limit === undefined ? {} : { criterion: { value: limit, label: text } }),
      widthPx: 760,
    }),
  };
}

export function pathFigure(treatment: Treatment): ReportFigure {
  return {
    name: `path-${fileWord(treatment.label)}`,
    scene: pathScene({
      title: `Path of ${treatment.label}`,
      startC: ROOM_C,
      steps: treatment.segments,
      size: { width: 760, height: 340 },
    }),
  };
}

function requestsOf(kind: MeasurementKind, view: StoredView): (MeasuredFigure | null)[] {
  switch (kind) {
    case 'diffraction scan':
      return [scanFigure(storedCurve<ScanAnswer>(view), { scale: 'sqrt', windowDeg: null })];
    case 'resistance':
      return [resistanceFigure(storedCurve<ResistiveAnswer>(view), 'transition')];
    case 'magnetic transition':
      return [momentFigure(storedCurve<MagneticAnswer>(view), 'transition')];
    case 'current-voltage':
      return [voltageFigure(storedCurve<VoltageAnswer>(view), false)];
    case 'magnetisation loop':
      return loopFigures(storedCurve<LoopAnswer>(view));
    case 'chamber log':
      return logFigures(storedCurve<LogAnswer>(view));
  }
}

/** The curve of a measurement with the lines it was reduced by. */
export function measurementFigures(
  kind: MeasurementKind,
  view: StoredView,
  fileName: string,
): ReportFigure[] {
  const figures = requestsOf(kind, view).filter((figure) => figure !== null);
  const word = fileWord(fileName.replace(/\.[A-Za-z0-9]{1,5}$/, ''));
  return figures.map(({ id, request }) => ({
    name: figures.length > 1 ? `${word}-${id}` : word,
    scene: curveScene(request),
  }));
}
