// What the address of the path page names, and the draft that is kept while one types.
import { useCallback } from 'react';
import { ratioText } from '../../charts/trade-text.ts';
import { filmRows } from '../../records/film-rows.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { useAddressedDraft } from '../addressed-draft.ts';
import { type PathDraft, pathDraftOf, pathDraftOfTreatment } from '../drafts/path-draft.ts';
import { emptyPath } from '../drafts/path-presets.ts';

export interface PathAddress {
  ratio?: string;
  planId?: string;
  treatmentId?: string;
}

/** The draft that an address names; the kept one where it names nothing that this series holds. */
function draftOfAddress(
  view: SeriesView,
  kept: PathDraft,
  { ratio, planId, treatmentId }: PathAddress,
): PathDraft {
  const plan = view.pathPlans.find(({ id }) => id === planId);
  const treatment = view.treatments.find(({ id }) => id === treatmentId);
  let draft = kept;
  if (plan) draft = pathDraftOf(plan.id, plan.body);
  else if (treatment) {
    const piece = view.pieces.find(({ id }) => id === treatment.body.pieceId);
    const row = filmRows(view).find(({ film }) => film.id === piece?.body.filmId);
    const { thicknessNm = null, substrate = '' } = row?.film.body ?? {};
    draft = pathDraftOfTreatment(
      {
        ...kept,
        ratio: row?.cations ? ratioText(row.cations) : kept.ratio,
        substrate,
        thicknessNm: thicknessNm === null ? '' : String(thicknessNm.value),
      },
      treatment.id,
      treatment.body,
    );
  }
  return ratio === undefined ? draft : { ...draft, ratio };
}

/** What is missing of what an address names, in words. */
export function addressFault(view: SeriesView, { planId, treatmentId }: PathAddress): string | null {
  if (planId !== undefined && !view.pathPlans.some(({ id }) => id === planId))
    return 'This series holds no such plan, or it was removed; the history of the series brings removed plans back.';
  if (treatmentId !== undefined && !view.treatments.some(({ id }) => id === treatmentId))
    return 'This series holds no such treatment, or it was removed; the history of the series brings it back.';
  return null;
}

/** What the page is about: kept while one types, taken once from the address. */
export function usePathDraft(
  view: SeriesView,
  address: PathAddress,
): [PathDraft, (draft: PathDraft) => void] {
  const filled = useCallback(
    (kept: PathDraft, named: PathAddress) => draftOfAddress(view, kept, named),
    [view],
  );
  return useAddressedDraft(
    `path 2 ${view.series.id}`,
    () => {
      const best = filmRows(view).find(({ cations }) => cations !== null)?.cations;
      return emptyPath(best ? ratioText(best) : '1:3:6');
    },
    address,
    filled,
  );
}
