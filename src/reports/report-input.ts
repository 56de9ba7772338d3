// What a series report is made of: records and stored answers. Nothing is computed anew, so the same store gives the
// same report.
import type { StoredView } from '../charts/measurement/stored-curve.ts';
import type { FieldsAnswer } from '../charts/ternary/fields-on-triangle.ts';
import type { SeriesView } from '../records/series-view.ts';

export interface ReportInput {
  readonly view: SeriesView;
  /** odds over the triangle at the condition of the series, as `equilibrium.fields` answered; null: not asked */
  readonly fields: FieldsAnswer | null;
  /** each measurement with its columns and its newest analysis whole, by the measurement's identifier */
  readonly curves: ReadonlyMap<string, StoredView>;
}

export interface ReportFile {
  /** inside the report's folder, with forward slashes */
  readonly path: string;
  readonly text: string;
}

/** The parts of stored answers that the report reads. */
export interface VerdictAnswer {
  readonly reasons: readonly {
    readonly criterionIndex: number;
    readonly outcome: string;
    readonly odds: number | null;
    readonly sentence: string;
    readonly wouldDecide: string | null;
  }[];
  readonly flags: readonly { readonly code: string; readonly message: string }[];
}

export interface ProposalsAnswer {
  readonly proposals: readonly {
    readonly cations: Record<string, number>;
    readonly re: number;
    readonly ba: number;
    readonly cu: number;
    readonly oddsLiquidAnd123: number;
    readonly sentence: string;
    readonly couldGoWrong: string;
  }[];
  readonly flags: readonly { readonly code: string; readonly message: string }[];
}

export function proposalsOf(view: SeriesView): ProposalsAnswer {
  return (view.proposals?.body.response as ProposalsAnswer | undefined) ?? { proposals: [], flags: [] };
}
