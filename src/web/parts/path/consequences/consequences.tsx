import type { CationRatio, Stated } from '../../../../records/common.ts';
import type { PathPlan } from '../../../../records/kinds.ts';
import type { SeriesView } from '../../../../records/series-view.ts';
import type { Reading } from '../../../reading.ts';

interface ConsequencesProps {
  start: PathPlan['start'];
  segments: PathPlan['segments'];
  film: { timeS: number[]; temperatureC: number[]; log10Po2Atm: number[] } | null;
  cations: CationRatio;
  rareEarth: string;
  thicknessNm: Stated | null;
  substrate: string;
  reading: Reading;
  view: SeriesView;
}

/** Holds the place of what the path does to the film. */
export function Consequences(_: ConsequencesProps) {
  return null;
}
