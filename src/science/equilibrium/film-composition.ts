// From the cations of a film to the triangle: what additions and the substrate bind first, and what is left of RE, Ba and Cu.
import type { Doubt } from '../doubt.ts';
import { DomainError } from '../errors.ts';
import { ternaryCoordinates } from '../matter/cation-ratios.ts';
import { isRareEarth, RARE_EARTHS } from '../matter/elements.ts';
import { DIFFRACTION_CELLS } from '../tables/diffraction-cells.ts';
import { INERT_PHASES } from '../tables/inert-phases.ts';
import { SUBSTRATE_SINKS } from '../tables/substrate-sinks.ts';
import type { CationShares } from './assemblage.ts';
import { radiusBeyondY } from './rare-earth-shift.ts';
import type { RareEarth } from './solids.ts';

type Cations = Readonly<Record<string, number>>;

/** Layers under a film that can take Ba out of it. */
export const SINK_LAYERS = SUBSTRATE_SINKS.records.map(({ layer }) => layer);
export type SinkLayer = (typeof SINK_LAYERS)[number];

/** A layer under the film that is eaten into. */
export interface Sink {
  readonly layer: SinkLayer;
  /** thickness of the layer that has reacted, nm */
  readonly consumedNm: number;
  /** thickness of the film as 123, nm */
  readonly filmNm: number;
}

/** A phase that binds cations and takes no part in the equilibrium. */
export interface InertPhase {
  readonly name: string;
  /** share of all cations of the film */
  readonly share: number;
  readonly composition: Record<string, number>;
}

/** A film's cations made ready for the triangle. */
export interface FilmComposition {
  /** named after the most abundant; Y where there is none */
  readonly rareEarth: RareEarth;
  readonly radiusBeyondYAngstrom: number;
  /** RE, Ba and Cu left for the triangle, sum 1 */
  readonly shares: CationShares;
  readonly inert: readonly InertPhase[];
  /** what the substrate took, as shares of the film's cations before */
  readonly sunk: Readonly<Record<string, number>>;
  readonly doubts: readonly Doubt[];
}

/** Cations a nm3 of 123 holds: six in a cell of 3.82 x 3.89 x 11.68 angstrom [looked-up: diffraction-cells, Y]. */
function cationsPerNm3(): number {
  const { aAngstrom, bAngstrom, cAngstrom } = DIFFRACTION_CELLS.cells123.find(
    ({ rareEarth }) => rareEarth === 'Y',
  )!;
  return 6000 / (aAngstrom * bAngstrom * cAngstrom);
}
const CATIONS_PER_NM3 = cationsPerNm3();

/** How many cations of the film one consumed nm of a layer binds, for each nm of film: a share of the film's cations. */
export function boundShare({ layer, consumedNm, filmNm }: Sink): number {
  const { cellAngstrom, cationsPerCell, ba } = SUBSTRATE_SINKS.records.find(
    (record) => record.layer === layer,
  )!;
  const perNm3 = (1000 * cationsPerCell) / cellAngstrom ** 3;
  return (ba * perNm3 * consumedNm) / (CATIONS_PER_NM3 * filmNm);
}

/** An addition may bind this part more Ba or RE than there is: rounding. */
const ROUNDING = 1e-12;

const percent = (share: number): string => `${(100 * share).toPrecision(2)} %`;

/** The film's cations, sum 1, after its substrate took its part. */
function afterSinks(
  cations: Cations,
  sinks: readonly Sink[],
  doubts: Doubt[],
): { left: Record<string, number>; sunk: Record<string, number> } {
  const total = Object.values(cations).reduce((sum, amount) => sum + amount, 0);
  const left = Object.fromEntries(
    Object.entries(cations).map(([symbol, amount]) => [symbol, amount / total]),
  );
  const sunk: Record<string, number> = {};
  for (const sink of sinks) {
    const record = SUBSTRATE_SINKS.records.find(({ layer }) => layer === sink.layer)!;
    const bound = boundShare(sink);
    if (bound > (left.Ba ?? 0)) {
      throw new DomainError(
        'EQUILIBRIUM_SINK',
        `${sink.consumedNm} nm of ${sink.layer} under ${sink.filmNm} nm of film binds ${percent(bound)} of its cations as Ba; it has ${percent(left.Ba ?? 0)}.`,
        'Give a thinner consumed layer or a thicker film.',
      );
    }
    left.Ba = left.Ba! - bound;
    sunk.Ba = (sunk.Ba ?? 0) + bound;
    for (const [symbol, amount] of Object.entries(record.releases)) {
      left[symbol] = (left[symbol] ?? 0) + (bound / record.ba) * amount;
    }
    if (bound > 0) {
      doubts.push({
        code: 'SINK_BINDS_BARIUM',
        message: `${sink.consumedNm} nm of ${sink.layer} takes ${percent(bound)} of the film's cations, as Ba in ${record.product}; phases are those of what is left.`,
      });
    }
  }
  return { left, sunk };
}

/**
 * Shares of RE, Ba and Cu among themselves after substrate and additions took theirs. Several rare earths count together, by their
 * mean radius and under the name of the most abundant; without any, phases are named with Y. Elements that bind nothing known here
 * are left out and said so.
 *
 * @throws DomainError TERNARY_EMPTY where no RE, Ba or Cu is above 0; ELEMENT_UNKNOWN; EQUILIBRIUM_SINK, EQUILIBRIUM_ADDITION where
 *   more Ba or RE would be bound than there is
 */
export function filmComposition(cations: Cations, sinks: readonly Sink[] = []): FilmComposition {
  ternaryCoordinates(cations); // refuses unknown and empty
  const doubts: Doubt[] = [];
  const { left, sunk } = afterSinks(cations, sinks, doubts);
  const rareEarths = RARE_EARTHS.filter((symbol) => (left[symbol] ?? 0) > 0);
  const rareEarth = rareEarths.reduce<RareEarth>(
    (most, symbol) => ((left[symbol] ?? 0) > (left[most] ?? 0) ? symbol : most),
    rareEarths[0] ?? 'Y',
  );
  if (rareEarths.length > 1) {
    doubts.push({
      code: 'RARE_EARTHS_AS_ONE',
      message: `${rareEarths.join(', ')} are counted as one rare earth of their mean radius and named ${rareEarth}, the most abundant.`,
    });
  }
  const all = Object.values(left).reduce((sum, amount) => sum + amount, 0);
  let ba = left.Ba ?? 0;
  let re = rareEarths.reduce((sum, symbol) => sum + left[symbol]!, 0);
  const cu = left.Cu ?? 0;
  const isKnown = (symbol: string): boolean =>
    isRareEarth(symbol) ||
    symbol === 'Ba' ||
    symbol === 'Cu' ||
    INERT_PHASES.records.some(({ cation }) => cation === symbol);
  const known = Object.entries(left).reduce((sum, [symbol, n]) => sum + (isKnown(symbol) ? n : 0), 0);
  const inert: InertPhase[] = [];
  const ignored: string[] = [];
  let ignoredShare = 0;
  for (const [symbol, amount] of Object.entries(left)) {
    if (!(amount > 0) || isRareEarth(symbol) || symbol === 'Ba' || symbol === 'Cu') continue;
    const binding = INERT_PHASES.records.find(({ cation }) => cation === symbol);
    if (binding === undefined) {
      ignored.push(symbol);
      ignoredShare += amount / all;
      continue;
    }
    ba -= binding.ba * amount;
    re -= binding.re * amount;
    if (ba < -ROUNDING * known || re < -ROUNDING * known) {
      throw new DomainError(
        'EQUILIBRIUM_ADDITION',
        `cations.${symbol}: as ${binding.formula.replace('{RE}', rareEarth)} it would bind more ${ba < 0 ? 'Ba' : 'rare earth'} than there is.`,
        `Give less ${symbol}, or more of the other.`,
      );
    }
    const composition: Record<string, number> = { [symbol]: 1, Ba: binding.ba };
    if (binding.re > 0) composition[rareEarth] = binding.re;
    inert.push({
      name: binding.formula.replace('{RE}', rareEarth),
      share: (amount * (1 + binding.ba + binding.re)) / all,
      composition,
    });
  }
  if (ignored.length > 0) {
    doubts.push({
      code: 'ELEMENTS_IGNORED',
      message:
        `${ignored.join(', ')} (${percent(ignoredShare)} of the cations) are left out: ` +
        'this diagram knows rare earths, Ba, Cu and additions that bind Ba, so shares are of the other cations.',
    });
  }
  const rest = Math.max(0, re) + Math.max(0, ba) + cu;
  if (!(rest > 0)) {
    throw new DomainError(
      'TERNARY_EMPTY',
      'Additions and substrate leave no RE, Ba or Cu.',
      'Give more of them.',
    );
  }
  const counted = 1 - ignoredShare;
  return {
    rareEarth,
    radiusBeyondYAngstrom: radiusBeyondY(left),
    shares: [Math.max(0, re) / rest, Math.max(0, ba) / rest, cu / rest],
    inert: inert.map((phase) => ({ ...phase, share: phase.share / counted })),
    sunk,
    doubts,
  };
}
