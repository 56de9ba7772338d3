// What the measured films of a series say of the way from target to film, and of what heating takes. Pure.
import type { SeriesView } from '../../records/series-view.ts';
import { isRareEarth } from '../../science/matter/elements.ts';

type Amounts = Record<string, number>;
type Composition = NonNullable<SeriesView['typedFacts'][number]['body']['composition']>;

/** Target ratio of a film's run and ratio measured on a piece as it left the run. */
export interface MeasuredPair {
  label: string;
  target: Amounts;
  film: Amounts;
  filmRelativeU: Amounts;
  targetRelativeU: Amounts;
}

interface MeasuredTransfer {
  pairs: MeasuredPair[];
  /** measured films that give no pair, and why */
  leftOut: string[];
}

/** A target's ratio as its sheet answered it, with relative uncertainties; as it was typed where there is no sheet. */
function targetRatio({ body }: SeriesView['targets'][number]): { ratio: Amounts; relativeU: Amounts } {
  const answer = body.sheet?.response as { targetRatio?: Amounts; ratioU?: Amounts } | undefined;
  const ratio = answer?.targetRatio ?? body.cations;
  const relativeU = Object.fromEntries(
    Object.entries(ratio).map(([symbol, amount]) => {
      const u = amount > 0 ? (answer?.ratioU?.[symbol] ?? 0) / amount : 0;
      return [symbol, u < 1 ? u : 0];
    }),
  );
  return { ratio, relativeU };
}

/** Relative uncertainties of a measured ratio, or the element that has none. */
function relativeUs(
  { cations, standardUncertainties }: Composition,
  symbols: readonly string[],
): Amounts | string {
  const found: Amounts = {};
  for (const symbol of symbols) {
    const u = (standardUncertainties[symbol] ?? 0) / cations[symbol]!;
    if (!(u > 0 && u < 1)) return symbol;
    found[symbol] = u;
  }
  return found;
}

/** Pairs of target and film of a series: every composition measured of a piece as it left the run, whose target is recorded. */
export function transferPairs(view: SeriesView): MeasuredTransfer {
  const pairs: MeasuredPair[] = [];
  const leftOut: string[] = [];
  for (const { body } of view.typedFacts) {
    const { composition } = body;
    if (!composition || body.stateTreatmentId !== null) continue;
    const piece = view.pieces.find(({ id }) => id === body.pieceId);
    const film = view.films.find(({ id }) => id === piece?.body.filmId);
    const run = view.runs.find(({ id }) => id === film?.body.runId);
    const target = view.targets.find(({ id }) => id === run?.body.targetId);
    const label = piece?.body.label ?? 'a piece that was removed';
    if (!target) {
      leftOut.push(`${label}: the target of its run is not recorded.`);
      continue;
    }
    const { ratio, relativeU } = targetRatio(target);
    const symbols = Object.keys(composition.cations).filter(
      (symbol) => composition.cations[symbol]! > 0 && (ratio[symbol] ?? 0) > 0,
    );
    if (symbols.length < 2) {
      leftOut.push(`${label}: it shares fewer than two elements with target ${target.body.label}.`);
      continue;
    }
    const us = relativeUs(composition, symbols);
    if (typeof us === 'string') {
      leftOut.push(`${label}: the uncertainty of ${us} is not stated, or not below the amount itself.`);
      continue;
    }
    const only = (amounts: Amounts): Amounts =>
      Object.fromEntries(symbols.map((symbol) => [symbol, amounts[symbol] ?? 0]));
    pairs.push({
      label: `${target.body.label} to ${label}`,
      target: only(ratio),
      film: only(composition.cations),
      filmRelativeU: us,
      targetRelativeU: only(relativeU),
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

function overRareEarths(composition: Composition): { ratio: Amounts; relativeU: Amounts } | null {
  const symbols = Object.keys(composition.cations).filter((symbol) => composition.cations[symbol]! > 0);
  const us = relativeUs(composition, symbols);
  const rareEarths = symbols.filter(isRareEarth);
  if (typeof us === 'string' || rareEarths.length === 0) return null;
  const sum = rareEarths.reduce((total, symbol) => total + composition.cations[symbol]!, 0);
  const sumU = Math.hypot(...rareEarths.map((symbol) => composition.cations[symbol]! * us[symbol]!)) / sum;
  const others = symbols.filter((symbol) => !isRareEarth(symbol));
  return {
    ratio: Object.fromEntries(others.map((symbol) => [symbol, composition.cations[symbol]! / sum])),
    relativeU: Object.fromEntries(others.map((symbol) => [symbol, Math.hypot(us[symbol]!, sumU)])),
  };
}

/**
 * Losses in heating, from pieces measured as they left the run and after their last measured treatment, relative to the rare earths:
 * l = 1 - (E/RE after)/(E/RE before), the mean weighted by 1/u^2 where several pieces were measured.
 */
export function proposedLosses(view: SeriesView): Record<string, ProposedLoss> {
  const found = new Map<string, { value: number; u: number }[]>();
  for (const piece of view.pieces) {
    const stateOf = (treatmentId: string | null) =>
      view.typedFacts.find(
        ({ body }) =>
          body.pieceId === piece.id && body.stateTreatmentId === treatmentId && body.composition !== null,
      )?.body.composition;
    const before = stateOf(null);
    const after = view.treatments
      .filter(({ body }) => body.pieceId === piece.id)
      .map(({ id }) => stateOf(id))
      .findLast((each) => each !== undefined && each !== null);
    const [one, other] = [before && overRareEarths(before), after && overRareEarths(after)];
    if (!one || !other) continue;
    for (const [symbol, amount] of Object.entries(one.ratio)) {
      const left = other.ratio[symbol];
      if (left === undefined) continue;
      const u = (left / amount) * Math.hypot(one.relativeU[symbol]!, other.relativeU[symbol]!);
      found.set(symbol, [...(found.get(symbol) ?? []), { value: 1 - left / amount, u }]);
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
