// What growth.path is asked for a plan in a chamber, and its answer as the page reads it. Pure.
import type { Stated } from '../../records/common.ts';
import type { Chamber } from '../../records/kinds.ts';
import type { PathAsk } from '../drafts/path-draft.ts';
import type { PlacedStep } from '../drafts/recorded-path.ts';

interface Quantity {
  readonly value: number;
  readonly standardUncertainty: number;
  readonly unit: string;
}

export interface AnsweredStep extends PlacedStep {
  readonly chamberTime: Quantity | null;
  readonly thermalLag: Quantity | null;
  readonly depositionRateNmPerS: number | null;
}

/** A stretch of the path in which the odds of liquid are at least even. */
interface LiquidSpan {
  readonly fromS: number;
  readonly toS: number;
  /** index of the step in which it begins */
  readonly segment: number;
}

/** Where the phases were asked, and what they said. */
interface LiquidPlaces {
  readonly timeS: readonly number[];
  readonly temperatureC: readonly number[];
  readonly log10Po2Atm: readonly number[];
  /** index of the step */
  readonly segment: readonly number[];
  readonly odds: readonly number[];
  readonly oddsWith123: readonly number[];
  readonly share: readonly number[];
}

/** Liquid along the likely path at the film, in one reading. */
export interface LiquidAlong extends LiquidPlaces {
  /** time with liquid over the members */
  readonly liquidS: Quantity | null;
  readonly liquidWith123S: Quantity | null;
  readonly spans: readonly LiquidSpan[];
  /** of the diagram and of what was not asked */
  readonly flags: PathAnswer['flags'];
}

export interface PathAnswer {
  readonly timeS: readonly number[];
  readonly temperatureC: readonly number[];
  readonly log10Po2Atm: readonly number[];
  readonly filmTemperatureC: readonly number[];
  readonly filmLog10Po2Atm: readonly number[];
  readonly segments: readonly AnsweredStep[];
  readonly flags: readonly { readonly code: string; readonly message: string }[];
  /** null where no cations were given */
  readonly liquid: LiquidPlaces | null;
  readonly liquidS: Quantity | null;
  readonly liquidWith123S: Quantity | null;
  readonly liquidSpans: readonly LiquidSpan[];
}

const isPositive = (stated: Stated | null): boolean => stated !== null && stated.value > 0;

/** What a chamber's record does not say, in words; empty where its gas can be followed. */
export function missingOfChamber({ volumeL, oxygenFlowSccm, pumpingLPerS, thermalLagS }: Chamber): {
  gas: string[];
  lag: boolean;
} {
  return {
    gas: [
      isPositive(volumeL) ? '' : 'its volume',
      isPositive(oxygenFlowSccm) ? '' : 'its oxygen flow',
      isPositive(pumpingLPerS) ? '' : 'its pumping while oxygen is taken away',
    ].filter(Boolean),
    lag: thermalLagS === null,
  };
}

/** The chamber as growth.path takes it: the gas only where the record says enough. */
function chamberOf(chamber: Chamber): object {
  const { volumeL, oxygenFlowSccm, pumpingWhileFillingLPerS, pumpingLPerS, gasC, thermalLagS } = chamber;
  return {
    ...(missingOfChamber(chamber).gas.length === 0
      ? {
          gas: {
            volumeL,
            oxygenFlowSccm,
            ...(pumpingWhileFillingLPerS ? { pumpingWhileFillingLPerS } : {}),
            pumpingLPerS,
            ...(gasC === null ? {} : { gasC }),
          },
        }
      : {}),
    ...(thermalLagS ? { thermalLagS } : {}),
  };
}

export function pathRequest(ask: PathAsk, chamber: Chamber | null): object {
  return { ...ask, ...(chamber ? { chamber: chamberOf(chamber) } : {}) };
}

/** What the surface is at more than a chamber's sensor reads, K; null where both are one or the chamber does not tell. */
export function sensorOffsetK(chamber: Chamber | null): number | null {
  return chamber && chamber.temperaturePlace !== 'surface' ? (chamber.offsetK?.value ?? null) : null;
}

/** What a chamber's sensor reads where the surface is at a temperature: surface minus offset; null where both are one. */
export function readingC(surfaceC: number, chamber: Chamber | null): number | null {
  const offsetK = sensorOffsetK(chamber);
  return offsetK === null ? null : surfaceC - offsetK;
}
