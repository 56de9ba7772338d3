// Figures of a magnetisation loop: moment against field, and the critical current density read from its opening. Pure.
import type { CurveSeries } from '../curve-request.ts';
import { FACT_TRADE_UNITS } from '../trade-text.ts';
import type { LoopAnswer } from './answers.ts';
import { extent, type MeasuredFigure, type StoredCurve, scaled } from './stored-curve.ts';

const EMU_PER_AMPERE_M2 = 1e3;

function momentFigure(curve: StoredCurve<LoopAnswer>): MeasuredFigure | null {
  const fieldT = curve.column('fieldT');
  const moment = curve.column('momentAmpereM2');
  if (!fieldT || !moment) return null;
  const series: CurveSeries[] = [
    { id: 'measured', label: 'measured', look: 'line', x: fieldT, y: scaled(moment, EMU_PER_AMPERE_M2) },
  ];
  const background = curve.response?.background;
  const ends = extent(fieldT);
  if (background && ends) {
    const y = ends.map(
      (field) => (background.offsetAmpereM2 + background.slopeAmpereM2PerT.value * field) * EMU_PER_AMPERE_M2,
    );
    series.push({ id: 'background', label: 'background', look: 'background', x: ends, y });
  }
  return {
    id: 'loop',
    request: {
      title: `${curve.title}: moment against field`,
      x: { label: 'field', unit: 'T' },
      y: { label: 'moment', unit: 'emu' },
      series,
      size: { width: 960, height: 430 },
    },
  };
}

function densityFigure(curve: StoredCurve<LoopAnswer>): MeasuredFigure | null {
  const points = curve.response?.points ?? [];
  if (points.length === 0) return null;
  const { factor, unit } = FACT_TRADE_UNITS.jcAPerM2;
  const seriesOf = (id: string, label: string, isRounded: boolean): CurveSeries[] => {
    const kept = points.filter((point) => point.isRounded === isRounded);
    return kept.length === 0
      ? []
      : [
          {
            id,
            label,
            look: 'points',
            x: kept.map(({ fieldT }) => fieldT),
            y: kept.map(({ jc }) => jc.value * factor),
            yU: kept.map(({ jc }) => jc.standardUncertainty * factor),
          },
        ];
  };
  return {
    id: 'density',
    request: {
      title: `${curve.title}: critical current density against field`,
      x: { label: 'field', unit: 'T' },
      y: { label: 'Jc', unit, kind: 'log' },
      series: [
        ...seriesOf('jc', 'Jc', false),
        ...seriesOf('rounded', "below the piece's own field, rounded", true),
      ],
      size: { width: 960, height: 430 },
    },
  };
}

/** The loop, and Jc(B) where it could be read. */
export function loopFigures(curve: StoredCurve<LoopAnswer>): MeasuredFigure[] {
  return [momentFigure(curve), densityFigure(curve)].filter((figure) => figure !== null);
}
