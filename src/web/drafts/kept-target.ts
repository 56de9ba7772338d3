// A target as it is kept, and the draft that weighs a kept target again. Pure.
import { targetBatch } from '../../computations/target/batch.ts';
import { targetInvert } from '../../computations/target/invert.ts';
import type { Stated } from '../../records/common.ts';
import type { Target } from '../../records/kinds.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { ratioParameter } from '../compositions.ts';
import type { FilmAim } from './film-aim.ts';
import { nextName } from './names.ts';
import { precursorFromAsk, precursorFromLot } from './powder-rows.ts';
import { segmentDraftOf } from './segment-rows.ts';
import { gasesOf, type SinterAsk } from './sintering-draft.ts';
import { type BatchAsk, emptyTarget, type ReadTarget, type TargetDraft } from './target-draft.ts';
import { numberText, statedText } from './typed-numbers.ts';
import { type Wanted, wantedDraftOf } from './wanted-draft.ts';

interface AnswerKept {
  version: number;
  request: unknown;
  response: unknown;
}

/**
 * The record of a target.
 *
 * @param batch  what `target.batch` answered
 * @param oxygen what `target.sinter` answered; null where it did not
 */
export function targetOf(
  draft: TargetDraft,
  read: ReadTarget,
  lotIds: string[],
  batch: { firedMassG: number },
  oxygen: AnswerKept | null,
): Target {
  const { request, aim, wanted, segments } = read;
  return {
    label: draft.label.trim(),
    cations: read.cations!,
    totalMassG: batch.firedMassG,
    lotIds,
    sheet: {
      computation: targetBatch.name,
      version: targetBatch.version,
      request,
      response: batch,
    },
    sinterGas: segments.length > 0 ? gasesOf(segments) : draft.sinterGas.trim(),
    sintering:
      segments.length > 0
        ? { segments, oxygen: oxygen ? { computation: 'target.sinter', ...oxygen } : null }
        : null,
    filmAim: aim
      ? {
          wanted,
          computation: targetInvert.name,
          version: targetInvert.version,
          request: aim.request,
          response: aim.answer,
        }
      : null,
    note: draft.note,
  };
}

/** What was wanted in the film, of a kept target; null where the ratio is the target's own. */
export function filmAimOf(target: Target): { wanted: Wanted; aim: FilmAim } | null {
  const { filmAim } = target;
  if (!filmAim) return null;
  return {
    wanted: filmAim.wanted as Wanted,
    aim: { request: filmAim.request, answer: filmAim.response } as FilmAim,
  };
}

/** Numbers by element as the fields of the factors show them. */
function texts(
  numbers: Readonly<Record<string, { value: number; standardUncertainty: number }>> | undefined,
  factor: number,
): Record<string, string> {
  const short = (value: number): number => Number((value * factor).toPrecision(8));
  return Object.fromEntries(
    Object.entries(numbers ?? {}).map(([symbol, { value, standardUncertainty }]) => [
      symbol,
      statedText({ value: short(value), standardUncertainty: short(standardUncertainty) }),
    ]),
  );
}

/** A stated number as its field shows it; targets kept before took a bare number too. */
const typedText = (stated: Stated | number | undefined): string =>
  typeof stated === 'number' ? numberText(stated) : statedText(stated ?? null);

/** The draft that weighs a kept target again, all as it was but the name and the note. */
export function targetDraftOf(
  { body }: { body: Target },
  view: SeriesView,
  newKey: () => string,
): TargetDraft {
  const rareEarth = view.series.body.rareEarths[0]!;
  const request = body.sheet?.request as BatchAsk | undefined;
  const film = filmAimOf(body);
  const wanted: Wanted = film?.wanted ?? request ?? { composition: { cations: body.cations } };
  const cations = 'cations' in wanted.composition ? wanted.composition.cations : body.cations;
  const { segments, oxygen } = body.sintering ?? { segments: [], oxygen: null };
  const firing = oxygen?.request as SinterAsk | undefined;
  const empty = emptyTarget('', rareEarth);
  return {
    ...empty,
    ...wantedDraftOf(wanted, ratioParameter(cations, rareEarth), rareEarth),
    label: nextName(
      body.label,
      view.targets.map((each) => each.body.label),
    ),
    wantedIn: film ? 'film' : 'target',
    factors: texts(film?.aim.request.factors, 1),
    losses: texts(film?.aim.request.losses, 100),
    ...(request?.pellet
      ? {
          amountAs: 'pellet' as const,
          diameterMm: numberText(request.pellet.diameterMm),
          thicknessMm: numberText(request.pellet.thicknessMm),
          densityPercent: numberText(request.pellet.relativeDensity * 100),
        }
      : { totalMassG: numberText(request?.totalMassG ?? body.totalMassG) }),
    balanceStepMg: request ? numberText(request.balanceStepMg) : empty.balanceStepMg,
    oxygenPer123: numberText(request?.oxygenPer123),
    precursors:
      request?.precursors.map((ask, i) => {
        const lot = view.lots.find(({ id }) => id === body.lotIds[i]);
        return lot ? precursorFromLot(newKey(), lot) : precursorFromAsk(newKey(), ask);
      }) ?? null,
    sinterGas: body.sinterGas,
    segments: segments.map((segment) => segmentDraftOf(segment, newKey())),
    grainRadiusUm: typedText(firing?.grainRadiusUm),
    isPorous: firing?.isPorous === undefined ? '' : firing.isPorous ? 'yes' : 'no',
    gasSccmPerG: typedText(firing?.gasSccmPerG),
    temperatureUK: numberText(firing?.temperatureUK),
  };
}
