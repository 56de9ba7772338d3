// Films whose cations were measured before and after a treatment, as growth.evaporation takes them. Pure.
import type { CationRatio } from '../../records/common.ts';
import type { Segment, TypedFacts } from '../../records/kinds.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { isRareEarth } from '../../science/matter/elements.ts';
import type { FilmAlongPath } from './film-along-path.ts';
import { ROOM_C } from './treatment-draft.ts';

export interface LossPair {
  before: CationRatio;
  after: CationRatio;
  /** of one ratio of one measurement; left out where no uncertainty is recorded */
  relativeRatioU?: number;
  thicknessNm?: number;
  path: FilmAlongPath;
}

export interface FoundPairs {
  pairs: LossPair[];
  /** one a pair: piece and treatments */
  labels: string[];
  /** what is doubtful of a pair, or why two measurements make none */
  remarks: string[];
}

const STEP_K = 2;

/**
 * Recorded steps as samples: temperature straight in time, each step in its own gas.
 *
 * @returns null where a step has no oxygen pressure above 0, or no time passes
 */
export function sampledSegments(segments: readonly Segment[], startC = ROOM_C): FilmAlongPath | null {
  const path = { timeS: [0], temperatureC: [startC], log10Po2Atm: [Math.log10(segments[0]?.po2Atm ?? 0)] };
  let [timeS, fromC] = [0, startC];
  for (const { toC, durationS, po2Atm } of segments) {
    if (po2Atm <= 0) return null;
    const log10Po2Atm = Math.log10(po2Atm);
    if (log10Po2Atm !== path.log10Po2Atm.at(-1)) {
      path.timeS.push(timeS);
      path.temperatureC.push(fromC);
      path.log10Po2Atm.push(log10Po2Atm);
    }
    const pieces = Math.max(1, Math.ceil(Math.abs(toC - fromC) / STEP_K));
    for (let i = 1; i <= pieces; i++) {
      path.timeS.push(timeS + (durationS * i) / pieces);
      path.temperatureC.push(fromC + ((toC - fromC) * i) / pieces);
      path.log10Po2Atm.push(log10Po2Atm);
    }
    timeS += durationS;
    fromC = toC;
  }
  return timeS > 0 ? path : null;
}

type Composition = NonNullable<TypedFacts['composition']>;

/**
 * Relative uncertainty of one cation ratio to the rare earths of one measurement: that of the less certain of Ba and Cu, with
 * that of the rare earths. Null where one of them has none.
 */
export function relativeRatioU({ cations, standardUncertainties }: Composition): number | null {
  const earths = Object.keys(cations).filter(isRareEarth);
  const total = earths.reduce((sum, symbol) => sum + cations[symbol]!, 0);
  const uOf = (symbol: string): number => standardUncertainties[symbol] ?? 0;
  const isStated = [...earths, 'Ba', 'Cu'].every((symbol) => uOf(symbol) > 0);
  if (!isStated || total <= 0 || !cations.Ba || !cations.Cu) return null;
  const metal = Math.max(uOf('Ba') / cations.Ba, uOf('Cu') / cations.Cu);
  return Math.hypot(metal, Math.hypot(...earths.map(uOf)) / total);
}

const hasAll = ({ cations }: Composition): boolean =>
  Object.keys(cations).some((symbol) => isRareEarth(symbol) && cations[symbol]! > 0) &&
  (cations.Ba ?? 0) > 0 &&
  (cations.Cu ?? 0) > 0;

/** Treatments of a piece in the order of their start, as recorded where a start is not known. */
function treatmentsOf(view: SeriesView, pieceId: string) {
  const own = view.treatments.filter(({ body }) => body.pieceId === pieceId);
  return own.every(({ body }) => body.startedAt !== null)
    ? [...own].sort((one, other) => one.body.startedAt!.localeCompare(other.body.startedAt!))
    : own;
}

/** Every two neighbouring states of a piece that both have a measured composition. */
export function lossPairs(view: SeriesView): FoundPairs {
  const found: FoundPairs = { pairs: [], labels: [], remarks: [] };
  for (const piece of view.pieces) {
    const treatments = treatmentsOf(view, piece.id);
    const film = view.films.find(({ id }) => id === piece.body.filmId);
    const states = [null, ...treatments.map(({ id }) => id)].flatMap((stateId, order) => {
      // the newest measurement of a state speaks for it
      const facts = view.typedFacts.findLast(
        ({ body }) =>
          body.pieceId === piece.id && body.stateTreatmentId === stateId && body.composition !== null,
      );
      return facts ? [{ order, composition: facts.body.composition! }] : [];
    });
    states.slice(1).forEach((after, i) => {
      const before = states[i]!;
      const between = treatments.slice(before.order, after.order);
      const label = `${piece.body.label}: ${between.map(({ body }) => body.label).join(', ')}`;
      const path = sampledSegments(between.flatMap(({ body }) => body.segments));
      if (!hasAll(before.composition) || !hasAll(after.composition)) {
        found.remarks.push(`${label} is left out: a rare earth, Ba and Cu must all be measured.`);
        return;
      }
      if (!path) {
        found.remarks.push(
          `${label} is left out: its recorded steps have no duration, or one has no oxygen pressure above 0.`,
        );
        return;
      }
      if (before.composition.method !== after.composition.method)
        found.remarks.push(
          `${label}: measured by ${before.composition.method} before and ${after.composition.method} after, so part of the difference may be the methods'.`,
        );
      const [one, other] = [relativeRatioU(before.composition), relativeRatioU(after.composition)];
      const thickness = film?.body.thicknessNm?.value;
      found.pairs.push({
        before: before.composition.cations,
        after: after.composition.cations,
        // the fit counts it twice in squares, so that the mean square of the two serves
        ...(one !== null && other !== null ? { relativeRatioU: Math.hypot(one, other) / Math.SQRT2 } : {}),
        ...(thickness ? { thicknessNm: thickness } : {}),
        path,
      });
      found.labels.push(label);
    });
  }
  return found;
}
