// Fitted losses on their way to the target page: `Ba:0.03~0.01,Cu:0.02~0.01`, share of the film's atoms and its u. Pure.
import type { CationRatio } from '../../records/common.ts';
import { isElement } from '../../science/matter/elements.ts';
import { ratioParameter } from '../compositions.ts';
import { statedText } from './typed-numbers.ts';

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

interface FittedLoss {
  /** measured loss over the first-order bound */
  readonly scale: Share | null;
  /** share that this path would take */
  readonly loss: Share | null;
}

/** Factor that still passes for evaporation; and how far beyond the measured losses one that does not is carried. [common practice] */
const CARRIED_FACTOR = 2;

/**
 * The fitted loss of this path, where it can be carried to it. A factor far above 1 is no evaporation, so that another path need
 * not follow it: it is then taken only near the losses that were measured.
 *
 * @param measured shares lost by the films of the fit
 */
export function carriedLoss({ scale, loss }: FittedLoss, measured: readonly number[]): Share | null {
  if (!scale || !loss) return null;
  if (scale.value <= CARRIED_FACTOR) return loss;
  const isNear =
    loss.value >= Math.min(...measured) / CARRIED_FACTOR &&
    loss.value <= Math.max(...measured) * CARRIED_FACTOR;
  return isNear ? loss : null;
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

const NAMED_SHARE = /^([A-Z][a-z]?):([0-9.e+-]+)~([0-9.e+-]+)$/i;

/** Losses of an address, as the fields of the target page show them: per cent with its uncertainty; what is no loss is left out. */
export function lossTexts(parameter: string): Record<string, string> {
  return Object.fromEntries(
    parameter.split(',').flatMap((part): [string, string][] => {
      const [, symbol, share, u] = NAMED_SHARE.exec(part.trim()) ?? [];
      const [value, standardUncertainty] = [Number(share), Number(u)];
      if (!symbol || !isElement(symbol) || !(value > 0 && value < 1 && standardUncertainty >= 0)) return [];
      return [[symbol, percentText({ value, standardUncertainty })]];
    }),
  );
}

/** A share as the field of a loss takes it, in per cent. */
export function percentText({ value, standardUncertainty }: Share): string {
  return statedText({
    value: Number((100 * value).toPrecision(4)),
    standardUncertainty: Number((100 * standardUncertainty).toPrecision(2)),
  });
}
