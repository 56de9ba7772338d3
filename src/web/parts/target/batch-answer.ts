// What a weighing sheet shows, live or kept.
import type { Segment } from '../../../records/kinds.ts';
import type { SeriesView } from '../../../records/series-view.ts';
import type { FilmAim } from '../../drafts/film-aim.ts';
import type { BatchAsk } from '../../drafts/target-draft.ts';
import type { Wanted } from '../../drafts/wanted-draft.ts';
import type { CautionText } from '../cautions.tsx';

/** What `target.batch` answers. */
export interface BatchAnswer {
  masses: { formula: string; massMg: number; exactMassMg: number }[];
  weighedTotalMg: number;
  calcinedTotalMg: number;
  firedMassG: number;
  /** an older sheet does not say it */
  leavingMg?: Record<'CO2' | 'H2O' | 'NO2' | 'O2' | 'other' | 'moisture' | 'beside', number>;
  targetRatio: Record<string, number>;
  ratioU: Record<string, number>;
  radiusMeanAngstrom: number | null;
  radiusVarianceAngstrom2: number | null;
  cautions: CautionText[];
  flags: { code: string; message: string }[];
}

export interface BatchSheetProps {
  /** heading of the printed sheet */
  title: string;
  request: BatchAsk;
  response: BatchAnswer;
  /** what was wanted in the film, where it was; its target is what is weighed */
  film: { wanted: Wanted; aim: FilmAim } | null;
  /** one a powder; '' where none is written down */
  lotNumbers: readonly string[];
  /** temperature of drying, one a powder */
  dryingC: readonly (number | null)[];
  powders: SeriesView['powders'];
  segments: readonly Segment[];
  sinterGas: string;
  /** which version of the computation made it */
  version: number;
  note?: string;
}
