// Compositions that were measured of a piece, state by state: from target to film, and from before to after a heating. Pure.
import type { CationRatio } from '../../records/common.ts';
import type { PathPlan, TypedFacts } from '../../records/kinds.ts';
import type { SeriesView } from '../../records/series-view.ts';
import { isRareEarth } from '../../science/matter/elements.ts';
import { recordedPath } from './recorded-path.ts';

type Amounts = Record<string, number>;
type Composition = NonNullable<TypedFacts['composition']>;
type Piece = SeriesView['pieces'][number];
type Treatment = SeriesView['treatments'][number];

interface MeasuredState {
  /** treatments before it; 0 as the piece left the run */
  readonly order: number;
  readonly composition: Composition;
}

/** The measured states of a piece in order; the newest measurement of a state speaks for it. */
function measuredStates(
  view: SeriesView,
  piece: Piece,
): { treatments: Treatment[]; states: MeasuredState[] } {
  const own = view.treatments.filter(({ body }) => body.pieceId === piece.id);
  // as recorded where a start is not known
  const treatments = own.every(({ body }) => body.startedAt)
    ? [...own].sort((one, other) => one.body.startedAt!.localeCompare(other.body.startedAt!))
    : own;
  const states = [null, ...treatments.map(({ id }) => id)].flatMap((stateId, order) => {
    const facts = view.typedFacts.findLast(
      ({ body }) =>
        body.pieceId === piece.id && body.stateTreatmentId === stateId && body.composition !== null,
    );
    return facts ? [{ order, composition: facts.body.composition! }] : [];
  });
  return { treatments, states };
}

const relativeU = ({ cations, standardUncertainties }: Composition, symbol: string): number | null => {
  const u = (standardUncertainties[symbol] ?? 0) / cations[symbol]!;
  return u > 0 && u < 1 ? u : null;
};

interface Ratio {
  readonly value: number;
  /** null where an uncertainty is not stated, or not below the amount itself */
  readonly relativeU: number | null;
}

/** Every other cation over the sum of the rare earths; none where no rare earth was measured. */
export function overRareEarths(composition: Composition): Record<string, Ratio> {
  const symbols = Object.keys(composition.cations).filter((symbol) => composition.cations[symbol]! > 0);
  const earths = symbols.filter(isRareEarth);
  const sum = earths.reduce((total, symbol) => total + composition.cations[symbol]!, 0);
  const us = earths.map(
    (symbol) => (relativeU(composition, symbol) ?? Number.NaN) * composition.cations[symbol]!,
  );
  const sumU = Math.hypot(...us) / sum;
  return Object.fromEntries(
    (earths.length > 0 ? symbols : []).flatMap((symbol): [string, Ratio][] => {
      if (isRareEarth(symbol)) return [];
      const u = Math.hypot(relativeU(composition, symbol) ?? Number.NaN, sumU);
      const value = composition.cations[symbol]! / sum;
      return [[symbol, { value, relativeU: Number.isNaN(u) ? null : u }]];
    }),
  );
}

/** Target ratio of a film's run and ratio measured on a piece as it left the run. */
export interface TransferPair {
  label: string;
  target: Amounts;
  film: Amounts;
  filmRelativeU: Amounts;
  targetRelativeU: Amounts;
}

/** A target's ratio as its sheet answered it, with relative uncertainties; as it was typed where there is no sheet. */
function targetRatio({ body }: SeriesView['targets'][number]): { ratio: Amounts; relativeUs: Amounts } {
  const answer = body.sheet?.response as { targetRatio?: Amounts; ratioU?: Amounts } | undefined;
  const ratio = answer?.targetRatio ?? body.cations;
  const relativeUs = Object.fromEntries(
    Object.entries(ratio).map(([symbol, amount]) => {
      const u = amount > 0 ? (answer?.ratioU?.[symbol] ?? 0) / amount : 0;
      return [symbol, u < 1 ? u : 0];
    }),
  );
  return { ratio, relativeUs };
}

/** Pairs of target and film: every piece measured as it left a run whose target is recorded; and why others give none. */
export function transferPairs(view: SeriesView): { pairs: TransferPair[]; leftOut: string[] } {
  const pairs: TransferPair[] = [];
  const leftOut: string[] = [];
  for (const piece of view.pieces) {
    const first = measuredStates(view, piece).states[0];
    if (first?.order !== 0) continue;
    const { composition } = first;
    const { label } = piece.body;
    const film = view.films.find(({ id }) => id === piece.body.filmId);
    const run = view.runs.find(({ id }) => id === film?.body.runId);
    const target = view.targets.find(({ id }) => id === run?.body.targetId);
    if (!target) {
      leftOut.push(`${label}: the target of its run is not recorded.`);
      continue;
    }
    const { ratio, relativeUs } = targetRatio(target);
    const symbols = Object.keys(composition.cations).filter(
      (symbol) => composition.cations[symbol]! > 0 && (ratio[symbol] ?? 0) > 0,
    );
    if (symbols.length < 2) {
      leftOut.push(`${label}: it shares fewer than two elements with target ${target.body.label}.`);
      continue;
    }
    const bare = symbols.find((symbol) => relativeU(composition, symbol) === null);
    if (bare !== undefined) {
      leftOut.push(`${label}: the uncertainty of ${bare} is not stated, or not below the amount itself.`);
      continue;
    }
    const only = (amountOf: (symbol: string) => number): Amounts =>
      Object.fromEntries(symbols.map((symbol) => [symbol, amountOf(symbol)]));
    pairs.push({
      label: `${target.body.label} to ${label}`,
      target: only((symbol) => ratio[symbol] ?? 0),
      film: only((symbol) => composition.cations[symbol]!),
      filmRelativeU: only((symbol) => relativeU(composition, symbol)!),
      targetRelativeU: only((symbol) => relativeUs[symbol] ?? 0),
    });
  }
  return { pairs, leftOut };
}

/** A loss in heating that compositions of one piece before and after propose. */
export interface ProposedLoss {
  /** share of the deposited atoms; 0 where more was found than before */
  value: number;
  standardUncertainty: number;
  /** pieces it rests on */
  nPieces: number;
}

/**
 * Losses in heating, from pieces measured as they left the run and after their last measured treatment, relative to the rare earths:
 * l = 1 - (E/RE after)/(E/RE before), the mean weighted by 1/u^2 where several pieces were measured.
 */
export function proposedLosses(view: SeriesView): Record<string, ProposedLoss> {
  const found = new Map<string, { value: number; u: number }[]>();
  for (const piece of view.pieces) {
    const { states } = measuredStates(view, piece);
    if (states.length < 2 || states[0]!.order !== 0) continue;
    const [before, after] = [states[0]!, states.at(-1)!].map(({ composition }) =>
      overRareEarths(composition),
    );
    for (const [symbol, whole] of Object.entries(before!)) {
      const left = after![symbol];
      if (!left || left.relativeU === null || whole.relativeU === null) continue;
      const share = left.value / whole.value;
      const u = share * Math.hypot(whole.relativeU, left.relativeU);
      found.set(symbol, [...(found.get(symbol) ?? []), { value: 1 - share, u }]);
    }
  }
  return Object.fromEntries(
    [...found].map(([symbol, losses]) => {
      const weight = losses.reduce((sum, { u }) => sum + u ** -2, 0);
      const mean = losses.reduce((sum, { value, u }) => sum + value * u ** -2, 0) / weight;
      return [
        symbol,
        { value: Math.max(0, mean), standardUncertainty: weight ** -0.5, nPieces: losses.length },
      ];
    }),
  );
}

/** A film before and after a path, as growth.evaporation takes it. */
interface HeatedPair {
  before: CationRatio;
  after: CationRatio;
  /** of one ratio of one measurement; left out where no uncertainty is recorded */
  relativeRatioU?: number;
  thicknessNm?: number;
  path: Pick<PathPlan, 'start' | 'segments'>;
}

export interface FoundPairs {
  pairs: HeatedPair[];
  /** one a pair: piece and treatments */
  labels: string[];
  /** what is doubtful of a pair, or why two measurements make none */
  remarks: string[];
}

/** Relative uncertainty of the less certain of Ba and Cu over the rare earths; null where one has none. */
export function relativeRatioU(composition: Composition): number | null {
  const { Ba, Cu } = overRareEarths(composition);
  const us = [Ba?.relativeU ?? null, Cu?.relativeU ?? null];
  return us.includes(null) ? null : Math.max(...(us as number[]));
}

const hasAll = (composition: Composition): boolean => {
  const { Ba, Cu } = overRareEarths(composition);
  return Ba !== undefined && Cu !== undefined;
};

/** Every two neighbouring states of a piece that both have a measured composition, with the path between them. */
export function heatedPairs(view: SeriesView): FoundPairs {
  const found: FoundPairs = { pairs: [], labels: [], remarks: [] };
  for (const piece of view.pieces) {
    const { treatments, states } = measuredStates(view, piece);
    const film = view.films.find(({ id }) => id === piece.body.filmId);
    states.slice(1).forEach((after, i) => {
      const before = states[i]!;
      const between = treatments.slice(before.order, after.order);
      const label = `${piece.body.label}: ${between.map(({ body }) => body.label).join(', ')}`;
      const recorded = between.flatMap(({ body }) => body.segments);
      if (!hasAll(before.composition) || !hasAll(after.composition)) {
        found.remarks.push(`${label} is left out: a rare earth, Ba and Cu must all be measured.`);
        return;
      }
      if (!recorded.some(({ durationS }) => durationS > 0) || recorded.some(({ po2Atm }) => po2Atm <= 0)) {
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
      const { start, segments } = recordedPath(recorded);
      found.pairs.push({
        before: before.composition.cations,
        after: after.composition.cations,
        // the fit counts it twice in squares, so that the mean square of the two serves
        ...(one !== null && other !== null ? { relativeRatioU: Math.hypot(one, other) / Math.SQRT2 } : {}),
        ...(thickness ? { thicknessNm: thickness } : {}),
        path: { start, segments },
      });
      found.labels.push(label);
    });
  }
  return found;
}
