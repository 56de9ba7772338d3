// Fitted losses on their way to the target page: `Ba:0.03~0.01,Cu:0.02~0.01`, share of the film's atoms and its u. Pure.
import type { CationRatio } from '../../records/common.ts';
import { ratioParameter } from '../compositions.ts';

interface Share {
  readonly value: number;
  readonly standardUncertainty: number;
}

/** Share lost by the fits on both lines of BaO: their mean, and half their distance where that is more than either's own u. */
export function lossOfBoth(one: Share | null, other: Share | null): Share | null {
  if (!one || !other) return one ?? other;
  return {
    value: (one.value + other.value) / 2,
    standardUncertainty: Math.max(
      one.standardUncertainty,
      other.standardUncertainty,
      Math.abs(one.value - other.value) / 2,
    ),
  };
}

const digits = (value: number): string => String(Number(value.toPrecision(4)));

/** Losses as the address carries them: those above 0 alone; '' where there is none. */
export function lossesParameter(losses: Readonly<Record<string, Share | null>>): string {
  return Object.entries(losses)
    .flatMap(([symbol, share]) =>
      share && share.value > 0
        ? [`${symbol}:${digits(share.value)}~${digits(share.standardUncertainty)}`]
        : [],
    )
    .join(',');
}

/** Address of the target page that compensates these losses for this film. */
export function compensateAddress(
  seriesId: string,
  film: { cations: CationRatio; rareEarth: string },
  losses: string,
): string {
  const search = new URLSearchParams({ ratio: ratioParameter(film.cations, film.rareEarth), losses });
  return `/series/${seriesId}/target?${search}`;
}
